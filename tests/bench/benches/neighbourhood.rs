//! A neighbourhood of thousands of lots, whole: from the text of its map to the text of the report.

#![allow(clippy::unwrap_used, reason = "a bench that cannot start should stop")]

use std::collections::BTreeMap;
use std::sync::Arc;

use divan::Bencher;
use groundrule_bench::neighbourhood;
use groundrule_formats::{Layers, Options as Reading, Use, geojson};
use groundrule_packs::{Pack, read_pack};
use groundrule_plan::{KindTree, Plan, Source};
use groundrule_report::{Report, json, terminal};
use groundrule_review::{CheckRunner, Inputs, Level, Options, Review, review};
use groundrule_sandbox::{Limits, Module, Sandbox};
use groundrule_site::Site;
use groundrule_survey::{Layout, resolve};
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
        let runners: [&dyn CheckRunner; 1] = [&self.module];
        let inputs = Inputs {
            plan: &town.plan,
            layout: &town.layout,
            site: &town.site,
            remarks: Vec::new(),
            packs: std::slice::from_ref(&self.pack),
            modules: &runners,
            stopped: Vec::new(),
            deviations: &[],
        };
        let review =
            review(inputs, &Options { level: Level::STANDARD, style: Style::DecimalFeet, date: None });
        assert!(review.tool.is_empty());
        review
    }
}

struct Town {
    plan: Plan,
    layout: Layout,
    site: Arc<Site>,
}

impl Town {
    fn read(source: &Source) -> Self {
        let layers = [("plots", Use::Lots), ("buildings", Use::Buildings), ("streets", Use::Streets)];
        let layers: BTreeMap<String, Use> =
            layers.into_iter().map(|(name, role)| (name.to_owned(), role)).collect();
        let plan = geojson::read(source, &Reading::new("Neighbourhood", Layers::Named(layers))).unwrap();
        let (layout, _) = resolve(&plan).unwrap();
        let (site, _) = Site::build(&plan, &layout, KindTree::standard());
        Self { plan, layout, site: Arc::new(site) }
    }

    fn report<'a>(&'a self, review: &'a Review) -> Report<'a> {
        let Self { plan, layout, site, .. } = self;
        Report { plan, layout, site, review, style: Style::DecimalFeet, error_figures: false }
    }
}

fn map(lots: usize) -> Source {
    Source { name: "neighbourhood.geojson".to_owned(), text: neighbourhood::geojson(lots).into() }
}

#[divan::bench(args = LOTS, sample_count = 5, sample_size = 1)]
fn read_and_build(bencher: Bencher<'_, '_>, lots: usize) {
    let map = map(lots);
    bencher.bench_local(|| Town::read(&map));
}

#[divan::bench(args = LOTS, sample_count = 5, sample_size = 1)]
fn review_every_lot(bencher: Bencher<'_, '_>, lots: usize) {
    let town = Town::read(&map(lots));
    let ready = Ready::new(town.site.len());
    bencher.bench_local(|| ready.review(&town));
}

#[divan::bench(args = LOTS, sample_count = 5, sample_size = 1)]
fn write_for_the_terminal(bencher: Bencher<'_, '_>, lots: usize) {
    let town = Town::read(&map(lots));
    let review = Ready::new(town.site.len()).review(&town);
    bencher.bench_local(|| terminal::review(&town.report(&review), 80, false));
}

#[divan::bench(args = LOTS, sample_count = 5, sample_size = 1)]
fn whole(bencher: Bencher<'_, '_>, lots: usize) {
    let map = map(lots);
    let ready = Ready::new(Town::read(&map).site.len());
    bencher.bench_local(|| {
        let town = Town::read(&map);
        let review = ready.review(&town);
        json::v1::reports(&[town.report(&review)])
    });
}
