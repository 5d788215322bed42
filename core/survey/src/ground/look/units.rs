//! Levels that look as if they were written in another unit than the rest, or had lost their hundred.

use groundrule_plan::{Gravity, Plan, Remark};
use groundrule_units::{Length, SheetUnit};

use super::{GroundLevel, at, height, stated};

/// Feet in a metre.
const FEET: f64 = 1.0 / 0.3048;
/// The least range of levels that counts as the ground of a plan, in metres: a flat garden has some fall too.
const LEAST: f64 = 3.0;
/// How many times the usual distance from the middle of all levels still counts as usual.
const USUAL: f64 = 6.0;
/// How many times that a level must be away before it is asked about.
const FAR: f64 = 2.0;

/// Levels far from all others, that would lie among them in another unit or with a hundred more.
pub(super) fn slipped(plan: &Plan, levels: &[GroundLevel]) -> Vec<Remark> {
    let mut heights: Vec<Length> = stated(levels).map(|level| level.height).collect();
    if heights.len() < 4 {
        return Vec::new();
    }
    let middle = median(&mut heights);
    let mut apart: Vec<Length> = heights.iter().map(|height| (*height - middle).abs()).collect();
    let usual = (median(&mut apart) * USUAL).max(Length::from_metres(LEAST));
    let among = |height: Length| (height - middle).abs() <= usual;
    let (hundred, other) = match plan.site.units {
        SheetUnit::Feet | SheetUnit::Inches => (Length::from_feet(100.0), "metres"),
        SheetUnit::Metres | SheetUnit::Millimetres => (Length::from_metres(100.0), "feet"),
    };
    let asks = |level: &GroundLevel| {
        let is = level.height;
        if (is - middle).abs() <= usual * FAR {
            return None;
        }
        let (question, meant) = if among(is + hundred) {
            ("Has it lost its hundred", is + hundred)
        } else if among(is * FEET) || among(is / FEET) {
            let meant = if among(is * FEET) { is * FEET } else { is / FEET };
            return Some(ask(plan, level, middle, &format!("Is it in {other}"), meant));
        } else {
            return None;
        };
        Some(ask(plan, level, middle, question, meant))
    };
    stated(levels).filter_map(asks).collect()
}

fn ask(plan: &Plan, level: &GroundLevel, middle: Length, question: &str, meant: Length) -> Remark {
    let shown = |length: Length| crate::field::length(plan, length.metres());
    let message = format!(
        "The level of `{}` is {}, and the others lie about {}. {question}?",
        level.name.0,
        height(plan, level),
        shown(middle)
    );
    let help = format!("Write {} if that is meant; else check both figures and datum.", shown(meant));
    at("data::level-in-doubt", Gravity::Suspect, message, level, help)
}

/// The middle of some lengths, or zero where there are none.
fn median(lengths: &mut [Length]) -> Length {
    lengths.sort();
    lengths.get(lengths.len() / 2).copied().unwrap_or(Length::ZERO)
}
