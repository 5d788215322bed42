//! Chains, loops and ties looked at by themselves, before any adjustment: do they close, and if not, which single
//! mistake would make them close.
//!
//! Nothing here changes a reading. Every cause found is listed, none is applied, and whoever asked decides what to
//! say. All of it is pure: the same figures give the same answer, in the same order.

mod balance;
mod bearing_text;
mod cause;
mod chain;
mod chain_causes;
mod loop_causes;
mod looped;
mod record;
mod sides;
mod steps;
mod text;
mod ties;

use groundrule_units::{Length, Written};

pub use balance::{compass_rule, transit_rule};
pub use cause::{Candidate, CandidateKind, Candidates, MOST_CANDIDATES};
pub use chain::{Chain, ChainClosing, close_chain};
pub use looped::{Call, Loop, LoopClosing, Precision, close_loop};
pub use record::{Agreement, agree};
pub use sides::{SideLengths, side_lengths};
pub use steps::{DoubleMeridians, Step, area_of, double_meridians, segment, vertices};
pub use ties::{Meeting, Misfit, TieFrom, TiePair, TiesClosing, WEAK_CROSSING, ties, two_ties};

/// Lengths that differ by no more are the same: a micrometre, as everywhere in the program.
pub(crate) const SAME: f64 = 1e-6;

/// One length as read.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// The length and its text. A text that does not read back to the length is not examined for mistakes.
    pub written: Written<Length>,
    /// Its plus-or-minus at 95 %.
    pub half_width: Length,
}

/// Whether figures that ought to agree do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// The gap is no more than is to be expected.
    Closes,
    /// More than is to be expected, but the errors together could make it.
    Suspicious,
    /// More than all errors at their plus-or-minus together could make: something is wrong.
    DoesNotAddUp,
}

/// How large a gap independent readings may leave.
///
/// The gap is a sum of readings, each times a factor. With the half widths at 95 % times their factors, the root
/// of the sum of squares is what is to be expected and the plain sum is the worst case (common practice for
/// chains: `e √(n + 1)` and `e (n + 1)`).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Bounds {
    /// The half width of the gap at 95 %.
    pub expected: Length,
    /// All readings off by their half widths, all in the same sense.
    pub worst: Length,
}

impl Bounds {
    /// From each reading's half width times its factor in the gap; signs do not matter.
    pub fn of(shares: impl IntoIterator<Item = Length>) -> Self {
        let (squares, worst) = shares.into_iter().fold((0.0, 0.0), |(squares, worst), share| {
            let share = share.metres().abs();
            (squares + share * share, worst + share)
        });
        // A root of squares that overflowed is still no more than the plain sum.
        let expected = f64::min(squares, f64::MAX).sqrt().min(worst);
        Self { expected: Length::from_metres(expected), worst: Length::from_metres(worst) }
    }

    /// Judges a gap; its sign does not matter. What is not finite does not add up.
    pub fn judge(self, gap: Length) -> Verdict {
        let gap = gap.metres().abs();
        if gap <= self.expected.metres() + SAME {
            Verdict::Closes
        } else if gap <= self.worst.metres() + SAME && gap.is_finite() {
            Verdict::Suspicious
        } else {
            Verdict::DoesNotAddUp
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(half_widths: &[f64], gap: f64, expected: (f64, f64, Verdict)) {
        let bounds = Bounds::of(half_widths.iter().map(|a| Length::from_metres(*a)));
        let close = |a: Length, b: f64| (a.metres() - b).abs() < 1e-9;
        assert!(close(bounds.expected, expected.0) && close(bounds.worst, expected.1), "{bounds:?}");
        assert_eq!(bounds.judge(Length::from_metres(gap)), expected.2, "{half_widths:?} {gap}");
    }

    #[test]
    fn a_gap_is_judged_by_what_its_readings_can_make() {
        use Verdict::{Closes, DoesNotAddUp, Suspicious};
        check(&[], 0.0, (0.0, 0.0, Closes));
        check(&[], 1e-7, (0.0, 0.0, Closes));
        check(&[], 1e-5, (0.0, 0.0, DoesNotAddUp));
        check(&[3.0, 4.0], 5.0, (5.0, 7.0, Closes));
        check(&[3.0, -4.0], -5.1, (5.0, 7.0, Suspicious));
        check(&[3.0, 4.0], 7.1, (5.0, 7.0, DoesNotAddUp));
        check(&[1.0; 4], f64::NAN, (2.0, 4.0, DoesNotAddUp));
        check(&[1.0; 4], f64::INFINITY, (2.0, 4.0, DoesNotAddUp));
    }
}
