//! Lines of equal level.

use groundrule_units::Length;

use crate::plane::{Xy, id, lerp};
use crate::tin::HOLE;
use crate::{Place, Tin};

/// More lines than this are no drawing.
const MOST: f64 = 10_000.0;

/// A line of equal level.
#[derive(Clone, Debug, PartialEq)]
pub struct Contour {
    /// Its level.
    pub level: Length,
    /// Its places in order; lower ground is on the left.
    pub path: Vec<Place>,
    /// Whether it closes from its last place to its first; otherwise it ends at rims.
    pub closed: bool,
}

impl Tin {
    /// The contours at all whole steps of `interval` from `base`, in order of level.
    /// A vertex exactly on a level counts as above it, so the highest level has no contour of its own.
    /// None for an interval that is not positive, or so small that there would be over ten thousand levels.
    pub fn contours(&self, interval: Length, base: Length) -> Vec<Contour> {
        let (step, base) = (interval.metres(), base.metres());
        let (low, high) = self.range();
        if !(step > 0.0 && step.is_finite() && base.is_finite()) || (high - low) / step > MOST {
            return Vec::new();
        }
        let first = libm::floor((low - base) / step);
        // Each facet goes to the levels it reaches, so that a level looks only at its own facets.
        #[allow(clippy::cast_possible_truncation, reason = "at most ten thousand steps from the first")]
        let number = |z: f64| (libm::floor((z - base) / step) - first) as i64;
        let mut reached: Vec<(i64, u32)> = Vec::new();
        for facet in 0..id(self.facets()) {
            let (low, high) = least_and_greatest(self.levels_of(facet));
            // One more at each end: rounding of the number must not lose a level.
            reached.extend((number(low)..=number(high) + 1).map(|n| (n, facet)));
        }
        reached.sort_unstable();
        reached
            .chunk_by(|a, b| a.0 == b.0)
            .flat_map(|chunk| {
                let facets: Vec<u32> = chunk.iter().map(|(_, facet)| *facet).collect();
                let n = chunk.first().map_or(0, |(n, _)| *n);
                self.contours_through(&facets, base + (first + n as f64) * step)
            })
            .collect()
    }

    /// The contours at one level. A vertex exactly on it counts as above it.
    pub fn contour_at(&self, level: Length) -> Vec<Contour> {
        let facets: Vec<u32> = (0..id(self.facets())).collect();
        self.contours_through(&facets, level.metres())
    }

    fn range(&self) -> (f64, f64) {
        let mut all = (f64::INFINITY, f64::NEG_INFINITY);
        for facet in 0..id(self.facets()) {
            let (low, high) = least_and_greatest(self.levels_of(facet));
            all = (all.0.min(low), all.1.max(high));
        }
        all
    }

    /// The edge where the line at a level comes into a facet and the one where it leaves, with the lower
    /// ground on its left; none when the facet is all above or all below.
    pub(crate) fn through(&self, facet: u32, level: f64) -> Option<(usize, usize)> {
        let below = self.levels_of(facet).map(|z| z < level);
        let turns = |from: bool| (0..3).find(|&k| below[k] == from && below[(k + 1) % 3] != from);
        Some((turns(true)?, turns(false)?))
    }

    /// Where a level is on an edge of a facet one end of which is below it; the same from both sides.
    pub(crate) fn crossing(&self, facet: u32, edge: usize, level: f64) -> Xy {
        let corners = self.mesh.facets[facet as usize];
        let (mut low, mut high) = (corners[edge], corners[(edge + 1) % 3]);
        if self.z(low) >= level {
            (low, high) = (high, low);
        }
        let (from, to) = (self.z(low), self.z(high));
        lerp(self.mesh.xy[low as usize], self.mesh.xy[high as usize], (level - from) / (to - from))
    }

    /// The contours at a level through some facets, which hold all it passes.
    fn contours_through(&self, facets: &[u32], level: f64) -> Vec<Contour> {
        let mut passed = vec![false; facets.len()];
        let mut found = Vec::new();
        // Open ones begin at a rim; what is left after them is closed.
        for open in [true, false] {
            for (n, &start) in facets.iter().enumerate() {
                let Some((enter, _)) = self.through(start, level) else { continue };
                if passed[n] || (open && self.mesh.next[start as usize][enter] < HOLE) {
                    continue;
                }
                let mut path = vec![self.crossing(start, enter, level)];
                let mut facet = start;
                while let Ok(n) = facets.binary_search(&facet)
                    && !passed[n]
                    && let Some((_, leave)) = self.through(facet, level)
                {
                    passed[n] = true;
                    path.push(self.crossing(facet, leave, level));
                    facet = self.mesh.next[facet as usize][leave];
                }
                path.dedup();
                if !open && path.first() == path.last() {
                    path.pop();
                }
                if path.len() > 1 {
                    let path = path.into_iter().map(|at| self.place(at)).collect();
                    found.push(Contour { level: Length::from_metres(level), path, closed: !open });
                }
            }
        }
        found
    }
}

fn least_and_greatest([a, b, c]: [f64; 3]) -> (f64, f64) {
    (a.min(b).min(c), a.max(b).max(c))
}
