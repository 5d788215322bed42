//! Rows of the pack `stormwater`: for every row one plan that meets it and one that does not.

#![allow(
    clippy::disallowed_methods,
    clippy::unwrap_used,
    reason = "the test reads the pack as a person does"
)]

mod support;

use std::collections::BTreeSet;
use std::fs;

use support::root;
use support::rows::{INTERIOR, Sheet};

const SHEET: Sheet<'_> = Sheet { ground: INTERIOR, packs: &["stormwater"] };

/// A rule, a plan with a figure `@`, the figure that meets and the one that does not.
type Row = (&'static str, &'static str, &'static str, &'static str);

/// A house of 50 ft by 40 ft whose south wall lies along y = 100, and what stands south of it.
const HOUSE: &str = "h dwelling outline = [[50, 100], [100, 100], [100, 140], [50, 140]]";

const DISTANCES: &[(&str, &str, &str, f64)] = &[
    ("downspout-foundation", "downspout", "dwelling", 5.0),
    ("outlet-foundation", "drain-outlet", "dwelling", 5.0),
    ("infiltration-foundation", "rain-garden", "dwelling", 10.0),
    ("infiltration-foundation", "dry-well", "dwelling", 10.0),
    ("infiltration-well", "rain-garden", "well", 50.0),
    ("infiltration-septic", "dry-well", "drain-field", 35.0),
    ("drywell-septic", "dry-well", "septic-tank", 25.0),
    ("raingarden-septic", "rain-garden", "drain-field", 0.0),
];

#[test]
fn distances() {
    for (rule, moved, fixed, distance) in DISTANCES {
        let verdict = |apart: f64| {
            let edge = 100.0 + apart;
            let plan = format!(
                "o {fixed} outline = [[80, 50], [100, 50], [100, 59], [80, 59]]\n\
                 m {moved} outline = [[{edge}, 50], [{r}, 50], [{r}, 59], [{edge}, 59]]",
                r = edge + 9.0
            );
            SHEET.verdicts(rule, &plan)
        };
        let found = (verdict(*distance), verdict(distance - 0.1));
        assert_eq!(found, (vec!["meets".into()], vec!["fails".into()]), "{rule}");
    }
}

/// A downspout at the wall whose water is led on is as it should be: its outlet is judged instead.
#[test]
fn a_downspout_that_is_led_on_is_judged_by_its_outlet() {
    let plan = |led: &str, edge: f64| {
        format!(
            "{HOUSE}\nd downspout at = [60, 99]{led}\n\
             o drain-outlet at = [60, {edge}]"
        )
    };
    let led = plan("; leads_to = \"o\"", 95.0);
    assert_eq!(SHEET.verdicts("downspout-foundation", &led), ["not_applicable"]);
    assert_eq!(SHEET.verdicts("outlet-foundation", &led), ["meets"]);
    assert_eq!(SHEET.verdicts("outlet-foundation", &plan("; leads_to = \"o\"", 95.1)), ["fails"]);
    assert_eq!(SHEET.verdicts("downspout-foundation", &plan("", 95.0)), ["fails"]);
}

/// Of four lot lines, the one that is near decides.
#[test]
fn distances_to_lot_lines() {
    for (rule, kind, distance) in
        [("outlet-line", "drain-outlet", 5.0), ("infiltration-line", "rain-garden", 10.0)]
    {
        let fails = |apart: f64| {
            let plan = format!("m {kind} outline = [[{apart}, 50], [40, 50], [40, 59], [{apart}, 59]]");
            let all = SHEET.verdicts(rule, &plan);
            (all.len(), all.iter().filter(|verdict| *verdict == "fails").count())
        };
        assert_eq!([fails(distance), fails(distance - 0.1)], [(4, 0), (4, 1)], "{rule}");
    }
}

const GARDEN: &str = "g rain-garden outline = [[10, 20], [30, 20], [30, 30], [10, 30]]; ";
const WELL: &str = "w dry-well outline = [[10, 20], [20, 20], [20, 30], [10, 30]]; ";
const PIPE: &str = "p storm-drain line = [[10, 20], [60, 20]]; ";
const SWALE: &str =
    "s swale line = [[10, 20], [160, 20]]; bottom_width = \"2 ft\"; side_slope = 3; roughness = 0.035; ";
const AREA: &str = "a drainage-area outline = [[0, 0], [100, 0], [100, 100], [0, 100]]; ";

