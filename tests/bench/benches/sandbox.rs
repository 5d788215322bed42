//! What the sandbox costs: starting a module cold and warm, and one check inside and outside it.

#![allow(clippy::unwrap_used, reason = "a bench that cannot start should stop")]

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

use divan::Bencher;
use groundrule_bench::native::Native;
use groundrule_bench::quarter;
use groundrule_kit::Check as _;
use groundrule_sandbox::{CodeCache, Limits, Sandbox};
use groundrule_setbacks::LotLineDistance;

fn main() {
    divan::main();
}

/// Compiled code kept in memory, as the program keeps it in the user's cache folder.
#[derive(Clone, Default)]
struct Kept(Arc<Mutex<BTreeMap<String, Vec<u8>>>>);

impl CodeCache for Kept {
    fn load(&self, key: &str) -> Option<Vec<u8>> {
        self.0.lock().unwrap().get(key).cloned()
    }

    fn store(&self, key: &str, bytes: &[u8]) {
        self.0.lock().unwrap().insert(key.to_owned(), bytes.to_vec());
    }
}

fn sandbox(cache: Option<Kept>) -> Sandbox {
    let cache = cache.map(|kept| Box::new(kept) as Box<dyn CodeCache>);
    Sandbox::new(Limits::standard(), cache).unwrap()
}

fn setbacks() -> &'static [u8] {
    groundrule_rules::modules().iter().find(|module| module.name == "setbacks").unwrap().wasm
}

/// A new engine, and the module compiled.
#[divan::bench]
fn start_cold(bencher: Bencher<'_, '_>) {
    bencher.bench_local(|| sandbox(None).load("setbacks", setbacks()).unwrap());
}

/// A new engine, and the module's code from the cache.
#[divan::bench]
fn start_warm(bencher: Bencher<'_, '_>) {
    let kept = Kept::default();
    sandbox(Some(kept.clone())).load("setbacks", setbacks()).unwrap();
    bencher.bench_local(|| sandbox(Some(kept.clone())).load("setbacks", setbacks()).unwrap());
}

/// Every house of so many lots to the four lines of its lot, with no sandbox between.
#[divan::bench(args = [50, 2_500])]
fn yards_native(bencher: Bencher<'_, '_>, lots: usize) {
    let site = quarter::site(lots).unwrap();
    let task = quarter::yards(&site);
    bencher.bench_local(|| LotLineDistance::run(&Native::new(&site, &task)).unwrap());
}

/// The same in the sandbox, in a fresh store each time.
#[divan::bench(args = [50, 2_500])]
fn yards_sandboxed(bencher: Bencher<'_, '_>, lots: usize) {
    let site = Arc::new(quarter::site(lots).unwrap());
    let task = quarter::yards(&site);
    let module = sandbox(None).load("setbacks", setbacks()).unwrap();
    bencher.bench_local(|| module.run(&site, &task).unwrap());
}
