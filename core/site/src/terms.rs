//! Sums of independent error sources: gathering them from points, and adding them.

use geo::Coord;
use groundrule_survey::{ErrorTerm, ErrorTerms, Point, SourceId};
use smallvec::SmallVec;

use crate::Terms;

/// Collects how far each source moves a value, point by point.
///
/// First-order propagation: where a value changes by `gradient` for each metre a point moves, a source
/// that moves the point by a term moves the value by their scalar product.
#[derive(Debug, Default)]
pub(crate) struct Gather(SmallVec<[(SourceId, f64); 16]>);

impl Gather {
    pub(crate) fn point(&mut self, point: &Point, gradient: Coord<f64>) {
        match &point.error {
            ErrorTerms::Exact => {}
            ErrorTerms::Own { source, sigma } => {
                self.0.push((*source, gradient.x * sigma.metres()));
                self.0.push((SourceId(source.0.saturating_add(1)), gradient.y * sigma.metres()));
            }
            ErrorTerms::Sum(terms) => self.all(terms, gradient),
            ErrorTerms::Surveyed(surveyed) => self.all(surveyed.terms(), gradient),
        }
    }

    fn all(&mut self, terms: &[ErrorTerm], gradient: Coord<f64>) {
        self.0
            .extend(terms.iter().map(|t| (t.source, gradient.x * t.x.metres() + gradient.y * t.y.metres())));
    }

    pub(crate) fn terms(&mut self, terms: &Terms, factor: f64) {
        self.0.extend(terms.iter().map(|(source, term)| (*source, term * factor)));
    }

    /// The sum, in order of source, each source once; sources that cancel are left out.
    pub(crate) fn finish(mut self) -> Terms {
        self.0.sort_by_key(|(source, _)| *source);
        let mut sum = Terms::new();
        for (source, term) in self.0 {
            match sum.last_mut() {
                Some((last, total)) if *last == source => *total += term,
                _ => sum.push((source, term)),
            }
        }
        sum.retain(|(_, term)| *term != 0.0);
        sum
    }
}

/// `a` times one factor plus `b` times another.
pub(crate) fn combine(a: &Terms, by: f64, b: &Terms, and_by: f64) -> Terms {
    let mut gather = Gather::default();
    gather.terms(a, by);
    gather.terms(b, and_by);
    gather.finish()
}

/// The covariance of two values: the sum over the sources they share.
pub(crate) fn covariance(a: &Terms, b: &Terms) -> f64 {
    let (mut i, mut j, mut sum) = (0, 0, 0.0);
    while let (Some((p, x)), Some((q, y))) = (a.get(i), b.get(j)) {
        match p.cmp(q) {
            std::cmp::Ordering::Less => i += 1,
            std::cmp::Ordering::Greater => j += 1,
            std::cmp::Ordering::Equal => {
                sum += x * y;
                i += 1;
                j += 1;
            }
        }
    }
    sum
}

/// The standard uncertainty of the difference of two values, `spread(&combine(a, 1.0, b, -1.0))` to the bit.
pub(crate) fn apart(a: &Terms, b: &Terms) -> f64 {
    let (mut i, mut j, mut sum) = (0, 0, 0.0);
    let mut add = |term: f64| sum += term * term;
    loop {
        match (a.get(i), b.get(j)) {
            (Some((p, x)), Some((q, y))) if p == q => {
                add(x - y);
                (i, j) = (i + 1, j + 1);
            }
            (Some((p, x)), other) if other.is_none_or(|(q, _)| p < q) => {
                add(*x);
                i += 1;
            }
            (_, Some((_, y))) => {
                add(*y);
                j += 1;
            }
            (_, None) => break,
        }
    }
    libm::sqrt(sum)
}

/// The standard uncertainty these terms add up to.
pub(crate) fn spread(terms: &Terms) -> f64 {
    libm::sqrt(terms.iter().map(|(_, term)| term * term).sum())
}
