//! The ground of a lot with two hundred levels: making both surfaces, and everything asked of them. The surface by
//! itself, to a million levels, is in `core/terrain/benches`.

#![allow(clippy::unwrap_used, reason = "a bench that cannot start should stop")]

use divan::Bencher;
use groundrule_bench::levelled;
use groundrule_plan::{KindTree, Plan, Source, read_plan};
use groundrule_site::Site;
use groundrule_site::ground::Figure;
use groundrule_survey::Surface::{Existing, Proposed};
use groundrule_survey::{Layout, resolve};
use groundrule_units::{Length, Ratio};

fn main() {
    divan::main();
}

fn resolved() -> (Plan, Layout) {
    let source = Source { name: "levelled.toml".to_owned(), text: levelled::plan().into() };
    let plan = read_plan(&source).unwrap();
    let (layout, _) = resolve(&plan).unwrap();
    (plan, layout)
}

fn site() -> Site {
    let (plan, layout) = resolved();
    Site::build(&plan, &layout, KindTree::standard()).0
}

/// The site with both surfaces.
#[divan::bench]
fn building(bencher: Bencher) {
    let (plan, layout) = resolved();
    bencher.bench_local(|| Site::build(&plan, &layout, KindTree::standard()));
}

/// The fall beside each wall of the house, the steepest of the lot, banks.
#[divan::bench]
fn slopes(bencher: Bencher) {
    let site = site();
    let (house, lot) = (site.find("house").unwrap(), site.find("lot").unwrap());
    bencher.bench_local(|| {
        let falls = site.falls(Proposed, house, Length::from_feet(10.0), &[], &[]);
        let steepest = site.slope_over(Existing, lot, Figure::Greatest);
        (falls, steepest, site.faces(Proposed, lot, Ratio::from_fraction(0.2)))
    });
}

/// The hollows of the lot and the deepest of them.
#[divan::bench]
fn hollows(bencher: Bencher) {
    let site = site();
    let lot = site.find("lot").unwrap();
    bencher.bench_local(|| (site.hollows(Existing, lot, &[]), site.deepest(Existing, lot, &[])));
}

/// Where the water of the drive and the roof runs.
#[divan::bench]
fn courses(bencher: Bencher) {
    let site = site();
    let [house, drive] = ["house", "drive"].map(|id| site.find(id).unwrap());
    bencher.bench_local(|| {
        [house, drive].map(|from| site.courses(Proposed, from, &[], &[], true).map(|courses| courses.len()))
    });
}

/// How sure it is that the drive sheds no water to the house: 64 surfaces drawn.
#[divan::bench]
fn keeps_clear(bencher: Bencher) {
    let site = site();
    let [house, drive] = ["house", "drive"].map(|id| site.find(id).unwrap());
    bencher.bench_local(|| site.keeps_clear(Proposed, drive, house));
}

/// What leaves over each line of the lot, with its spread.
#[divan::bench]
fn leaves_over(bencher: Bencher) {
    let site = site();
    let lot = site.find("lot").unwrap();
    bencher.bench_local(|| site.leaves_over(Proposed, lot).map(|lines| lines.len()));
}

/// Cut and fill between the two surfaces.
#[divan::bench]
fn earth(bencher: Bencher) {
    let site = site();
    let lot = site.find("lot").unwrap();
    bencher.bench_local(|| site.earth(lot));
}
