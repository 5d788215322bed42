//! Areas, lengths and overlaps.
//!
//! Spread to first order: an area changes by each stretch of its boundary times how far that stretch moves
//! outward. Where two shapes only touch, their overlap has no boundary to move and so no spread; whether they
//! overlap is judged by their clearance.

use std::f64::consts::PI;

use geo::{BooleanOps, Coord, LineString, Polygon};
use groundrule_survey::{Position, Shape};
use groundrule_units::{Area, Dimension, Length};

use crate::distance::needs;
use crate::shape::piece::Piece;
use crate::shape::segments::{place, position, unit};
use crate::shape::{inside, rings, sweep};
use crate::terms::Gather;
use crate::{FeatureId, Mark, Measured, Need, Site, Terms};

/// Sides a disc is drawn with.
const DRAWN_SIDES: u32 = 48;

impl Site {
    /// The area of a feature: an outline less its holes, a line by its width, a disc. A spot or a line
    /// without width has none.
    ///
    /// A line with a width has flat ends and round bends; where it folds over itself, each place counts once.
    pub fn area(&self, feature: FeatureId) -> Measured {
        self.covered(&[feature], None)
    }

    /// The area that features cover together, each place once, within a feature if one is given.
    pub fn covered(&self, features: &[FeatureId], within: Option<FeatureId>) -> Measured {
        let mut all = Vec::new();
        let mut lacking: Vec<Need> = Vec::new();
        for feature in features {
            match self.drawn(*feature) {
                Ok(pieces) => all.extend(pieces),
                Err(need) => lacking.push(need),
            }
        }
        let bounds = within.map(|within| self.drawn(within));
        let bounds = match &bounds {
            Some(Err(need)) => {
                lacking.push(need.clone());
                None
            }
            Some(Ok(pieces)) => Some(pieces.iter().collect::<Vec<_>>()),
            None => None,
        };
        if !lacking.is_empty() {
            lacking.sort();
            lacking.dedup();
            return Measured::lacking(Dimension::Area, lacking);
        }
        let (mut area, mut gather) = (0.0, Gather::default());
        for cluster in sweep::clusters(&all) {
            let (part, terms) = match (cluster.as_slice(), &bounds) {
                ([only], None) => alone(only),
                (_, None) => sweep::covered(&cluster, None),
                (_, Some(bounds)) => sweep::covered(&cluster, Some(bounds)),
            };
            area += part;
            gather.terms(&terms, 1.0);
        }
        let marks = all.iter().filter_map(outer).map(Mark::Region).collect();
        Measured::new(Area::from_square_metres(area).into(), gather.finish()).marked(marks)
    }

    /// The area two features share, with the shared regions as marks.
    pub fn overlap(&self, a: FeatureId, b: FeatureId) -> Measured {
        let (a, b) = match (self.drawn(a), self.drawn(b)) {
            (Ok(a), Ok(b)) => (a, b),
            (a, b) => return Measured::lacking(Dimension::Area, needs([a.err(), b.err()])),
        };
        let (area, terms) =
            sweep::covered(&a.iter().collect::<Vec<_>>(), Some(&b.iter().collect::<Vec<_>>()));
        let marks = if area > 0.0 { shared(&a, &b) } else { Vec::new() };
        Measured::new(Area::from_square_metres(area).into(), terms).marked(marks)
    }

    /// The length of a line, or the length around an outline (its outer ring) or a disc.
    pub fn length(&self, feature: FeatureId) -> Measured {
        if let Err(need) = self.drawn(feature) {
            return Measured::lacking(Dimension::Length, vec![need]);
        }
        let mut gather = Gather::default();
        let mut along = |ends: &mut dyn Iterator<Item = (_, _)>| {
            ends.map(|(a, b)| {
                let way = unit(place(b) - place(a)).unwrap_or_default();
                gather.point(a, way * -1.0);
                gather.point(b, way);
                crate::shape::segments::norm(place(b) - place(a))
            })
            .sum::<f64>()
        };
        let (mut length, mut marks) = (0.0, Vec::new());
        for shape in self.shapes(feature) {
            length += match shape {
                Shape::Outline { ring, .. } => {
                    marks.push(Mark::Region(ring.iter().map(|p| p.at).collect()));
                    along(&mut rings::edges(ring))
                }
                Shape::Line { path, .. } => {
                    let mut edges = path.iter().zip(path.iter().skip(1));
                    marks.extend(edges.clone().map(|(a, b)| Mark::Span(a.at, b.at)));
                    along(&mut edges)
                }
                Shape::Disc { radius, .. } => 2.0 * PI * radius.metres(),
                Shape::Spot(_) | Shape::Absent => 0.0,
            };
        }
        Measured::new(Length::from_metres(length).into(), gather.finish()).marked(marks)
    }

