//! Every row about lots, fences, sight, pools, wells and fire, through the program: for each a plan with one figure left
//! open, that figure where the row is met, and where it is not.

#![allow(
    clippy::disallowed_methods,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test writes a plan as a person does, and ends where it cannot"
)]

mod support;

use std::collections::BTreeSet;
use std::fs;

use support::root;
use support::rows::{CORNER, INTERIOR, Sheet};

/// A rule, a plan, the figure that meets and the one that does not.
type Row = (&'static str, &'static str, &'static str, &'static str);

#[track_caller]
fn check(pack: &str, rows: &[Row]) {
    for (rule, plan, meets, fails) in rows {
        // A plan that begins with `corner` is for a corner lot.
        let (ground, plan) = match plan.strip_prefix("corner\n") {
            Some(plan) => (CORNER, plan),
            None => (INTERIOR, *plan),
        };
        let sheet = Sheet { ground, packs: &[pack] };
        let verdicts = |figure: &str| sheet.verdicts(rule, &plan.replace('@', figure));
        let (good, bad) = (verdicts(meets), verdicts(fails));
        assert!(
            good.iter().all(|verdict| verdict != "fails") && good.contains(&"meets".to_owned()),
            "{rule} {meets}: {good:?}"
        );
        assert!(bad.contains(&"fails".to_owned()), "{rule} {fails}: {bad:?}");
        assert!(
            !good.contains(&"missing".to_owned()) && !bad.contains(&"missing".to_owned()),
            "{rule}: {good:?} {bad:?}"
        );
    }
}

