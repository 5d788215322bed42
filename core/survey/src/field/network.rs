//! Figures and starting positions to an adjusted network, and back to points with their errors.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, OnceLock};

use groundrule_units::{Dimension, Length, Quantity};

use super::figure::{Figure, Node, Relation};
use super::start::{Datum, Start};
use crate::adjust::{
    AdjustError, Adjusted, Network, Observation, ObservationId, Observed, Origin, Part, Settings, Spot,
};
use crate::curves::Xy;
use crate::error::HALF_WIDTH_95;
use crate::places::position;
use crate::{ErrorTerm, Point, Position, SourceId};

/// An adjusted network with the sources of error that its observations became.
#[derive(Debug)]
pub(crate) struct Survey {
    adjusted: Adjusted,
    /// The source of each observation, by its index; none for exact ones.
    sources: Vec<Option<SourceId>>,
    rows: Vec<OnceLock<Arc<[ErrorTerm]>>>,
}

impl Survey {
    /// The adjusted network, each observation that is not exact with the source it became.
    pub(crate) fn new(adjusted: Adjusted, sources: Vec<Option<SourceId>>, spots: usize) -> Self {
        Self { adjusted, sources, rows: (0..spots).map(|_| OnceLock::new()).collect() }
    }

    /// Where a point was located.
    pub(crate) fn position(&self, spot: Spot) -> Position {
        self.adjusted.position(spot)
    }

    /// The error terms of a point, worked out once.
    pub(crate) fn terms(&self, spot: Spot) -> &[ErrorTerm] {
        let Some(row) = self.rows.get(spot.0 as usize) else { return &[] };
        row.get_or_init(|| {
            let term = |term: crate::adjust::Term| {
                let source = self.sources.get(term.observation.index()).copied().flatten()?;
                Some(ErrorTerm { source, x: term.x, y: term.y })
            };
            let mut terms: Vec<ErrorTerm> = self.adjusted.terms(spot).into_iter().filter_map(term).collect();
            terms.sort_by_key(|term| term.source);
            terms.into()
        })
    }
}

/// What came of the figures.
pub(crate) struct Outcome {
    /// None when there was nothing to adjust, or nothing could be.
    pub(crate) adjusted: Option<Adjusted>,
    pub(crate) network: Network,
    /// The spot of each point that has one.
    pub(crate) spots: BTreeMap<Node, Spot>,
    /// The observation of each figure that took part.
    pub(crate) observations: BTreeMap<usize, ObservationId>,
    /// What had to be taken out, with why.
    pub(crate) out: Vec<Out>,
}

/// Something taken out of the adjustment so that the rest could be had.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Out {
    /// These points have a freedom.
    Loose(BTreeSet<Node>),
    /// These exact figures cannot all hold; the last was taken out.
    Contradiction(Vec<usize>),
    /// The values did not settle; this figure was the farthest off.
    Unsettled(Option<usize>, u32),
    /// This figure is no number that can be used.
    Unusable(usize),
    /// These points hang together by readings that contradict each other too often to be told one by one.
    GivenUp(BTreeSet<Node>),
}

/// How often something may be taken out of a part that hangs together before all of it is given up; each round takes
/// out at least one figure or point.
const ROUNDS: usize = 12;

/// Adjusts the figures. Points that turn out loose lose their start; figures that cannot hold no longer count.
pub(crate) fn adjust(figures: &mut [Figure], start: &mut Start, anchors: &[Option<Point>]) -> Outcome {
    let mut out = Vec::new();
    for round in 0..=ROUNDS {
        let built = Built::of(figures, start, anchors);
        if built.network.observations() == 0 {
            break;
        }
        match built.network.adjust(&Settings::default()) {
            Ok(adjusted) => {
                let Built { network, spots, observations, .. } = built;
                return Outcome { adjusted: Some(adjusted), network, spots, observations, out };
            }
            Err(errors) => {
                let before = out.len();
                for error in errors {
                    if round + 1 < ROUNDS {
                        out.extend(built.take_out(&error, figures, start));
                    } else {
                        out.push(built.give_up(&error, figures, start, anchors));
                    }
                }
                if out.len() == before {
                    break;
                }
            }
        }
    }
    Outcome {
        adjusted: None,
        network: Network::new(),
        spots: BTreeMap::new(),
        observations: BTreeMap::new(),
        out,
    }
}

