//! From measurements to points: figures, starting positions, one adjustment, and what is wrong with them.

pub(crate) mod accuracy;
mod figure;
mod figures;
mod findings;
mod levels;
pub(crate) mod names;
mod network;
mod start;
mod summary;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use groundrule_plan::{
    KindTree, Measurement, Name, Place, Plan, Reading as Written, SheetSide, Tie, TieSide,
};
use groundrule_units::{Angle, Quantity};

use self::figure::{Figure, Node, Of};
use self::figures::Collector;
use self::findings::Told;
pub(crate) use self::findings::length;
use self::names::Rings;
use self::network::Outcome;
pub(crate) use self::network::Survey;
use self::start::choose::{Hand, Hints, Side};
use self::start::loci::toward;
use crate::adjust::{Adjusted, Network, ObservationId};
use crate::curves::Xy;
use crate::layout::{Dispute, Owner, Point, SourceOwner};
use crate::places::{Placed, xy};
use crate::{ErrorTerms, SourceId, Surveyed};

/// Kinds with walls and a roof: what is tied to their corners stands outside them.
const BUILDINGS: [&str; 3] = ["dwelling", "garage-attached", "accessory-structure"];

/// The measurements of a plan and the names they work out.
pub(crate) struct Field<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) rings: Rings<'a>,
    /// The names that measurements work out.
    pub(crate) measured: BTreeSet<String>,
    /// The names that something is placed by.
    wanted: BTreeSet<String>,
}

impl<'a> Field<'a> {
    pub(crate) fn of(plan: &'a Plan) -> Self {
        let rings = Rings::of(plan);
        let measured = names::measured(plan, &rings);
        let wanted = crate::order::placing_names(plan).map(|point| rings.name(point)).collect();
        Self { plan, rings, measured, wanted }
    }

    /// Works out the points of some measurements from what is placed already, and says what is wrong with them.
    pub(crate) fn settle(&self, batch: &[usize], placed: &mut Placed<'_>) -> Vec<Told> {
        let mut told = Vec::new();
        let measurements = || batch.iter().filter_map(|i| Some((*i, self.plan.measurements.get(*i)?)));
        let mut collector = Collector::new(self.plan, &self.rings);
        for (i, measurement) in measurements() {
            let look = findings::closing::look(self.plan, measurement);
            if let Some(by) = look.disputed {
                placed.disputed.insert(index(i), by);
            }
            collector.measurement(i, measurement, &look.kept_out);
            told.extend(look.told);
        }
        let north = findings::closing::without_north(self.plan);
        told.extend(north.filter(|(first, _)| batch.contains(first)).map(|(_, told)| told));
        let hints = self.hints(&mut collector, measurements());
        let Collector { nodes, mut figures, wild, .. } = collector;
        told.extend(wild.iter().filter_map(|figure| findings::adjusted::wild(self.plan, figure)));
        let rings = start::rings(&self.rings, &nodes);
        for long in findings::sides::look(self.plan, &nodes, &rings, &figures) {
            if let Some(figure) = figures.get_mut(long.figure) {
                figure.counts = false;
            }
            placed.disputed.insert(index(long.measurement), Dispute::Off(long.excess.into()));
            told.push(long.told);
        }
        let framed = !placed.named.is_empty();
        let anchors: Vec<Option<Point>> =
            (0..nodes.len()).map(|node| placed.named.get(nodes.name(node)).cloned()).collect();
        let flat: Vec<Option<Xy>> = anchors.iter().map(|anchor| anchor.as_ref().map(xy)).collect();
        let solve = |figures: &[Figure], start: &start::Start| network::solve(figures, start, &anchors);
        let mut start = start::start(&nodes, &mut figures, &flat, rings, &hints, &solve);
        let mut outcome = network::adjust(&mut figures, &mut start, &anchors);
        // A right angle taken for granted gives way where the readings say otherwise.
        if findings::adjusted::give_way(&mut figures, &outcome) {
            outcome = network::adjust(&mut figures, &mut start, &anchors);
        }
        if let Some(adjusted) = &outcome.adjusted {
            let disputed = findings::adjusted::look(self.plan, &figures, &outcome, adjusted, &mut told);
            placed.disputed.extend(disputed.map(|(i, by)| (index(i), Dispute::Off(by))));
        }
        let case = findings::lacking::Case {
            plan: self.plan,
            nodes: &nodes,
            figures: &figures,
            start: &start,
            outcome: &outcome,
            framed,
            wanted: &self.wanted,
            of: figure::of_nodes(&figures, nodes.len()),
        };
        findings::lacking::look(&case, &mut told);
        // Those that gave way are no assumptions.
        let held: BTreeMap<usize, usize> = figures
            .iter()
            .filter(|figure| figure.counts)
            .filter_map(|figure| match figure.of {
                Of::Assumption(i) => Some(i),
                Of::Measurement(_) => None,
            })
            .zip(placed.assumptions.len()..)
            .collect();
        let corners = held.keys().filter_map(|i| start.assumed.get(*i));
        placed.assumptions.extend(corners.map(|node| format!("a right angle at {}", nodes.name(*node))));
        self.install(&nodes, &figures, outcome, &held, placed);
        told
    }

