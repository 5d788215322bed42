//! Quantities to written text, rounded as the trade rounds them.

use crate::{Dimension, Quantity, SheetUnit};

/// The family of units a report is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    /// Feet and inches to 1/8 in, square feet.
    FeetInches,
    /// Decimal feet to 0.01 ft, square feet.
    DecimalFeet,
    /// Metres to 1 mm, square metres.
    Metres,
}

impl From<SheetUnit> for Style {
    /// As the sheet is written.
    fn from(units: SheetUnit) -> Self {
        match units {
            SheetUnit::Feet | SheetUnit::Inches => Self::DecimalFeet,
            SheetUnit::Metres | SheetUnit::Millimetres => Self::Metres,
        }
    }
}

/// Standard uncertainty to a 95 % half width: the 0.975 quantile of the normal distribution.
const HALF_WIDTH_95: f64 = 1.959_964;

/// The quantity in the style's units.
///
/// Lengths to 1/8 in, 0.01 ft or 1 mm; areas to 1 sq ft (0.1 under 100) or 0.01 m²; volumes to 0.1 cu yd or
/// 0.01 m³; ratios to 0.1 %; angles to 0.1°; flows to 0.001 cfs (0.1 from 10) or 0.01 L/s; speeds to 0.01 ft/s or
/// 1 mm/s, and under 1 mm/s, where only rain and soil are, to 0.01 in/h or 0.1 mm/h; times to 0.01 h, under an hour
/// to 0.1 min. What is shown reads back within half of that.
///
/// ```
/// use groundrule_units::{show, Area, Length, Style};
/// assert_eq!(show(Length::from_feet(12.375).into(), Style::FeetInches), "12'-4 1/2\"");
/// assert_eq!(show(Length::from_metres(3.05).into(), Style::Metres), "3.050 m");
/// assert_eq!(show(Area::from_square_feet(10_019.0).into(), Style::DecimalFeet), "10,019 sq ft");
/// ```
pub fn show(quantity: Quantity, style: Style) -> String {
    let unit = Display::of(quantity, style);
    unit.write(steps(quantity.si(), unit.step))
}

/// The quantity with its plus-or-minus at 95 %; the plus-or-minus is 1.959964 times the standard uncertainty.
///
/// A spread of exactly zero is left out; a smaller one than the display can show is shown as one step of it.
///
/// ```
/// use groundrule_units::{show_with_spread, Length, Style};
/// let (gap, spread) = (Length::from_feet(4.0), Length::from_feet(0.707_107));
/// assert_eq!(show_with_spread(gap.into(), spread.into(), Style::DecimalFeet), "4.00 ft ± 1.39 ft");
/// ```
pub fn show_with_spread(quantity: Quantity, standard_uncertainty: Quantity, style: Style) -> String {
    let half_width = standard_uncertainty.si().abs() * HALF_WIDTH_95;
    let value = show(quantity, style);
    if half_width == 0.0 {
        return value;
    }
    // A speed and a time have their unit from the value, so that its plus-or-minus is in the same.
    let unit = match quantity.dimension() {
        Dimension::Speed | Dimension::Time => Display::of(quantity, style),
        dimension => Display::of(Quantity::new(dimension, half_width), style),
    };
    format!("{value} ± {}", unit.write(steps(half_width, unit.step).max(1.0)))
}

/// Metres a second under which a speed is one of rain or of soil: 142 in/h.
const SLOW: f64 = 0.001;

/// The nearest whole number of steps; halves go away from zero, also when a division left them a hair short.
fn steps(si: f64, step: f64) -> f64 {
    let steps = si / step;
    (steps * (1.0 + 4.0 * f64::EPSILON)).round()
}

/// How a quantity is displayed: the step it is rounded to, in SI units, and how so many steps are written.
struct Display {
    step: f64,
    form: Form,
}

