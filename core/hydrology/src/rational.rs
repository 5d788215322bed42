//! The rational method: `Q = k C i A`.
//!
//! For small areas, up to about 200 acres (HEC-22, from memory). The storm is taken to last as long as water needs from
//! the farthest place.

use groundrule_units::{Area, Flow, Speed};

use crate::sensible;

/// Which `k`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// As the units have it: 1/43 200 for square feet and inches an hour, 1.008 for acres.
    Exact,
    /// The customary 1 for acres, which is 1/43 560 for square feet: 0.8 % less.
    Customary,
}

impl Form {
    /// What the exact flow is multiplied by.
    pub const fn factor(self) -> f64 {
        match self {
            Self::Exact => 1.0,
            Self::Customary => 43_200.0 / 43_560.0,
        }
    }
}

/// The peak flow from an area that sheds a share `coefficient` of rain that falls at `intensity`.
pub fn peak(area: Area, coefficient: f64, intensity: Speed, form: Form) -> Option<Flow> {
    let flow = form.factor() * coefficient * intensity.metres_per_second() * area.square_metres();
    Some(Flow::from_cubic_metres_per_second(sensible(flow)?))
}

/// The mean of a figure of several surfaces, each weighted by its area: `sum(C A) / sum(A)`.
pub fn composite(parts: &[(Area, f64)]) -> Option<f64> {
    let whole: f64 = parts.iter().map(|(area, _)| area.square_metres()).sum();
    let weighted: f64 = parts.iter().map(|(area, figure)| area.square_metres() * figure).sum();
    if whole > 0.0 { sensible(weighted / whole) } else { None }
}
