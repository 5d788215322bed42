//! The invented neighbourhood has the yards, gaps and shares that it is drawn with.
//!
//! Two blocks of 24 lots: 48 houses and 32 sheds, 16 buildings on the eight corner lots. Numbers and sums follow from
//! the figures in `src/neighbourhood.rs` by hand. Real footprints are compared value by value with the vectorised
//! script, by `neighbourhood_compare.py`.

#![allow(clippy::unwrap_used, reason = "a test ends where something it needs is not there")]

use groundrule_bench::neighbourhood::{self, Town, map};
use groundrule_packs::read_pack;
use groundrule_plan::{KindTree, Source};
use groundrule_review::Review;
use groundrule_sandbox::{Limits, Sandbox};

fn reviewed(lots: usize) -> Review {
    let town = Town::read(&map(lots)).unwrap();
    let source = Source { name: "neighbourhood.toml".to_owned(), text: neighbourhood::PACK.into() };
    let pack = read_pack(&source, &KindTree::standard()).unwrap();
    let sandbox = Sandbox::new(Limits::for_features(town.site.len()), None).unwrap();
    let built_in = groundrule_rules::modules().iter().find(|module| module.name == "setbacks").unwrap();
    town.review(&pack, &sandbox.load(built_in.name, built_in.wasm).unwrap())
}

#[track_caller]
fn check(review: &Review, rule: &str, number: usize, sum: f64) {
    let of_rule = review.findings.iter().filter(|finding| finding.rule.0 == rule);
    let shown: Vec<f64> = of_rule.filter_map(|f| Some(f.shown.as_ref()?.value.si())).collect();
    assert_eq!(shown.len(), number, "{rule}");
    // The map is in degrees, of so many metres to four figures only.
    let total: f64 = shown.iter().sum();
    assert!((total - sum).abs() <= 1e-3 * sum, "{rule}: {total}, expected {sum}");
}

#[test]
fn two_blocks() {
    let review = reviewed(48);
    assert!(review.tool.is_empty(), "{:?}", review.tool);
    // Four rows: houses set back by 81 m together, eight sheds by 54 m and 11.5 m more each.
    check(&review, "front", 80, 4.0 * (81.0 + 54.0 + 8.0 * 11.5));
    // The rest of 40 m beyond 9 m of house, and beyond 3 m of shed.
    check(&review, "rear", 80, 4.0 * (12.0 * 31.0 - 81.0 + 8.0 * (37.0 - 11.5) - 54.0));
    check(&review, "separation", 32, 32.0 * 2.5);
    check(&review, "share", 48, 4.0 * (9.0 * (12.0 * 11.0 + 12.0) + 8.0 * 12.0) / 800.0);
    // On the left corner lot 1 m to house and shed; on the right one 20 m less 3 m and 13 m of house, less 4 m and 4 m
    // of shed.
    check(&review, "street-side", 16, 4.0 * (1.0 + 1.0 + 4.0 + 12.0));
    let sides = review.findings.iter().filter(|f| f.rule.0 == "side" && f.shown.is_some());
    assert_eq!(sides.count(), 144);
}