enum Form {
    /// Eighths of an inch as feet and inches.
    FeetInches,
    /// So many decimals, thousands commas or not, and what stands behind the number.
    Decimal { places: usize, commas: bool, unit: &'static str },
}

impl Display {
    fn of(quantity: Quantity, style: Style) -> Self {
        use crate::quantity::{FOOT, INCH};
        let decimal = |one: f64, places: usize, commas: bool, unit: &'static str| {
            let steps_per_unit = [1.0, 10.0, 100.0, 1000.0][places.min(3)];
            Self { step: one / steps_per_unit, form: Form::Decimal { places, commas, unit } }
        };
        match (quantity.dimension(), style) {
            (Dimension::Length, Style::FeetInches) => Self { step: INCH / 8.0, form: Form::FeetInches },
            (Dimension::Length, Style::DecimalFeet) => decimal(FOOT, 2, false, " ft"),
            (Dimension::Length, Style::Metres) => decimal(1.0, 3, false, " m"),
            (Dimension::Area, Style::Metres) => decimal(1.0, 2, false, " m²"),
            (Dimension::Area, _) => {
                let fine = decimal(FOOT * FOOT, 1, true, " sq ft");
                let shown = steps(quantity.si(), fine.step).abs();
                if shown < 1000.0 { fine } else { decimal(FOOT * FOOT, 0, true, " sq ft") }
            }
            (Dimension::Volume, Style::Metres) => decimal(1.0, 2, false, " m³"),
            (Dimension::Volume, _) => decimal(27.0 * FOOT * FOOT * FOOT, 1, true, " cu yd"),
            (Dimension::Flow, Style::Metres) => decimal(0.001, 2, false, " L/s"),
            (Dimension::Flow, _) => {
                let one = FOOT * FOOT * FOOT;
                let fine = decimal(one, 3, false, " cfs");
                let shown = steps(quantity.si(), fine.step).abs();
                if shown < 10_000.0 { fine } else { decimal(one, 1, true, " cfs") }
            }
            (Dimension::Speed, style) => match (quantity.si().abs() < SLOW, style) {
                (true, Style::Metres) => decimal(0.001 / 3600.0, 1, false, " mm/h"),
                (true, _) => decimal(INCH / 3600.0, 2, false, " in/h"),
                (false, Style::Metres) => decimal(1.0, 3, false, " m/s"),
                (false, _) => decimal(FOOT, 2, false, " ft/s"),
            },
            (Dimension::Time, _) if quantity.si().abs() < 3600.0 => decimal(60.0, 1, false, " min"),
            (Dimension::Time, _) => decimal(3600.0, 2, true, " h"),
            (Dimension::Angle, _) => decimal(1.0_f64.to_radians(), 1, false, "°"),
            (Dimension::Ratio, _) => decimal(0.01, 1, false, "%"),
        }
    }

    /// Writes a whole number of steps.
    fn write(&self, steps: f64) -> String {
        if !steps.is_finite() {
            return "not a finite number".to_owned();
        }
        let sign = if steps < 0.0 { "-" } else { "" };
        let steps = steps.abs();
        match self.form {
            Form::FeetInches => format!("{sign}{}", feet_inches(steps)),
            Form::Decimal { places, commas, unit } => {
                let number = decimal_text(steps, places);
                let number = if commas { with_commas(&number) } else { number };
                format!("{sign}{number}{unit}")
            }
        }
    }
}

/// Eighths of an inch as `12'-4 1/2"`.
fn feet_inches(eighths: f64) -> String {
    let feet = (eighths / 96.0).floor();
    let inches = eighths - feet * 96.0;
    // Inches under one keep their nought, as drafters write them: 5'-0 1/2".
    let nought = if inches > 0.0 && inches < 8.0 { "0 " } else { "" };
    format!("{feet:.0}'-{nought}{}\"", whole_fraction(inches, 8.0))
}

/// So many parts of a whole as `4 1/2`, `3/8` or `2`; `per_whole` is a power of two.
pub(crate) fn whole_fraction(parts: f64, per_whole: f64) -> String {
    let whole = (parts / per_whole).floor();
    let (mut over, mut under) = (parts - whole * per_whole, per_whole);
    while over > 0.0 && over % 2.0 == 0.0 {
        over /= 2.0;
        under /= 2.0;
    }
    match (whole > 0.0, over > 0.0) {
        (_, false) => format!("{whole:.0}"),
        (true, true) => format!("{whole:.0} {over:.0}/{under:.0}"),
        (false, true) => format!("{over:.0}/{under:.0}"),
    }
}

/// Puts the point into a whole number of steps, so that no second rounding can happen.
fn decimal_text(steps: f64, places: usize) -> String {
    let digits = format!("{steps:0>width$.0}", width = places + 1);
    let (whole, part) = digits.split_at(digits.len() - places);
    if part.is_empty() { whole.to_owned() } else { format!("{whole}.{part}") }
}

fn with_commas(number: &str) -> String {
    let (whole, part) = number.split_at(number.find('.').unwrap_or(number.len()));
    let mut text = String::with_capacity(number.len() + whole.len() / 3);
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && (whole.len() - place).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text + part
}
