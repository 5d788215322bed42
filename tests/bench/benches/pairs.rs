//! All pairs within a metre among strewn rectangles: finding them, measuring them, building their site.
//!
//! Run with `cargo bench -p groundrule-bench --bench pairs`.

use divan::{Bencher, black_box};
use groundrule_bench::pairs::{near_pairs, rectangles, site};

const COUNTS: [u32; 3] = [1_000, 10_000, 100_000];

fn main() {
    divan::main();
}

#[divan::bench(args = COUNTS, sample_count = 10, sample_size = 1)]
fn build(bencher: Bencher, count: u32) {
    let rectangles = rectangles(count);
    bencher.bench(|| site(black_box(&rectangles)));
}

#[divan::bench(args = COUNTS, sample_count = 10, sample_size = 1)]
fn near(bencher: Bencher, count: u32) {
    let site = site(&rectangles(count));
    bencher.bench(|| near_pairs(black_box(&site)));
}

#[divan::bench(args = COUNTS, sample_count = 5, sample_size = 1)]
fn clearance_of_each(bencher: Bencher, count: u32) {
    let site = site(&rectangles(count));
    let pairs = near_pairs(&site);
    bencher.bench(|| pairs.iter().map(|(a, b)| site.clearance(*a, *b).spread().si()).sum::<f64>());
}
