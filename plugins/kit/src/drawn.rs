//! Telling what is drawn from what is only stated.

use crate::{Feature, Ground, Need, Shape};

/// Parts features into those that are drawn and those that are only stated.
///
/// A search by place passes over what is not drawn. A check that searches answers for it apart, or a thing
/// left off the drawing would look like a thing that is far away.
pub fn drawn_or_not<G: Ground>(ground: &G, features: &[Feature]) -> (Vec<Feature>, Vec<Feature>) {
    let shapes = ground.shapes(features);
    let (drawn, not): (Vec<_>, Vec<_>) =
        features.iter().copied().zip(shapes).partition(|(_, shape)| *shape != Shape::Absent);
    let features = |pairs: Vec<(Feature, Shape)>| pairs.into_iter().map(|(feature, _)| feature).collect();
    (features(drawn), features(not))
}

/// What is lacking of a feature that is not drawn, by what to call it.
pub fn not_drawn(label: &str) -> Need {
    Need::new(format!("outline of {label}"), "draw it: its corners, or a box, a circle or a line")
}
