//! A single mistake that would explain why figures do not close.

use std::fmt::Write as _;

use groundrule_units::{Area, Length, Style, show};

use crate::Reading;

/// No more candidates are listed than this; the rest are counted.
pub const MOST_CANDIDATES: usize = 24;

/// The mistakes that are tried, the most specific first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CandidateKind {
    /// One letter of a bearing: north for south, or east for west.
    QuadrantLetter,
    /// A bearing the other way round.
    Reversed,
    /// A piece or a call that stands there twice, or belongs somewhere else.
    CountedTwice,
    /// Two neighbouring digits of one figure changed places.
    SwappedDigits,
    /// Feet and inches read as decimal feet: 12.8 where 12 ft 8 in was meant.
    InchesAsDecimals,
    /// Decimal feet read as feet and inches: 12 ft 8 in where 12.8 was meant.
    DecimalsAsInches,
    /// The number in another unit.
    WrongUnit,
    /// A round count of the figure's unit left off: 46 where 56 was meant.
    Dropped(u16),
    /// A round count of the figure's unit too many: 56 where 46 was meant.
    Added(u16),
    /// One digit of a figure read as another.
    MisreadDigit,
    /// One piece or call is lacking. Where it would stand is not known.
    LeftOut,
}

/// One change that would make the figures close. It is never applied.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// The kind of mistake.
    pub kind: CandidateKind,
    /// The reading concerned; none where a piece or call is lacking or every piece is concerned.
    pub at: Option<Reading>,
    /// The figure as it stands; empty where `at` is none.
    pub was: String,
    /// What it would be, as one would write it in the notation of the figure; empty where a figure is dropped.
    pub instead: String,
    /// The gap or misclosure that would remain.
    pub leaves: Length,
    /// The area the loop would then enclose, balanced by the compass rule; none for a chain, and none where a
    /// call is lacking, since its area depends on where the call belongs.
    pub area: Option<Area>,
}

impl Candidate {
    /// The candidate in plain words: `` `64` may be `46` with two digits swapped; that leaves 0.00 ft ``.
    pub fn describe(&self, style: Style) -> String {
        let (was, instead) = (&self.was, &self.instead);
        let mut text = match self.kind {
            CandidateKind::QuadrantLetter => format!("`{was}` may be `{instead}`, with one letter mistaken"),
            CandidateKind::Reversed => format!("`{was}` may be `{instead}`, written the wrong way round"),
            CandidateKind::CountedTwice => format!("`{was}` may be counted twice, or not belong here"),
            CandidateKind::SwappedDigits => format!("`{was}` may be `{instead}` with two digits swapped"),
            CandidateKind::InchesAsDecimals if self.at.is_none() => {
                format!("feet and inches may be written as decimal feet throughout: {instead}")
            }
            CandidateKind::InchesAsDecimals => {
                format!("`{was}` may be `{instead}`, feet and inches written as decimal feet")
            }
            CandidateKind::DecimalsAsInches if self.at.is_none() => {
                format!("decimal feet may be written as feet and inches throughout: {instead}")
            }
            CandidateKind::DecimalsAsInches => {
                format!("`{was}` may be `{instead}`, decimal feet written as feet and inches")
            }
            CandidateKind::WrongUnit => format!("`{was}` may be `{instead}`, a number in another unit"),
            CandidateKind::Dropped(count) => format!("`{was}` may be `{instead}`, with {count} dropped"),
            CandidateKind::Added(count) => format!("`{was}` may be `{instead}`, with {count} too many"),
            CandidateKind::MisreadDigit => format!("`{was}` may be `{instead}` with one digit misread"),
            CandidateKind::LeftOut => format!("`{instead}` may be left out; where is not known"),
        };
        // Writing to a text cannot fail.
        let _ = write!(text, "; that leaves {}", show(self.leaves.abs().into(), style));
        if let Some(area) = self.area {
            let _ = write!(text, " and an area of {}", show(area.abs().into(), style));
        }
        text
    }
}

/// A place in a list as readings count it.
pub(super) fn index(i: usize) -> u32 {
    u32::try_from(i).unwrap_or(u32::MAX)
}

/// The changes that would make the figures close.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Candidates {
    /// In a fixed order: the most specific kind first, then by reading, then by what remains.
    pub list: Vec<Candidate>,
    /// How many more there are than are listed.
    pub unlisted: usize,
}

impl Candidates {
    /// Sorts, drops a change that a more specific kind already explains, and cuts.
    pub(super) fn gathered(mut all: Vec<Candidate>) -> Self {
        let order = |a: &Candidate, b: &Candidate| {
            (a.kind, a.at, a.leaves.abs(), &a.instead).cmp(&(b.kind, b.at, b.leaves.abs(), &b.instead))
        };
        all.sort_by(order);
        let mut list: Vec<Candidate> = Vec::new();
        let mut unlisted = 0;
        for candidate in all {
            let again = |listed: &Candidate| {
                listed.at == candidate.at && listed.at.is_some() && listed.instead == candidate.instead
            };
            if list.iter().any(again) {
                continue;
            }
            if list.len() < MOST_CANDIDATES {
                list.push(candidate);
            } else {
                unlisted += 1;
            }
        }
        Self { list, unlisted }
    }
}
