//! The error of a point as a sum of independent sources.

use std::collections::BTreeMap;
use std::sync::Arc;

use groundrule_units::Length;
use smallvec::SmallVec;

use crate::Position;
use crate::adjust::Spot;
use crate::field::Survey;

/// Half widths at 95 % to standard uncertainties, for a normal distribution.
pub(crate) const HALF_WIDTH_95: f64 = 1.959_963_984_540_054;

/// One independent source of error: one coordinate reading, one taped length.
///
/// A source is a standard normal variable; the terms say how far one unit of it moves a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SourceId(pub u32);

/// How far one standard deviation of a source moves a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ErrorTerm {
    /// The source.
    pub source: SourceId,
    /// To the right.
    pub x: Length,
    /// Up.
    pub y: Length,
}

/// The error of one point.
#[derive(Clone, Debug, Default)]
pub enum ErrorTerms {
    /// None: a designed or a held point.
    #[default]
    Exact,
    /// Its own reading only: `source` moves it right and the next source moves it up, each by `sigma`.
    Own {
        /// The source of the reading in x; the one in y is the next.
        source: SourceId,
        /// Standard uncertainty of each coordinate.
        sigma: Length,
    },
    /// Any sum of sources, in order of source, each source once.
    Sum(Arc<[ErrorTerm]>),
    /// Those of a point that an adjustment located, worked out when first asked for.
    Surveyed(Surveyed),
}

/// The new most likely value of a source, and how it hangs on other sources now.
pub(crate) type Moved = (f64, Vec<(SourceId, f64)>);

/// A point of an adjusted survey.
#[derive(Clone, Debug)]
pub struct Surveyed {
    pub(crate) survey: Arc<Survey>,
    pub(crate) spot: Spot,
}

impl Surveyed {
    /// Its error, in order of source, each source once.
    pub fn terms(&self) -> &[ErrorTerm] {
        self.survey.terms(self.spot)
    }
}

impl PartialEq for ErrorTerms {
    /// Errors are equal when their terms are, however they are kept.
    fn eq(&self, other: &Self) -> bool {
        self.terms() == other.terms()
    }
}

/// A linear map of the plane, row by row: how a point moves when another does.
pub type Map = [[f64; 2]; 2];

/// The map that changes nothing, times a number.
pub(crate) const fn scaled(factor: f64) -> Map {
    [[factor, 0.0], [0.0, factor]]
}

impl ErrorTerms {
    /// The terms one by one, in order of source.
    pub fn terms(&self) -> SmallVec<[ErrorTerm; 4]> {
        match self {
            Self::Exact => SmallVec::new(),
            Self::Own { source, sigma } => SmallVec::from_slice(&[
                ErrorTerm { source: *source, x: *sigma, y: Length::ZERO },
                ErrorTerm { source: SourceId(source.0 + 1), x: Length::ZERO, y: *sigma },
            ]),
            Self::Sum(terms) => SmallVec::from_slice(terms),
            Self::Surveyed(surveyed) => SmallVec::from_slice(surveyed.terms()),
        }
    }

    /// How far a point with this error moves, and its error then, when some sources have moved; no error when it has
    /// none of them.
    pub(crate) fn moved_with(&self, moved: &BTreeMap<SourceId, Moved>) -> (Position, Option<Self>) {
        let terms = self.terms();
        if !terms.iter().any(|term| moved.contains_key(&term.source)) {
            return (Position::default(), None);
        }
        let (mut by, mut all) = (Position::default(), Vec::new());
        for term in terms {
            match moved.get(&term.source) {
                Some((shift, now)) => {
                    by = Position { x: by.x + term.x * *shift, y: by.y + term.y * *shift };
                    let each = now.iter().map(|(source, f)| ErrorTerm {
                        source: *source,
                        x: term.x * *f,
                        y: term.y * *f,
                    });
                    all.extend(each);
                }
                None => all.push(term),
            }
        }
        (by, Some(Self::gathered(all)))
    }

    /// The error of a point that moves with others, each through its own linear map.
    pub fn moved_by(parts: &[(Map, &ErrorTerms)]) -> Self {
        let mut all: Vec<ErrorTerm> = Vec::new();
        for (map, error) in parts {
            all.extend(error.terms().iter().map(|term| {
                let (x, y) = (term.x.metres(), term.y.metres());
                ErrorTerm {
                    source: term.source,
                    x: Length::from_metres(map[0][0] * x + map[0][1] * y),
                    y: Length::from_metres(map[1][0] * x + map[1][1] * y),
                }
            }));
        }
        Self::gathered(all)
    }

    /// The same error with further terms of sources of its own.
    pub(crate) fn with(&self, more: impl IntoIterator<Item = ErrorTerm>) -> Self {
        let mut all = self.terms().into_vec();
        all.extend(more);
        Self::gathered(all)
    }

    /// Puts terms in order of source and adds up those of one source.
    fn gathered(mut all: Vec<ErrorTerm>) -> Self {
        all.sort_by_key(|term| term.source);
        let mut sum: Vec<ErrorTerm> = Vec::with_capacity(all.len());
        for term in all {
            match sum.last_mut() {
                Some(last) if last.source == term.source => {
                    last.x = last.x + term.x;
                    last.y = last.y + term.y;
                }
                _ => sum.push(term),
            }
        }
        sum.retain(|term| term.x != Length::ZERO || term.y != Length::ZERO);
        if sum.is_empty() { Self::Exact } else { Self::Sum(sum.into()) }
    }
}
