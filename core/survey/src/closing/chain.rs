//! Dimensions one after another along a line, against their overall.

use groundrule_plan::OfEach;
use groundrule_units::{Length, SheetUnit};

use super::chain_causes::causes;
use super::{Bounds, Candidates, Figure, Verdict};

/// A chain with the overall it is to add up to.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    /// The pieces; of a running chain, the running figures from the first mark.
    pub pieces: Vec<Figure>,
    /// From the first mark to the last, read by itself.
    pub overall: Figure,
    /// True when the pieces are running figures.
    pub running: bool,
    /// What the half widths are the errors of.
    pub of_each: OfEach,
    /// The unit of a bare number, for changing digits.
    pub sheet: Option<SheetUnit>,
}

/// How well a chain adds up.
#[derive(Clone, Debug, PartialEq)]
pub struct ChainClosing {
    /// The pieces; of a running chain, the differences of its figures.
    pub pieces: Vec<Length>,
    /// What they add up to.
    pub sum: Length,
    /// The sum less the overall: positive when the pieces come to more.
    pub gap: Length,
    /// What the gap may be.
    pub bounds: Bounds,
    /// The judgement. A running chain that runs backwards does not add up whatever its gap.
    pub verdict: Verdict,
    /// The running figures, by index, that are less than the one before.
    pub backwards: Vec<usize>,
    /// Single mistakes that would explain it; empty when the chain closes.
    pub candidates: Candidates,
}

/// Adds a chain up and compares it with its overall.
pub fn close_chain(chain: &Chain) -> ChainClosing {
    let pieces = pieces(chain);
    let mut values = chain.pieces.iter().map(|piece| piece.written.value);
    let sum = if chain.running { values.next_back().unwrap_or(Length::ZERO) } else { values.sum() };
    let gap = sum - chain.overall.written.value;
    let bounds = bounds(chain);
    let backwards = backwards(chain.running, &pieces);
    let verdict = if backwards.is_empty() { bounds.judge(gap) } else { Verdict::DoesNotAddUp };
    let candidates = match verdict {
        Verdict::Closes => Candidates::default(),
        _ => causes(chain, gap, bounds, &backwards),
    };
    ChainClosing { pieces, sum, gap, bounds, verdict, backwards, candidates }
}

/// The pieces one by one.
fn pieces(chain: &Chain) -> Vec<Length> {
    let values = chain.pieces.iter().map(|piece| piece.written.value);
    if !chain.running {
        return values.collect();
    }
    let before = std::iter::once(Length::ZERO).chain(values.clone());
    values.zip(before).map(|(here, before)| here - before).collect()
}

fn backwards(running: bool, pieces: &[Length]) -> Vec<usize> {
    let is_back = |(i, piece): (usize, &Length)| (*piece < Length::ZERO).then_some(i);
    if running { pieces.iter().enumerate().filter_map(is_back).collect() } else { Vec::new() }
}

/// Of lengths, every piece and the overall count, or the last running figure and the overall. Read off a picture,
/// neighbouring pieces share the mark between them, so that only the two ends of each line count, each read once
/// for the pieces and once for the overall.
fn bounds(chain: &Chain) -> Bounds {
    let half_widths = || chain.pieces.iter().map(|piece| piece.half_width);
    let overall = chain.overall.half_width;
    match (chain.of_each, chain.running) {
        (OfEach::Length, false) => Bounds::of(half_widths().chain([overall])),
        (OfEach::Length, true) => Bounds::of(half_widths().next_back().into_iter().chain([overall])),
        (OfEach::Position, _) => {
            let ends = [half_widths().next(), half_widths().next_back()];
            Bounds::of(ends.into_iter().flatten().chain([overall, overall]))
        }
    }
}