/// Rows on one thing, which comes before what is said of it.
const OF_ONE: &[(&str, &str, &str, &str, &str)] = &[
    ("raingarden-slope", GARDEN, "ground_slope = \"@ %\"", "12", "12.1"),
    ("raingarden-depth", GARDEN, "ground_slope = \"4 %\"; ponding_depth = \"@ in\"", "5", "5.1"),
    ("raingarden-depth", GARDEN, "ground_slope = \"7 %\"; ponding_depth = \"@ in\"", "7", "7.1"),
    ("raingarden-depth", GARDEN, "ground_slope = \"12 %\"; ponding_depth = \"@ in\"", "8", "8.1"),
    // 6 in at 0.125 in/h stand 48 h.
    ("basin-emptying", GARDEN, "ponding_depth = \"6 in\"; soil_rate = \"@ in/h\"", "0.125", "0.124"),
    // 10 mm/h: 19.2 times that.
    ("ponding-deepest", GARDEN, "soil_rate = \"10 mm/h\"; ponding_depth = \"@ mm\"", "192", "192.1"),
    ("reservoir-deepest", WELL, "soil_rate = \"10 mm/h\"; depth = \"@ mm\"", "384", "384.1"),
    (
        "drywell-emptying",
        WELL,
        "depth = \"30 in\"; void_share = \"40 %\"; soil_rate = \"@ in/h\"",
        "0.25",
        "0.249",
    ),
    ("drywell-soil", WELL, "soil_rate = \"@ in/h\"", "0.27", "0.26"),
    ("drywell-roof", WELL, "drained_area = \"@ sq ft\"", "1000", "1001"),
    ("drywell-inlet-slope", PIPE, "use = \"dry well\"; slope = \"@ %\"", "1", "0.9"),
    // 100 sq ft, 5 ft deep, 40 % voids: 200 cu ft, which is 2 in on 1200 sq ft.
    ("drywell-volume", WELL, "depth = \"5 ft\"; drained_area = \"@ sq ft\"", "1200", "1201"),
    // 200 sq ft of garden.
    ("raingarden-one-inch", GARDEN, "ponding_depth = \"6 in\"; drained_area = \"@ sq ft\"", "1200", "1201"),
    (
        "raingarden-sandy",
        GARDEN,
        "soil = \"sandy\"; ponding_depth = \"4 in\"; drained_area = \"@ sq ft\"",
        "1052",
        "1053",
    ),
    (
        "raingarden-sandy",
        GARDEN,
        "soil = \"sandy\"; ponding_depth = \"6 in\"; drained_area = \"@ sq ft\"",
        "1333",
        "1334",
    ),
    (
        "raingarden-sandy",
        GARDEN,
        "soil = \"sandy\"; ponding_depth = \"8 in\"; drained_area = \"@ sq ft\"",
        "2500",
        "2501",
    ),
    ("raingarden-loam", GARDEN, "soil = \"loam\"; drained_area = \"@ sq ft\"", "800", "801"),
    (
        "raingarden-silty",
        GARDEN,
        "soil = \"silty\"; ponding_depth = \"4 in\"; drained_area = \"@ sq ft\"",
        "588",
        "589",
    ),
    (
        "raingarden-silty",
        GARDEN,
        "soil = \"silty\"; ponding_depth = \"6 in\"; drained_area = \"@ sq ft\"",
        "800",
        "801",
    ),
    (
        "raingarden-silty",
        GARDEN,
        "soil = \"silty\"; ponding_depth = \"8 in\"; drained_area = \"@ sq ft\"",
        "1250",
        "1251",
    ),
    (
        "raingarden-clayey",
        GARDEN,
        "soil = \"clayey\"; ponding_depth = \"4 in\"; drained_area = \"@ sq ft\"",
        "465",
        "466",
    ),
    (
        "raingarden-clayey",
        GARDEN,
        "soil = \"clayey\"; ponding_depth = \"6 in\"; drained_area = \"@ sq ft\"",
        "625",
        "626",
    ),
    (
        "raingarden-clayey",
        GARDEN,
        "soil = \"clayey\"; ponding_depth = \"8 in\"; drained_area = \"@ sq ft\"",
        "1000",
        "1001",
    ),
    // 4 in at 1 % and n 0.012 carry 0.2062 cfs.
    (
        "drain-capacity",
        PIPE,
        "inside_diameter = \"4 in\"; slope = \"1 %\"; roughness = 0.012; design_flow = \"@ cfs\"",
        "0.206",
        "0.207",
    ),
    // 0.45 ft of water at 2 % are 4.156 cfs.
    (
        "swale-capacity",
        SWALE,
        "slope = \"2 %\"; depth = \"0.95 ft\"; design_flow = \"@ cfs\"",
        "4.15",
        "4.16",
    ),
    ("swale-depth", SWALE, "slope = \"2 %\"; design_flow = \"@ cfs\"", "4.15", "4.16"),
    (
        "swale-freeboard",
        SWALE,
        "slope = \"2 %\"; depth = \"0.95 ft\"; design_flow = \"@ cfs\"",
        "4.15",
        "4.16",
    ),
    // Worked case T45 at its two slopes: 4.156 cfs run 2.757 ft/s at 2 %, and faster than 4 ft/s at 5 %.
    ("swale-speed", SWALE, "slope = \"@ %\"; design_flow = \"4.156 cfs\"", "2", "6"),
    (
        "swale-speed-treatment",
        SWALE,
        "use = \"treatment\"; slope = \"@ %\"; design_flow = \"0.5 cfs\"",
        "0.3",
        "2",
    ),
    // 150 ft: 100 ft and 1 ft for each 400 sq ft over 10 000.
    ("swale-length", SWALE, "use = \"treatment\"; drained_area = \"@ sq ft\"", "30000", "30100"),
    // 10 000 sq ft at 0.20 and 4 in/h: 0.1852 cfs.
    ("area-peak-flow", AREA, "rain_intensity = \"4 in/h\"; design_flow = \"@ cfs\"", "0.186", "0.185"),
    (
        "area-graphical-peak",
        AREA,
        "curve_number = 75; rain_depth = \"6 in\"; storm_type = \"II\"; concentration_time = \"0.1 h\"; design_flow = \"@ cfs\"",
        "1.3",
        "0.5",
    ),
    // An inch on ground of which 30 % is hard: number 81.2.
    ("area-runoff-depth", AREA, "curve_number = @", "81.2", "81.3"),
    // The same on soil of group B, whose lawn is 61: number 72.1.
    ("area-runoff-depth", AREA, "soil_group = \"B\"; curve_number = @", "72.1", "74"),
];

