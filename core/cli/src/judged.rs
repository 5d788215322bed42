//! A plan with its review.

use groundrule_packs::Pack;
use groundrule_report::Report;
use groundrule_review::{CheckRunner, Inputs, Level, Options, Review};
use groundrule_units::{Ratio, Style};

use crate::args::Judging;
use crate::engine::Modules;
use crate::input::Loaded;
use crate::trouble::Exit;

/// One plan with what was found about it.
pub(crate) struct Judged {
    pub(crate) loaded: Loaded,
    pub(crate) review: Review,
    pub(crate) style: Style,
    /// True to draw how well places and dimensions are known.
    pub(crate) error_figures: bool,
}

/// Reviews a plan.
pub(crate) fn judge(
    loaded: Loaded,
    how: &Judging,
    style: Style,
    packs: &[Pack],
    modules: &Modules,
) -> Judged {
    let runners: Vec<&dyn CheckRunner> =
        modules.loaded.iter().map(|module| module as &dyn CheckRunner).collect();
    let inputs = Inputs {
        plan: &loaded.plan,
        layout: &loaded.layout,
        site: &loaded.site,
        remarks: loaded.remarks.clone(),
        packs,
        modules: &runners,
        stopped: modules.stopped.clone(),
        deviations: &[],
    };
    let options = Options { level: Level(Ratio::from_fraction(how.level)), style, date: how.date.clone() };
    let review = groundrule_review::review(inputs, &options);
    Judged { loaded, review, style, error_figures: false }
}

impl Judged {
    pub(crate) fn report(&self) -> Report<'_> {
        Report {
            plan: &self.loaded.plan,
            layout: &self.loaded.layout,
            site: &self.loaded.site,
            review: &self.review,
            style: self.style,
            error_figures: self.error_figures,
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self.review.exit_code() {
            0 => Exit::Clear,
            1 => Exit::Findings,
            _ => Exit::Tool,
        }
    }
}
