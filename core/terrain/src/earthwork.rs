//! Cut and fill between two surfaces.

use groundrule_units::{Area, Volume};
use rayon::prelude::*;

use crate::clip::{anticlockwise, in_triangle, keep};
use crate::plane::{Frame, Xy, dot, id, ring_area, sub, twice_area};
use crate::{Place, Tin};

/// What is to be moved to get from one surface to another.
#[derive(Clone, Debug, PartialEq)]
pub struct Earthwork {
    /// Where the first surface is higher.
    pub cut: Volume,
    /// Where the second surface is higher.
    pub fill: Volume,
    /// Of the ground that both surfaces cover.
    pub area: Area,
    /// How the volumes follow the levels.
    pub by_level: ByLevel,
}

/// Cubic metres of change in a volume for each metre that one vertex rises, vertex by vertex.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ByLevel {
    /// Of the cut, by the vertices of the first surface.
    pub cut_by_from: Vec<Area>,
    /// Of the cut, by the vertices of the second surface.
    pub cut_by_to: Vec<Area>,
    /// Of the fill, by the vertices of the first surface.
    pub fill_by_from: Vec<Area>,
    /// Of the fill, by the vertices of the second surface.
    pub fill_by_to: Vec<Area>,
}

/// So many facets are paired at once: pairs of a large surface do not fit in memory together.
const BATCH: usize = 8192;

/// A piece common to two facets: its volume, and the integrals of the weights of their corners over it.
#[derive(Default)]
struct Part {
    volume: f64,
    from: [f64; 3],
    to: [f64; 3],
}

/// What one pair of facets adds.
struct Pair {
    from: u32,
    to: u32,
    area: f64,
    cut: Part,
    fill: Part,
}

/// The volumes between two surfaces where both have ground, in a ring if one is given, exact for the facets.
pub fn cut_and_fill(from: &Tin, to: &Tin, within: Option<&[Place]>) -> Earthwork {
    let ring = within.map(|ring| anticlockwise(ring, from.mesh.origin));
    let (mut cut, mut fill, mut area) = (0.0, 0.0, 0.0);
    let mut by_level = ByLevel {
        cut_by_from: vec![Area::ZERO; from.vertices().len()],
        cut_by_to: vec![Area::ZERO; to.vertices().len()],
        fill_by_from: vec![Area::ZERO; from.vertices().len()],
        fill_by_to: vec![Area::ZERO; to.vertices().len()],
    };
    let add = |levels: &mut [Area], corners: [u32; 3], parts: [f64; 3], sign: f64| {
        for (corner, part) in corners.iter().zip(parts) {
            if let Some(own) = levels.get_mut(*corner as usize) {
                *own = *own + Area::from_square_metres(sign * part);
            }
        }
    };
    let facets: Vec<u32> = (0..id(from.facets())).collect();
    for batch in facets.chunks(BATCH) {
        let pairs: Vec<Vec<Pair>> =
            batch.par_iter().map(|facet| pairs_of(from, to, *facet, ring.as_deref())).collect();
        for pair in pairs.iter().flatten() {
            cut += pair.cut.volume;
            fill += pair.fill.volume;
            area += pair.area;
            let (corners, others) = (from.mesh.facets[pair.from as usize], to.mesh.facets[pair.to as usize]);
            add(&mut by_level.cut_by_from, corners, pair.cut.from, 1.0);
            add(&mut by_level.cut_by_to, others, pair.cut.to, -1.0);
            add(&mut by_level.fill_by_from, corners, pair.fill.from, -1.0);
            add(&mut by_level.fill_by_to, others, pair.fill.to, 1.0);
        }
    }
    Earthwork {
        cut: Volume::from_cubic_metres(cut),
        fill: Volume::from_cubic_metres(fill),
        area: Area::from_square_metres(area),
        by_level,
    }
}

fn pairs_of(from: &Tin, to: &Tin, facet: u32, ring: Option<&[Xy]>) -> Vec<Pair> {
    let triangle = from.mesh.triangle(facet);
    let own = ring.map_or_else(|| triangle.to_vec(), |ring| in_triangle(ring, triangle));
    if own.len() < 3 {
        return Vec::new();
    }
    // Both are seen from the first vertex of the first surface.
    let shift = sub(to.mesh.origin, from.mesh.origin);
    let frame = Frame::of(&own);
    let existing = Plane::of(from, facet, triangle);
    let mut pairs = Vec::new();
    for other in to.mesh.grid().near(&triangle.map(|p| sub(p, shift))) {
        let second = to.mesh.triangle(other).map(|p| [p[0] + shift[0], p[1] + shift[1]]);
        if !frame.meets(&Frame::of(&second)) {
            continue;
        }
        let piece = in_triangle(&own, second);
        let area = ring_area(&piece);
        if area <= 0.0 {
            continue;
        }
        let proposed = Plane::of(to, other, second);
        let rise = |p: Xy| proposed.at(p) - existing.at(p);
        let mut fill = Part::of(&keep(&piece, rise), rise, triangle, second);
        let mut cut = Part::of(&keep(&piece, |p| -rise(p)), |p| -rise(p), triangle, second);
        if fill.volume <= 0.0 && cut.volume <= 0.0 {
            // One surface here: what a level changes is half the time cut and half the time fill.
            for part in [&mut fill, &mut cut] {
                part.from = part.from.map(|v| v / 2.0);
                part.to = part.to.map(|v| v / 2.0);
            }
        }
        pairs.push(Pair { from: facet, to: other, area, cut, fill });
    }
    pairs
}

/// A facet continued over the plane.
struct Plane {
    corner: Xy,
    level: f64,
    slope: Xy,
}

impl Plane {
    fn of(tin: &Tin, facet: u32, [corner, ..]: [Xy; 3]) -> Self {
        Self { corner, level: tin.levels_of(facet)[0], slope: tin.slope_of(facet) }
    }

    fn at(&self, p: Xy) -> f64 {
        self.level + dot(self.slope, sub(p, self.corner))
    }
}

impl Part {
    /// Integrals over a piece, as a fan of triangles from its first place.
    fn of(piece: &[Xy], height: impl Fn(Xy) -> f64, first: [Xy; 3], second: [Xy; 3]) -> Self {
        let mut part = Self::default();
        let Some((&apex, rest)) = piece.split_first() else { return part };
        let values = |p: Xy| (height(p), weights(first, p), weights(second, p));
        let at_apex = values(apex);
        for side in rest.windows(2) {
            let corners = [at_apex, values(side[0]), values(side[1])];
            let third = twice_area(apex, side[0], side[1]) / 6.0;
            for (height, from, to) in corners {
                part.volume += third * height;
                for k in 0..3 {
                    part.from[k] += third * from[k];
                    part.to[k] += third * to[k];
                }
            }
        }
        part
    }
}

fn weights([a, b, c]: [Xy; 3], p: Xy) -> [f64; 3] {
    let whole = twice_area(a, b, c);
    [twice_area(p, b, c), twice_area(p, c, a), twice_area(p, a, b)].map(|part| part / whole)
}
