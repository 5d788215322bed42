//! The network of heights, and the points' heights out of it.

use std::collections::{BTreeMap, BTreeSet};

use groundrule_units::{Dimension, Length, Quantity};

use super::Figure;
use crate::adjust::{AdjustError, Adjusted, Bench, Network, Observation, ObservationId, Observed, Part};
use crate::error::HALF_WIDTH_95;
use crate::field::{index, summary};
use crate::layout::{Owner, PointHeight, SourceOwner};
use crate::places::Placed;

/// The heights as adjusted.
pub(super) struct Heights {
    pub(super) adjusted: Adjusted,
    pub(super) figures: Vec<Figure>,
    /// The observation of each figure that took part.
    pub(super) ids: Vec<Option<ObservationId>>,
    pub(super) benches: BTreeMap<String, Bench>,
    /// Those that nothing joins to the others, by their number.
    pub(super) parked: BTreeSet<u32>,
}

impl Heights {
    /// Every figure that took part, with its observation.
    pub(super) fn read(&self) -> impl Iterator<Item = (&Figure, ObservationId)> {
        self.figures.iter().zip(&self.ids).filter_map(|(figure, id)| Some((figure, (*id)?)))
    }

    /// Gives the points their heights, each with the sources its error comes from.
    pub(super) fn install(&self, observations: usize, placed: &mut Placed<'_>) {
        let mut sources = vec![None; observations];
        for (figure, id) in self.read().filter(|(figure, _)| figure.half_width > 0.0) {
            if let Some(slot) = sources.get_mut(id.index()) {
                *slot = Some(placed.sources.one(|first| owner(figure, first)));
            }
        }
        let source = |id: ObservationId| sources.get(id.index()).copied().flatten();
        let read = self.read().filter_map(|(figure, id)| {
            let value = Quantity::new(Dimension::Length, figure.value);
            Some((placed.sources.owner(source(id)?)?, id, value))
        });
        let adjustment = summary::of(&self.adjusted, read);
        placed.adjustments.push(adjustment);
        for (name, bench) in &self.benches {
            if name.is_empty() || self.parked.contains(&bench.0) {
                continue;
            }
            let terms = self.adjusted.height_terms(*bench).into_iter();
            let mut error: Vec<_> = terms.filter_map(|(id, by)| Some((source(id)?, by))).collect();
            error.sort_by_key(|(source, _)| *source);
            placed.heights.insert(name.clone(), PointHeight { height: self.adjusted.height(*bench), error });
        }
    }
}

/// The network of the figures that count. A height that hangs on nothing is parked at zero.
pub(super) fn network(
    heights: u32,
    parked: &BTreeSet<u32>,
    datum: Option<Bench>,
    figures: &[Figure],
) -> (Network, Vec<Option<ObservationId>>) {
    let mut network = Network::new();
    for _ in 0..heights {
        network.height(Length::ZERO);
    }
    let zero = Quantity::new(Dimension::Length, 0.0);
    for bench in
        parked.iter().map(|bench| Bench(*bench)).chain(datum.filter(|datum| !parked.contains(&datum.0)))
    {
        network.observe(Observation { what: Observed::Height(bench), value: zero, sigma: zero });
    }
    let stands = |bench: Bench| !parked.contains(&bench.0);
    let takes_part = |figure: &Figure| match figure.what {
        Observed::Height(bench) => stands(bench),
        Observed::Rise(a, b) => stands(a) && stands(b),
        _ => true,
    };
    let ids = figures
        .iter()
        .map(|figure| (figure.counts && takes_part(figure)).then(|| network.observe(observation(figure))))
        .collect();
    (network, ids)
}

/// Takes out what stands in the way of the rest.
pub(super) fn take_out(
    error: &AdjustError,
    figures: &mut [Figure],
    ids: &[Option<ObservationId>],
    parked: &mut BTreeSet<u32>,
) {
    let mut out = |id: &ObservationId| {
        let at = ids.iter().position(|held| held.as_ref() == Some(id));
        if let Some(figure) = at.and_then(|i| figures.get_mut(i)) {
            figure.counts = false;
        }
    };
    match error {
        AdjustError::NotDetermined { freedoms } => {
            let parts = freedoms.iter().flat_map(|freedom| &freedom.parts);
            parked.extend(parts.filter_map(|part| match part {
                Part::Bench(bench) => Some(bench.0),
                _ => None,
            }));
        }
        AdjustError::Contradictory { observations } => {
            if let Some(last) = observations.last() {
                out(last);
            }
        }
        AdjustError::NoConvergence { worst: Some(id), .. } | AdjustError::NotFinite { observation: id } => {
            out(id);
        }
        AdjustError::NoConvergence { worst: None, .. } | AdjustError::StartNotFinite { .. } => {}
    }
}

fn observation(figure: &Figure) -> Observation {
    Observation {
        what: figure.what,
        value: Quantity::new(Dimension::Length, figure.value),
        sigma: Quantity::new(Dimension::Length, figure.half_width / HALF_WIDTH_95),
    }
}

fn owner(figure: &Figure, first: crate::SourceId) -> SourceOwner {
    let name = |name: &String| groundrule_plan::Name(name.clone());
    SourceOwner {
        first,
        owner: Owner::Measurement(index(figure.measurement)),
        reading: figure.reading,
        plus_minus: Quantity::new(Dimension::Length, figure.half_width),
        ends: figure.ends.as_ref().map(|(from, to)| Box::new((name(from), name(to)))),
    }
}