#[test]
fn rows_on_one_thing() {
    for (rule, thing, said, meets, fails) in OF_ONE {
        SHEET.turns(rule, &format!("{thing}{said}"), meets, fails);
    }
}

/// Rows on several things.
const OF_MORE: &[Row] = &[
    // A shed instead of one that goes is no more than before, a larger one is.
    (
        "area-peak-increase",
        "a drainage-area outline = [[0, 0], [100, 0], [100, 100], [0, 100]]; rain_intensity = \"4 in/h\"\n\
         o shed outline = [[20, 20], [30, 20], [30, 30], [20, 30]]; status = \"remove\"\n\
         n shed outline = [[50, 20], [@, 20], [@, 30], [50, 30]]",
        "60",
        "60.1",
    ),
    // 1800 ft at 16.1345 times the root of 1 %: 0.31 h; 500 ft take 0.086 h.
    (
        "area-concentration",
        "a drainage-area outline = [[0, 0], [100, 0], [100, 100], [0, 100]]\n\
         p flow-path line = [[10, 10], [90, 90]]; flow_type = \"shallow\"; slope = \"1 %\"; flow_length = \"@ ft\"",
        "1800",
        "500",
    ),
    // A quarter acre, 30 % hard: 290.4 cu ft. 600 sq ft of garden hold 6 in.
    (
        "first-rain",
        "a drainage-area outline = [[0, 0], [99, 0], [99, 110], [0, 110]]; hard_share = \"30 %\"\n\
         g rain-garden outline = [[10, 20], [@, 20], [@, 40], [10, 40]]; ponding_depth = \"6 in\"",
        "40",
        "39",
    ),
    // With 10 % hard 0.2 in are kept of the quarter acre: 181.5 cu ft, where the coefficient gives 127. 20 ft of width by
    // 6 in are 10 cu ft a foot.
    (
        "first-rain",
        "a drainage-area outline = [[0, 0], [99, 0], [99, 110], [0, 110]]; hard_share = \"10 %\"\n\
         g rain-garden outline = [[10, 20], [@, 20], [@, 40], [10, 40]]; ponding_depth = \"6 in\"",
        "28.2",
        "28.1",
    ),
];

