//! A ring of which only the lengths of its sides are known.

use groundrule_units::Length;

use super::{Bounds, Figure, Verdict};

/// What the lengths of the sides of a ring say about it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SideLengths {
    /// How many diagonals or angles must be measured before its shape is known: none for a triangle, one for a
    /// quadrilateral, one more for each further side.
    pub lacking: usize,
    /// The longest side, by its index.
    pub longest: usize,
    /// How much longer it is than all others together; negative when the ring can close.
    pub excess: Length,
    /// What the excess may be, from all sides.
    pub bounds: Bounds,
    /// Closes when the sides can meet; otherwise the excess judged.
    pub verdict: Verdict,
}

/// Looks at the sides of a ring; none for a ring of fewer than three.
pub fn side_lengths(sides: &[Figure]) -> Option<SideLengths> {
    let lacking = sides.len().checked_sub(3)?;
    let (longest, side) =
        sides.iter().enumerate().max_by_key(|(i, side)| (side.written.value, usize::MAX - i))?;
    let sum: Length = sides.iter().map(|side| side.written.value).sum();
    let excess = side.written.value * 2.0 - sum;
    let bounds = Bounds::of(sides.iter().map(|side| side.half_width));
    let verdict = if excess <= Length::ZERO { Verdict::Closes } else { bounds.judge(excess) };
    Some(SideLengths { lacking, longest, excess, bounds, verdict })
}
