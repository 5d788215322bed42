//! The strewn rectangles have the pairs that Shapely finds among them.
//!
//! Counts and sums worked out independently with Shapely 2.2.0 on GEOS 3.14.1: its tree queried for pairs
//! within a metre, then the distance and the intersection area of each pair. No pair's distance is within
//! five hundredths of a millimetre of the reach, so rounding decides none.

use groundrule_bench::pairs::{near_pairs, rectangles, site};

struct Expected {
    count: u32,
    pairs: usize,
    touching: usize,
    distances: f64,
    shared: f64,
}

fn check(expected: &Expected) {
    let site = site(&rectangles(expected.count));
    let pairs = near_pairs(&site);
    assert_eq!(pairs.len(), expected.pairs);
    let clearances = pairs.iter().map(|(a, b)| site.clearance(*a, *b).value().si());
    let touching = clearances.filter(|clearance| *clearance <= 0.0).count();
    assert_eq!(touching, expected.touching);
    let distances: f64 = pairs.iter().map(|(a, b)| site.distance(*a, *b).value().si()).sum();
    assert!((distances - expected.distances).abs() < 1e-8, "{distances}");
    let shared: f64 = pairs.iter().map(|(a, b)| site.overlap(*a, *b).value().si()).sum();
    assert!((shared - expected.shared).abs() < 1e-8, "{shared}");
}

#[test]
fn a_thousand() {
    check(&Expected {
        count: 1_000,
        pairs: 810,
        touching: 475,
        distances: 176.684_393_371_236_7,
        shared: 740.222_593_698_834_8,
    });
}

#[test]
fn ten_thousand() {
    check(&Expected {
        count: 10_000,
        pairs: 8_164,
        touching: 4_690,
        distances: 1_827.310_416_364_516_9,
        shared: 7_744.153_719_051_858,
    });
}

#[test]
fn the_generator_gives_the_bits_it_is_documented_to_give() {
    // From a separate program in another language.
    let strewn = rectangles(1_000);
    assert_eq!(
        strewn[0][0].map(f64::to_bits),
        [44.558_493_808_703_055, 154.516_025_758_438_64].map(f64::to_bits)
    );
    assert_eq!(
        strewn[999][3].map(f64::to_bits),
        [138.521_654_790_646_15, 150.790_041_669_535_27].map(f64::to_bits)
    );
}
