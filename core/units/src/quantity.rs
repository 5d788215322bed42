//! The newtypes: one number each, in one SI unit each.

use std::cmp::Ordering;
use std::iter::Sum;
use std::ops::{Add, Div, Mul, Neg, Sub};

/// Metres in one international foot (exact, 1959).
pub(crate) const FOOT: f64 = 0.3048;
/// Metres in one inch (exact, 1959).
pub(crate) const INCH: f64 = 0.0254;

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $unit:literal, $from:ident, $to:ident, $dimension:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);

            #[doc = concat!("From a number of ", $unit, ".")]
            pub const fn $from(value: f64) -> Self {
                Self(value)
            }

            #[doc = concat!("The number of ", $unit, ".")]
            pub const fn $to(self) -> f64 {
                self.0
            }

            /// The same without its sign.
            pub fn abs(self) -> Self {
                Self(self.0.abs())
            }

            /// The smaller of two, in total order.
            pub fn min(self, other: Self) -> Self {
                if other < self { other } else { self }
            }

            /// The larger of two, in total order.
            pub fn max(self, other: Self) -> Self {
                if other > self { other } else { self }
            }

            /// False for NaN and the infinities.
            pub fn is_finite(self) -> bool {
                self.0.is_finite()
            }
        }

        impl PartialEq for $name {
            fn eq(&self, other: &Self) -> bool {
                self.cmp(other) == Ordering::Equal
            }
        }

        impl Eq for $name {}

        impl PartialOrd for $name {
            fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
                Some(self.cmp(other))
            }
        }

        impl Ord for $name {
            fn cmp(&self, other: &Self) -> Ordering {
                // Adding zero folds -0 into +0, so that order and equality agree.
                (self.0 + 0.0).total_cmp(&(other.0 + 0.0))
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }

        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }

        impl Div for $name {
            type Output = Ratio;
            fn div(self, other: Self) -> Ratio {
                Ratio::from_fraction(self.0 / other.0)
            }
        }

        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
                items.fold(Self::ZERO, Add::add)
            }
        }

        impl From<$name> for Quantity {
            fn from(value: $name) -> Self {
                Quantity::new(Dimension::$dimension, value.0)
            }
        }
    };
}

quantity!(
    /// A horizontal or vertical distance.
    ///
    /// Feet and inches turn into metres by whole numbers (3048/10000), so that a decimal that is exact in both
    /// units is the same number in both: 3 ft is 0.9144 m to the last place.
    Length, "metres", from_metres, metres, Length
);
quantity!(
    /// A surface, measured on the level.
    Area, "square metres", from_square_metres, square_metres, Area
);
quantity!(
    /// A bulk of earth, concrete or water.
    Volume, "cubic metres", from_cubic_metres, cubic_metres, Volume
);
quantity!(
    /// An angle or a turn; positive anticlockwise unless the place says otherwise.
    Angle, "radians", from_radians, radians, Angle
);
quantity!(
    /// A slope or a share: 0.05 is five percent.
    Ratio, "parts of one", from_fraction, fraction, Ratio
);

quantity!(
    /// How much water passes in a time.
    Flow, "cubic metres a second", from_cubic_metres_per_second, cubic_metres_per_second, Flow
);
quantity!(
    /// How fast water runs, rain falls or soil takes it in: a length in a time.
    Speed, "metres a second", from_metres_per_second, metres_per_second, Speed
);
quantity!(
    /// How long something takes.
    Time, "seconds", from_seconds, seconds, Time
);

impl Length {
    /// From international feet.
    pub const fn from_feet(feet: f64) -> Self {
        Self(feet * 3048.0 / 10_000.0)
    }

    /// International feet.
    pub const fn feet(self) -> f64 {
        self.0 * 10_000.0 / 3048.0
    }

    /// From inches.
    pub const fn from_inches(inches: f64) -> Self {
        Self(inches * 254.0 / 10_000.0)
    }

    /// Inches.
    pub const fn inches(self) -> f64 {
        self.0 * 10_000.0 / 254.0
    }

    /// From millimetres.
    pub const fn from_millimetres(millimetres: f64) -> Self {
        Self(millimetres / 1000.0)
    }

    /// Millimetres.
    pub const fn millimetres(self) -> f64 {
        self.0 * 1000.0
    }
}

impl Mul for Length {
    type Output = Area;
    fn mul(self, other: Self) -> Area {
        Area(self.0 * other.0)
    }
}

impl Area {
    /// From square feet.
    pub const fn from_square_feet(square_feet: f64) -> Self {
        Self(square_feet * 9_290_304.0 / 1e8)
    }

    /// Square feet.
    pub const fn square_feet(self) -> f64 {
        self.0 * 1e8 / 9_290_304.0
    }
}

impl Volume {
    /// From cubic feet.
    pub const fn from_cubic_feet(cubic_feet: f64) -> Self {
        Self(cubic_feet * 28_316_846_592.0 / 1e12)
    }

