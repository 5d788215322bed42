//! Telling what is drawn from what is only stated.

use crate::{Feature, Ground, Need, Reading, Shape};

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

/// The subjects that are drawn, and the answer that their shape is lacking for each that is not.
pub fn drawn_subjects<G: Ground>(ground: &G) -> (Vec<Feature>, Vec<Reading<G::Amount>>) {
    let (drawn, undrawn) = drawn_or_not(ground, &ground.subjects());
    let labels = ground.labels(&undrawn);
    let lacking = undrawn.into_iter().zip(labels);
    (drawn, lacking.map(|(subject, label)| Reading::lacking(subject, not_drawn(&label))).collect())
}
