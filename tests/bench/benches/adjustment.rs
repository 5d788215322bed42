//! Least-squares adjustment of a grid of lots, three measurements to a point; 500 points are to take under 100 ms.
//!
//! Run with `cargo bench -p groundrule-bench --bench adjustment`.

use divan::{Bencher, black_box};
use groundrule_bench::adjustment::lots;
use groundrule_survey::adjust::Settings;

fn main() {
    divan::main();
}

#[divan::bench(args = [50, 500, 1_000, 2_000, 5_000], sample_count = 10, sample_size = 1)]
fn adjust(bencher: Bencher, points: u32) {
    let network = lots(points);
    bencher.bench(|| black_box(&network).adjust(&Settings::default()).map(|done| done.weighted_sum()));
}
