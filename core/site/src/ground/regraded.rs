//! Where the ground shall lie otherwise than it does, as far as a drawing shows it.

use groundrule_survey::{Position, Surface};
use groundrule_units::Length;

use super::contours::ContourLine;
use crate::Site;

/// Two levels nearer than this, in metres, are drawn as one: half of a tenth of a foot, near what a level is set out to.
pub(crate) const SAME_LEVEL: f64 = 0.015_24;

impl Site {
    /// True where the plan has a level of the ground as it shall be, so that the two surfaces can differ.
    pub fn is_regraded(&self) -> bool {
        self.ground(Surface::Proposed)
            .is_some_and(|ground| ground.spots().iter().any(|spot| spot.of == Surface::Proposed))
    }

    /// The surface that water will run on: the proposed one where anything is regraded, else the existing one.
    pub fn final_ground(&self) -> Option<Surface> {
        let kept = if self.is_regraded() { Surface::Proposed } else { Surface::Existing };
        self.ground(kept).map(|_| kept)
    }

    /// The contours of the proposed surface, without the stretches along which the ground stays as it lies.
    pub fn new_contours(&self, interval: Length) -> Vec<ContourLine> {
        let Some(proposed) = self.ground(Surface::Proposed).filter(|_| self.is_regraded()) else {
            return Vec::new();
        };
        let Some(existing) = self.ground(Surface::Existing) else { return proposed.contours(interval) };
        let stays = |at: Position, level: Length| {
            existing.level_of(at).is_some_and(|now| (now - level).abs().metres() < SAME_LEVEL)
        };
        proposed.contours(interval).into_iter().flat_map(|line| pieces(&line, &stays)).collect()
    }
}

/// The pieces of a contour that have a segment with an end, or its middle, on changed ground.
fn pieces(line: &ContourLine, stays: &impl Fn(Position, Length) -> bool) -> Vec<ContourLine> {
    let closing = line.closed.then(|| line.path.first().copied()).flatten();
    let path: Vec<Position> = line.path.iter().copied().chain(closing).collect();
    let still: Vec<bool> = path.iter().map(|at| stays(*at, line.level)).collect();
    let middle = |a: Position, b: Position| Position { x: (a.x + b.x) * 0.5, y: (a.y + b.y) * 0.5 };
    let mut found: Vec<Vec<Position>> = Vec::new();
    let mut open = false;
    for (pair, ends) in path.windows(2).zip(still.windows(2)) {
        let (&[a, b], &[before, after]) = (pair, ends) else { continue };
        let unchanged = before && after && stays(middle(a, b), line.level);
        match found.last_mut() {
            Some(piece) if open && !unchanged => piece.push(b),
            _ if !unchanged => found.push(vec![a, b]),
            _ => {}
        }
        open = !unchanged;
    }
    let whole =
        line.closed && found.len() == 1 && found.first().is_some_and(|piece| piece.len() == path.len());
    if whole {
        return vec![line.clone()];
    }
    found.into_iter().map(|path| ContourLine { level: line.level, path, closed: false }).collect()
}
