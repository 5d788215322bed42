//! What is odd about the levels of the ground: contradictions, slipped units, too few, too far out.

mod places;
mod units;

use groundrule_plan::{Gravity, Name, Plan, Remark, Span};
use groundrule_units::Length;

use super::{GroundLevel, Surface};
use crate::layout::Layout;

/// Adds a remark for everything odd about the levels of the ground.
pub(crate) fn look(plan: &Plan, layout: &Layout, remarks: &mut Vec<Remark>) {
    let levels = &layout.ground.levels;
    if levels.is_empty() {
        return;
    }
    remarks.extend(places::two_at_one_place(plan, levels));
    remarks.extend(places::far_out(plan, layout));
    remarks.extend(units::slipped(plan, levels));
    remarks.extend(all_equal(plan, levels));
    remarks.extend(places::too_few(plan, layout));
}

/// A remark at one level.
fn at(code: &'static str, gravity: Gravity, message: String, level: &GroundLevel, help: String) -> Remark {
    Remark {
        code,
        gravity,
        message,
        about: about([level]),
        spots: vec![spot(level)],
        span: level.span,
        help: Some(help),
    }
}

fn spot(level: &GroundLevel) -> (Length, Length) {
    (level.at.at.x, level.at.at.y)
}

/// The features or points that levels belong to, each once.
fn about<'l>(levels: impl IntoIterator<Item = &'l GroundLevel>) -> Vec<Name> {
    let mut names: Vec<Name> = Vec::new();
    for level in levels {
        let owner = level.name.0.split_once('.').map_or(level.name.0.as_str(), |(owner, _)| owner);
        if !names.iter().any(|name| name.0 == owner) {
            names.push(Name(owner.to_owned()));
        }
    }
    names
}

const fn ground(surface: Surface) -> &'static str {
    match surface {
        Surface::Existing => "existing",
        Surface::Proposed => "proposed",
    }
}

fn height(plan: &Plan, level: &GroundLevel) -> String {
    crate::field::length(plan, level.height.metres())
}

/// Levels that are stated or measured, and do not follow from others.
fn stated(levels: &[GroundLevel]) -> impl Iterator<Item = &GroundLevel> {
    levels.iter().filter(|level| !level.derived)
}

/// Three levels or more of one surface, and all the same: as good as none for water.
fn all_equal(plan: &Plan, levels: &[GroundLevel]) -> Vec<Remark> {
    let equal = |surface: Surface| {
        let mut of = stated(levels).filter(|level| level.surface == surface);
        let first = of.next()?;
        let rest: Vec<&GroundLevel> = of.collect();
        if rest.len() < 2 || rest.iter().any(|level| level.height != first.height) {
            return None;
        }
        let message = format!(
            "All {} levels of the {} ground are {}, so that it has no fall at all.",
            rest.len() + 1,
            ground(surface),
            height(plan, first)
        );
        let help = "Check that the figure was not copied from place to place; water stands on level ground.";
        let span: Span = first.span;
        Some(Remark {
            about: about(std::iter::once(first).chain(rest)),
            spots: Vec::new(),
            span,
            ..at("data::levels-all-equal", Gravity::Noted, message, first, help.to_owned())
        })
    };
    [Surface::Existing, Surface::Proposed].into_iter().filter_map(equal).collect()
}
