//! What is drawn of the ground: contours, spot levels, hollows and the fall of each part.

use groundrule_survey::Position;
use groundrule_terrain::Place;
use groundrule_units::{Area, Length, Ratio, Volume};

use super::model::Ground;

/// A contour.
#[derive(Clone, Debug)]
pub struct ContourLine {
    /// Its level over the datum.
    pub level: Length,
    /// Its course; of a closed one, the first place is not repeated.
    pub path: Vec<Position>,
    /// True when it closes on itself.
    pub closed: bool,
}

/// A level taken at a place, to be written there.
#[derive(Clone, Debug)]
pub struct Spot {
    /// Where.
    pub at: Position,
    /// Over the datum.
    pub level: Length,
}

/// A part of the ground that falls one way.
#[derive(Clone, Debug)]
pub struct Fall {
    /// Its corners.
    pub ring: [Position; 3],
    /// Its size.
    pub area: Area,
    /// How steep it is.
    pub slope: Ratio,
    /// To the right and up the sheet, the way water runs, of length one; none where it is level.
    pub way: Option<(f64, f64)>,
}

/// Standing water as it would be drawn.
#[derive(Clone, Debug)]
pub struct Pond {
    /// The water's edges when it is full.
    pub rings: Vec<Vec<Position>>,
    /// Its deepest place.
    pub bottom: Position,
    /// Where it runs over.
    pub spill: Position,
    /// How deep.
    pub depth: Length,
    /// How large.
    pub area: Area,
    /// How much it holds.
    pub volume: Volume,
}

pub(crate) fn to_position(at: Place) -> Position {
    Position { x: at.x, y: at.y }
}

impl Ground {
    /// The contours at an interval, counted from the datum.
    pub fn contours(&self, interval: Length) -> Vec<ContourLine> {
        let line = |contour: groundrule_terrain::Contour| ContourLine {
            level: contour.level,
            path: contour.path.into_iter().map(to_position).collect(),
            closed: contour.closed,
        };
        self.tin.contours(interval, Length::ZERO).into_iter().map(line).collect()
    }

    /// The levels that were taken, guessed ones left out.
    pub fn spots(&self) -> Vec<Spot> {
        let taken =
            self.tin.vertices().iter().zip(&self.corners).filter(|(_, corner)| corner.guessed.is_none());
        taken.map(|(vertex, _)| Spot { at: to_position(vertex.at), level: vertex.level }).collect()
    }

    /// The lowest and the highest of its levels.
    pub fn range(&self) -> (Length, Length) {
        let levels = || self.tin.vertices().iter().map(|vertex| vertex.level);
        (levels().reduce(Length::min).unwrap_or_default(), levels().reduce(Length::max).unwrap_or_default())
    }

    /// Every facet with the way it falls.
    pub fn facets(&self) -> Vec<Fall> {
        let fall = |facet| {
            let slope = self.gradient(facet);
            let steep = crate::shape::segments::norm(slope);
            Fall {
                ring: self.places_of(facet).map(crate::shape::segments::position),
                area: self.tin.area(facet),
                slope: Ratio::from_fraction(steep),
                way: (steep > 0.0).then(|| (-slope.x / steep, -slope.y / steep)),
            }
        };
        self.tin.facet_ids().map(fall).collect()
    }

    /// The hollows that are part of no other, those that drain places empty left out.
    pub fn ponds(&self, drains: &[Position]) -> Vec<Pond> {
        let hollows = self.tin.hollows(&self.drained(drains));
        let at = |vertex: groundrule_terrain::VertexId| {
            self.tin
                .vertices()
                .get(vertex.0 as usize)
                .map_or_else(Position::default, |vertex| to_position(vertex.at))
        };
        let outer = hollows.into_iter().filter(|hollow| hollow.parent.is_none());
        outer
            .map(|hollow| Pond {
                rings: hollow
                    .outlines
                    .iter()
                    .map(|ring| ring.iter().copied().map(to_position).collect())
                    .collect(),
                bottom: at(hollow.bottom),
                spill: at(hollow.spill),
                depth: hollow.depth,
                area: hollow.area,
                volume: hollow.volume,
            })
            .collect()
    }

    /// The level along a path: pieces with ground, each as stations and levels.
    pub fn profile(&self, path: &[Position]) -> Vec<Vec<(Length, Length)>> {
        let path: Vec<Place> = path.iter().map(|at| Place { x: at.x, y: at.y }).collect();
        self.tin.profile(&path)
    }
}
