//! A network as it is put together.

use std::collections::BTreeMap;

use groundrule_units::{Angle, Dimension, Length, Quantity};
use smallvec::SmallVec;

use super::{Bench, Observation, ObservationId, Observed, Orientation, Origin, Part, Spot};
use crate::{Point, PointHeight, Position, SourceId};

/// Points, heights and what was observed between them.
#[derive(Clone, Debug, Default)]
pub struct Network {
    pub(super) spots: Vec<[Linear; 2]>,
    pub(super) benches: Vec<Linear>,
    pub(super) origins: Vec<Linear>,
    pub(super) orientations: Vec<Linear>,
    /// Starting value and owner of each unknown number.
    pub(super) unknowns: Vec<(f64, Part)>,
    pub(super) sources: BTreeMap<SourceId, Source>,
    pub(super) observations: Vec<Observation>,
}

/// A number that moves with the unknowns: a base and how much of each unknown.
#[derive(Clone, Debug, Default)]
pub(super) struct Linear {
    pub(super) base: f64,
    pub(super) terms: SmallVec<[(u32, f64); 2]>,
}

/// The unknown of an error source, and its automatic observation.
#[derive(Clone, Copy, Debug)]
pub(super) struct Source {
    pub(super) unknown: u32,
    pub(super) prior: ObservationId,
}

/// How to adjust.
#[derive(Clone, Debug)]
pub struct Settings {
    /// How many rounds to make at most.
    pub iterations: u32,
    /// For a net with no datum: points over which the shifts from the starting values are kept smallest, so that
    /// they carry the datum together (minimum trace). Empty when the network has its own datum.
    pub free: Vec<Spot>,
    /// The same for heights.
    pub free_heights: Vec<Bench>,
}

impl Default for Settings {
    fn default() -> Self {
        Self { iterations: 50, free: Vec::new(), free_heights: Vec::new() }
    }
}

impl Linear {
    fn known(base: f64) -> Self {
        Self { base, terms: SmallVec::new() }
    }
}

fn index(length: usize) -> u32 {
    u32::try_from(length).unwrap_or(u32::MAX)
}

impl Network {
    /// Nothing yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// An unknown point, sought from `start`.
    pub fn point(&mut self, start: Position) -> Spot {
        let spot = Spot(index(self.spots.len()));
        let x = self.unknown(start.x.metres(), Part::Spot(spot));
        let y = self.unknown(start.y.metres(), Part::Spot(spot));
        self.spots.push([x, y]);
        spot
    }

    /// A point known exactly.
    pub fn fixed(&mut self, at: Position) -> Spot {
        let spot = Spot(index(self.spots.len()));
        self.spots.push([Linear::known(at.x.metres()), Linear::known(at.y.metres())]);
        spot
    }

    /// A point placed elsewhere: it moves with its sources of error, and so with every other placed point that
    /// shares one. Each source gets an observation of 0 with standard uncertainty 1 when it is first met.
    pub fn placed(&mut self, point: &Point) -> Spot {
        let spot = Spot(index(self.spots.len()));
        let (mut x, mut y) = (Linear::known(point.at.x.metres()), Linear::known(point.at.y.metres()));
        for term in point.error.terms() {
            let unknown = self.source_unknown(term.source);
            if term.x != Length::ZERO {
                x.terms.push((unknown, term.x.metres()));
            }
            if term.y != Length::ZERO {
                y.terms.push((unknown, term.y.metres()));
            }
        }
        self.spots.push([x, y]);
        spot
    }

    /// An unknown height, sought from `start`.
    pub fn height(&mut self, start: Length) -> Bench {
        let bench = Bench(index(self.benches.len()));
        let height = self.unknown(start.metres(), Part::Bench(bench));
        self.benches.push(height);
        bench
    }

    /// A height known exactly.
    pub fn fixed_height(&mut self, height: Length) -> Bench {
        let bench = Bench(index(self.benches.len()));
        self.benches.push(Linear::known(height.metres()));
        bench
    }

    /// A height found elsewhere, with its sources of error as in [`Network::placed`].
    pub fn placed_height(&mut self, height: &PointHeight) -> Bench {
        let bench = Bench(index(self.benches.len()));
        let mut linear = Linear::known(height.height.metres());
        for (source, term) in &height.error {
            let unknown = self.source_unknown(*source);
            linear.terms.push((unknown, term.metres()));
        }
        self.benches.push(linear);
        bench
    }

    /// The unknown zero of readings along a line, sought from `start`.
    pub fn origin(&mut self, start: Length) -> Origin {
        let origin = Origin(index(self.origins.len()));
        let linear = self.unknown(start.metres(), Part::Origin(origin));
        self.origins.push(linear);
        origin
    }

    /// The unknown azimuth of the zero of a set of directions, sought from `start`.
    pub fn orientation(&mut self, start: Angle) -> Orientation {
        let orientation = Orientation(index(self.orientations.len()));
        let linear = self.unknown(start.radians(), Part::Orientation(orientation));
        self.orientations.push(linear);
        orientation
    }

    /// Adds an observation. One that is unfit is told by [`Network::adjust`].
    pub fn observe(&mut self, observation: Observation) -> ObservationId {
        let id = ObservationId(index(self.observations.len()));
        self.observations.push(observation);
        id
    }

    /// Where a point starts from; the origin for a point of another network.
    pub fn start(&self, spot: Spot) -> Position {
        let start = |unknown: u32| self.unknowns.get(unknown as usize).map_or(0.0, |(start, _)| *start);
        let at = |linear: &Linear| {
            let terms = linear.terms.iter().map(|(unknown, term)| term * start(*unknown));
            Length::from_metres(linear.base + terms.sum::<f64>())
        };
        self.spots.get(spot.0 as usize).map_or(Position::default(), |[x, y]| Position { x: at(x), y: at(y) })
    }

    /// An observation as it was added.
    pub fn observation(&self, id: ObservationId) -> Option<&Observation> {
        self.observations.get(id.index())
    }

    /// How many observations there are, those of the error sources included.
    pub fn observations(&self) -> usize {
        self.observations.len()
    }

    /// The source that an automatic observation belongs to: the observation's standard normal variable is the
    /// source itself. None for the other observations.
    pub fn source_of(&self, id: ObservationId) -> Option<SourceId> {
        match self.observation(id)?.what {
            Observed::Source(source) if self.sources.get(&source)?.prior == id => Some(source),
            _ => None,
        }
    }

    fn unknown(&mut self, start: f64, part: Part) -> Linear {
        let unknown = index(self.unknowns.len());
        self.unknowns.push((start, part));
        Linear { base: 0.0, terms: SmallVec::from_slice(&[(unknown, 1.0)]) }
    }

    fn source_unknown(&mut self, source: SourceId) -> u32 {
        if let Some(known) = self.sources.get(&source) {
            return known.unknown;
        }
        let unknown = index(self.unknowns.len());
        self.unknowns.push((0.0, Part::Source(source)));
        let prior = self.observe(Observation {
            what: Observed::Source(source),
            value: Quantity::new(Dimension::Ratio, 0.0),
            sigma: Quantity::new(Dimension::Ratio, 1.0),
        });
        self.sources.insert(source, Source { unknown, prior });
        unknown
    }
}
