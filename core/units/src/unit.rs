//! The units a sheet may be drawn in, and the units a single text may name.

use crate::{Length, Unread};

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

impl SheetUnit {
    /// Every unit a sheet may have.
    pub const ALL: [Self; 4] = [Self::Feet, Self::Inches, Self::Metres, Self::Millimetres];

    /// Reads the name of a sheet unit: `ft`, `in`, `m`, `mm`, or the word in full.
    ///
    /// # Errors
    /// [`Unread::Malformed`] with the four names.
    ///
    /// ```
    /// use groundrule_units::SheetUnit;
    /// assert_eq!(SheetUnit::parse("ft"), Ok(SheetUnit::Feet));
    /// ```
    pub fn parse(text: &str) -> Result<Self, Unread> {
        match text.trim().to_ascii_lowercase().as_str() {
            "ft" | "foot" | "feet" => Ok(Self::Feet),
            "in" | "inch" | "inches" => Ok(Self::Inches),
            "m" | "metre" | "metres" | "meter" | "meters" => Ok(Self::Metres),
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Ok(Self::Millimetres),
            _ => Err(Unread::Malformed(format!(
                "{} is not the unit of a sheet: write ft, in, m or mm",
                crate::read::quoted(text)
            ))),
        }
    }

    /// The short name that [`SheetUnit::parse`] reads.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Feet => "ft",
            Self::Inches => "in",
            Self::Metres => "m",
            Self::Millimetres => "mm",
        }
    }

    /// The unit as a unit of length.
    pub const fn length_unit(self) -> LengthUnit {
        match self {
            Self::Feet => LengthUnit::Foot,
            Self::Inches => LengthUnit::Inch,
            Self::Metres => LengthUnit::Metre,
            Self::Millimetres => LengthUnit::Millimetre,
        }
    }

    /// True for metres and millimetres.
    pub const fn is_metric(self) -> bool {
        matches!(self, Self::Metres | Self::Millimetres)
    }
}

/// A unit of length that a text may name.
///
/// Chains, links and rods are counted in international feet: the US survey foot was retired after 2022 (NIST and
/// NOAA, Federal Register 85 FR 62698), and inside one lot the two feet differ by less than a pencil line.
///
/// The varas are those of surveyors' glossaries (`learncst.com/vara-definition`); the Californian one is left out
/// because it varies from 32.953 to 33.372 in between records.
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
    /// Yard, 3 ft.
    Yard,
    /// US survey foot, 1200/3937 m, written `ftUS`.
    SurveyFoot,
    /// Surveyor's chain, 66 ft.
    Chain,
    /// Link, a hundredth of a chain, 0.66 ft.
    Link,
    /// Rod, also called pole or perch, 16.5 ft.
    Rod,
    /// Texas vara, 33 1/3 in by the statute of 1919.
    TexasVara,
    /// Arizona vara, 33 in.
    ArizonaVara,
    /// Florida vara, 33.372 in.
    FloridaVara,
}

impl LengthUnit {
    /// One of this unit.
    pub const fn one(self) -> Length {
        self.of(1.0)
    }

    /// So many of this unit.
    pub const fn of(self, count: f64) -> Length {
        match self {
            Self::Foot => Length::from_feet(count),
            Self::Inch => Length::from_inches(count),
            Self::Metre => Length::from_metres(count),
            Self::Centimetre => Length::from_metres(count / 100.0),
            Self::Millimetre => Length::from_millimetres(count),
            Self::Yard => Length::from_feet(count * 3.0),
            Self::SurveyFoot => Length::from_metres(count * 1200.0 / 3937.0),
            Self::Chain => Length::from_feet(count * 66.0),
            Self::Link => Length::from_feet(count * 66.0 / 100.0),
            Self::Rod => Length::from_feet(count * 16.5),
            Self::TexasVara => Length::from_inches(count * 100.0 / 3.0),
            Self::ArizonaVara => Length::from_inches(count * 33.0),
            Self::FloridaVara => Length::from_inches(count * 33_372.0 / 1000.0),
        }
    }
}