    /// What is said of points beyond figures: rough positions, sides, what they are tied to.
    fn hints<'m>(
        &self,
        collector: &mut Collector<'_>,
        measurements: impl Iterator<Item = (usize, &'m Measurement)>,
    ) -> Hints {
        let mut hints = Hints::default();
        for point in &self.plan.points {
            if let Place::Near { x, y, .. } = &point.place
                && let Some(node) = collector.nodes.find(&point.name.value.0)
            {
                hints.near.insert(node, (x.value.metres(), y.value.metres()));
            }
        }
        let mut buildings: Option<BTreeSet<&str>> = None;
        for (_, measurement) in measurements {
            let Written::Tie(tie) = &measurement.reading else { continue };
            let node = collector.nodes.of(self.rings.name(&tie.point));
            if let Some(side) = self.side(tie, collector) {
                hints.sides.push((node, side));
            }
            for owner in tie.from.iter().filter_map(|(from, _)| from.owner.as_ref()) {
                if buildings.get_or_insert_with(|| self.buildings()).contains(owner.0.as_str()) {
                    hints.tied_to.entry(node).or_default().push(owner.0.clone());
                    // Its other corners may be named by no measurement.
                    for corner in self.rings.ring(&owner.0).unwrap_or_default() {
                        collector.nodes.of(corner);
                    }
                }
            }
        }
        hints
    }

    /// What nothing stands inside of.
    fn buildings(&self) -> BTreeSet<&str> {
        let kinds = KindTree::standard();
        let is_building = |kind: &str| BUILDINGS.iter().any(|building| kinds.is_a(kind, building));
        let features = self.plan.features.iter().filter(|feature| is_building(&feature.kind.value));
        features.map(|feature| feature.id.value.0.as_str()).collect()
    }

    fn side(&self, tie: &Tie, collector: &mut Collector<'_>) -> Option<Side> {
        let mut line = |wall: &groundrule_plan::WallRef| {
            (collector.nodes.of(self.rings.name(&wall.from)), collector.nodes.of(self.rings.name(&wall.to)))
        };
        Some(match &tie.side.as_ref()?.value {
            TieSide::Sheet(SheetSide::Up) => Side::Toward((0.0, 1.0)),
            TieSide::Sheet(SheetSide::Down) => Side::Toward((0.0, -1.0)),
            TieSide::Sheet(SheetSide::Left) => Side::Toward((-1.0, 0.0)),
            TieSide::Sheet(SheetSide::Right) => Side::Toward((1.0, 0.0)),
            TieSide::Ground(bearing) => {
                Side::Toward(toward((bearing.azimuth() + north(self.plan)).radians()))
            }
            TieSide::LeftOf(wall) => Side::Of(line(wall), Hand::Left),
            TieSide::RightOf(wall) => Side::Of(line(wall), Hand::Right),
            TieSide::Near { x, y } => Side::Near((x.value.metres(), y.value.metres())),
        })
    }

