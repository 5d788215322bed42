//! Picking one figure out of many.

use groundrule_terrain::FacetId;
use groundrule_units::{Dimension, Quantity};

use crate::ground::model::Ground;
use crate::spread::of_least;
use crate::{Mark, Measured, Terms};

/// Which figure of many.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    /// The least.
    Least,
    /// The greatest.
    Greatest,
    /// The mean.
    Mean,
    /// Along a line, the one farthest from level, without its sign.
    Steepest,
    /// Along a line, the one nearest to level, without its sign.
    Flattest,
}

/// One of the figures, with what decides it.
#[derive(Clone, Debug)]
pub(crate) struct Candidate {
    pub(crate) value: f64,
    pub(crate) terms: Terms,
    /// By how much it counts in a mean.
    pub(crate) weight: f64,
    pub(crate) facets: Vec<FacetId>,
    pub(crate) mark: Mark,
}

impl Candidate {
    /// The same without its sign.
    fn unsigned(self) -> Self {
        if self.value >= 0.0 {
            return self;
        }
        let terms = self.terms.into_iter().map(|(source, term)| (source, -term)).collect();
        Self { value: -self.value, terms, ..self }
    }
}

/// The figure asked for; none where there are none. A mean rests on guessed corners as well; an extreme that does is
/// lacking.
pub(crate) fn pick(
    ground: &Ground,
    all: Vec<Candidate>,
    figure: Figure,
    dimension: Dimension,
) -> Option<Measured> {
    let all: Vec<Candidate> = match figure {
        Figure::Steepest | Figure::Flattest => all.into_iter().map(Candidate::unsigned).collect(),
        Figure::Least | Figure::Greatest | Figure::Mean => all,
    };
    match figure {
        Figure::Mean => mean(&all, dimension),
        Figure::Least | Figure::Flattest => extreme(ground, all, 1.0, dimension),
        Figure::Greatest | Figure::Steepest => extreme(ground, all, -1.0, dimension),
    }
}

fn mean(all: &[Candidate], dimension: Dimension) -> Option<Measured> {
    let weight: f64 = all.iter().map(|candidate| candidate.weight).sum();
    if weight <= 0.0 {
        return None;
    }
    let mut gather = crate::terms::Gather::default();
    let mut value = 0.0;
    for candidate in all {
        value += candidate.value * candidate.weight / weight;
        gather.terms(&candidate.terms, candidate.weight / weight);
    }
    let marks = all.iter().map(|candidate| candidate.mark.clone()).take(1).collect();
    Some(Measured::new(Quantity::new(dimension, value), gather.finish()).marked(marks))
}

/// The least of the figures times a sign.
fn extreme(ground: &Ground, mut all: Vec<Candidate>, sign: f64, dimension: Dimension) -> Option<Measured> {
    all.sort_by(|a, b| (sign * a.value).total_cmp(&(sign * b.value)));
    let first = all.first()?;
    let signed = |candidate: &Candidate| {
        let terms: Terms = candidate.terms.iter().map(|(source, term)| (*source, sign * term)).collect();
        (sign * candidate.value, terms)
    };
    let terms: Terms =
        of_least(all.iter().map(signed)).into_iter().map(|(source, term)| (source, sign * term)).collect();
    let mut measured =
        Measured::new(Quantity::new(dimension, first.value), terms).marked(vec![first.mark.clone()]);
    // Where one rests on a guess, it could be the least.
    measured.needs = ground.needs(all.iter().flat_map(|candidate| candidate.facets.iter().copied()));
    Some(measured)
}