const PRACTICE: &[Row] = &[
    ("front-yard", "h dwelling outline = [[50, @], [90, @], [90, 90], [50, 90]]", "25", "24.9"),
    ("side-yard", "h dwelling outline = [[@, 50], [90, 50], [90, 90], [@, 90]]", "5", "4.9"),
    ("street-side-yard", "corner\nh dwelling outline = [[@, 50], [90, 50], [90, 90], [@, 90]]", "10", "9.9"),
    ("rear-yard", "h dwelling outline = [[50, 50], [90, 50], [90, @], [50, @]]", "180", "180.1"),
    ("garage-depth", "g detached-garage outline = [[50, @], [70, @], [70, 50], [50, 50]]", "20", "19"),
    (
        "eave-free-of-line",
        "h dwelling outline = [[@, 50], [90, 50], [90, 90], [@, 90]]; eave = \"2 ft\"",
        "5",
        "4.9",
    ),
    (
        "eave-into-yard",
        "h dwelling outline = [[9, 50], [90, 50], [90, 90], [9, 90]]; eave = \"@ in\"",
        "24",
        "25",
    ),
    ("bay-to-side", "b bay outline = [[@, 50], [9, 50], [9, 60], [@, 60]]", "5", "4.9"),
    ("stair-to-line", "b stair outline = [[@, 50], [9, 50], [9, 60], [@, 60]]", "3", "2.9"),
    ("porch-to-front", "p porch outline = [[50, @], [60, @], [60, 30], [50, 30]]; open = true", "15", "14.9"),
    ("side-yards-together", "h dwelling outline = [[7, 50], [@, 50], [@, 90], [7, 90]]", "191", "191.1"),
    (
        "height-mean-ground",
        "h dwelling box = { corner = \"sw\", at = [50, 50], size = [\"40 ft\", \"30 ft\"] }; ridge_level = \"@ ft\"; ground_levels = [\"100 ft\", \"101 ft\", \"102 ft\", \"101 ft\"]",
        "136",
        "136.1",
    ),
    (
        "daylight-plane",
        "h dwelling outline = [[@, 50], [90, 50], [90, 90], [@, 90]]; height = \"24.5 ft\"",
        "10",
        "9.9",
    ),
    ("building-cover", "h dwelling outline = [[0, 0], [140, 0], [140, @], [0, @]]", "100", "101"),
    ("hard-cover", "d drive outline = [[0, 0], [200, 0], [200, @], [0, @]]", "100", "101"),
    (
        "hard-cover-half-water",
        "d drive outline = [[0, 0], [200, 0], [200, 90], [0, 90]]\np pool outline = [[0, 100], [200, 100], [200, @], [0, @]]",
        "120",
        "121",
    ),
    (
        "accessory-yard-by-gap",
        "h dwelling outline = [[50, 50], [90, 50], [90, 90], [50, 90]]\ns shed outline = [[@, 60], [39, 60], [39, 70], [@, 70]]",
        "3",
        "2.9",
    ),
    ("accessory-behind-front", "s shed outline = [[50, @], [60, @], [60, 90], [50, 90]]", "60", "59"),
    ("accessory-rear-share", "s shed outline = [[0, 180], [@, 180], [@, 195], [0, 195]]", "100", "101"),
    (
        "accessory-height",
        "s shed box = { corner = \"sw\", at = [50, 50], size = [\"8 ft\", \"8 ft\"] }; height = \"@ ft\"",
        "15",
        "15.1",
    ),
    ("fence-front", "f fence line = [[50, 19], [50, 90]]; height = \"@ ft\"", "4", "4.1"),
    ("fence-side-rear", "f fence line = [[50, 30], [50, 90]]; height = \"@ ft\"", "6", "6.1"),
    (
        "fence-permit",
        "f fence line = [[50, 30], [50, 90]]; stations = [\"0\", \"30 ft\"]; heights = [\"6 ft\", \"@ ft\"]",
        "7",
        "7.1",
    ),
    (
        "fence-low-side",
        "f fence line = [[50, 30], [50, 90]]; height = \"6 ft\"; ground_step = \"@ ft\"",
        "2",
        "2.1",
    ),
    (
        "fence-drainage",
        "e drainage-easement outline = [[40, 40], [90, 40], [90, 60], [40, 60]]\nf fence line = [[50, 30], [50, 90]]; bottom_gap = \"@ in\"",
        "2",
        "1.9",
    ),
    ("corner-sight", "corner\nf fence line = [[5, 5], [9, 5]]; height = \"@ in\"", "30", "31"),
    ("corner-sight-branches", "corner\nt tree at = [5, 5]; lowest_branch = \"@ ft\"", "8", "7.9"),
    ("corner-sight-centrelines", "corner\nf fence line = [[5, 5], [9, 5]]; height = \"@ in\"", "30", "31"),
    (
        "drive-sight",
        "d drive outline = [[50, 0], [60, 0], [60, 30], [50, 30]]\nh hedge line = [[46, 2], [49, 2]]; height = \"@ in\"",
        "30",
        "31",
    ),
    (
        "drive-sight-branches",
        "d drive outline = [[50, 0], [60, 0], [60, 30], [50, 30]]\nt tree at = [48, 2]; lowest_branch = \"@ ft\"",
        "12",
        "11.9",
    ),
    (
        "structure-in-easement",
        "e utility-easement outline = [[40, 40], [90, 40], [90, 60], [40, 60]]\ns shed outline = [[50, @], [58, @], [58, 90], [50, 90]]",
        "60",
        "59.9",
    ),
    ("pool-to-line", "p pool outline = [[@, 50], [30, 50], [30, 70], [@, 70]]", "5", "4.9"),
    (
        "pool-to-line-depth",
        "p pool outline = [[@, 50], [30, 50], [30, 70], [@, 70]]; depth = \"8 ft\"",
        "8",
        "7.9",
    ),
    (
        "pool-to-house",
        "h dwelling outline = [[50, 50], [90, 50], [90, 90], [50, 90]]\np pool outline = [[20, 50], [@, 50], [@, 70], [20, 70]]",
        "44",
        "44.1",
    ),
    (
        "pool-to-septic",
        "s septic-tank outline = [[50, 50], [58, 50], [58, 54], [50, 54]]\np pool outline = [[20, 50], [@, 50], [@, 70], [20, 70]]",
        "35",
        "35.1",
    ),
    (
        "pool-wires",
        "w overhead-wire line = [[50, 0], [50, 200]]\np pool outline = [[20, 50], [@, 50], [@, 70], [20, 70]]",
        "40",
        "40.1",
    ),
    ("pool-equipment-line", "p pool-pump outline = [[@, 50], [10, 50], [10, 54], [@, 54]]", "4", "3.9"),
    (
        "pool-barrier-closed",
        "p pool outline = [[50, 50], [70, 50], [70, 60], [50, 60]]\nf fence line = [[40, 40], [90, 40], [90, 80], [40, 80], [40, @]]; pool_barrier = true",
        "40.3",
        "40.4",
    ),
    (
        "pool-barrier-height",
        "f fence line = [[50, 30], [50, 90]]; pool_barrier = true; height = \"@ in\"",
        "48",
        "47",
    ),
    (
        "pool-gate-closes",
        "g gate line = [[50, 30], [53, 30]]; pool_barrier = true; self_closing = @",
        "true",
        "false",
    ),
    (
        "pool-gate-swing",
        "g gate line = [[50, 30], [53, 30]]; pool_barrier = true; swing = \"@\"",
        "out",
        "in",
    ),
    (
        "pool-gate-latch",
        "g gate line = [[50, 30], [53, 30]]; pool_barrier = true; latch_height = \"@ in\"",
        "54",
        "53",
    ),
    (
        "pool-door",
        "d door at = [50, 50]; leads_to = \"pool\"; self_closing = false; alarm = @",
        "true",
        "false",
    ),
    (
        "pool-climb",
        "f fence line = [[50, 30], [50, 90]]; pool_barrier = true\nr raised-bed outline = [[@, 40], [60, 40], [60, 50], [@, 50]]; height = \"2 ft\"",
        "53",
        "52.9",
    ),
    ("tall-plant-to-line", "t tree at = [\"@ m\", 100]; height = \"2.5 m\"", "2", "1.9"),
    (
        "hedge-beside-window",
        "h hedge line = [[1, 20], [1, 60]]; height = \"@ m\"\nw window at = [\"2 m\", 40]",
        "3",
        "3.1",
    ),
    (
        "hedge-opposite-window",
        "h hedge line = [[0, 20], [0, 60]]; height = \"@ m\"\nw window at = [\"6 m\", 40]",
        "4",
        "4.1",
    ),
];