    /// Gives the points their places, each with the sources its errors come from.
    fn install(
        &self,
        nodes: &figure::Nodes,
        figures: &[Figure],
        outcome: Outcome,
        assumptions: &BTreeMap<usize, usize>,
        placed: &mut Placed<'_>,
    ) {
        let Outcome { adjusted: Some(adjusted), network, spots, observations, .. } = outcome else { return };
        let mut sources: Vec<Option<SourceId>> = vec![None; network.observations()];
        for (i, id) in &observations {
            let figure = &figures[*i];
            if figure.half_width > 0.0 {
                sources[id.index()] = Some(placed.sources.one(|first| owner(figure, assumptions, first)));
            }
        }
        for (slot, i) in sources.iter_mut().zip(0..) {
            *slot = network.source_of(ObservationId(i)).or(*slot);
        }
        let read = |(i, id): (&usize, &ObservationId)| {
            let source = sources.get(id.index()).copied().flatten()?;
            Some((placed.sources.owner(source)?, *id, figures[*i].quantity()))
        };
        let adjustment = summary::of(&adjusted, observations.iter().filter_map(read));
        placed.adjustments.push(adjustment);
        Self::move_anchors(&adjusted, &network, &sources, placed);
        let survey = Arc::new(Survey::new(
            adjusted,
            sources,
            spots.values().map(|spot| spot.0 as usize + 1).max().unwrap_or(0),
        ));
        for (node, spot) in &spots {
            let name = nodes.name(*node);
            if self.measured.contains(name) && !placed.named.contains_key(name) {
                let error = ErrorTerms::Surveyed(Surveyed { survey: Arc::clone(&survey), spot: *spot });
                placed.named.insert(name.to_owned(), Point { at: survey.position(*spot), error });
            }
        }
    }

    /// What was placed before moves with what the adjustment found out about its sources of error.
    fn move_anchors(
        adjusted: &Adjusted,
        network: &Network,
        sources: &[Option<SourceId>],
        placed: &mut Placed<'_>,
    ) {
        let mut moved = BTreeMap::new();
        for id in (0..index(network.observations())).map(ObservationId) {
            let Some(source) = network.source_of(id) else { continue };
            let Some(shift) = adjusted.source(source) else { continue };
            let own = |(term, factor): &(ObservationId, f64)| *term == id && (factor - 1.0).abs() < 1e-12;
            if shift.shift.abs() < 1e-12 && shift.terms.len() == 1 && shift.terms.iter().all(own) {
                continue;
            }
            let terms = shift
                .terms
                .iter()
                .filter_map(|(term, factor)| Some((sources.get(term.index()).copied().flatten()?, *factor)));
            moved.insert(source, (shift.shift, terms.collect::<Vec<_>>()));
        }
        if !moved.is_empty() {
            placed.move_sources(&moved);
        }
    }
}

/// Whose figure a source is; `assumptions` are the indices among the layout's.
fn owner(figure: &Figure, assumptions: &BTreeMap<usize, usize>, first: SourceId) -> SourceOwner {
    let owner = match figure.of {
        Of::Measurement(i) => Owner::Measurement(index(i)),
        Of::Assumption(i) => Owner::Assumption(index(assumptions.get(&i).copied().unwrap_or(i))),
    };
    SourceOwner {
        first,
        owner,
        reading: figure.reading,
        plus_minus: Quantity::new(figure.dimension(), figure.half_width),
        ends: figure.ends.clone().map(Box::new),
    }
}

/// True north, clockwise of the top of the sheet; the top itself where the plan does not say.
fn north(plan: &Plan) -> Angle {
    plan.site.north.as_ref().map_or(Angle::ZERO, |north| north.clockwise_of_up)
}

fn index(i: usize) -> u32 {
    u32::try_from(i).unwrap_or(u32::MAX)
}

/// Names of nodes as the plan has them.
fn names(nodes: &figure::Nodes, of: impl IntoIterator<Item = Node>) -> Vec<Name> {
    of.into_iter().map(|node| Name(nodes.name(node).to_owned())).collect()
}
