//! What a sheet must show, through the program: a full sheet, and each thing taken off it in turn.

#![allow(
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test ends where its plan does not give what it is about"
)]

#[path = "support/reviews.rs"]
mod reviews;
mod support;

use std::collections::{BTreeMap, BTreeSet};

use reviews::{findings, of_plan};
use serde_json::Value;

/// An invented lot of 12,000 sq ft on which every item of the list is shown, for no permit in particular.
const FULL: &str = include_str!("support/full-sheet.toml");

/// The verdicts of each rule.
fn verdicts(findings: &[Value]) -> BTreeMap<&str, Vec<&str>> {
    let mut verdicts: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for finding in findings {
        verdicts
            .entry(finding["rule"].as_str().unwrap())
            .or_default()
            .push(finding["verdict"].as_str().unwrap());
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
    (
        "lot-lines",
        "corners = [[0, 0], [100, 0], [100, 120], [0, 120]]",
        "corners = [[0, 0], [100, 0], [0, 120], [100, 120]]",
        "missing",
    ),
    ("distances-to-lines", "outline = [[20, 30], [60, 30], [60, 65], [20, 65]]", "", "missing"),
    ("distances-between", "outline = [[20, 30], [60, 30], [60, 65], [20, 65]]", "", "missing"),
    ("street", ", street = \"Heron Lane\"", "", "missing"),
    ("right-of-way", "right_of_way = \"60 ft\"", "", "missing"),
    ("public-walk", "public_walk = \"shown\"", "public_walk = \"unknown\"", "missing"),
    ("easements", "purpose = \"pipes\"", "", "missing"),
    ("bearings", TRAVERSE, "", "missing"),
    ("record-description", "record_description = \"Lot 3, Block 2, Sorrel Addition\"", "", "missing"),
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

const TRAVERSE: &str = "[[traverse]]
from = \"lot.c1\"
calls = [{ to = \"lot.c2\", bearing = \"due east\", distance = \"100 ft\" }]
by = \"survey\"
";

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

#[test]
fn what_only_some_permits_ask() {
    let base = |permit: &str, added: &str| {
        let plan = for_permit(FULL, permit) + added;
        if added == COUNTED {
            return plan.replacen("water_counted = false", "water_counted = true", 1).replacen(
                "hard_surface = \"21.3 %\"",
                "hard_surface = \"23.0 %\"",
                1,
            );
        }
        plan
    };
    let mut plans = Vec::new();
    for (rule, permit, added, from, to) in OF_PERMITS {
        let whole = base(permit, added);
        assert!(whole.contains(from), "{rule}: nothing to take off by {from}");
        plans.extend([whole.replacen(from, to, 1), whole]);
    }
    for ((rule, ..), pair) in OF_PERMITS.iter().zip(findings(&plans, "submittal").chunks(2)) {
        let [without, whole] = pair else { panic!("two plans for each case") };
        assert_eq!(verdicts(whole)[rule], ["meets"], "{rule}");
        let verdict = verdicts(without)[rule][0];
        assert!(["missing", "fails"].contains(&verdict), "{rule}: {verdict}");
    }
}

#[test]
fn every_rule_of_the_pack_has_a_case() {
    let cases: BTreeSet<&str> =
        CASES.iter().map(|case| case.0).chain(OF_PERMITS.iter().map(|case| case.0)).collect();
    let full = of_plan(FULL);
    let asked: BTreeSet<&str> = verdicts(&full).into_keys().collect();
    assert_eq!(cases, asked);
}

#[test]
fn a_full_sheet_lacks_nothing_and_two_things_less_are_two() {
    let less = FULL.replacen("scale = \"1 in = 20 ft\"\n", "", 1).replacen("arrow = \"up\"\n", "", 1);
    let all = findings(&[FULL.to_owned(), less], "submittal");
    for wrong in ["missing", "fails", "verify"] {
        assert_eq!(rules(&all[0], wrong), BTreeSet::new(), "{wrong} on a full sheet");
    }
    assert_eq!(rules(&all[1], "missing"), BTreeSet::from(["north-arrow", "scale"]));
    assert_eq!(rules(&all[1], "fails"), BTreeSet::new());
}

/// A plan with nothing but a house on its lot.
const BARE: &str = r#"[site]
name = "Row tests"
units = "ft"

[lot]
corners = [[0, 0], [100, 0], [100, 120], [0, 120]]

[[feature]]
id = "house"
kind = "dwelling"
outline = [[20, 30], [60, 30], [60, 65], [20, 65]]
"#;

#[test]
fn a_list_is_as_long_as_its_permit() {
    let permits = ["fence", "shed", "deck", "landscape", "pool", "grading", "adu", "addition", "house"];
    let plans: Vec<String> = permits
        .iter()
        .map(|permit| for_permit(BARE, permit))
        .chain([for_permit(BARE, "street banner"), BARE.to_owned()])
        .collect();
    let all = findings(&plans, "submittal");
    let asked: Vec<BTreeSet<&str>> = all
        .iter()
        .map(|findings| {
            let asked = |finding: &&Value| {
                let why = finding["message"].as_str().unwrap();
                !(finding["verdict"] == "not_applicable" && why.starts_with("It is asked only where"))
            };
            findings.iter().filter(asked).map(|finding| finding["rule"].as_str().unwrap()).collect()
        })
        .collect();
    let missing: Vec<usize> = all.iter().map(|findings| rules(findings, "missing").len()).collect();
    let lengths: Vec<(&str, usize, usize)> = permits
        .iter()
        .copied()
        .chain(["street banner", ""])
        .zip(asked.iter().zip(&missing))
        .map(|(permit, (asked, missing))| (permit, asked.len(), *missing))
        .collect();
    insta::assert_debug_snapshot!(lengths);
    let of = |permit: &str| &asked[permits.iter().position(|known| *known == permit).unwrap()];
    assert!(of("fence").len() < of("adu").len(), "{lengths:?}");
    assert!(of("fence").is_subset(of("adu")), "a fence is asked nothing that a dwelling is not");
    // Without a word that is known, everything general is asked, and nothing that is for one permit alone.
    let (unknown, unsaid) = (&asked[permits.len()], &asked[permits.len() + 1]);
    assert_eq!(unknown, unsaid);
    for permit in permits {
        let own: BTreeSet<&str> = of(permit).difference(unsaid).copied().collect();
        let expected: &[&str] = match permit {
            "pool" => &["pool", "pool-equipment"],
            "landscape" => &["landscape-area", "landscape-beds"],
            _ => &[],
        };
        assert_eq!(own, expected.iter().copied().collect(), "{permit}");
    }
}