/// Where the figures bring every point that has a start; none where they do not fix them all or do not hold together.
pub(crate) fn solve(figures: &[Figure], start: &Start, anchors: &[Option<Point>]) -> Option<Vec<Option<Xy>>> {
    let built = Built::of(figures, start, anchors);
    let adjusted = built.network.adjust(&Settings::default()).ok()?;
    let mut at = start.at.clone();
    for (node, spot) in &built.spots {
        let to = adjusted.position(*spot);
        at[*node] = Some((to.x.metres(), to.y.metres()));
    }
    Some(at)
}

/// A network and what its parts stand for.
struct Built {
    /// The points that hold their groups.
    origins: BTreeSet<Node>,
    network: Network,
    spots: BTreeMap<Node, Spot>,
    observations: BTreeMap<usize, ObservationId>,
}

impl Built {
    fn of(figures: &[Figure], start: &Start, anchors: &[Option<Point>]) -> Self {
        let mut built = Self {
            origins: start.datums.iter().map(|datum| datum.origin).collect(),
            network: Network::new(),
            spots: BTreeMap::new(),
            observations: BTreeMap::new(),
        };
        let usable = |figure: &Figure| {
            figure.counts
                && figure.relation.nodes().iter().all(|node| start.at.get(*node).is_some_and(Option::is_some))
        };
        let mut origins: BTreeMap<usize, Origin> = BTreeMap::new();
        for (i, figure) in figures.iter().enumerate().filter(|(_, figure)| usable(figure)) {
            for node in figure.relation.nodes() {
                built.spot(node, start, anchors);
            }
            let Some((what, value)) = built.observed(figure, start, &mut origins) else { continue };
            let dimension = what.dimension();
            let observation = Observation {
                what,
                value: Quantity::new(dimension, value),
                sigma: Quantity::new(dimension, figure.half_width / HALF_WIDTH_95),
            };
            let id = built.network.observe(observation);
            built.observations.insert(i, id);
        }
        for Datum { toward, .. } in &start.datums {
            if let Some(spot) = toward.and_then(|node| built.spots.get(&node)) {
                let zero = Quantity::new(Dimension::Length, 0.0);
                built.network.observe(Observation { what: Observed::Up(*spot), value: zero, sigma: zero });
            }
        }
        built
    }

    fn spot(&mut self, node: Node, start: &Start, anchors: &[Option<Point>]) {
        if self.spots.contains_key(&node) {
            return;
        }
        let Some(at) = start.at.get(node).copied().flatten() else { return };
        let spot = match anchors.get(node).and_then(Option::as_ref) {
            Some(anchor) => self.network.placed(anchor),
            None if self.origins.contains(&node) => self.network.fixed(position(at)),
            None => self.network.point(position(at)),
        };
        self.spots.insert(node, spot);
    }

    /// The point a part of the network stands for.
    fn node(&self, part: Part) -> Option<Node> {
        match part {
            Part::Spot(spot) => self.spots.iter().find(|(_, held)| **held == spot).map(|(node, _)| *node),
            _ => None,
        }
    }

    /// What a figure observes, and the value with its sense.
    fn observed(
        &mut self,
        figure: &Figure,
        start: &Start,
        origins: &mut BTreeMap<usize, Origin>,
    ) -> Option<(Observed, f64)> {
        let spots = &self.spots;
        let spot = |node: Node| spots.get(&node).copied();
        let line = |(from, to): (Node, Node)| Some((spot(from)?, spot(to)?));
        let value = figure.value;
        Some(match figure.relation {
            Relation::Distance(a, b) => (Observed::Distance(spot(a)?, spot(b)?), value),
            Relation::Azimuth(a, b) => (Observed::Azimuth(spot(a)?, spot(b)?), value),
            Relation::Angle(at, from, to) => {
                (Observed::Angle { at: spot(at)?, from: spot(from)?, to: spot(to)? }, value)
            }
            Relation::Between(at, from, to) => {
                let place = |node: Node| start.at.get(node).copied().flatten();
                let (corner, a, b) = (place(at)?, place(from)?, place(to)?);
                let turned = (a.0 - corner.0) * (b.1 - corner.1) - (a.1 - corner.1) * (b.0 - corner.0);
                // Clockwise is positive for an angle; the cross product is positive anticlockwise.
                let value = if turned > 0.0 { -value } else { value };
                (Observed::Angle { at: spot(at)?, from: spot(from)?, to: spot(to)? }, value)
            }
            Relation::Piece(along, a, b) => {
                (Observed::Piece { line: line(along)?, a: spot(a)?, b: spot(b)? }, value)
            }
            Relation::Mark(along, point, zero) => {
                let line = line(along)?;
                let point = spot(point)?;
                let network = &mut self.network;
                let origin = *origins.entry(zero).or_insert_with(|| network.origin(Length::ZERO));
                (Observed::Station { line, zero: line.0, point, origin: Some(origin) }, value)
            }
            Relation::Offset(along, point) => {
                (Observed::Offset { line: line(along)?, point: spot(point)? }, value)
            }
            Relation::Parallel(a, b) => (Observed::Parallel(line(a)?, line(b)?), value),
            Relation::Equal(a, b) => (Observed::Equal(line(a)?, line(b)?), value),
        })
    }

