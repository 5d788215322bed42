//! The review itself: every row of every pack against the site.

use std::sync::Arc;

use groundrule_packs::Pack;
use groundrule_plan::{Plan, Remark};
use groundrule_sandbox::{Blame, Failure};
use groundrule_site::Site;
use groundrule_survey::Layout;
use groundrule_units::Style;
use rayon::prelude::*;

use crate::accepted::{self, Deviation};
use crate::ask::{Asked, Ground, Outcome, ask};
use crate::classes::{self, Classes};
use crate::conformity::Level;
use crate::draft::Draft;
use crate::finding::{Finding, PackUse, Review, RuleRecord};
use crate::judge::Terms;
use crate::message::{RowWords, Scene};
use crate::number::{Ids, joined, number};
use crate::runner::CheckRunner;
use crate::{buildable, data, disputed, doubt, governs, retake, weight};

/// What a review is made from.
pub struct Inputs<'a> {
    /// The plan as written.
    pub plan: &'a Plan,
    /// Its places as resolved, for whose readings to take again.
    pub layout: &'a Layout,
    /// The plan as a site.
    pub site: &'a Arc<Site>,
    /// Everything found about the data so far, by reading, resolving and building.
    pub remarks: Vec<Remark>,
    /// The packs, in the order they were asked for.
    pub packs: &'a [Pack],
    /// The loaded modules.
    pub modules: &'a [&'a dyn CheckRunner],
    /// Modules that did not load.
    pub stopped: Vec<Blame>,
    /// Recorded deviations.
    pub deviations: &'a [Deviation],
}

/// How to judge.
pub struct Options {
    /// The level of probability asked for.
    pub level: Level,
    /// The units that messages are written in.
    pub style: Style,
    /// The date to judge at, `YYYY-MM-DD`; the plan's filing date when none is given.
    pub date: Option<String>,
}

/// Reviews a site.
///
/// Rows run in parallel and are gathered in order, so that the result is the same on any number of threads.
/// A row whose module stops, is not there or cannot answer becomes a [`crate::ToolFinding`]; all others go on.
pub fn review(inputs: Inputs<'_>, options: &Options) -> Review {
    let Inputs { plan, layout, site, mut remarks, packs, modules, stopped, deviations } = inputs;
    let terms = Terms { level: options.level, style: options.style, disputes: !layout.disputed.is_empty() };
    let ground = Ground { plan, site, runners: modules, stopped: &stopped, terms };
    let date = options.date.clone().or_else(|| plan.site.filed.clone());

    let (classes, mut blames) = decide_classes(packs, &ground);
    let rows: Vec<Asked<'_>> = packs
        .iter()
        .zip(&classes)
        .flat_map(|(pack, classes)| pack.rows.iter().map(move |row| Asked { pack, row, classes }))
        .collect();
    let outcomes: Vec<Outcome> = rows.par_iter().map(|asked| ask(*asked, &ground)).collect();

    let (mut drafts, records) = gather(&rows, outcomes, site, &mut blames);
    doubt::settle(&mut drafts);
    disputed::suspend(&mut drafts, layout, options.level);
    remarks.extend(accepted::apply(&mut drafts, deviations, date.as_deref()));
    governs::note(&mut drafts);
    let scene = Scene { plan, layout, site, style: options.style };
    let retakes = retake::list(&drafts, &remarks, scene);
    let checks = rows.iter().map(|asked| (&asked.row.id, asked.row.check.as_str()));
    let tool = data::tools(stopped.clone(), blames, &checks);

    let mut review = Review {
        plan: plan.site.name.clone(),
        findings: put_into_words(&rows, drafts, scene),
        data: data::findings(remarks, layout),
        tool,
        packs: packs.iter().map(pack_use).collect(),
        rules: records,
        retakes,
        buildable: buildable::of_lots(&rows, &ground),
        level: options.level.0,
        judged_at: date,
    };
    number(&mut review);
    disputed::name_causes(&mut review);
    review
}

/// The classes of every pack, with a blame for each that cannot be decided.
fn decide_classes(packs: &[Pack], ground: &Ground<'_>) -> (Vec<Classes>, Vec<Blame>) {
    let mut blames = Vec::new();
    let classes = packs.iter().map(|pack| {
        let (classes, broken) = classes::decide(pack, ground.site, &ground.plan.site, ground.terms);
        blames.extend(broken.into_iter().map(|message| Blame {
            module: format!("pack {}", pack.name),
            version: Some(pack.version.clone()),
            rule: None,
            failure: Failure::Refused,
            message,
            fuel_used: None,
        }));
        classes
    });
    let classes = classes.collect();
    (classes, blames)
}

/// All answers in row order and then in the order of their features, each with its id.
fn gather<'a>(
    rows: &[Asked<'a>],
    outcomes: Vec<Outcome>,
    site: &Site,
    blames: &mut Vec<Blame>,
) -> (Vec<Draft<'a>>, Vec<RuleRecord>) {
    let mut ids = Ids::default();
    let mut drafts = Vec::with_capacity(outcomes.iter().map(|outcome| outcome.answered.len()).sum());
    let mut records = Vec::with_capacity(outcomes.len());
    for (at, outcome) in outcomes.into_iter().enumerate() {
        let Asked { pack, row, .. } = rows[at];
        let weight = weight::of_row(row, pack);
        let mut answers = outcome.answered;
        answers.sort_by(|a, b| a.reading.features.cmp(&b.reading.features));
        for answered in answers {
            let features = &answered.reading.features;
            let names = features.iter().filter_map(|id| Some(&site.feature(*id)?.id));
            let id = ids.unique(joined(&format!("{}/{}", pack.name, row.id.0), names));
            drafts.push(Draft { id, row, at, weight, pack: &pack.name, answered });
        }
        blames.extend(outcome.blame);
        records.push(outcome.record);
    }
    (drafts, records)
}

fn put_into_words(rows: &[Asked<'_>], drafts: Vec<Draft<'_>>, scene: Scene<'_>) -> Vec<Finding> {
    let words: Vec<RowWords<'_>> = rows.iter().map(|asked| RowWords::new(asked.row, asked.pack)).collect();
    drafts.into_par_iter().map(|draft| words[draft.at].finding(draft, scene)).collect()
}

fn pack_use(pack: &Pack) -> PackUse {
    PackUse {
        name: pack.name.clone(),
        title: pack.title.clone(),
        version: pack.version.clone(),
        agency: pack.agency.clone(),
        note: pack.note.clone(),
        not_encoded: pack.not_encoded.clone(),
    }
}
