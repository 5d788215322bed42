//! What a sheet must show, through the program: a full sheet, and each thing taken off it in turn.

#![allow(
    clippy::disallowed_methods,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test writes a plan as a person does, and ends where it cannot"
)]

mod support;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use serde_json::Value;
use support::{groundrule_in, told};

/// An invented lot of 12,000 sq ft on which every item of the list is shown, for no permit in particular.
const FULL: &str = include_str!("support/full-sheet.toml");

/// The findings of a pack on each plan, by one run of the program.
fn findings(plans: &[String], pack: &str) -> Vec<Vec<Value>> {
    let folder = tempfile::tempdir().unwrap();
    let names: Vec<String> = (0..plans.len()).map(|i| format!("plan-{i}.toml")).collect();
    for (name, plan) in names.iter().zip(plans) {
        fs::write(folder.path().join(name), plan).unwrap();
    }
    let options = ["--write", "r.json", "--quiet", "--pack", pack];
    let args: Vec<&str> =
        ["review"].into_iter().chain(names.iter().map(String::as_str)).chain(options).collect();
    let output = groundrule_in(folder.path(), &args, &[]);
    let report = fs::read_to_string(folder.path().join("r.json"))
        .unwrap_or_else(|why| panic!("{why}: {}", told(&output)));
    let report: Value = serde_json::from_str(&report).unwrap();
    let of_plan = |plan: &Value| plan["findings"].as_array().unwrap().clone();
    let all: Vec<Vec<Value>> = report["plans"].as_array().unwrap().iter().map(of_plan).collect();
    assert_eq!(all.len(), plans.len(), "{}", told(&output));
    all
}

fn of_plan(plan: &str) -> Vec<Value> {
    findings(&[plan.to_owned()], "submittal").remove(0)
}

/// The verdicts of each rule.
fn verdicts(findings: &[Value]) -> BTreeMap<&str, Vec<&str>> {
    let mut verdicts: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for finding in findings {
        verdicts.entry(finding["rule"].as_str().unwrap()).or_default().push(finding["verdict"].as_str().unwrap());
    }
    verdicts
}

/// The rules of one verdict.
fn rules<'f>(findings: &'f [Value], verdict: &str) -> BTreeSet<&'f str> {
    let of_verdict = findings.iter().filter(|finding| finding["verdict"] == verdict);
    of_verdict.map(|finding| finding["rule"].as_str().unwrap()).collect()
}

/// The full sheet with one text in place of another, which must be there.
fn edited(from: &str, to: &str) -> String {
    assert!(FULL.contains(from), "the full sheet has no {from}");
    FULL.replacen(from, to, 1)
}

fn for_permit(plan: &str, permit: &str) -> String {
    plan.replacen("[site]", &format!("[site]\npermit = \"{permit}\""), 1)
}

