//! The ground of a lot that required setbacks leave, and the setback lines around it.
//!
//! What lies nearer to a lot line than its setback is out: near the *segment*, so a setback goes round the end of its
//! line. The area is exact, arcs around corners included, with curved lot lines in chords within a millimetre; the lines
//! and regions are for drawing, with arcs in short chords.

use std::borrow::Cow;
use std::f64::consts::PI;

use geo::{BooleanOps, Coord, LineString, MultiPolygon, Polygon, SimplifyIdx};
use groundrule_survey::{Point, Position, Shape};
use groundrule_units::{Area, Dimension, Length};

use crate::area::alone;
use crate::shape::piece::{Piece, pieces};
use crate::shape::segments::{distance, dot, place, position, right, unit};
use crate::shape::sweep;
use crate::terms::{Gather, combine};
use crate::{FeatureId, Mark, Measured, Need, Site};

/// Sides a full circle is drawn with.
const SIDES: u32 = 96;
/// The cosine of 10 degrees: a bend that turns less is filled with a chord.
const GENTLE: f64 = 0.984_807_753_012_208;
/// How far the middle of such a chord lies off the arc, as a share of the depth: one less the cosine of 5 degrees.
const FLAT: f64 = 0.003_805_301_908_254_5;
/// How far a line may be drawn off its curve, in metres: less than a pen is wide on paper.
const DRAWN_OFF: f64 = 0.01;
/// How far the chords of a curve may lie off it where the area is worked out, in metres.
const MEASURED_OFF: f64 = 0.001;
/// What lies no farther beyond the end of a line, in metres, is not beyond it.
const BEYOND: f64 = 1e-6;
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
        match self.plot(lot, setbacks) {
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
        match self.plot(lot, setbacks) {
            Ok((ring, strips)) => area(&ring, &strips, setbacks),
            Err(need) => Measured::lacking(Dimension::Area, vec![need]),
        }
    }

    /// The ring of a lot as far as a rear line set out inside it, and the strips along its lines.
    fn plot(
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
    let paths = paths(strips, MEASURED_OFF);
    let strips = thinned(&paths, strips);
    let (area, terms) = left(ring, &strips);
    let mut gather = Gather::default();
    gather.terms(&terms, 1.0);
    for (i, (_, depth)) in setbacks.iter().enumerate().filter(|(_, (_, depth))| !depth.terms().is_empty()) {
        let moved = |by: f64| {
            let mut strips = strips.clone();
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

    /// The same for drawing: a rectangle for each segment, what fills the bends between them, and the round ends as far
    /// as the lot reaches there.
    fn polygons(&self, lot: &[Point], parts: &mut Vec<Polygon>) {
        let segments: Vec<(Coord<f64>, Coord<f64>, Coord<f64>)> = self
            .path
            .iter()
            .zip(self.path.iter().skip(1))
            .filter_map(|(a, b)| Some((place(a), place(b), unit(place(b) - place(a))?)))
            .collect();
        // The lot has nothing beyond an end that all its corners lie before.
        let ends_there =
            |end: Coord<f64>, way: Coord<f64>| lot.iter().all(|p| dot(place(p) - end, way) <= BEYOND);
        for (i, (a, b, way)) in segments.iter().enumerate() {
            let (mut a, mut b) = (*a, *b);
            let out = right(*way) * self.depth;
            if i == 0 {
                if ends_there(a, *way * -1.0) {
                    a = a - *way * (2.0 * BEYOND);
                } else {
                    parts.push(self.circle(a, out));
                }
            }
            match segments.get(i + 1) {
                Some((_, _, next)) if dot(*way, *next) > GENTLE => {
                    let then = right(*next) * self.depth;
                    parts.push(polygon([b, b + out, b + then]));
                    parts.push(polygon([b, b - then, b - out]));
                }
                None if ends_there(b, *way) => b = b + *way * (2.0 * BEYOND),
                Some(_) | None => parts.push(self.circle(b, out)),
            }
            parts.push(polygon([a + out, b + out, b - out, a - out]));
        }
    }

    /// A circle whose corners fall on those of the rectangle beside it, so that no notch is left between them.
    fn circle(&self, centre: Coord<f64>, out: Coord<f64>) -> Polygon {
        let start = libm::atan2(out.y, out.x);
        polygon((0..SIDES).map(|k| {
            let (sin, cos) = libm::sincos(start + 2.0 * PI * f64::from(k) / f64::from(SIDES));
            centre + Coord { x: cos, y: sin } * self.depth
        }))
    }

    /// True for a place on the edge of the strip as it is drawn, where chords stand for arcs.
    fn edged_by(&self, at: Coord<f64>) -> bool {
        let away = self
            .path
            .iter()
            .zip(self.path.iter().skip(1))
            .map(|(a, b)| distance(at, place(a), place(b)))
            .fold(f64::INFINITY, f64::min);
        let sagitta = self.depth * FLAT;
        self.depth > 0.0 && (-sagitta - 1e-6..=1e-6).contains(&(away - self.depth))
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

/// The points of each path that keep it so near to its curve: a curve in fine chords has too many, and the time to lay
/// strips over each other grows with the square of them.
fn paths(strips: &[Strip<'_>], off: f64) -> Vec<Vec<Point>> {
    let path = |strip: &Strip<'_>| {
        let line: LineString = strip.path.iter().map(place).collect();
        line.simplify_idx(off).into_iter().filter_map(|i| strip.path.get(i).cloned()).collect()
    };
    strips.iter().map(path).collect()
}

/// The strips along these paths instead of their own.
fn thinned<'a>(paths: &'a [Vec<Point>], strips: &[Strip<'_>]) -> Vec<Strip<'a>> {
    paths.iter().zip(strips).map(|(path, strip)| Strip { path, depth: strip.depth }).collect()
}

/// The regions left, and for each strip the stretches of its edge that bound them.
fn drawn(ring: &[Point], strips: &[Strip<'_>]) -> (Vec<Mark>, Vec<Vec<Vec<Position>>>) {
    let paths = paths(strips, DRAWN_OFF);
    let strips = thinned(&paths, strips);
    let mut parts = Vec::new();
    for strip in strips.iter().filter(|strip| strip.depth > 0.0) {
        strip.polygons(ring, &mut parts);
    }
    let lot = MultiPolygon::new(vec![polygon(ring.iter().map(place))]);
    let left = if parts.is_empty() { lot } else { lot.difference(&geo::unary_union(&parts)) };
    let mut lines = vec![Vec::new(); strips.len()];
    let mut regions = Vec::new();
    for region in &left {
        let mut ring: Vec<Coord<f64>> = region.exterior().coords().copied().collect();
        ring.pop();
        stretches(&ring, &strips, &mut lines);
        regions.push(Mark::Region(ring.into_iter().map(position).collect()));
    }
    (regions, lines)
}

/// Sorts the edges of a region to the strips they are the edge of, joined where they follow each other.
fn stretches(ring: &[Coord<f64>], strips: &[Strip<'_>], lines: &mut [Vec<Vec<Position>>]) {
    let edges: Vec<(Coord<f64>, Coord<f64>)> =
        ring.iter().copied().zip(ring.iter().copied().cycle().skip(1)).collect();
    let owners: Vec<Option<usize>> = edges
        .iter()
        .map(|(a, b)| {
            strips.iter().position(|strip| [*a, (*a + *b) / 2.0, *b].into_iter().all(|at| strip.edged_by(at)))
        })
        .collect();
    // Start where the owner changes, so that a stretch past the first vertex stays whole.
    let count = edges.len();
    let start = (0..count).find(|i| owners[*i] != owners[(i + count - 1) % count]).unwrap_or(0);
    let mut before = None;
    for i in (0..count).map(|i| (start + i) % count) {
        let (from, until) = edges[i];
        if let Some(of) = owners[i].and_then(|owner| lines.get_mut(owner)) {
            match of.last_mut() {
                Some(path) if before == owners[i] => path.push(position(until)),
                _ => of.push(vec![position(from), position(until)]),
            }
        }
        before = owners[i];
    }
}
