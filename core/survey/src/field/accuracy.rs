//! Half widths at 95 % of single figures, from the class they were measured by.

use groundrule_plan::{Accuracy, AccuracyClass, Fact, Measurement, OfEach, Plan, Reading};
use groundrule_units::Length;

/// What an angle laid out by eye may be off by: 3 degrees, common practice.
pub(crate) const BY_EYE: f64 = 3.0 * std::f64::consts::PI / 180.0;

/// How well one measurement was made, or one thing was placed.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Class<'a>(Option<&'a AccuracyClass>);

impl<'a> Class<'a> {
    /// Of a measurement: its own, else the plan's; a stated fact without one is exact.
    pub(crate) fn of(plan: &'a Plan, measurement: &'a Measurement) -> Self {
        let default = match measurement.reading {
            Reading::Fact(_) => None,
            _ => plan.site.by.as_ref(),
        };
        Self::named(plan, measurement.by.as_ref().or(default))
    }

    /// Of a thing: its own, else the plan's; proposed work is set out by design, exactly.
    pub(crate) fn of_thing(plan: &'a Plan, by: Option<&'a Accuracy>, proposed: bool) -> Self {
        let default = if proposed { None } else { plan.site.by.as_ref() };
        Self::named(plan, by.or(default))
    }

    /// Of what is exact.
    pub(crate) const EXACT: Self = Self(None);

    fn named(plan: &'a Plan, by: Option<&'a Accuracy>) -> Self {
        Self(by.and_then(|by| match by {
            Accuracy::Own(class) => Some(class.as_ref()),
            // The plan's reader has already refused classes that are not there.
            Accuracy::Class(name) => plan.accuracy.get(&name.value),
        }))
    }

    /// True when every position read errs by itself, and not every length.
    pub(crate) fn of_positions(self) -> bool {
        self.0.is_some_and(|class| class.of_each == OfEach::Position)
    }

    /// Of one position or of a length that is no distance from anywhere, in metres.
    pub(crate) fn of_position(self) -> f64 {
        self.0.map_or(0.0, |class| class.plus_minus.value.metres().abs())
    }

    /// Of a length between two points, in metres.
    pub(crate) fn of_length(self, length: Length) -> f64 {
        let Some(class) = self.0 else { return 0.0 };
        let each = class.plus_minus.value.metres().abs();
        let ends = if class.of_each == OfEach::Position { std::f64::consts::SQRT_2 } else { 1.0 };
        libm::hypot(each * ends, class.of_length.fraction() * length.metres())
    }

    /// Of one position.
    pub(crate) fn position(self) -> Length {
        Length::from_metres(self.of_position())
    }

    /// Of a length between two points.
    pub(crate) fn length(self, length: Length) -> Length {
        Length::from_metres(self.of_length(length))
    }

    /// Of an angle or a bearing over an arm of this length, in radians.
    ///
    /// A class that says nothing of angles errs across the arm as much as along it, as a drawing does; without
    /// an arm it is taken as laid out by eye.
    pub(crate) fn of_angle(self, arm: Option<f64>) -> f64 {
        let Some(class) = self.0 else { return 0.0 };
        let said = class.angle.radians().abs();
        if said > 0.0 {
            return said;
        }
        match arm {
            Some(arm) if arm > 0.0 => libm::atan2(self.of_length(Length::from_metres(arm)), arm),
            _ if class.plus_minus.value == Length::ZERO => 0.0,
            _ => BY_EYE,
        }
    }
}

/// The angle a fact of right angles or parallels may be off by, in radians: nothing unless a class says so.
pub(crate) fn of_fact(class: Class<'_>, fact: &Fact) -> f64 {
    match (fact, class.0) {
        (Fact::Square(_) | Fact::RightAngle { .. } | Fact::Parallel(..), Some(class)) => {
            class.angle.radians().abs()
        }
        (_, Some(class)) => class.plus_minus.value.metres().abs(),
        (_, None) => 0.0,
    }
}
