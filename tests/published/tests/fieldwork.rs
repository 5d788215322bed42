//! What to take in the field for the examples, with the built-in modules and packs: if every value of the list holds,
//! nothing is left to verify.
//!
//! Source: the promise of the list itself (issue 3, 5); no figure here comes from elsewhere.

#![allow(clippy::expect_used, clippy::panic, reason = "a test ends where something it needs is not there")]

use std::collections::BTreeSet;
use std::sync::Arc;

use groundrule_packs::{Pack, read_pack};
use groundrule_plan::{KindTree, Plan, Remark, Source, read_plan};
use groundrule_review::{CheckRunner, Inputs, Level, Options, Remeasure, Review, Verdict, review};
use groundrule_sandbox::{Answer, Blame, CheckInfo, Limits, Module, Reading, Sandbox, Task};
use groundrule_site::{FeatureId, Measured, Site};
use groundrule_survey::{ErrorTerms, Layout, Owner, Point, SourceId};
use groundrule_units::{Ratio, Style};

/// A built-in module on a site where some lengths were measured by themselves and found as drawn.
struct Sure<'a> {
    module: &'a Module,
    sure: &'a [Vec<FeatureId>],
}

impl CheckRunner for Sure<'_> {
    fn name(&self) -> &str {
        self.module.name()
    }

    fn version(&self) -> Option<&str> {
        CheckRunner::version(self.module)
    }

    fn checks(&self) -> &[CheckInfo] {
        self.module.checks()
    }

    fn run(&self, site: &Arc<Site>, task: &Task) -> Result<(Vec<Reading>, u64), Blame> {
        let (readings, fuel) = CheckRunner::run(self.module, site, task)?;
        let known = |reading: Reading| match reading.answer {
            Answer::Amount(amount) if self.sure.contains(&reading.features) => {
                Reading { answer: Answer::Amount(Measured::exact(amount.value())), ..reading }
            }
            _ => reading,
        };
        Ok((readings.into_iter().map(known).collect(), fuel))
    }
}

struct Office {
    packs: Vec<Pack>,
    modules: Vec<Module>,
}

impl Office {
    fn open() -> Self {
        let pack = |text: &str| {
            let source = Source { name: "pack.toml".to_owned(), text: text.into() };
            read_pack(&source, &KindTree::standard()).expect("a pack")
        };
        let packs = vec![
            pack(include_str!("../../../rules/packs/tern-hollow/pack.toml")),
            pack(include_str!("../../../rules/packs/common-practice/pack.toml")),
        ];
        let sandbox = Sandbox::new(Limits::standard(), None).expect("a sandbox");
        let built_in = groundrule_rules::modules().iter();
        let modules =
            built_in.map(|module| sandbox.load(module.name, module.wasm).expect("a module")).collect();
        Self { packs, modules }
    }

    fn review(&self, plan: &Plan, layout: &Layout, remarks: &[Remark], sure: &[Vec<FeatureId>]) -> Review {
        let (site, _) = Site::build(plan, layout, KindTree::standard());
        let runners: Vec<Sure<'_>> = self.modules.iter().map(|module| Sure { module, sure }).collect();
        let runners: Vec<&dyn CheckRunner> =
            runners.iter().map(|runner| runner as &dyn CheckRunner).collect();
        let inputs = Inputs {
            plan,
            layout,
            site: &Arc::new(site),
            remarks: remarks.to_vec(),
            packs: &self.packs,
            modules: &runners,
            stopped: Vec::new(),
            deviations: &[],
        };
        let level = Level(Ratio::from_fraction(0.95));
        review(inputs, &Options { level, style: Style::FeetInches, date: None })
    }
}

fn open(review: &Review) -> Vec<&str> {
    let verify = review.findings.iter().filter(|finding| finding.verdict == Verdict::Verify);
    verify.map(|finding| finding.id.0.as_str()).collect()
}

/// Takes the errors of these runs of sources out of every point.
fn made_exact(layout: &mut Layout, runs: &BTreeSet<usize>) {
    let owners = layout.sources.clone();
    let exact = |source: SourceId| {
        owners
            .partition_point(|owner| owner.first <= source)
            .checked_sub(1)
            .is_some_and(|run| runs.contains(&run))
    };
    let settle = |point: &mut Point| {
        let left: Vec<_> = point.error.terms().iter().filter(|term| !exact(term.source)).copied().collect();
        point.error = if left.is_empty() { ErrorTerms::Exact } else { ErrorTerms::Sum(left.into()) };
    };
    layout.named.values_mut().for_each(settle);
    for lot in &mut layout.lots {
        lot.ring.iter_mut().chain(lot.sides.iter_mut().flat_map(|side| &mut side.path)).for_each(settle);
    }
    for shape in &mut layout.shapes {
        shape.points_mut().for_each(settle);
    }
}

/// At least so many verdicts are open, and none after the list was taken.
#[track_caller]
fn check(office: &Office, text: &str, least: usize) {
    let plan = read_plan(&Source { name: "plan.toml".to_owned(), text: text.into() }).expect("a plan");
    let (mut layout, remarks) = groundrule_survey::resolve(&plan).expect("a layout");
    let before = office.review(&plan, &layout, &remarks, &[]);
    assert!(open(&before).len() >= least, "{:?}", open(&before));
    let (mut runs, mut sure) = (BTreeSet::new(), Vec::new());
    for retake in &before.retakes {
        match &retake.how {
            Remeasure::Directly { features, .. } => sure.push(features.clone()),
            Remeasure::Again { .. } => {
                let found = layout.sources.iter().position(|source| retake.what == source.describe(&plan));
                runs.insert(found.unwrap_or_else(|| panic!("no reading {}", retake.what)));
            }
            Remeasure::Disputed { measurement, .. } => {
                layout.disputed.remove(measurement);
                let own = layout.sources.iter().enumerate();
                let own = own.filter(|(_, source)| source.owner == Owner::Measurement(*measurement));
                runs.extend(own.map(|(at, _)| at));
            }
            Remeasure::Supply { .. } => {}
        }
    }
    assert!(!sure.is_empty() || !runs.is_empty(), "something is measured");
    made_exact(&mut layout, &runs);
    let after = office.review(&plan, &layout, &remarks, &sure);
    assert_eq!(open(&after), Vec::<&str>::new(), "after {:#?}", before.retakes);
}

#[test]
fn the_list_leaves_nothing_to_verify() {
    let office = Office::open();
    let rough = include_str!("../../../examples/rough-markup.toml");
    check(&office, rough, 6);
    check(&office, &rough.replace("aerial = \"1 ft\"", "aerial = \"0.1 ft\""), 3);
    check(&office, &rough.replace("aerial = \"1 ft\"", "aerial = \"3 ft\""), 6);
    check(&office, include_str!("../../../examples/deed-with-a-slip.toml"), 6);
    check(&office, include_str!("../../../examples/wren-corner.toml"), 3);
}
