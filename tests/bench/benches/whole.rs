//! A typical plan, step by step and whole. The modules are loaded beforehand: what starting them costs is in
//! `sandbox.rs`.

#![allow(clippy::unwrap_used, reason = "a bench that cannot start should stop")]

use std::sync::Arc;

use divan::Bencher;
use groundrule_bench::typical;
use groundrule_packs::{Pack, read_pack};
use groundrule_plan::{KindTree, Plan, Source, read_plan};
use groundrule_report::{Report, html};
use groundrule_review::{CheckRunner, Inputs, Level, Options, Review, review};
use groundrule_sandbox::{Limits, Module, Sandbox};
use groundrule_site::Site;
use groundrule_survey::{Layout, resolve};
use groundrule_units::Style;

fn main() {
    divan::main();
}

/// Everything that a run of the program has before it sees a plan.
struct Ready {
    packs: Vec<Pack>,
    modules: Vec<Module>,
}

impl Ready {
    fn new() -> Self {
        let kinds = KindTree::standard();
        let sandbox = Sandbox::new(Limits::standard(), None).unwrap();
        let pack = |pack: &groundrule_rules::BuiltInPack| {
            read_pack(&Source { name: pack.file.to_owned(), text: pack.text.into() }, &kinds).unwrap()
        };
        let load = |module: &groundrule_rules::BuiltIn| sandbox.load(module.name, module.wasm).unwrap();
        Self {
            packs: groundrule_rules::packs().iter().map(pack).collect(),
            modules: groundrule_rules::modules().iter().map(load).collect(),
        }
    }

    fn review(&self, plan: &Plan, layout: &Layout, site: &Arc<Site>) -> Review {
        let runners: Vec<&dyn CheckRunner> =
            self.modules.iter().map(|module| module as &dyn CheckRunner).collect();
        let inputs = Inputs {
            plan,
            layout,
            site,
            remarks: Vec::new(),
            packs: &self.packs,
            modules: &runners,
            stopped: Vec::new(),
            deviations: &[],
        };
        review(inputs, &Options { level: Level::STANDARD, style: Style::DecimalFeet, date: None })
    }
}

fn source() -> Source {
    Source { name: "typical.toml".to_owned(), text: typical::plan().into() }
}

fn placed(plan: &Plan) -> (Layout, Arc<Site>) {
    let (layout, _) = resolve(plan).unwrap();
    let (site, _) = Site::build(plan, &layout, KindTree::standard());
    (layout, Arc::new(site))
}

#[divan::bench]
fn read(bencher: Bencher<'_, '_>) {
    let source = source();
    bencher.bench_local(|| read_plan(&source).unwrap());
}

#[divan::bench]
fn resolve_and_build(bencher: Bencher<'_, '_>) {
    let plan = read_plan(&source()).unwrap();
    bencher.bench_local(|| placed(&plan));
}

#[divan::bench]
fn review_all_rules(bencher: Bencher<'_, '_>) {
    let ready = Ready::new();
    let plan = read_plan(&source()).unwrap();
    let (layout, site) = placed(&plan);
    bencher.bench_local(|| ready.review(&plan, &layout, &site));
}

#[divan::bench]
fn draw_the_page(bencher: Bencher<'_, '_>) {
    let ready = Ready::new();
    let plan = read_plan(&source()).unwrap();
    let (layout, site) = placed(&plan);
    let review = ready.review(&plan, &layout, &site);
    let report = Report {
        plan: &plan,
        layout: &layout,
        site: &site,
        review: &review,
        style: Style::DecimalFeet,
        error_figures: false,
    };
    bencher.bench_local(|| html::page(&report));
}

#[divan::bench]
fn whole(bencher: Bencher<'_, '_>) {
    let ready = Ready::new();
    let source = source();
    bencher.bench_local(|| {
        let plan = read_plan(&source).unwrap();
        let (layout, site) = placed(&plan);
        let review = ready.review(&plan, &layout, &site);
        let style = Style::DecimalFeet;
        html::page(&Report {
            plan: &plan,
            layout: &layout,
            site: &site,
            review: &review,
            style,
            error_figures: false,
        })
    });
}
