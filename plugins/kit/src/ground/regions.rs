//! Places constructed from what is drawn.

use groundrule_units::Length;

use crate::{Amounts, Feature};

/// Places made for this run. Each is a feature of the kind `region` that every measure takes; it errs with the points
/// it was made from. A reading must not name one.
pub trait Regions: Amounts {
    /// The neighbouring lot lines of each lot, in ring order; empty for what is not a lot.
    fn lot_corners(&self, lots: &[Feature]) -> Vec<Vec<(Feature, Feature)>>;
    /// For each lot line, the part of its own lot no farther from the line segment than the depth; none where the line
    /// or its lot is not drawn.
    fn strip(&self, lines: &[Feature], depth: Length) -> Vec<Option<Feature>>;
    /// For each feature, all ground no farther from it than the reach, the feature itself taken in, cut by the outline
    /// of its own lot if asked; none where it or that lot is not drawn.
    fn around(&self, features: &[Feature], reach: Length, within_lot: bool) -> Vec<Option<Feature>>;
    /// For each pair of lot lines of one lot, the triangle at the corner where they meet, its legs along them, as far
    /// as it is on the lot; a rounded or cut corner counts as where they would meet. From the centrelines, the legs run
    /// along the middles of the streets, half of each line's stated `street_width` outside of the line.
    ///
    /// None where the lines do not meet, nothing of the triangle is on the lot, or a width is wanted and not stated.
    fn corner_sight(
        &self,
        corners: &[(Feature, Feature)],
        first_leg: Length,
        second_leg: Length,
        from_centrelines: bool,
    ) -> Vec<Option<Feature>>;
    /// For each pair of a drive, an outline or a line with a width, and the lot line it leaves the lot by: the triangles
    /// outside of the drive at each place where an edge of it meets the line, one leg along the line and one along that
    /// edge into the lot. A drive that stops within a foot of the line reaches it; one that does not has none.
    fn drive_sight(
        &self,
        pairs: &[(Feature, Feature)],
        leg_along: Length,
        leg_in: Length,
    ) -> Vec<Vec<Feature>>;
}