/// The rows that the invented town has on these matters.
const TOWN: &[Row] = &[
    ("front-fence", "f fence line = [[50, 19], [50, 90]]; height = \"@ ft\"", "3.5", "3.6"),
    ("fence-height", "f fence line = [[50, 30], [50, 90]]; height = \"@ ft\"", "6", "6.1"),
    ("fence-height-basis", "f fence line = [[50, 30], [50, 90]]; height_side = \"@\"", "low", "mean"),
    (
        "fence-through-drainage",
        "e drainage-easement outline = [[40, 40], [90, 40], [90, 60], [40, 60]]\nf fence line = [[50, 30], [50, 90]]; bottom_gap = \"@ in\"",
        "4",
        "3.9",
    ),
    ("corner-sight", "corner\nf fence line = [[5, 5], [9, 5]]; height = \"@ in\"", "30", "31"),
    ("corner-sight-branches", "corner\nt tree at = [5, 5]; lowest_branch = \"@ ft\"", "8", "7.9"),
    (
        "drive-sight",
        "d drive outline = [[50, 0], [60, 0], [60, 30], [50, 30]]\nh hedge line = [[46, 2], [49, 2]]; height = \"@ in\"",
        "30",
        "31",
    ),
    (
        "drive-sight-branches",
        "d drive outline = [[50, 0], [60, 0], [60, 30], [50, 30]]\nt tree at = [48, 2]; lowest_branch = \"@ ft\"",
        "8",
        "7.9",
    ),
    ("drive-to-corner", "corner\nd drive outline = [[@, 0], [60, 0], [60, 30], [@, 30]]", "30", "29.9"),
    ("pool-yard", "p pool outline = [[@, 50], [30, 50], [30, 70], [@, 70]]", "5", "4.9"),
    (
        "pool-equipment-window",
        "w window at = [50, 50]\np pool-pump outline = [[@, 50], [60, 50], [60, 54], [@, 54]]",
        "55",
        "54.9",
    ),
    (
        "pool-wire",
        "w overhead-wire line = [[50, 0], [50, 200]]\np pool outline = [[20, 50], [@, 50], [@, 70], [20, 70]]",
        "40",
        "40.1",
    ),
    (
        "pool-deck-wire",
        "w overhead-wire line = [[50, 0], [50, 200]]\np patio outline = [[20, 50], [@, 50], [@, 70], [20, 70]]; pool_deck = true",
        "40",
        "40.1",
    ),
    (
        "pool-barrier-closed",
        "p pool outline = [[50, 50], [70, 50], [70, 60], [50, 60]]\nf fence line = [[40, 40], [90, 40], [90, 80], [40, 80], [40, @]]",
        "40.3",
        "40.4",
    ),
    (
        "pool-barrier-height",
        "f fence line = [[50, 30], [50, 90]]; pool_barrier = true; height = \"@ ft\"",
        "4",
        "3.9",
    ),
    (
        "pool-gate-swing",
        "g gate line = [[50, 30], [53, 30]]; pool_barrier = true; swing = \"@\"",
        "out",
        "in",
    ),
    (
        "pool-gate-latch",
        "g gate line = [[50, 30], [53, 30]]; pool_barrier = true; latch_height = \"@ in\"",
        "54",
        "53",
    ),
    (
        "pool-door",
        "d door at = [50, 50]; leads_to = \"pool\"; alarm = false; self_closing = @",
        "true",
        "false",
    ),
    (
        "pool-climb",
        "f fence line = [[50, 30], [50, 90]]; pool_barrier = true\nr raised-bed outline = [[@, 40], [60, 40], [60, 50], [@, 50]]; height = \"2 ft\"",
        "53",
        "52.9",
    ),
    (
        "pool-deck-fall",
        "p patio outline = [[20, 50], [40, 50], [40, 70], [20, 70]]; pool_deck = true; slope = \"@ %\"",
        "1",
        "0.9",
    ),
    (
        "pool-deck-drain",
        "p patio outline = [[20, 50], [40, 50], [40, 70], [20, 70]]; pool_deck = true; drains_to = \"@\"",
        "lawn",
        "the neighbor",
    ),
    ("lake-hard-surface", "d drive outline = [[0, 0], [200, 0], [200, @], [0, @]]", "66", "66.1"),
    (
        "lake-hard-surface-with-water",
        "d drive outline = [[0, 0], [200, 0], [200, 60], [0, 60]]\np pool outline = [[0, 100], [200, 100], [200, @], [0, @]]",
        "106",
        "106.1",
    ),
];

