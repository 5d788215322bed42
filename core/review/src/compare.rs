//! A measured value against the figures of a limit.

use groundrule_packs::Sense;
use groundrule_site::Measured;
use groundrule_units::{Dimension, Ratio};

use crate::conformity::{Conformity, Level, conformity, quantile};
use crate::finding::Verdict;

/// How close two amounts may be and still be equal, in the SI unit of their dimension.
///
/// A length within a micrometre of a limit equals it. The others are what a micrometre does to them on a
/// site: along 100 m of boundary to an area, over 100 m2 to a volume, across one metre to a slope, a share
/// or an angle. Of flows it is a tenth of a
/// millilitre a second, of speeds a thousandth of a millimetre of rain an hour and less, of times a millisecond. Far below anything that can be built, far above the rounding of arithmetic.
pub(crate) const fn resolution(dimension: Dimension) -> f64 {
    match dimension {
        Dimension::Length | Dimension::Ratio | Dimension::Angle => 1e-6,
        Dimension::Area | Dimension::Volume => 1e-4,
        Dimension::Flow => 1e-7,
        Dimension::Speed => 1e-10,
        Dimension::Time => 1e-3,
    }
}

/// The room between a value and one limit: negative where the value lies on the wrong side.
#[derive(Clone, Debug)]
pub(crate) struct Clearance {
    /// The room, with the errors of value and limit together.
    pub(crate) room: Measured,
    /// True when the limit itself conforms.
    pub(crate) included: bool,
}

impl Clearance {
    /// The room as a number; nothing when the value equals the limit.
    fn above(&self) -> f64 {
        let room = self.room.value();
        if room.si().abs() <= resolution(room.dimension()) { 0.0 } else { room.si() }
    }

    /// The standard uncertainty of the room; one finer than equality itself is none.
    fn spread(&self) -> f64 {
        let spread = self.room.spread();
        if spread.si() <= resolution(spread.dimension()) { 0.0 } else { spread.si() }
    }

    fn conformity_at(&self, spread: f64) -> f64 {
        let above = self.above();
        if spread <= 0.0 && above == 0.0 && !self.included {
            return 0.0;
        }
        conformity(above, spread).0.fraction()
    }
}

/// One form of a limit as its source prints it: a lower limit, an upper one or both.
#[derive(Clone, Debug)]
pub(crate) struct Form {
    pub(crate) lower: Option<Clearance>,
    pub(crate) upper: Option<Clearance>,
}

impl Form {
    /// The form of one sense, from the room above the bound and, for a range, the room below its upper bound.
    pub(crate) fn new(sense: Sense, first: Measured, upper: Option<Measured>) -> Self {
        let included = !matches!(sense, Sense::MoreThan | Sense::LessThan);
        let clearance = |room| Clearance { room, included };
        match sense {
            Sense::AtMost | Sense::LessThan => Self { lower: None, upper: Some(clearance(first)) },
            _ => Self { lower: Some(clearance(first)), upper: upper.map(clearance) },
        }
    }

    /// The side with the least room: what decides, and what a report draws.
    pub(crate) fn tightest(&self) -> Option<&Clearance> {
        self.sides().min_by(|a, b| a.above().total_cmp(&b.above()))
    }

    fn sides(&self) -> impl Iterator<Item = &Clearance> {
        self.lower.iter().chain(&self.upper)
    }

    /// Beyond the lower and beyond the upper limit exclude each other, so their probabilities add.
    fn conformity_at(&self, spread: impl Fn(&Clearance) -> f64) -> f64 {
        let outside: f64 = self.sides().map(|side| 1.0 - side.conformity_at(spread(side))).sum();
        (1.0 - outside).max(0.0)
    }

    fn conformity(&self) -> f64 {
        // One side alone keeps the full accuracy of its tail.
        match (&self.lower, &self.upper) {
            (Some(side), None) | (None, Some(side)) => side.conformity_at(side.spread()),
            _ => self.conformity_at(Clearance::spread),
        }
    }
}

/// A value against every form of a limit; meeting any one of them meets.
#[derive(Clone, Debug)]
pub(crate) struct Comparison {
    forms: Vec<Form>,
}

impl Comparison {
    pub(crate) fn new(forms: Vec<Form>) -> Self {
        Self { forms }
    }

    /// The form that is easiest to meet, which is the one that decides.
    pub(crate) fn deciding(&self) -> Option<&Form> {
        self.forms.iter().reduce(|best, form| if form.conformity() > best.conformity() { form } else { best })
    }

    /// The probability that the true value conforms.
    pub(crate) fn conformity(&self) -> Conformity {
        Conformity(Ratio::from_fraction(self.deciding().map_or(0.0, Form::conformity)))
    }

    /// How well to measure for a verdict; none for a level that no accuracy reaches.
    ///
    /// A value well off its limit asks for what gives a verdict should it hold. One that stands at its limit
    /// would ask for more than any tape can give; but it will hardly hold: measured four times as well, the
    /// new value gives a verdict about seven times in ten.
    pub(crate) fn settling(&self, level: Level) -> Option<Settling> {
        let form = self.deciding()?;
        let side = form.tightest()?;
        let room = side.above();
        let sure = Self::sure_spread(form, room, level)?;
        let likely = side.spread() / 4.0;
        // A spread finer than equality itself is none, so it settles what stands at its limit.
        let holding = sure.max(resolution(side.room.value().dimension()));
        Some(if sure >= likely {
            Settling { spread: sure, sure: true, holding }
        } else {
            Settling { spread: likely, sure: false, holding }
        })
    }

    /// The largest standard uncertainty at which the value as it stands would not be too close to call.
    fn sure_spread(form: &Form, room: f64, level: Level) -> Option<f64> {
        let one_sided = room.abs() / quantile(level.0);
        if !one_sided.is_finite() {
            return None;
        }
        if form.sides().count() < 2 || room <= 0.0 {
            return Some(one_sided);
        }
        // Within a range the other tail takes its share: halve towards the spread that just reaches the level.
        let (mut settled, mut open) = (0.0, one_sided);
        for _ in 0..60 {
            let middle = f64::midpoint(settled, open);
            if form.conformity_at(|_| middle) >= level.0.fraction() {
                settled = middle;
            } else {
                open = middle;
            }
        }
        Some(settled)
    }
}

/// How well to measure for a verdict.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Settling {
    /// The standard uncertainty of the room between value and limit that is enough.
    pub(crate) spread: f64,
    /// True when it gives a verdict should the value hold, false when a new value most likely will.
    pub(crate) sure: bool,
    /// The standard uncertainty that gives a verdict should the value hold exactly.
    pub(crate) holding: f64,
}

/// The verdict a probability of conformity gives at a level, which puts a guard band on both sides of the
/// limit. Source: JCGM 106:2012, 8.3.
pub(crate) fn verdict(conformity: Conformity, level: Level) -> Verdict {
    if conformity.0 >= level.0 {
        Verdict::Meets
    } else if conformity.0.fraction() <= 1.0 - level.0.fraction() {
        Verdict::Fails
    } else {
        Verdict::Verify
    }
}