/// What to take off the full sheet, or to change on it, and what becomes of the rule.
const CASES: &[(&str, &str, &str, &str)] = &[
    ("work-told-apart", "status = \"proposed\"", "status = \"existing\"", "missing"),
    ("work-told-apart", "kind = \"carport\"\nstatus = \"existing\"", "kind = \"carport\"", "missing"),
    ("removals", "removals = \"none\"", "", "missing"),
    ("existing-structures", "outline = [[20, 30], [60, 30], [60, 65], [20, 65]]", "", "missing"),
    ("structure-sizes", "stated_area = \"120 sq ft\"", "", "missing"),
    ("structure-uses", "use = \"tools\"", "", "missing"),
    ("structure-heights", "height = \"9 ft\"", "", "missing"),
    ("eaves", "eave = \"2 ft\"", "", "missing"),
    ("decks", "height_above_grade = \"18 in\"", "", "missing"),
    ("drives-and-parking", "surface = \"asphalt\"", "", "missing"),
    ("drive-slope", "slope = \"4 %\"", "", "missing"),
    ("walks-and-paving", "surface = \"brick\"", "", "missing"),
    ("fences-and-gates", "height = \"6 ft\"", "", "missing"),
    ("walls", "height = \"2 ft\"", "", "missing"),
    ("trees", "species = \"Quercus macrocarpa\"", "", "missing"),
    ("trees", "trunk = \"22 in\"", "", "missing"),
    ("lot-lines", "corners = [[0, 0], [100, 0], [100, 120], [0, 120]]", "corners = [[0, 0], [100, 0], [0, 120], [100, 120]]", "missing"),
    ("distances-to-lines", "outline = [[20, 30], [60, 30], [60, 65], [20, 65]]", "", "missing"),
    ("distances-between", "outline = [[20, 30], [60, 30], [60, 65], [20, 65]]", "", "missing"),
    ("street", ", street = \"Heron Lane\"", "", "missing"),
    ("right-of-way", "right_of_way = \"60 ft\"", "", "missing"),
    ("public-walk", "public_walk = \"shown\"", "public_walk = \"unknown\"", "missing"),
    ("easements", "purpose = \"pipes\"", "", "missing"),
    ("bearings", "bearing = \"N 4°30' E\", ", "", "fault"),
    ("legal-description", "legal_description = \"Lot 3, Block 2, Sorrel Addition\"", "", "missing"),
    ("address", "address = \"12 Heron Lane\"", "", "missing"),
    ("adjoining-buildings", "adjoining_buildings = \"shown\"", "", "missing"),
    ("setback-lines", "setback_lines = true", "setback_lines = false", "missing"),
    ("zone-standards", "zone_standards = true", "", "missing"),
    ("utilities", "kind = \"gas-line\"", "kind = \"overhead-wire\"", "missing"),
    ("overhead-wires", "kind = \"overhead-wire\"", "kind = \"gas-line\"", "missing"),
    ("septic", "kind = \"septic-tank\"", "kind = \"well\"", "missing"),
    ("wells", "kind = \"well\"", "kind = \"septic-tank\"", "missing"),
    ("critical-areas", "wetlands = \"none\"", "", "missing"),
    ("ponds-and-streams", "kind = \"pond\"", "kind = \"rain-garden\"", "missing"),
    ("roof-water", "roof_water = \"to the pond\"", "", "missing"),
    ("ground-slope", "ground_slope = \"2 %\"", "", "missing"),
    ("spot-levels", "level = \"100 ft\"", "", "missing"),
    ("drainage", "drainage_arrows = true", "", "missing"),
    ("datum", "datum = \"rim of the manhole, 100.00\"", "", "missing"),
    ("erosion-control", "erosion_control = true", "", "missing"),
    ("coverage-figures", "hard_surface = \"21.3 %\"", "", "missing"),
    ("water-definition", "water_counted = false", "", "missing"),
    ("scale", "scale = \"1 in = 20 ft\"", "", "missing"),
    ("north-arrow", "arrow = \"up\"", "", "missing"),
    ("date", "date = 2026-04-18", "", "missing"),
    ("owner-and-preparer", "drawn_by = \"A. Student\"", "", "missing"),
    ("owner-and-preparer", "owner = \"the owner\"", "", "missing"),
    ("seal", "seal = true", "seal = false", "missing"),
    ("vicinity-map", "vicinity_map = true", "", "missing"),
    ("legend", "legend = true", "", "missing"),
    ("scale-bar", "scale_bar = true", "", "missing"),
    ("sheet-size", "size = [\"24 in\", \"18 in\"]", "", "missing"),
    ("scale-of-print", "on_paper = \"5 in\"", "on_paper = \"6.25 in\"", "fails"),
    ("arrow-to-north", "arrow = \"up\"", "arrow = \"6 deg clockwise of up\"", "fails"),
    ("lot-area", "area = \"12,000 sq ft\"", "area = \"12,300 sq ft\"", "fails"),
    ("structure-areas", "stated_area = \"120 sq ft\"", "stated_area = \"144 sq ft\"", "fails"),
    ("building-coverage", "building_coverage = \"15.7 %\"", "building_coverage = \"16.5 %\"", "fails"),
    ("hard-surface", "hard_surface = \"21.3 %\"", "hard_surface = \"20.7 %\"", "fails"),
];

/// Rules asked only of some permit, with what is added for it and what is then taken off again.
const OF_PERMITS: &[(&str, &str, &str, &str, &str)] = &[
    ("pool", "pool", POOL, "depth = \"6 ft\"", ""),
    ("pool-equipment", "pool", POOL, "kind = \"pool-pump\"", "kind = \"generator\""),
    ("landscape-beds", "landscape", BED, "kind = \"bed\"", "kind = \"zone\""),
    ("landscape-area", "landscape", BED, "landscape_area = \"400 sq ft\"", ""),
    ("hard-surface-with-water", "pool", COUNTED, "hard_surface = \"23.0 %\"", "hard_surface = \"21.3 %\""),
];

const POOL: &str = "
[[feature]]
id = \"pool\"
kind = \"pool\"
status = \"proposed\"
box = { at = [70, 60], size = [20, 10] }
depth = \"6 ft\"

[[feature]]
id = \"pump\"
kind = \"pool-pump\"
status = \"proposed\"
box = { at = [94, 60], size = [1, 1] }
";
const COUNTED: &str = POOL;
const BED: &str = "
[[feature]]
id = \"roses\"
kind = \"bed\"
box = { at = [70, 60], size = [20, 20] }
";

#[test]
fn each_item_is_there_or_missing() {
    let plans: Vec<String> = std::iter::once(FULL.to_owned())
        .chain(CASES.iter().map(|(_, from, to, _)| edited(from, to)))
        .collect();
    let all = findings(&plans, "submittal");
    let full = verdicts(&all[0]);
    for ((rule, from, to, expected), findings) in CASES.iter().zip(&all[1..]) {
        let before = full.get(rule).unwrap_or_else(|| panic!("no rule {rule}"));
        assert!(before.iter().all(|verdict| *verdict == "meets"), "{rule} on the full sheet: {before:?}");
        let verdicts = verdicts(findings);
        assert!(verdicts[rule].contains(expected), "{rule}, {from:?} -> {to:?}: {:?}", verdicts[rule]);
    }
}
