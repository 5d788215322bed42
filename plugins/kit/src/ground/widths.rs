//! Widths of walks and passages.

use crate::{Amounts, Feature};

/// Widths as drawn.
pub trait Widths: Amounts {
    /// The narrowest drawn width of each feature: a line's own width, or the least distance between facing
    /// edges of an outline.
    fn drawn_width(&self, features: &[Feature]) -> Vec<Self::Amount>;
}
