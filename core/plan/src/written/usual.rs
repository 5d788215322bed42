//! The usual classes of measuring, which a plan can name without writing them down.
//!
//! The figures are plus-or-minus that hold about 95 times in a hundred. Those of standing `common practice` are what
//! the trade reckons with, with the source beside it where one agency prints the figure; those `from memory` are
//! magnitudes to be replaced by figures of one's own.

use groundrule_units::{Angle, Ratio, read_angle, read_length};

use super::place::zero;
use crate::model::{Accuracy, AccuracyClass, ClassOrigin, OfEach, Plan};
use crate::{Name, Span, visit};

/// One usual class.
pub(crate) struct Usual {
    /// Its name.
    pub(crate) name: &'static str,
    /// The plus-or-minus of a length or position, as written.
    pub(crate) plus_minus: &'static str,
    /// What errs by that.
    pub(crate) of_each: OfEach,
    /// Further share of a length, in percent.
    pub(crate) percent: f64,
    /// Of an angle, as written; zero only for what is exact.
    pub(crate) angle: &'static str,
    /// Where the figures come from.
    pub(crate) standing: &'static str,
    /// What it is, and its source where there is one.
    pub(crate) doc: &'static str,
}

const PRACTICE: &str = "common practice";
const MEMORY: &str = "from memory";

/// One row: name, plus-or-minus, of each, percent of length, angle, standing, what it is.
macro_rules! usual {
    ($($name:literal $plus_minus:literal $of_each:ident $percent:literal $angle:literal $standing:ident $doc:literal;)*) => {
        /// Every usual class.
        pub(crate) const CLASSES: &[Usual] = &[$(Usual {
            name: $name,
            plus_minus: $plus_minus,
            of_each: OfEach::$of_each,
            percent: $percent,
            angle: $angle,
            standing: $standing,
            doc: $doc,
        },)*];
    };
}

usual! {
    "aerial" "1 ft" Position 0.0 "2 deg" PRACTICE "Read off an aerial picture with care. Roofs are seen, not walls.";
    "parcel_map" "5 ft" Position 0.0 "2 deg" PRACTICE "Lines of a county parcel map; LINK-GIS (Kentucky) says within 5 ft in newer subdivisions, and older ones are worse.";
    "mortgage_drawing" "3 ft" Length 0.0 "2 deg" PRACTICE "A mortgage drawing or location report; not made for fences.";
    "phone" "16 ft" Position 0.0 "10 deg" PRACTICE "The position a phone gives by itself, and its compass.";
    "pacing" "1 ft" Length 3.0 "5 deg" PRACTICE "Counted paces, 2 to 3 % of the length; the end of a pace is from memory.";
    "tape" "1/2 in" Length 0.2 "1 deg" PRACTICE "A cloth or fibreglass tape and one person: 0.1 to 0.2 ft in 100 ft; its ends are from memory.";
    "steel_tape" "1/4 in" Length 0.05 "1 deg" PRACTICE "A steel tape and two people: 0.02 to 0.05 ft in 100 ft; its ends are from memory.";
    "ruler" "1/32 in" Length 0.0 "1 deg" MEMORY "A ruler laid on a print.";
    "hand_level" "0.1 ft" Length 0.0 "1 deg" PRACTICE "A hand level, sights up to 50 ft.";
    "string_level" "1/2 in" Length 0.0 "1 deg" PRACTICE "A string with a line level, 25 to 30 ft.";
    "water_level" "1/8 in" Length 0.0 "1 deg" PRACTICE "A hose with water, at any distance, without bubbles.";
    "builders_level" "0.02 ft" Length 0.0 "0.1 deg" PRACTICE "A builder's level, sights up to 100 ft.";
    "survey" "0.02 ft" Length 0.0 "0°01'" PRACTICE "A survey of a house lot, angles to a minute of arc; Washington asks for a closure of 1:5,000.";
    "deed" "0.5 ft" Length 0.1 "0.5 deg" MEMORY "Calls of a deed, with bearings to half a degree.";
    "record" "0.1 ft" Length 0.02 "0°01'" MEMORY "Figures of a recorded plat.";
    "eye" "1 ft" Length 10.0 "3 deg" PRACTICE "Judged by eye: right angles to 3 degrees, 0.5 ft in 10 ft of offset; lengths are from memory.";
    "assumed" "1 ft" Length 10.0 "3 deg" MEMORY "Taken to be so by somebody, and not looked at.";
    "design" "0" Length 0.0 "0" PRACTICE "Exact, as designed.";
}

/// The usual class of this name.
pub(crate) fn class(name: &Name) -> Option<AccuracyClass> {
    let usual = CLASSES.iter().find(|usual| usual.name == name.0)?;
    Some(AccuracyClass {
        // A test reads every text of the list.
        plus_minus: read_length(usual.plus_minus, None).unwrap_or_else(|_| zero()),
        of_each: usual.of_each,
        of_length: Ratio::from_percent(usual.percent),
        angle: read_angle(usual.angle).map_or(Angle::ZERO, |angle| angle.value),
        origin: ClassOrigin::Usual { standing: usual.standing },
        span: Span::default(),
    })
}

/// Adds every usual class that the plan names and does not define.
pub(crate) fn take_in(plan: &mut Plan) {
    let named = visit::accuracies(plan).filter_map(|accuracy| match accuracy {
        Accuracy::Class(name) if !plan.accuracy.contains_key(&name.value) => Some(&name.value),
        _ => None,
    });
    let used: Vec<(Name, AccuracyClass)> =
        named.filter_map(|name| Some((name.clone(), class(name)?))).collect();
    plan.accuracy.extend(used);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_usual_class_has_figures() {
        for usual in CLASSES {
            let read = read_length(usual.plus_minus, None).expect(usual.name);
            let exact = usual.name == "design";
            assert_eq!(read.value == groundrule_units::Length::ZERO, exact, "{}", usual.name);
            let angle = read_angle(usual.angle).expect(usual.name);
            assert_eq!(angle.value == Angle::ZERO, exact, "{}: an angle of zero is exact", usual.name);
        }
    }
}
