//! Quantities to written text, rounded as the trade rounds them.

use crate::Quantity;

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

/// The quantity in the style's units: lengths to 1/8 in, 0.01 ft or 1 mm, ratios to 0.1 %.
pub fn show(quantity: Quantity, style: Style) -> String {
    let _ = (quantity, style);
    todo!()
}

/// The quantity with its plus-or-minus at 95 %: `4.0 ft ± 1.4 ft`.
pub fn show_with_spread(quantity: Quantity, standard_uncertainty: Quantity, style: Style) -> String {
    let _ = (quantity, standard_uncertainty, style);
    todo!()
}
