//! From measurements as written to figures.

mod chain;
mod fact;
mod traverse;

use groundrule_plan::{
    Distance, Measurement, Name, Offsets, Plan, PointRef, Reading as Written, Tie, Turn, WallRef,
};
use groundrule_units::Length;

use super::accuracy::Class;
use super::figure::{Figure, Line, Node, Nodes, Of, Relation};
use super::names::Rings;
use crate::layout::Reading;

/// Collects the figures of measurements, one measurement after another.
pub(crate) struct Collector<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) rings: &'a Rings<'a>,
    pub(crate) nodes: Nodes,
    pub(crate) figures: Vec<Figure>,
    /// Figures that no plot has; they are left out.
    pub(crate) wild: Vec<Figure>,
    /// The measurement at hand.
    at: usize,
}

/// No length on a plot is longer than 1,000 km; with longer ones the arithmetic would lose all others.
const LONGEST: f64 = 1e6;

impl<'a> Collector<'a> {
    pub(crate) fn new(plan: &'a Plan, rings: &'a Rings<'a>) -> Self {
        Self { plan, rings, nodes: Nodes::default(), figures: Vec::new(), wild: Vec::new(), at: 0 }
    }

    /// Adds every figure of one measurement. `kept_out` readings only help to find starting places.
    pub(crate) fn measurement(&mut self, at: usize, measurement: &Measurement, kept_out: &[Reading]) {
        self.at = at;
        let before = self.figures.len();
        let class = Class::of(self.plan, measurement);
        match &measurement.reading {
            Written::Chain(chain) => self.chain(chain, class),
            Written::Offsets(offsets) => self.offsets(offsets, class),
            Written::Tie(tie) => self.tie(tie, class),
            Written::Traverse(traverse) => self.traverse(traverse, class),
            Written::Distance(distance) => self.distance(distance, class),
            Written::Angle(angle) => {
                let (at, from, to) = (self.node(&angle.at), self.node(&angle.from), self.node(&angle.to));
                let half_width = class.of_angle(None);
                let (relation, value) = match angle.turn.value {
                    // Said anticlockwise positive, kept clockwise.
                    Turn::Said(turn) => (Relation::Angle(at, from, to), -turn.radians()),
                    Turn::Between(turn) => (Relation::Between(at, from, to), turn.radians()),
                };
                self.push(Reading::Figure(0), relation, value, half_width, Some((from, to)));
            }
            Written::Fact(fact) => self.fact(fact, class),
            Written::Height(_) | Written::Fall(_) | Written::LevelRun(_) => {}
        }
        for figure in &mut self.figures[before..] {
            figure.counts &= !kept_out.contains(&figure.reading);
        }
    }

    fn offsets(&mut self, offsets: &Offsets, class: Class<'_>) {
        let line = self.line(&offsets.along);
        for (offset, i) in offsets.points.iter().zip(0_u32..) {
            let point = self.node(&offset.point);
            let (station, off) = (offset.station.value.value, offset.offset.value.value);
            let ends = Some((line.0, point));
            let along = Relation::Piece(line, line.0, point);
            self.push(Reading::Figure(2 * i), along, station.metres(), class.of_length(station), ends);
            let off_line = Relation::Offset(line, point);
            self.push(Reading::Figure(2 * i + 1), off_line, off.metres(), class.of_length(off), ends);
        }
    }

    fn tie(&mut self, tie: &Tie, class: Class<'_>) {
        let point = self.node(&tie.point);
        for ((from, length), i) in tie.from.iter().zip(0..) {
            let from = self.node(from);
            let relation = Relation::Distance(from, point);
            let length = length.value.value;
            self.push(
                Reading::Figure(i),
                relation,
                length.metres(),
                class.of_length(length),
                Some((from, point)),
            );
        }
    }

    fn distance(&mut self, distance: &Distance, class: Class<'_>) {
        let (from, to) = (self.node(&distance.from), self.node(&distance.to));
        // What was measured goes before what the record says; the record is compared, not averaged in.
        let Some(length) = distance.length.measured.as_ref().or(distance.length.record.as_ref()) else {
            return;
        };
        let length = length.value.value;
        let relation = Relation::Distance(from, to);
        self.push(Reading::Figure(0), relation, length.metres(), class.of_length(length), Some((from, to)));
    }

    fn node(&mut self, point: &PointRef) -> Node {
        let name = self.rings.name(point);
        self.nodes.of(name)
    }

    fn line(&mut self, wall: &WallRef) -> Line {
        (self.node(&wall.from), self.node(&wall.to))
    }

    fn push(
        &mut self,
        reading: Reading,
        relation: Relation,
        value: f64,
        half_width: f64,
        ends: Option<(Node, Node)>,
    ) {
        let name = |node: Node| Name(self.nodes.name(node).to_owned());
        let ends = ends.map(|(from, to)| (name(from), name(to)));
        let of = Of::Measurement(self.at);
        let figure = Figure { of, reading, relation, value, half_width, ends, counts: true };
        let sound = value.is_finite() && (figure.relation.is_angle() || value.abs() <= LONGEST);
        if sound { self.figures.push(figure) } else { self.wild.push(figure) }
    }

    /// A figure that shows where to start and counts as no measurement.
    fn hint(&mut self, relation: Relation, value: Length) {
        if value.metres().abs() > LONGEST {
            return;
        }
        self.push(Reading::Overall, relation, value.metres(), 0.0, None);
        if let Some(figure) = self.figures.last_mut() {
            figure.counts = false;
        }
    }
}
