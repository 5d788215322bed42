//! A neighbourhood of thousands of lots, whole: from the text of its map to the text of the report.

#![allow(clippy::unwrap_used, reason = "a bench that cannot start should stop")]

use divan::Bencher;
use groundrule_bench::neighbourhood::{self, Town, map};
use groundrule_packs::{Pack, read_pack};
use groundrule_plan::{KindTree, Source};
use groundrule_report::{Report, json, terminal};
use groundrule_review::Review;
use groundrule_sandbox::{Limits, Module, Sandbox};
use groundrule_units::Style;

const LOTS: [usize; 3] = [1_000, 3_000, 10_000];

fn main() {
    divan::main();
}

/// Everything that a run of the program has before it sees a map.
struct Ready {
    pack: Pack,
    module: Module,
}

impl Ready {
    fn new(features: usize) -> Self {
        let source = Source { name: "neighbourhood.toml".to_owned(), text: neighbourhood::PACK.into() };
        let pack = read_pack(&source, &KindTree::standard()).unwrap();
        let sandbox = Sandbox::new(Limits::for_features(features), None).unwrap();
        let built_in = groundrule_rules::modules().iter().find(|module| module.name == "setbacks").unwrap();
        Self { pack, module: sandbox.load(built_in.name, built_in.wasm).unwrap() }
    }

    fn review(&self, town: &Town) -> Review {
        let review = town.review(&self.pack, &self.module);
        assert!(review.tool.is_empty());
        review
    }
}

fn report<'a>(town: &'a Town, review: &'a Review) -> Report<'a> {
    let Town { plan, layout, site } = town;
    Report { plan, layout, site, review, style: Style::DecimalFeet, error_figures: false }
}

#[divan::bench(args = LOTS, sample_count = 5, sample_size = 1)]
fn read_and_build(bencher: Bencher<'_, '_>, lots: usize) {
    let map = map(lots);
    bencher.bench_local(|| Town::read(&map).unwrap());
}

#[divan::bench(args = LOTS, sample_count = 5, sample_size = 1)]
fn review_every_lot(bencher: Bencher<'_, '_>, lots: usize) {
    let town = Town::read(&map(lots)).unwrap();
    let ready = Ready::new(town.site.len());
    bencher.bench_local(|| ready.review(&town));
}

#[divan::bench(args = LOTS, sample_count = 5, sample_size = 1)]
fn write_for_the_terminal(bencher: Bencher<'_, '_>, lots: usize) {
    let town = Town::read(&map(lots)).unwrap();
    let review = Ready::new(town.site.len()).review(&town);
    bencher.bench_local(|| terminal::review(&report(&town, &review), 80, false));
}

#[divan::bench(args = LOTS, sample_count = 5, sample_size = 1)]
fn whole(bencher: Bencher<'_, '_>, lots: usize) {
    let map = map(lots);
    let ready = Ready::new(Town::read(&map).unwrap().site.len());
    bencher.bench_local(|| {
        let town = Town::read(&map).unwrap();
        let review = ready.review(&town);
        json::v1::reports(&[report(&town, &review)])
    });
}
