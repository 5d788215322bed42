//! The ground of a lot that required setbacks leave, and the setback lines around it.
//!
//! What lies nearer to a lot line than its setback is out: near the *segment*, so a setback goes round the end of its
//! line. The area is exact, arcs included; the lines and regions are for drawing, with arcs in short chords.

use std::borrow::Cow;
use std::f64::consts::PI;

use geo::{BooleanOps, Coord, LineString, MultiLineString, MultiPolygon, Polygon};
use groundrule_survey::{Point, Position, Shape};
use groundrule_units::{Area, Dimension, Length};

use crate::area::alone;
use crate::shape::piece::{Piece, pieces};
use crate::shape::segments::{place, position, right, unit};
use crate::shape::sweep;
use crate::terms::{Gather, combine};
use crate::{FeatureId, Mark, Measured, Need, Site};

/// Sides a full circle is drawn with.
const SIDES: u32 = 96;
/// How far a setback is moved to find how the area changes with it, in metres.
const STEP: f64 = 1e-4;

/// What setbacks leave of a lot.
#[derive(Clone, Debug)]
pub struct Buildable {
    /// The area left, with its regions as marks.
    pub area: Measured,
    /// For each setback in turn, the stretches of its line that bound what is left.
    pub lines: Vec<Vec<Vec<Position>>>,
}

impl Site {
    /// What is left of a lot when nothing may stand nearer to a lot line than so much; setbacks of nothing or less leave
    /// everything. Behind a rear line set out inside the lot nothing is left.
    pub fn buildable(&self, lot: FeatureId, setbacks: &[(FeatureId, Measured)]) -> Buildable {
        match self.ground(lot, setbacks) {
            Ok((ring, strips)) => {
                let (regions, lines) = drawn(&ring, &strips);
                Buildable { area: area(&ring, &strips, setbacks).marked(regions), lines }
            }
            Err(need) => {
                Buildable { area: Measured::lacking(Dimension::Area, vec![need]), lines: Vec::new() }
            }
        }
    }

    /// Its area alone, without what is drawn of it.
    pub fn buildable_area(&self, lot: FeatureId, setbacks: &[(FeatureId, Measured)]) -> Measured {
        match self.ground(lot, setbacks) {
            Ok((ring, strips)) => area(&ring, &strips, setbacks),
            Err(need) => Measured::lacking(Dimension::Area, vec![need]),
        }
    }

    /// The ring of a lot as far as a rear line set out inside it, and the strips along its lines.
    fn ground(
        &self,
        lot: FeatureId,
        setbacks: &[(FeatureId, Measured)],
    ) -> Result<(Cow<'_, [Point]>, Vec<Strip<'_>>), Need> {
        let need = |id: FeatureId| {
            let name = self.feature(id).map_or("the lot", |feature| feature.id.0.as_str());
            Need { what: format!("the place of {name}"), how: "draw the lot with its corners".to_owned() }
        };
        let mut ring = match self.feature(lot).map(|lot| &lot.shape) {
            Some(Shape::Outline { ring, .. }) => Cow::Borrowed(ring.as_slice()),
            _ => return Err(need(lot)),
        };
        let mut strips = Vec::with_capacity(setbacks.len());
        for (line, depth) in setbacks {
            if let Cow::Owned(cut) = self.before(*line, &ring) {
                ring = Cow::Owned(cut);
            }
            let path = self.path(*line).ok_or_else(|| need(*line))?;
            strips.push(Strip { path, depth: depth.value().si() });
        }
        Ok((ring, strips))
    }
}

/// The area left and how it errs, with the places of the lot and with the setbacks themselves.
fn area(ring: &[Point], strips: &[Strip<'_>], setbacks: &[(FeatureId, Measured)]) -> Measured {
    let (area, terms) = left(ring, strips);
    let mut gather = Gather::default();
    gather.terms(&terms, 1.0);
    for (i, (_, depth)) in setbacks.iter().enumerate().filter(|(_, (_, depth))| !depth.terms().is_empty()) {
        let moved = |by: f64| {
            let mut strips = strips.to_vec();
            strips[i].depth += by;
            left(ring, &strips).0
        };
        gather.terms(depth.terms(), (moved(STEP) - moved(-STEP)) / (2.0 * STEP));
    }
    Measured::new(Area::from_square_metres(area).into(), gather.finish())
}

/// The ground within a depth of a line.
#[derive(Clone, Debug)]
struct Strip<'a> {
    path: &'a [Point],
    depth: f64,
}