#[test]
fn rows_on_several_things() {
    for (rule, plan, meets, fails) in OF_MORE {
        SHEET.turns(rule, plan, meets, fails);
    }
}

#[test]
fn what_is_led_to_a_garden_or_a_pit_is_found_on_its_lot() {
    let plan =
        format!("{HOUSE}; drains_to = \"@\"\n{WELL}depth = \"5 ft\"\n{GARDEN}ponding_depth = \"6 in\"");
    let to = |place: &str, rule: &str| SHEET.verdicts(rule, &plan.replace('@', place));
    // 2000 sq ft of roof.
    assert_eq!(to("dry well", "drywell-roof"), ["fails"]);
    assert_eq!(to("rain garden", "raingarden-one-inch"), ["fails"]);
    assert_eq!(to("rain garden", "drywell-roof"), ["missing"]);
    assert_eq!(to("street", "raingarden-one-inch"), ["missing"]);
}

/// One roof and two that may take its water: each is asked, and not charged with all of it.
#[test]
fn two_on_a_lot_are_asked_which_roof_is_whose() {
    let second = |kind: &str| format!("v {kind} outline = [[110, 20], [130, 20], [130, 30], [110, 30]]; ");
    let wells = format!(
        "{HOUSE}; drains_to = \"dry well\"\n{WELL}depth = \"5 ft\"\n{}depth = \"5 ft\"; drained_area = \"900 sq ft\"",
        second("dry-well")
    );
    for rule in ["drywell-roof", "drywell-volume"] {
        let mut found = SHEET.verdicts(rule, &wells);
        found.sort();
        assert_eq!(found, ["meets", "missing"], "{rule}");
    }
    // The rows on soil ask about one garden; the other on the lot counts all the same.
    let gardens = format!(
        "{HOUSE}; drains_to = \"rain garden\"\n{GARDEN}soil = \"loam\"\n{}soil = \"sandy\"; ponding_depth = \"4 in\"",
        second("rain-garden")
    );
    assert_eq!(SHEET.verdicts("raingarden-loam", &gardens), ["missing"]);
    assert_eq!(SHEET.verdicts("raingarden-sandy", &gardens), ["missing"]);
    let one = gardens.lines().take(2).collect::<Vec<_>>().join("\n");
    assert_eq!(SHEET.verdicts("raingarden-loam", &one), ["fails"]);
}

#[test]
fn what_is_not_stated_is_asked_for() {
    let needs = |rule: &str, plan: &str| -> Vec<String> {
        let found = SHEET.findings(rule, plan);
        let of = |finding: &serde_json::Value| {
            let needs = finding["needs"].as_array().cloned().unwrap_or_default();
            needs.iter().map(|need| need["what"].as_str().unwrap().to_owned()).collect::<Vec<_>>()
        };
        let mut all: Vec<String> = found.iter().flat_map(of).collect();
        all.sort();
        all
    };
    assert_eq!(needs("drywell-soil", WELL.trim_end_matches("; ")), ["soil rate of w"]);
    assert_eq!(
        needs("swale-depth", "s swale line = [[10, 20], [160, 20]]; design_flow = \"1 cfs\""),
        ["roughness of s", "side slope of s", "slope of s"]
    );
    assert_eq!(needs("area-peak-increase", AREA.trim_end_matches("; ")), ["rain intensity of a"]);
    assert_eq!(needs("area-concentration", AREA.trim_end_matches("; ")), ["the presence of any flow path"]);
    let path = "p flow-path line = [[10, 10], [90, 90]]; flow_type = \"sheet\"";
    assert_eq!(
        needs("area-concentration", &format!("{}\n{path}", AREA.trim_end_matches("; "))),
        ["roughness of p", "slope of p", "two-year rain of a"]
    );
}

/// No row of the pack goes without a plan that meets it and one that does not.
#[test]
fn every_row_has_its_case() {
    let mut cases: BTreeSet<&str> =
        OF_ONE.iter().map(|row| row.0).chain(OF_MORE.iter().map(|row| row.0)).collect();
    cases.extend(DISTANCES.iter().map(|row| row.0));
    cases.extend(["outlet-line", "infiltration-line"]);
    let text = fs::read_to_string(root().join("rules/packs/stormwater/pack.toml")).unwrap();
    let ids = text.lines().filter(|line| line.starts_with("id ")).filter_map(|line| line.split('"').nth(1));
    for id in ids {
        assert!(cases.contains(id), "no case for {id}");
    }
}