    /// The length of a line feature that runs inside another feature; of an outline, how much of its edge does.
    /// What runs along the other's edge is not inside.
    pub fn length_inside(&self, line: FeatureId, area: FeatureId) -> Measured {
        let areas = match (self.drawn(line), self.drawn(area)) {
            (Ok(_), Ok(areas)) => areas,
            (a, b) => return Measured::lacking(Dimension::Length, needs([a.err(), b.err()])),
        };
        let edges = self.shapes(line).flat_map(|shape| -> Vec<_> {
            match shape {
                Shape::Line { path, .. } => path.iter().zip(path.iter().skip(1)).collect(),
                Shape::Outline { ring, .. } => rings::edges(ring).collect(),
                Shape::Spot(_) | Shape::Disc { .. } | Shape::Absent => Vec::new(),
            }
        });
        let (mut length, mut gather, mut marks) = (0.0, Gather::default(), Vec::new());
        for (a, b) in edges {
            for stretch in inside::stretches(a, b, &areas) {
                length += stretch.length;
                stretch.gather(&mut gather);
                marks.push(Mark::Span(position(stretch.from), position(stretch.to)));
            }
        }
        Measured::new(Length::from_metres(length).into(), gather.finish()).marked(marks)
    }
}

/// The area of one piece by itself, by the corner formula: exact for any outline that does not cross itself.
pub(crate) fn alone(piece: &Piece) -> (f64, Terms) {
    let mut gather = Gather::default();
    let area = match piece {
        Piece::Area { .. } => piece
            .rings()
            .map(|ring| {
                let before = ring.iter().cycle().skip(ring.len().saturating_sub(1));
                for ((at, before), after) in ring.iter().zip(before).zip(ring.iter().cycle().skip(1)) {
                    // The area of a ring moves with a vertex by half the chord between its neighbours.
                    let chord = place(after) - place(before);
                    gather.point(at, Coord { x: chord.y / 2.0, y: -chord.x / 2.0 });
                }
                rings::signed_area(ring)
            })
            .sum(),
        Piece::Disc { radius, .. } => PI * radius * radius,
        Piece::Path(_) => 0.0,
    };
    (area, gather.finish())
}

/// The outer ring of a piece for drawing; a path has none.
fn outer(piece: &Piece) -> Option<Vec<Position>> {
    match piece {
        Piece::Area { ring, .. } => Some(ring.iter().map(|p| p.at).collect()),
        Piece::Disc { centre, radius } if *radius > 0.0 => {
            let step = 2.0 * PI / f64::from(DRAWN_SIDES);
            let on = |k| {
                let (sin, cos) = libm::sincos(step * f64::from(k));
                position(place(centre) + Coord { x: cos, y: sin } * *radius)
            };
            Some((0..DRAWN_SIDES).map(on).collect())
        }
        Piece::Disc { .. } | Piece::Path(_) => None,
    }
}

/// The regions two shapes share, for drawing only.
fn shared(a: &[Piece], b: &[Piece]) -> Vec<Mark> {
    let line = |ring: &[Position]| -> LineString {
        ring.iter().map(|p| Coord { x: p.x.metres(), y: p.y.metres() }).collect()
    };
    let polygon = |piece: &Piece| {
        let holes = piece.rings().skip(1).map(|hole| line(&hole.iter().map(|p| p.at).collect::<Vec<_>>()));
        outer(piece).map(|ring| Polygon::new(line(&ring), holes.collect()))
    };
    let all = |pieces: &[Piece]| geo::unary_union(&pieces.iter().filter_map(polygon).collect::<Vec<_>>());
    let region = |shared: &Polygon| {
        let mut ring: Vec<Position> = shared.exterior().coords().map(|c| position(*c)).collect();
        ring.pop();
        Mark::Region(ring)
    };
    all(a).intersection(&all(b)).iter().map(region).collect()
}
