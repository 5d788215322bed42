//! Levels that look as if they were written in another unit than the rest, had lost or changed their leading digits,
//! or belong to another datum.

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

/// Where the levels of a plan lie.
struct Range {
    middle: Length,
    /// How far from the middle a level is still among the rest.
    usual: Length,
}

impl Range {
    fn has(&self, height: Length) -> bool {
        (height - self.middle).abs() <= self.usual
    }

    fn is_far(&self, height: Length) -> bool {
        (height - self.middle).abs() > self.usual * FAR
    }
}

/// Levels far from all others: whether in another unit or with other leading digits they would lie among them.
pub(super) fn slipped(plan: &Plan, levels: &[GroundLevel]) -> Vec<Remark> {
    let mut heights: Vec<Length> = stated(levels).map(|level| level.height).collect();
    if heights.len() < 4 {
        return Vec::new();
    }
    let middle = median(&mut heights);
    let mut apart: Vec<Length> = heights.iter().map(|height| (*height - middle).abs()).collect();
    let usual = (median(&mut apart) * USUAL).max(Length::from_metres(LEAST));
    let range = Range { middle, usual };
    let asks = |level: &GroundLevel| {
        if !range.is_far(level.height) {
            return None;
        }
        let units = plan.site.units;
        let found = digits_lost(units, level.height, &range)
            .or_else(|| other_unit(units, level.height, &range))
            .or_else(|| digit_wrong(units, level.height, &range));
        match found {
            Some((question, meant)) => {
                let help = format!(
                    "Write {} if that is meant; else check both figures and datum.",
                    crate::field::length(plan, meant.metres())
                );
                Some(ask(plan, level, middle, &question, help))
            }
            // Two that agree are more likely the foot of a bank, or the top of a wall, than one slip.
            None if neighbours(&heights, level.height, usual) > 1 => None,
            None => {
                let help = "Check the figure and the datum; the level is used as it stands.";
                Some(ask(plan, level, middle, "Is it of the same ground and datum", help.to_owned()))
            }
        }
    };
    stated(levels).filter_map(asks).collect()
}

/// How many of the levels, in order, lie within so much of a height; a level itself is one of them.
fn neighbours(heights: &[Length], height: Length, within: Length) -> usize {
    let from = heights.partition_point(|other| *other < height - within);
    let to = heights.partition_point(|other| *other <= height + within);
    to.saturating_sub(from)
}

/// The hundred and the thousand in the unit of the plan, in which its levels are read.
fn steps(units: SheetUnit) -> [Length; 2] {
    let unit = match units {
        SheetUnit::Feet | SheetUnit::Inches => Length::from_feet(1.0),
        SheetUnit::Metres | SheetUnit::Millimetres => Length::from_metres(1.0),
    };
    [unit * 100.0, unit * 1000.0]
}

/// A height moved by as many whole steps as bring it nearest to the middle, if it then lies among the rest.
///
/// None where the range is so wide that one number of steps would do as well as the next.
fn moved(is: Length, step: Length, range: &Range) -> Option<Length> {
    let count = ((range.middle - is).metres() / step.metres()).round();
    let meant = is + step * count;
    (count != 0.0 && range.usual * 2.0 < step && range.has(meant)).then_some(meant)
}

/// A figure below its hundred or thousand that lies among the rest with some of those more.
fn digits_lost(units: SheetUnit, is: Length, range: &Range) -> Option<(String, Length)> {
    let below = |step: Length| is >= Length::ZERO && is < step;
    let [hundred, thousand] = steps(units);
    let meant = |step: Length| moved(is, step, range).filter(|meant| below(step) && *meant > is);
    let meant = meant(hundred).or_else(|| meant(thousand))?;
    Some(("Has it lost its leading digits".to_owned(), meant))
}

/// A figure whose hundreds, above or below, are not those of the rest.
fn digit_wrong(units: SheetUnit, is: Length, range: &Range) -> Option<(String, Length)> {
    let [hundred, _] = steps(units);
    Some(("Is one of its leading digits wrong".to_owned(), moved(is, hundred, range)?))
}

/// A figure in the other unit than that of the plan, or in its own but written as the other.
fn other_unit(units: SheetUnit, is: Length, range: &Range) -> Option<(String, Length)> {
    // What the height becomes when the figure is read in the other unit, and when a figure of the other is undone.
    let (own, other, read, undone) = match units {
        SheetUnit::Feet | SheetUnit::Inches => ("feet", "metres", is * FEET, is / FEET),
        SheetUnit::Metres | SheetUnit::Millimetres => ("metres", "feet", is / FEET, is * FEET),
    };
    if range.has(read) {
        Some((format!("Is it in {other}"), read))
    } else if range.has(undone) {
        Some((format!("Is it a figure of {own} that was written or converted as one of {other}"), undone))
    } else {
        None
    }
}

fn ask(plan: &Plan, level: &GroundLevel, middle: Length, question: &str, help: String) -> Remark {
    let message = format!(
        "The level of `{}` is {}, and the others lie about {}. {question}?",
        level.name.0,
        height(plan, level),
        crate::field::length(plan, middle.metres())
    );
    at("data::level-in-doubt", Gravity::Suspect, message, level, help)
}

/// The middle of some lengths, which it puts in order, or zero where there are none.
fn median(lengths: &mut [Length]) -> Length {
    lengths.sort();
    lengths.get(lengths.len() / 2).copied().unwrap_or(Length::ZERO)
}