    /// Cubic feet.
    pub const fn cubic_feet(self) -> f64 {
        self.0 * 1e12 / 28_316_846_592.0
    }
}

impl Flow {
    /// From cubic feet a second.
    pub const fn from_cubic_feet_per_second(cubic_feet: f64) -> Self {
        Self(cubic_feet * 28_316_846_592.0 / 1e12)
    }

    /// Cubic feet a second.
    pub const fn cubic_feet_per_second(self) -> f64 {
        self.0 * 1e12 / 28_316_846_592.0
    }
}

impl Speed {
    /// From feet a second.
    pub const fn from_feet_per_second(feet: f64) -> Self {
        Self(feet * 3048.0 / 10_000.0)
    }

    /// Feet a second.
    pub const fn feet_per_second(self) -> f64 {
        self.0 * 10_000.0 / 3048.0
    }

    /// From inches an hour.
    pub const fn from_inches_per_hour(inches: f64) -> Self {
        Self(inches * 254.0 / 36_000_000.0)
    }

    /// Inches an hour.
    pub const fn inches_per_hour(self) -> f64 {
        self.0 * 36_000_000.0 / 254.0
    }

    /// From millimetres an hour.
    pub const fn from_millimetres_per_hour(millimetres: f64) -> Self {
        Self(millimetres / 3_600_000.0)
    }

    /// Millimetres an hour.
    pub const fn millimetres_per_hour(self) -> f64 {
        self.0 * 3_600_000.0
    }
}

impl Time {
    /// From hours.
    pub const fn from_hours(hours: f64) -> Self {
        Self(hours * 3600.0)
    }

    /// Hours.
    pub const fn hours(self) -> f64 {
        self.0 / 3600.0
    }

    /// From minutes.
    pub const fn from_minutes(minutes: f64) -> Self {
        Self(minutes * 60.0)
    }

    /// Minutes.
    pub const fn minutes(self) -> f64 {
        self.0 / 60.0
    }
}

impl Angle {
    /// From degrees.
    pub const fn from_degrees(degrees: f64) -> Self {
        Self(degrees.to_radians())
    }

    /// Degrees.
    pub const fn degrees(self) -> f64 {
        self.0.to_degrees()
    }
}

impl Ratio {
    /// From percent.
    pub const fn from_percent(percent: f64) -> Self {
        Self(percent / 100.0)
    }

    /// Percent.
    pub const fn percent(self) -> f64 {
        self.0 * 100.0
    }
}

/// What a [`Quantity`] is a quantity of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Dimension {
    /// Metres inside.
    Length,
    /// Square metres inside.
    Area,
    /// Cubic metres inside.
    Volume,
    /// Radians inside.
    Angle,
    /// Parts of one inside: slopes and shares.
    Ratio,
    /// Cubic metres a second inside.
    Flow,
    /// Metres a second inside: of water, of rain, of soaking in.
    Speed,
    /// Seconds inside.
    Time,
}

/// A number with its dimension, for places that carry any of the newtypes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    dimension: Dimension,
    si: f64,
}

impl Quantity {
    /// A quantity from its dimension and its number in the dimension's SI unit.
    pub const fn new(dimension: Dimension, si: f64) -> Self {
        Self { dimension, si }
    }

    /// What it is a quantity of.
    pub const fn dimension(self) -> Dimension {
        self.dimension
    }

    /// The number in the SI unit of its dimension.
    pub const fn si(self) -> f64 {
        self.si
    }

    /// The length, if it is one.
    pub fn length(self) -> Option<Length> {
        (self.dimension == Dimension::Length).then_some(Length(self.si))
    }

    /// The area, if it is one.
    pub fn area(self) -> Option<Area> {
        (self.dimension == Dimension::Area).then_some(Area(self.si))
    }

    /// The volume, if it is one.
    pub fn volume(self) -> Option<Volume> {
        (self.dimension == Dimension::Volume).then_some(Volume(self.si))
    }

    /// The flow, if it is one.
    pub fn flow(self) -> Option<Flow> {
        (self.dimension == Dimension::Flow).then_some(Flow(self.si))
    }

    /// The speed, if it is one.
    pub fn speed(self) -> Option<Speed> {
        (self.dimension == Dimension::Speed).then_some(Speed(self.si))
    }

    /// The time, if it is one.
    pub fn time(self) -> Option<Time> {
        (self.dimension == Dimension::Time).then_some(Time(self.si))
    }

    /// The ratio, if it is one.
    pub fn ratio(self) -> Option<Ratio> {
        (self.dimension == Dimension::Ratio).then_some(Ratio(self.si))
    }

    /// The angle, if it is one.
    pub fn angle(self) -> Option<Angle> {
        (self.dimension == Dimension::Angle).then_some(Angle(self.si))
    }
}
