//! What the sandbox does with modules that do wrong, with modules of other versions, and with its cache.

#![allow(clippy::expect_used, clippy::panic, reason = "a test ends where something it needs is not there")]

mod cache;
mod fixtures;
mod fuel;
mod garden;
mod interface;
mod witness;
mod wrongs;

use std::collections::BTreeMap;
use std::sync::Arc;

use groundrule_sandbox::{Blame, Limits, Module, Reading, Sandbox, Task};
use groundrule_site::Site;

/// The guest with a check for each way of doing wrong.
static MISFIT: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/groundrule-misfit.wasm"));
/// The guest that does as it should.
static WITNESS: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/groundrule-witness.wasm"));

/// Limits that are reached soon enough for a test.
fn tight() -> Limits {
    Limits { fuel: 50_000_000, amounts: 10_000, ..Limits::standard() }
}

fn sandbox() -> Sandbox {
    Sandbox::new(tight(), None).expect("the engine starts")
}

fn load(sandbox: &Sandbox, name: &str, bytes: &[u8]) -> Module {
    sandbox.load(name, bytes).unwrap_or_else(|blame| panic!("{blame}"))
}

/// A task about some features, with the rest of the garden as its group.
fn task(site: &Site, check: &str, subjects: &[&str]) -> Task {
    let subjects: Vec<_> =
        subjects.iter().map(|id| site.find(id).expect("a feature of the garden")).collect();
    let all = ["house", "shed", "pond", "tree"].into_iter().filter_map(|id| site.find(id));
    let others = all.filter(|id| !subjects.contains(id)).collect();
    Task {
        check: check.to_owned(),
        rule: format!("garden-{check}"),
        subjects,
        groups: BTreeMap::from([("others".to_owned(), others)]),
        parameters: BTreeMap::from([
            ("reach".to_owned(), garden::reach()),
            ("rate".to_owned(), garden::rate()),
        ]),
    }
}

fn run(module: &Module, site: &Arc<Site>, check: &str) -> Result<(Vec<Reading>, u64), Blame> {
    module.run(site, &task(site, check, &["house"]))
}
