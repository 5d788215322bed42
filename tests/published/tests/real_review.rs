//! Real building footprints, plots and streets through the whole program: file, site, sandboxed modules, limits,
//! verdicts. What each finding shows is compared with values that another language and other libraries computed
//! from the same file; see `real_footprints.rs` for the data and where the values come from.

#![allow(clippy::expect_used, clippy::panic, reason = "a test ends where something it needs is not there")]

use std::collections::BTreeMap;
use std::sync::Arc;

use groundrule_formats::{Layers, Options as Reading, Use, geopackage};
use groundrule_packs::read_pack;
use groundrule_plan::{KindTree, Source};
use groundrule_review::{CheckRunner, Finding, Inputs, Level, Options, Review, Verdict, review};
use groundrule_sandbox::{Limits, Module, Sandbox};
use groundrule_site::Site;
use groundrule_units::{Ratio, Style};
use serde_json::Value;

/// Lengths in the expected values are rounded to a micrometre and the two planes differ by less.
const LENGTH: f64 = 5e-6;

/// The same questions that the expected values answer, with limits that do not matter here.
const PACK: &str = r#"
[pack]
name = "footprints"
title = "Yards, separations and coverage of real footprints"
version = "1.0.0"
agency = "nobody"
invented = true

[[rule]]
id = "front"
title = "Front"
check = "setbacks/lot-line-distance"
subject = { kind = "structure" }
to.lines = { kind = "lot-line", role = "front" }
limit = { at_least = "2 m" }
weight = "required"
standing = "illustrative"
source = "none"
why = "To measure."
message = "{subject} stands {shown} from {other}."

[[rule]]
id = "side"
title = "Side"
check = "setbacks/lot-line-distance"
subject = { kind = "structure" }
to.lines = { kind = "lot-line", role = "side" }
limit = { at_least = "2 m" }
weight = "required"
standing = "illustrative"
source = "none"
why = "To measure."
message = "{subject} stands {shown} from {other}."

[[rule]]
id = "rear"
title = "Rear"
check = "setbacks/lot-line-distance"
subject = { kind = "structure" }
to.lines = { kind = "lot-line", role = "rear" }
limit = { at_least = "2 m" }
weight = "required"
standing = "illustrative"
source = "none"
why = "To measure."
message = "{subject} stands {shown} from {other}."

[[rule]]
id = "coverage"
title = "Coverage"
check = "setbacks/cover-share"
subject = { kind = "lot" }
to.covering = { kind = "structure" }
limit = { at_most = "35 %" }
weight = "required"
standing = "illustrative"
source = "none"
why = "To measure."
message = "{subject} is covered by {shown}."

[[rule]]
id = "separation"
title = "Separation"
check = "setbacks/separation"
subject = { kind = "structure" }
to.others = { kind = "structure" }
with = { reach = "10 ft" }
limit = { at_least = "10 ft" }
weight = "required"
standing = "illustrative"
source = "none"
why = "To measure."
message = "{subject} stands {shown} from {other}."
"#;

#[allow(
    clippy::disallowed_methods,
    reason = "a test of a file on disk; the path comes from whoever downloaded it"
)]
fn reviewed() -> Review {
    let path = std::env::var("GROUNDRULE_FOOTPRINTS")
        .expect("GROUNDRULE_FOOTPRINTS must name bubenec.gpkg; see the head of real_footprints.rs");
    let bytes = std::fs::read(&path).expect("the file GROUNDRULE_FOOTPRINTS names");
    let layers = BTreeMap::from([
        ("plots".to_owned(), Use::Lots),
        ("buildings".to_owned(), Use::Buildings),
        ("streets".to_owned(), Use::Streets),
    ]);
    let reading = Reading::new("Real footprints", Layers::Named(layers));
    let plan = geopackage::read_bytes("bubenec.gpkg", &bytes, &reading).expect("a plan");
    let (layout, remarks) = groundrule_survey::resolve(&plan).expect("a layout");
    let kinds = KindTree::standard();
    let (site, _) = Site::build(&plan, &layout, kinds.clone());
    let site = Arc::new(site);
    let pack =
        read_pack(&Source { name: "pack.toml".to_owned(), text: PACK.into() }, &kinds).expect("a pack");
    let sandbox = Sandbox::new(Limits::standard(), None).expect("a sandbox");
    let modules: Vec<Module> = groundrule_rules::modules()
        .iter()
        .filter(|built_in| built_in.name == "setbacks")
        .map(|built_in| sandbox.load(built_in.name, built_in.wasm).expect("a module"))
        .collect();
    let modules: Vec<&dyn CheckRunner> = modules.iter().map(|module| module as &dyn CheckRunner).collect();
    let inputs = Inputs {
        plan: &plan,
        layout: &layout,
        site: &site,
        remarks,
        packs: &[pack],
        modules: &modules,
        stopped: Vec::new(),
        deviations: &[],
    };
    review(inputs, &Options { level: Level(Ratio::from_fraction(0.95)), style: Style::Metres, date: None })
}