const FIRE: &[Row] = &[
    ("wall-fire-gap", "h dwelling outline = [[@, 50], [90, 50], [90, 90], [@, 90]]", "5", "4.9"),
    (
        "eave-fire-gap",
        "h dwelling outline = [[@, 50], [90, 50], [90, 90], [@, 90]]; eave = \"2 ft\"",
        "4",
        "3.9",
    ),
    ("opening-fire-gap", "w window at = [@, 50]", "3", "2.9"),
    ("opening-fire-share", "w window at = [@, 50]", "5", "4.9"),
    (
        "fire-zone-ember",
        "h dwelling outline = [[50, 50], [90, 50], [90, 90], [50, 90]]\ns shrub at = [@, 60]",
        "45",
        "45.1",
    ),
    (
        "fire-zone-store",
        "h dwelling outline = [[50, 50], [90, 50], [90, 90], [50, 90]]\ns shed outline = [[@, 60], [140, 60], [140, 70], [@, 70]]",
        "120",
        "119",
    ),
    (
        "shrub-gap",
        "a shrub at = [50, 50]; height = \"4 ft\"; ground_slope = \"10 %\"\nb shrub at = [@, 50]; height = \"4 ft\"; ground_slope = \"10 %\"",
        "58",
        "57.9",
    ),
    (
        "crown-gap",
        "h dwelling outline = [[150, 50], [190, 50], [190, 90], [150, 90]]\na tree at = [50, 50]; spread = \"20 ft\"; ground_slope = \"10 %\"\nb tree at = [@, 50]; spread = \"20 ft\"; ground_slope = \"10 %\"",
        "80",
        "79",
    ),
    (
        "crown-over-shrub",
        "t tree at = [50, 50]; spread = \"20 ft\"; lowest_branch = \"@ ft\"\ns shrub at = [52, 50]; height = \"2 ft\"",
        "8",
        "7.9",
    ),
    (
        "crown-gap-near",
        "h dwelling outline = [[10, 50], [20, 50], [20, 90], [10, 90]]\na tree at = [30, 60]; spread = \"20 ft\"\nb tree at = [@, 60]; spread = \"20 ft\"",
        "68",
        "67",
    ),
    (
        "crown-gap-middle",
        "h dwelling outline = [[10, 50], [20, 50], [20, 90], [10, 90]]\na tree at = [60, 60]; spread = \"20 ft\"\nb tree at = [@, 60]; spread = \"20 ft\"",
        "92",
        "91",
    ),
    (
        "crown-gap-far",
        "h dwelling outline = [[10, 50], [20, 50], [20, 90], [10, 90]]\na tree at = [90, 60]; spread = \"20 ft\"\nb tree at = [@, 60]; spread = \"20 ft\"",
        "116",
        "115",
    ),
    (
        "chimney-branches",
        "c bay outline = [[50, 50], [54, 50], [54, 54], [50, 54]]; use = \"chimney\"\nt tree circle = { centre = [@, 52], radius = \"8 ft\" }",
        "72",
        "71.9",
    ),
];

