//! Triangulating, hollows, courses, catchments and earthwork over strewn levels on a rolling surface.
//!
//! Run with `cargo bench -p groundrule-terrain`.
#![allow(clippy::expect_used, reason = "a bench without its surface has failed")]

use divan::{Bencher, black_box};
use groundrule_terrain::{Input, Place, Tin, Vertex, cut_and_fill};
use groundrule_units::Length;

const COUNTS: [u32; 4] = [1_000, 10_000, 100_000, 1_000_000];

fn main() {
    divan::main();
}

/// Numbers from 0 to 1, the same every time.
struct Draw(u64);

impl Draw {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// So many levels, about one a square metre, on hills 40 m apart that fall to one side.
fn rolling(count: u32) -> Input {
    let wide = libm::sqrt(f64::from(count));
    let mut draw = Draw(7);
    let spot = |_| {
        let (x, y) = (draw.next() * wide, draw.next() * wide);
        let hills = libm::sin(x / 6.4) * libm::cos(y / 6.4);
        let metres = Length::from_metres;
        Vertex { at: Place { x: metres(x), y: metres(y) }, level: metres(hills + 0.01 * x) }
    };
    Input { vertices: (0..count).map(spot).collect(), ..Input::default() }
}

fn surface(count: u32) -> Tin {
    Tin::build(&rolling(count)).expect("levels make a surface").0
}

#[divan::bench(args = COUNTS, sample_count = 3, sample_size = 1)]
fn triangulate(bencher: Bencher, count: u32) {
    let input = rolling(count);
    bencher.bench(|| Tin::build(black_box(&input)));
}

#[divan::bench(args = COUNTS, sample_count = 3, sample_size = 1)]
fn hollows(bencher: Bencher, count: u32) {
    let tin = surface(count);
    bencher.bench(|| black_box(&tin).hollows(&[]));
}

#[divan::bench(args = COUNTS, sample_count = 3, sample_size = 1)]
fn thousand_courses(bencher: Bencher, count: u32) {
    let tin = surface(count);
    let wide = libm::sqrt(f64::from(count));
    let metres = Length::from_metres;
    bencher.bench(|| {
        let mut draw = Draw(13);
        let mut start = || Place { x: metres(draw.next() * wide), y: metres(draw.next() * wide) };
        (0..1_000).filter_map(|_| black_box(&tin).trace(start(), &[])).count()
    });
}

#[divan::bench(args = [1_000_u32, 10_000, 100_000], sample_count = 3, sample_size = 1)]
fn catchments(bencher: Bencher, count: u32) {
    let tin = surface(count);
    bencher.bench(|| black_box(&tin).catchments(&[], None));
}

#[divan::bench(args = COUNTS, sample_count = 3, sample_size = 1)]
fn earthwork(bencher: Bencher, count: u32) {
    let (existing, mut proposed) = (surface(count), rolling(count));
    // Half a metre along, so that no facets agree.
    for vertex in &mut proposed.vertices {
        vertex.at.x = vertex.at.x + Length::from_metres(0.5);
    }
    let proposed = Tin::build(&proposed).expect("levels make a surface").0;
    bencher.bench(|| cut_and_fill(black_box(&existing), black_box(&proposed), None));
}