impl Strip<'_> {
    /// The line as a band of twice the depth.
    fn band(&self) -> Shape {
        Shape::Line { path: self.path.to_vec(), width: Length::from_metres(2.0 * self.depth) }
    }

    /// The same for drawing: each segment's rectangle and a circle at each vertex.
    fn polygons(&self) -> MultiPolygon {
        let mut parts: Vec<Polygon> = Vec::new();
        for (a, b) in self.path.iter().zip(self.path.iter().skip(1)) {
            let (a, b) = (place(a), place(b));
            let Some(out) = unit(right(b - a)).map(|out| out * self.depth) else { continue };
            parts.push(polygon([a + out, b + out, b - out, a - out]));
            // Corners of the circles fall on those of the rectangle, so that they leave no notch between them.
            let start = libm::atan2(out.y, out.x);
            for centre in [a, b] {
                let on = |k: u32| {
                    let (sin, cos) = libm::sincos(start + 2.0 * PI * f64::from(k) / f64::from(SIDES));
                    centre + Coord { x: cos, y: sin } * self.depth
                };
                parts.push(polygon((0..SIDES).map(on)));
            }
        }
        geo::unary_union(&parts)
    }
}

fn polygon(ring: impl IntoIterator<Item = Coord<f64>>) -> Polygon {
    Polygon::new(ring.into_iter().collect(), Vec::new())
}

/// The area of a ring that no strip covers, and how it errs.
fn left(ring: &[Point], strips: &[Strip<'_>]) -> (f64, crate::Terms) {
    let lot = Piece::Area { ring: Cow::Borrowed(ring), holes: &[] };
    let strips: Vec<&Strip<'_>> = strips.iter().filter(|strip| strip.depth > 0.0).collect();
    let bands: Vec<Shape> = strips.iter().map(|strip| strip.band()).collect();
    let mut all: Vec<Piece<'_>> = bands.iter().flat_map(pieces).collect();
    for strip in &strips {
        let ends = strip.path.first().into_iter().chain(strip.path.last());
        all.extend(ends.map(|centre| Piece::Disc { centre, radius: strip.depth }));
    }
    let (whole, of_whole) = alone(&lot);
    let (out, of_out) = sweep::covered(&all.iter().collect::<Vec<_>>(), Some(&[&lot]));
    ((whole - out).max(0.0), combine(&of_whole, 1.0, &of_out, -1.0))
}

/// The regions left, and for each strip the stretches of its edge that bound them.
fn drawn(ring: &[Point], strips: &[Strip<'_>]) -> (Vec<Mark>, Vec<Vec<Vec<Position>>>) {
    let lot = MultiPolygon::new(vec![polygon(ring.iter().map(place))]);
    let bands: Vec<MultiPolygon> = strips
        .iter()
        .map(|strip| if strip.depth > 0.0 { strip.polygons() } else { MultiPolygon::new(Vec::new()) })
        .collect();
    let without = |skipped: Option<usize>| {
        let others = bands.iter().enumerate().filter(|(i, _)| Some(*i) != skipped);
        others.fold(lot.clone(), |left, (_, band)| left.difference(band))
    };
    let places = |line: &LineString| -> Vec<Position> { line.coords().map(|c| position(*c)).collect() };
    let left = without(None);
    let regions = left.iter().map(|region| {
        let mut ring = places(region.exterior());
        ring.pop();
        Mark::Region(ring)
    });
    let regions = regions.collect();
    let lines = bands.iter().enumerate().map(|(i, band)| {
        let edges = MultiLineString::new(band.iter().map(|part| part.exterior().clone()).collect());
        without(Some(i)).clip(&edges, false).iter().filter(|line| line.0.len() > 1).map(places).collect()
    });
    (regions, lines.collect())
}