/// Rows of distances: what is moved, what it is measured to, and the distance asked for in feet.
const WATER: &[(&str, &str, &str, f64)] = &[
    ("well-tank-federal", "well", "septic-tank", 50.0),
    ("well-field-federal", "well", "drain-field", 50.0),
    ("well-yard-federal", "well", "stored-hazard; use = \"livestock\"", 50.0),
    ("well-fuel-federal", "well", "stored-hazard; use = \"fuel\"", 100.0),
    ("well-manure-federal", "well", "stored-hazard; use = \"manure\"", 250.0),
    ("well-tank-state", "well", "septic-tank", 50.0),
    ("well-field-state", "well", "reserve-field", 100.0),
    ("well-pit-state", "well", "seepage-pit", 100.0),
    ("well-water-state", "well", "stream", 25.0),
    ("well-tank-county", "well", "septic-tank", 50.0),
    ("well-field-county", "well", "drain-field", 100.0),
    ("well-pit-county", "well", "dry-well", 100.0),
    ("well-water-county", "well", "lake", 25.0),
    ("well-foundation-county", "well", "dwelling", 10.0),
    ("field-water", "drain-field", "stream", 100.0),
    ("field-house", "drain-field", "dwelling", 10.0),
    ("field-pipe", "drain-field", "water-line", 10.0),
    ("tank-water", "septic-tank", "stream", 50.0),
    ("tank-house", "septic-tank", "pool", 5.0),
    ("tank-pipe", "septic-tank", "water-line", 10.0),
    ("sewer-well", "building-sewer", "well", 50.0),
    ("sewer-water", "building-sewer", "lake", 10.0),
    ("sewer-house", "building-sewer", "pool", 2.0),
    ("field-cut", "drain-field", "slope-edge", 25.0),
    ("upc-field-building", "drain-field", "dwelling", 8.0),
    ("upc-tank-building", "septic-tank", "dwelling", 5.0),
    ("upc-pit-building", "seepage-pit", "dwelling", 8.0),
    ("upc-tank-well", "septic-tank", "well", 50.0),
    ("upc-field-well", "drain-field", "well", 100.0),
    ("upc-pit-well", "seepage-pit", "well", 150.0),
    ("upc-tank-stream", "septic-tank", "stream", 50.0),
    ("upc-field-stream", "drain-field", "stream", 50.0),
    ("upc-tank-tree", "septic-tank", "tree", 10.0),
    ("upc-tank-service", "septic-tank", "water-line", 5.0),
    ("ipsdc-field-water", "drain-field", "lake", 50.0),
    ("ipsdc-field-spring", "drain-field", "spring", 100.0),
    ("ipsdc-field-pool", "drain-field", "pool", 15.0),
    ("ipsdc-field-well", "drain-field", "well", 50.0),
    ("built-over-septic", "patio", "reserve-field", 0.0),
    ("downspout-well", "dry-well", "well", 10.0),
    ("built-in-buffer", "shed", "buffer", 0.0),
    ("building-to-stream", "dwelling", "stream", 25.0),
];

