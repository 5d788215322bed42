//! Single mistakes that would make a chain add up.

use groundrule_units::Length;

use super::cause::index;
use super::chain::Chain;
use super::text::{edits, half_step, written_like};
use super::{Bounds, Candidate, CandidateKind, Candidates, Figure, SAME};
use crate::Reading;

/// Every single mistake that brings the gap within what is to be expected.
pub(super) fn causes(chain: &Chain, gap: Length, bounds: Bounds, backwards: &[usize]) -> Candidates {
    if !gap.is_finite() {
        return Candidates::default();
    }
    let search = Search { chain, gap, bounds, exact: exact(chain) };
    let mut all = Vec::new();
    if chain.running {
        search.running(backwards, &mut all);
    } else {
        search.figures(&mut all);
        search.every_piece(&mut all);
        search.counted_twice(&mut all);
        search.left_out(&mut all);
    }
    Candidates::gathered(all)
}

/// Half of the finest step that any figure shows: a gap under this is none on paper.
fn exact(chain: &Chain) -> Length {
    let figures = chain.pieces.iter().chain([&chain.overall]);
    figures.filter_map(|figure| half_step(&figure.written, chain.sheet)).min().unwrap_or(Length::ZERO) * 0.999
}

struct Search<'a> {
    chain: &'a Chain,
    gap: Length,
    bounds: Bounds,
    exact: Length,
}

impl Search<'_> {
    /// True when what remains is small enough for this kind of mistake.
    ///
    /// One digit read as another can make almost any gap, so it must leave nothing at all on paper. A round count
    /// and another unit must stand out from the errors of the readings.
    fn explains(&self, kind: CandidateKind, change: Length, leaves: Length) -> bool {
        let same = Length::from_metres(SAME);
        let stands_out = change.abs() > self.bounds.expected * 2.0;
        let limit = match kind {
            CandidateKind::MisreadDigit => self.bounds.expected.min(self.exact),
            CandidateKind::Dropped(_) | CandidateKind::Added(_) | CandidateKind::WrongUnit if !stands_out => {
                return false;
            }
            _ => self.bounds.expected,
        };
        leaves.abs() <= limit + same
    }

    /// The figures that count in the gap, each with its sense in it.
    fn slots(&self) -> Vec<(Reading, f64, &Figure)> {
        let last = self.chain.pieces.len().saturating_sub(1);
        let pieces = self.chain.pieces.iter().enumerate();
        pieces
            .filter(|(i, _)| !self.chain.running || *i == last)
            .map(|(i, figure)| (Reading::Figure(index(i)), 1.0, figure))
            .chain([(Reading::Overall, -1.0, &self.chain.overall)])
            .collect()
    }

    fn figures(&self, all: &mut Vec<Candidate>) {
        for (at, sense, figure) in self.slots() {
            for edit in edits(&figure.written, self.chain.sheet) {
                let change = (edit.value - figure.written.value) * sense;
                let leaves = self.gap + change;
                // A unit that makes the figure next to nothing only says that the figure does not belong here.
                let vanishes =
                    edit.kind == CandidateKind::WrongUnit && edit.value <= self.bounds.expected * 2.0;
                if !vanishes && self.explains(edit.kind, change, leaves) {
                    all.push(candidate(edit.kind, at, figure, edit.text, leaves));
                }
            }
        }
    }

    /// One habit of writing, the same in every piece.
    fn every_piece(&self, all: &mut Vec<Candidate>) {
        for kind in [CandidateKind::InchesAsDecimals, CandidateKind::DecimalsAsInches] {
            let mut change = Length::ZERO;
            let mut texts = Vec::new();
            for piece in &self.chain.pieces {
                let edit = edits(&piece.written, self.chain.sheet).into_iter().find(|edit| edit.kind == kind);
                let Some(edit) = edit else { continue };
                change = change + edit.value - piece.written.value;
                texts.push(edit.text);
            }
            let leaves = self.gap + change;
            if texts.len() > 1 && self.explains(kind, change, leaves) {
                let instead = texts.join(", ");
                all.push(Candidate { kind, at: None, was: String::new(), instead, leaves, area: None });
            }
        }
    }

    fn counted_twice(&self, all: &mut Vec<Candidate>) {
        let kind = CandidateKind::CountedTwice;
        for (at, sense, figure) in self.slots() {
            let value = figure.written.value;
            let leaves = self.gap - value;
            if sense > 0.0 && value > Length::ZERO && self.explains(kind, value, leaves) {
                all.push(candidate(kind, at, figure, String::new(), leaves));
            }
        }
    }

    /// A piece that is lacking can only make the pieces come to less.
    fn left_out(&self, all: &mut Vec<Candidate>) {
        if self.gap >= Length::ZERO {
            return;
        }
        let instead = written_like(&self.chain.overall.written.text, self.chain.sheet, -self.gap);
        all.push(Candidate {
            kind: CandidateKind::LeftOut,
            at: None,
            was: String::new(),
            instead,
            leaves: Length::ZERO,
            area: None,
        });
    }

    /// A running chain hangs on its last figure and its overall; if it runs backwards, on the figures there.
    fn running(&self, backwards: &[usize], all: &mut Vec<Candidate>) {
        if backwards.is_empty() {
            self.figures(all);
            return;
        }
        let pieces = &self.chain.pieces;
        for at in backwards.iter().flat_map(|i| [i.saturating_sub(1), *i]) {
            let Some(figure) = pieces.get(at) else { continue };
            for edit in edits(&figure.written, self.chain.sheet) {
                let is_last = at + 1 == pieces.len();
                let change = if is_last { edit.value - figure.written.value } else { Length::ZERO };
                let leaves = self.gap + change;
                // A digit or a unit that puts figures in order can be found for almost any of them.
                let free = matches!(edit.kind, CandidateKind::MisreadDigit | CandidateKind::WrongUnit);
                if !free && leaves.abs() <= self.bounds.expected + Length::from_metres(SAME) {
                    let changed =
                        |(i, piece): (usize, &Figure)| if i == at { edit.value } else { piece.written.value };
                    let values: Vec<Length> = pieces.iter().enumerate().map(changed).collect();
                    if values.is_sorted() {
                        let at = Reading::Figure(index(at));
                        all.push(candidate(edit.kind, at, figure, edit.text, leaves));
                    }
                }
            }
        }
    }
}

fn candidate(
    kind: CandidateKind,
    at: Reading,
    figure: &Figure,
    instead: String,
    leaves: Length,
) -> Candidate {
    Candidate { kind, at: Some(at), was: figure.written.text.clone(), instead, leaves, area: None }
}
