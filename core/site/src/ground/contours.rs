//! What is drawn of the ground: contours, spot levels, hollows and the fall of each part.

use groundrule_survey::{Position, Surface};
use groundrule_terrain::Place;
use groundrule_units::{Area, Length, LevelTerm, Ratio, Volume};

use super::model::{Corner, Ground, Taken};

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
    /// Of which ground: on the proposed surface a level that stays is of the existing one.
    pub of: Surface,
    /// What it was said to be the level of.
    pub term: Option<LevelTerm>,
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

/// How a part of the ground falls as a whole.
#[derive(Clone, Debug)]
pub struct MeanFall {
    /// How much of it is ground.
    pub area: Area,
    /// The length of the mean gradient.
    pub slope: Ratio,
    /// To the right and up the sheet, the way it falls as a whole, of length one; none where it is level.
    pub way: Option<(f64, f64)>,
    /// The mean of the slopes whichever way they go: more than `slope` where its parts fall against each other.
    pub mean: Ratio,
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

    /// The levels that were stated; what is guessed or follows from others is left out.
    pub fn spots(&self) -> Vec<Spot> {
        let spot = |(vertex, corner): (&groundrule_terrain::Vertex, &Corner)| {
            let Taken { of, term } = corner.taken?;
            Some(Spot { at: to_position(vertex.at), level: vertex.level, of, term })
        };
        self.tin.vertices().iter().zip(&self.corners).filter_map(spot).collect()
    }

    /// The level at a place; none where there is no ground.
    pub fn level_of(&self, at: Position) -> Option<Length> {
        self.tin.level(Place { x: at.x, y: at.y })
    }

    /// How the part of the ground inside a ring falls: the mean gradient by area. None where there is no ground in it.
    pub fn fall_within(&self, ring: &[Position]) -> Option<MeanFall> {
        let ring: Vec<Place> = ring.iter().map(|at| Place { x: at.x, y: at.y }).collect();
        let (mut sum, mut steep, mut area) = (geo::Coord { x: 0.0, y: 0.0 }, 0.0, 0.0);
        for (facet, part) in self.tin.within(&ring) {
            let (slope, part) = (self.gradient(facet), part.square_metres());
            sum = sum + slope * part;
            steep += crate::shape::segments::norm(slope) * part;
            area += part;
        }
        if area <= 0.0 {
            return None;
        }
        let mean = sum / area;
        let slope = crate::shape::segments::norm(mean);
        Some(MeanFall {
            area: Area::from_square_metres(area),
            slope: Ratio::from_fraction(slope),
            way: (slope > 0.0).then(|| (-mean.x / slope, -mean.y / slope)),
            mean: Ratio::from_fraction(steep / area),
        })
    }

    /// The lowest and the highest of its levels.
    pub fn range(&self) -> (Length, Length) {
        let levels = || self.tin.vertices().iter().map(|vertex| vertex.level);
        (levels().reduce(Length::min).unwrap_or_default(), levels().reduce(Length::max).unwrap_or_default())
    }

    /// The lowest and the highest level inside an upright box, at its corners and at those of the surface; none where
    /// there is no ground.
    pub fn range_within(&self, low: Position, high: Position) -> Option<(Length, Length)> {
        let holds = |at: Place| at.x >= low.x && at.x <= high.x && at.y >= low.y && at.y <= high.y;
        let used =
            |i: usize| self.tin.is_used(groundrule_terrain::VertexId(u32::try_from(i).unwrap_or(u32::MAX)));
        let vertices = self.tin.vertices().iter().enumerate().filter(|(i, it)| holds(it.at) && used(*i));
        let corners = [low, high, Position { x: low.x, y: high.y }, Position { x: high.x, y: low.y }];
        let levels = vertices.map(|(_, vertex)| vertex.level);
        let levels = levels.chain(corners.into_iter().filter_map(|at| self.level_of(at)));
        levels.map(|level| (level, level)).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
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
