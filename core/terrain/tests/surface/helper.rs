//! Short ways to build surfaces and compare figures.

use groundrule_terrain::{Input, Place, Tin, Trouble, Vertex};
use groundrule_units::Length;
use serde_json::Value;

pub(crate) fn metres(value: f64) -> Length {
    Length::from_metres(value)
}

pub(crate) fn place(x: f64, y: f64) -> Place {
    Place { x: metres(x), y: metres(y) }
}

pub(crate) fn spot(x: f64, y: f64, z: f64) -> Vertex {
    Vertex { at: place(x, y), level: metres(z) }
}

pub(crate) fn spots(of: &[[f64; 3]]) -> Vec<Vertex> {
    of.iter().map(|[x, y, z]| spot(*x, *y, *z)).collect()
}

/// A surface of which nothing is odd.
pub(crate) fn surface(vertices: Vec<Vertex>, lines: &[&[u32]], holes: &[&[u32]]) -> Tin {
    let (tin, troubles) = with_troubles(vertices, lines, holes);
    assert_eq!(troubles, []);
    tin
}

pub(crate) fn with_troubles(
    vertices: Vec<Vertex>,
    lines: &[&[u32]],
    holes: &[&[u32]],
) -> (Tin, Vec<Trouble>) {
    let own = |lists: &[&[u32]]| lists.iter().map(|list| list.to_vec()).collect();
    Tin::build(&Input { vertices, lines: own(lines), holes: own(holes) }).expect("a surface")
}

/// Equal to a part in a thousand million.
pub(crate) fn near(what: &str, found: f64, expected: f64) {
    let off = (found - expected).abs();
    assert!(off <= 1e-9 * expected.abs().max(1e-3), "{what}: found {found}, expected {expected}");
}

/// The analytic figures and those of real surfaces, as computed outside this project.
pub(crate) fn oracle(name: &str) -> Value {
    let all: Value = serde_json::from_str(include_str!("../data/o4_tin.json")).expect("the file is JSON");
    all.get(name).unwrap_or_else(|| panic!("no {name}")).clone()
}

pub(crate) fn number(value: &Value, name: &str) -> f64 {
    value[name].as_f64().unwrap_or_else(|| panic!("no number {name}"))
}

pub(crate) fn triples<T>(value: &Value, name: &str, one: impl Fn(&Value) -> T) -> Vec<[T; 3]> {
    let rows = value[name].as_array().unwrap_or_else(|| panic!("no list {name}"));
    rows.iter().map(|row| [one(&row[0]), one(&row[1]), one(&row[2])]).collect()
}

pub(crate) fn levelled(value: &Value) -> Vec<Vertex> {
    spots(&triples(value, "vertices", |v| v.as_f64().expect("a number")))
}

pub(crate) fn corners(value: &Value, name: &str) -> Vec<[u32; 3]> {
    triples(value, name, |v| u32::try_from(v.as_u64().expect("an index")).expect("a small index"))
}

/// The triangles as closed lines, which makes them the facets.
pub(crate) fn as_lines(triangles: &[[u32; 3]]) -> Vec<Vec<u32>> {
    triangles.iter().map(|&[a, b, c]| vec![a, b, c, a]).collect()
}

/// A surface with the given facets.
pub(crate) fn faceted(vertices: Vec<Vertex>, triangles: &[[u32; 3]]) -> Tin {
    let lines = as_lines(triangles);
    let lines: Vec<&[u32]> = lines.iter().map(Vec::as_slice).collect();
    let tin = surface(vertices, &lines, &[]);
    assert_eq!(
        sorted(tin.facet_ids().map(|f| tin.corners(f).map(|v| v.0))),
        sorted(triangles.iter().copied())
    );
    tin
}

/// Triangles with ordered corners, in order, so that lists compare as sets.
pub(crate) fn sorted(triangles: impl Iterator<Item = [u32; 3]>) -> Vec<[u32; 3]> {
    let mut all: Vec<[u32; 3]> = triangles
        .map(|mut corners| {
            corners.sort_unstable();
            corners
        })
        .collect();
    all.sort_unstable();
    all
}

/// A generator of the same numbers every time, from 0 to 1.
pub(crate) struct Draw(u64);

impl Draw {
    pub(crate) const fn new(seed: u64) -> Self {
        Self(seed)
    }

    pub(crate) fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}
