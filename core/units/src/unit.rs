//! The units a sheet may be drawn in, and the units a single text may name.

use crate::Length;

/// The unit of a bare number on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SheetUnit {
    /// International feet.
    Feet,
    /// Inches.
    Inches,
    /// Metres.
    Metres,
    /// Millimetres.
    Millimetres,
}

/// A unit of length that a text may name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LengthUnit {
    /// International foot, 0.3048 m.
    Foot,
    /// Inch, 25.4 mm.
    Inch,
    /// Metre.
    Metre,
    /// Centimetre.
    Centimetre,
    /// Millimetre.
    Millimetre,
}

impl LengthUnit {
    /// One of this unit.
    pub const fn one(self) -> Length {
        match self {
            Self::Foot => Length::from_feet(1.0),
            Self::Inch => Length::from_inches(1.0),
            Self::Metre => Length::from_metres(1.0),
            Self::Centimetre => Length::from_millimetres(10.0),
            Self::Millimetre => Length::from_millimetres(1.0),
        }
    }
}
