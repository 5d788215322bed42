//! The error of a point as a sum of independent sources.

use std::sync::Arc;

use groundrule_units::Length;

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
#[derive(Clone, Debug, Default, PartialEq)]
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
    /// Any sum of sources, in order of source.
    Sum(Arc<[ErrorTerm]>),
}