    /// Takes out every point that hangs together with what stands in the way, as far as points that have a place.
    fn give_up(
        &self,
        error: &AdjustError,
        figures: &[Figure],
        start: &mut Start,
        anchors: &[Option<Point>],
    ) -> Out {
        let nodes_of = |id: &ObservationId| {
            let figure = self.observations.iter().find(|(_, held)| *held == id);
            figure.map(|(i, _)| figures[*i].relation.nodes()).unwrap_or_default()
        };
        let seeds: BTreeSet<Node> = match error {
            AdjustError::NotDetermined { freedoms } => freedoms
                .iter()
                .flat_map(|freedom| &freedom.parts)
                .filter_map(|part| self.node(*part))
                .collect(),
            AdjustError::Contradictory { observations } => observations.iter().flat_map(nodes_of).collect(),
            AdjustError::NoConvergence { worst, .. } => worst.iter().flat_map(nodes_of).collect(),
            AdjustError::NotFinite { observation } => nodes_of(observation),
            AdjustError::StartNotFinite { part } => self.node(*part).into_iter().collect(),
        };
        let open = |node: &Node| anchors.get(*node).is_none_or(Option::is_none);
        let mut of: BTreeMap<Node, Vec<usize>> = BTreeMap::new();
        for i in self.observations.keys() {
            for node in figures[*i].relation.nodes() {
                of.entry(node).or_default().push(*i);
            }
        }
        let mut part: BTreeSet<Node> = seeds.into_iter().filter(open).collect();
        let mut next: Vec<Node> = part.iter().copied().collect();
        while let Some(node) = next.pop() {
            let near = of.get(&node).into_iter().flatten().flat_map(|i| figures[*i].relation.nodes());
            next.extend(near.filter(|other| open(other) && part.insert(*other)).collect::<Vec<_>>());
        }
        for node in &part {
            start.at[*node] = None;
        }
        Out::GivenUp(part)
    }

    /// Takes out what stands in the way, and says what it was.
    fn take_out(&self, error: &AdjustError, figures: &mut [Figure], start: &mut Start) -> Vec<Out> {
        let figure =
            |id: ObservationId| self.observations.iter().find(|(_, held)| **held == id).map(|(i, _)| *i);
        match error {
            AdjustError::NotDetermined { freedoms } => freedoms
                .iter()
                .map(|freedom| {
                    let loose: BTreeSet<Node> =
                        freedom.parts.iter().filter_map(|part| self.node(*part)).collect();
                    for node in &loose {
                        start.at[*node] = None;
                    }
                    Out::Loose(loose)
                })
                .collect(),
            AdjustError::Contradictory { observations } => {
                let which: Vec<usize> = observations.iter().filter_map(|id| figure(*id)).collect();
                if let Some(last) = which.last() {
                    figures[*last].counts = false;
                }
                vec![Out::Contradiction(which)]
            }
            AdjustError::NoConvergence { iterations, worst } => {
                let worst = worst.and_then(figure);
                if let Some(worst) = worst {
                    figures[worst].counts = false;
                }
                vec![Out::Unsettled(worst, *iterations)]
            }
            AdjustError::NotFinite { observation } => figure(*observation)
                .into_iter()
                .map(|i| {
                    figures[i].counts = false;
                    Out::Unusable(i)
                })
                .collect(),
            AdjustError::StartNotFinite { part } => {
                let Part::Spot(spot) = part else { return Vec::new() };
                let loose: BTreeSet<Node> =
                    self.spots.iter().filter(|(_, held)| *held == spot).map(|(node, _)| *node).collect();
                for node in &loose {
                    start.at[*node] = None;
                }
                vec![Out::Loose(loose)]
            }
        }
    }
}