/// Rows of `water-and-septic` that are told another way.
const WATER_TO_LINES: &[Row] = &[
    ("well-line-county", "w well at = [@, 100]", "15", "14.9"),
    ("field-line", "f drain-field outline = [[@, 50], [30, 50], [30, 70], [@, 70]]", "5", "4.9"),
    ("tank-line", "f septic-tank outline = [[@, 50], [10, 50], [10, 54], [@, 54]]", "5", "4.9"),
];

#[test]
fn ordinances_as_they_usually_are() {
    check("lot-practice", PRACTICE);
}

#[test]
fn the_invented_town() {
    check("tern-hollow", TOWN);
}

#[test]
fn fire() {
    check("fire", FIRE);
}

#[test]
fn water_and_septic() {
    check("water-and-septic", WATER_TO_LINES);
    let sheet = Sheet { ground: CORNER, packs: &["water-and-septic"] };
    for (rule, moved, other, distance) in WATER {
        let (other, facts) = other.split_at(other.find(';').unwrap_or(other.len()));
        let verdict = |apart: f64| {
            let edge = 300.0 + apart;
            let moved =
                format!("m {moved} outline = [[{edge}, 0], [{r}, 0], [{r}, 9], [{edge}, 9]]", r = edge + 9.0);
            sheet.verdicts(
                rule,
                &format!("o {other} outline = [[280, 0], [300, 0], [300, 9], [280, 9]]{facts}\n{moved}"),
            )
        };
        assert_eq!(
            (verdict(*distance), verdict(distance - 0.1)),
            (vec!["meets".into()], vec!["fails".into()]),
            "{rule}"
        );
    }
}

/// No row of these packs goes without a plan that meets it and one that does not.
#[test]
fn every_row_has_its_case() {
    let elsewhere = [
        "neighbor-yards",
        "fence-on-wall",
        "drive-sight-left",
        "drive-sight-right",
        "drive-stopping",
        "fire-zone-outer",
    ];
    let tables = PRACTICE.iter().chain(FIRE).chain(WATER_TO_LINES).map(|row| row.0);
    let cases: BTreeSet<&str> = tables.chain(WATER.iter().map(|row| row.0)).chain(elsewhere).collect();
    for pack in ["lot-practice", "fire", "water-and-septic"] {
        let text = fs::read_to_string(root().join(format!("rules/packs/{pack}/pack.toml"))).unwrap();
        let ids =
            text.lines().filter(|line| line.starts_with("id ")).filter_map(|line| line.split('"').nth(1));
        for id in ids {
            assert!(cases.contains(id), "{pack}: no case for {id}");
        }
    }
    let lots = fs::read_to_string(root().join("core/cli/tests/lots.rs")).unwrap();
    for id in elsewhere {
        assert!(lots.contains(&format!("\"{id}\"")), "{id} is tested in lots.rs");
    }
}