fn expected() -> Value {
    serde_json::from_str(include_str!("../data/real_footprints.json")).expect("values")
}

fn rows(table: &Value) -> impl Iterator<Item = &Vec<Value>> {
    table.as_array().expect("a table").iter().map(|row| row.as_array().expect("a row"))
}

/// The amounts that findings of a rule show, by the subject's id.
fn shown<'a>(review: &'a Review, rule: &str) -> impl Iterator<Item = (&'a Finding, f64)> {
    let of_rule = review.findings.iter().filter(move |finding| finding.rule.0 == rule);
    of_rule.filter_map(|finding| Some((finding, finding.shown.as_ref()?.value.si())))
}

#[track_caller]
fn close(what: &str, found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, expected {expected}");
}

#[test]
fn every_rule_over_every_lot() {
    let review = reviewed();
    assert!(review.tool.is_empty(), "{:?}", review.tool);
    let table = expected();
    let finite: Vec<usize> = ["front", "side", "rear"].map(|rule| yards(&review, rule, &table)).into();
    assert_eq!(finite, [106, 106, 106]);
    assert_eq!(coverage(&review, &table), 123);
    assert_eq!(separations(&review, &table), 17);
    // A map good to 5 ft settles few yards of 2 m: most are told to be verified, none silently passes.
    let verify = review.findings.iter().filter(|finding| finding.verdict == Verdict::Verify).count();
    assert!(verify > 50, "{verify}");
    let unmeasured = review.findings.iter().filter(|f| f.shown.is_none());
    assert!(unmeasured.into_iter().all(|f| matches!(f.verdict, Verdict::Missing | Verdict::NotApplicable)));
}

/// Compares the least yard of each building; how many there are.
fn yards(review: &Review, rule: &str, expected: &Value) -> usize {
    let column = ["front", "side", "rear"].iter().position(|name| *name == rule).expect("a rule") + 4;
    let mut least: BTreeMap<&str, f64> = BTreeMap::new();
    for (finding, value) in shown(review, rule) {
        // A building beyond its line has a yard below zero, and a distance of zero to that line.
        let away = least.entry(&finding.names[0].0).or_insert(f64::INFINITY);
        *away = away.min(value.max(0.0));
    }
    let mut compared = 0;
    for row in rows(&expected["yards"]) {
        let name = format!("building-{}", row[0]);
        let found = least.get(name.as_str()).copied();
        assert_eq!(found.is_some(), row[column].is_number(), "{rule} of {name}");
        if let (Some(found), Some(value)) = (found, row[column].as_f64()) {
            // Buildings are drawn onto their lines, and a hair beyond one is no distance any more.
            let tolerance = if found == 0.0 { 1e-3 } else { LENGTH };
            close(&format!("{rule} of {name}"), found, value, tolerance);
            compared += 1;
        }
    }
    compared
}

fn coverage(review: &Review, expected: &Value) -> usize {
    let shares: BTreeMap<&str, f64> =
        shown(review, "coverage").map(|(finding, value)| (finding.names[0].0.as_str(), value)).collect();
    let mut compared = 0;
    for row in rows(&expected["coverage"]) {
        let name = format!("lot-{}", row[0]);
        let value = row[3].as_f64().expect("a share of all that stands on it");
        close(&format!("share of {name}"), shares[name.as_str()], value, 1e-5);
        compared += 1;
    }
    compared
}

fn separations(review: &Review, expected: &Value) -> usize {
    let pair = |a: String, b: String| if a < b { (a, b) } else { (b, a) };
    let mut found: BTreeMap<(String, String), f64> = shown(review, "separation")
        .map(|(finding, value)| (pair(finding.names[0].0.clone(), finding.names[1].0.clone()), value))
        .collect();
    let plots: BTreeMap<u64, u64> =
        rows(&expected["yards"]).filter_map(|row| Some((row[0].as_u64()?, row[1].as_u64()?))).collect();
    let plot = |building: &Value| plots.get(&building.as_u64().expect("a building"));
    let mut compared = 0;
    // The check is about buildings of one lot; across a line the yards say what is asked.
    for row in rows(&expected["separations"]).filter(|row| plot(&row[0]) == plot(&row[1])) {
        let key = pair(format!("building-{}", row[0]), format!("building-{}", row[1]));
        let value = found.remove(&key).unwrap_or_else(|| panic!("{key:?} not answered"));
        close(&format!("{key:?}"), value, row[2].as_f64().expect("a distance"), LENGTH);
        compared += 1;
    }
    assert!(found.is_empty(), "answered, but not expected: {found:?}");
    compared
}
