//! The search agrees with measuring every pair.

use groundrule_site::FeatureId;
use proptest::prelude::*;

use crate::sheet::{Built, Sheet, metres};

fn scattered(seeds: &[(f64, f64, f64, u8)]) -> Built {
    let mut sheet = Sheet::new();
    for (i, (x, y, size, sort)) in seeds.iter().enumerate() {
        let id = format!("f{i}");
        match sort % 4 {
            0 => drop(sheet.outline(&id, &[[*x, *y], [x + size, y + 0.4], [x + 0.3, y + size]], 0.0)),
            1 => drop(sheet.disc(&id, [*x, *y], *size, 0.0)),
            2 => drop(sheet.line(&id, &[[*x, *y], [x + size, y - size], [x + 2.0 * size, *y]], 0.2, 0.0)),
            _ => drop(sheet.spot(&id, [*x, *y], 0.0)),
        }
    }
    sheet.add("stated", groundrule_survey::Shape::Absent);
    sheet.build()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn near_is_every_pair_within_reach(
        seeds in prop::collection::vec((0.0..20.0, 0.0..20.0, 0.1..3.0, 0_u8..4), 1..16),
        reach in 0.0..4.0,
    ) {
        let built = scattered(&seeds);
        let all: Vec<FeatureId> = built.site.features().map(|(id, _)| id).collect();
        let (from, to) = all.split_at(all.len() / 2);
        for (from, to) in [(all.as_slice(), all.as_slice()), (from, to), (to, from)] {
            let mut expected = Vec::new();
            for a in from {
                for b in to.iter().filter(|b| *b != a) {
                    let distance = built.site.distance(*a, *b);
                    if distance.needs.is_empty() && distance.value().si() <= reach {
                        expected.push((*a, *b));
                    }
                }
            }
            prop_assert_eq!(built.site.near(from, to, metres(reach)), expected);
        }
    }
}

#[test]
fn odd_questions_have_plain_answers() {
    let built = scattered(&[(0.0, 0.0, 1.0, 1), (1.0, 0.0, 1.0, 1)]);
    let (a, b) = (FeatureId(0), FeatureId(1));
    assert_eq!(built.site.near(&[b, a, a], &[a, b, b], metres(0.0)), [(a, b), (b, a)]);
    assert_eq!(built.site.near(&[a, FeatureId(9)], &[FeatureId(9)], metres(5.0)), []);
    for reach in [-1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(built.site.near(&[a], &[b], metres(reach)), []);
    }
}
