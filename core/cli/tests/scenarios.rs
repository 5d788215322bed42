//! The examples: exactly their findings, and what changes when a figure does.

#![allow(clippy::disallowed_methods, reason = "a test reads and writes files as a person does")]
#![allow(clippy::panic, clippy::unwrap_used, reason = "a report that is not there ends its test")]

mod support;

use std::fs;

use serde_json::Value;
use support::{groundrule_in, root, told};

const FOOT: f64 = 0.3048;

/// The report of an example as JSON, after these replacements in its file.
#[track_caller]
fn report(name: &str, edits: &[(&str, &str)]) -> Value {
    let mut text = fs::read_to_string(root().join(format!("examples/{name}.toml"))).unwrap();
    for (from, to) in edits {
        assert_eq!(text.matches(from).count(), 1, "`{from}` stands once in {name}");
        text = text.replace(from, to);
    }
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("plan.toml"), text).unwrap();
    let args =
        ["review", "plan.toml", "--pack", "tern-hollow", "--pack", "common-practice", "--write", "r.json"];
    let output = groundrule_in(folder.path(), &args, &[]);
    let written =
        fs::read_to_string(folder.path().join("r.json")).unwrap_or_else(|_| panic!("{}", told(&output)));
    let report: Value = serde_json::from_str(&written).unwrap();
    report["plans"][0].clone()
}

fn text<'a>(value: &'a Value, key: &str) -> &'a str {
    value[key].as_str().unwrap_or("")
}

/// One line for each finding: what is judged, its verdict, and the value with its plus-or-minus in SI.
fn findings(report: &Value) -> String {
    let number = |value: &Value| value.as_f64().map_or(String::new(), |number| format!("{number:.4}"));
    let judged = report["findings"].as_array().unwrap().iter().map(|finding| {
        let shown = &finding["shown"];
        let line = format!(
            "{:<15} {} {} +-{}",
            text(finding, "verdict"),
            text(finding, "id"),
            number(&shown["value"]),
            number(&shown["plus_minus_95"])
        );
        line.trim_end_matches([' ', '+', '-']).to_owned()
    });
    let data = report["data_findings"].as_array().unwrap().iter().map(|finding| {
        format!("{:<15} {} {}", text(finding, "gravity"), text(finding, "code"), finding["about"])
    });
    judged.chain(data).collect::<Vec<_>>().join("\n")
}

#[test]
fn exactly_these_findings() {
    for name in ["rough-markup", "deed-with-a-slip", "two-street-fence", "garden-pool", "falling-yard"] {
        insta::assert_snapshot!(format!("findings-{name}"), findings(&report(name, &[])));
    }
}

fn finding<'a>(report: &'a Value, id: &str) -> &'a Value {
    report["findings"].as_array().unwrap().iter().find(|finding| text(finding, "id") == id).unwrap()
}

/// A verdict with what it shows, in feet to two digits.
#[track_caller]
fn check(report: &Value, id: &str, verdict: &str, feet: f64, plus_minus: f64, what: &str) {
    let found = finding(report, id);
    let shown = |key: &str| found["shown"][key].as_f64().unwrap() / FOOT;
    let (value, spread) = (shown("value"), shown("plus_minus_95"));
    assert_eq!(text(found, "verdict"), verdict, "{what}: {id}: {value} +- {spread}");
    assert!(
        (value - feet).abs() < 0.005 && (spread - plus_minus).abs() < 0.005,
        "{what}: {id}: {value} +- {spread}"
    );
}

const SHED_WEST: &str = "tern-hollow/accessory-yard:shed:lot.nw-sw";
const SHED_REAR: &str = "tern-hollow/accessory-yard:shed:lot.ne-nw";
const FINE: (&str, &str) = ("aerial = \"1 ft\"", "aerial = \"0.1 ft\"");

/// The verdict and what is shown against the west line, then against the rear line.
type Row = (&'static str, (f64, f64), &'static str, (f64, f64));

/// Each way to settle the east chain that the report lists, at both accuracies: the shed against the west and the
/// rear line. Read to a foot the shed stays open; measured, it does not.
#[test]
fn the_rough_markup_settled_in_every_way_listed() {
    let digit = ("\"house.ne\", 40,", "\"house.ne\", 46,");
    let last = ("\"shed.se\", 12, \"ne\"", "\"shed.se\", 18, \"ne\"");
    let overall = (
        "overall = 118                       # the pieces",
        "overall = 112                       # the pieces",
    );
    let rows: [((&str, &str), Row, Row); 3] = [
        (
            digit,
            ("verify", (4.00, 1.40), "fails", (0.40, 3.54)),
            ("fails", (4.00, 0.46), "fails", (0.40, 2.79)),
        ),
        (
            last,
            ("verify", (4.00, 1.44), "verify", (6.40, 3.55)),
            ("fails", (4.00, 0.57), "verify", (6.40, 2.80)),
        ),
        (
            overall,
            ("fails", (3.37, 1.59), "verify", (5.20, 3.46)),
            ("fails", (3.37, 0.79), "verify", (5.19, 2.66)),
        ),
    ];
    for (edit, rough, fine) in rows {
        for (edits, row) in [(vec![edit], rough), (vec![edit, FINE], fine)] {
            let report = report("rough-markup", &edits);
            check(&report, SHED_WEST, row.0, row.1.0, row.1.1, edit.1);
            check(&report, SHED_REAR, row.2, row.3.0, row.3.1, edit.1);
        }
    }
}

/// As it is written: too close to call when read to a foot, and short by any way to settle the chain when read to a
/// tenth; it never meets.
#[test]
fn the_rough_markup_as_written_never_meets() {
    for (edits, verdict, spread) in [(vec![], "verify", 1.45), (vec![FINE], "fails", 0.57)] {
        check(&report("rough-markup", &edits), SHED_WEST, verdict, 4.00, spread, "as written");
    }
}

/// The messages of findings about data, by code.
fn said(report: &Value, code: &str) -> Vec<String> {
    let all = report["data_findings"].as_array().unwrap().iter();
    all.filter(|finding| text(finding, "code") == code).map(Value::to_string).collect()
}

#[test]
fn the_rough_markup_says_which_chain_does_not_add_up() {
    for edits in [vec![], vec![FINE]] {
        let report = report("rough-markup", &edits);
        let [chain] = said(&report, "data::chain-does-not-add-up").try_into().unwrap();
        for part in
            ["112.00 ft", "118.00 ft", "6.00 ft too little", "`40` may be `46`", "`6` may be left out"]
        {
            assert!(chain.contains(part), "{part} is not in {chain}");
        }
        assert_eq!(said(&report, "data::chain-gap").len(), 0, "the other three add up");
        let [tie] = said(&report, "data::ties-do-not-meet").try_into().unwrap();
        assert!(tie.contains("3.00 ft too short"), "{tie}");
        assert_eq!(said(&report, "data::shape-assumed").len(), 1);
    }
}

#[test]
fn the_deed_with_each_letter_put_right() {
    let report_of = |edits: &[(&str, &str)]| report("deed-with-a-slip", edits);
    let plain = report_of(&[]);
    let [slip] = said(&plain, "data::loop-does-not-close").try_into().unwrap();
    for part in
        ["12.02 ft", "1:35", "N 85°30' E", "9,987 sq ft", "N 85°30' W", "10,111 sq ft", "none is applied"]
    {
        assert!(slip.contains(part), "{part} is not in {slip}");
    }
    let easement = finding(&plain, "tern-hollow/easement-clear:shed:rear-easement").to_string();
    assert!(easement.contains("fails"), "{easement}");
    assert_eq!(said(&plain, "data::no-status").len(), 1, "the carport");
    for edit in [("\"S 85°30' E\"", "\"N 85°30' E\""), ("\"S 85°30' W\"", "\"N 85°30' W\"")] {
        let settled = report_of(&[edit]);
        assert_eq!(said(&settled, "data::loop-does-not-close").len(), 0, "{}", edit.1);
        assert_eq!(said(&settled, "data::misclosure").len(), 0, "{}", edit.1);
        assert!(!settled.to_string().contains("in dispute"), "{}", edit.1);
    }
}

/// What is told beside a finding, in feet or square feet to two digits.
#[track_caller]
fn beside(report: &Value, id: &str, what: &str, expected: f64) {
    let found = finding(report, id);
    let told = found["beside"].as_array().unwrap().iter().find(|beside| beside["what"] == what).unwrap();
    let unit = if what.contains("area") { FOOT * FOOT } else { FOOT };
    let value = told["amount"]["value"].as_f64().unwrap() / unit;
    assert!((value - expected).abs() < 0.005, "{id}: {what} {value}, not {expected}");
}

#[test]
fn the_sheet_of_the_deed() {
    let report = report("deed-with-a-slip", &[]);
    let scale = finding(&report, "tern-hollow/sheet-true-to-scale:sheet");
    assert_eq!(text(scale, "verdict"), "fails");
    assert!((scale["shown"]["value"].as_f64().unwrap() - 0.8).abs() < 1e-9, "{scale}");
    let arrow = finding(&report, "tern-hollow/sheet-arrow-true:sheet");
    let off = arrow["shown"]["value"].as_f64().unwrap().to_degrees();
    assert!(text(arrow, "verdict") == "fails" && (off - 85.5).abs() < 0.01, "{off} degrees");
    let fence = finding(&report, "tern-hollow/fence-through-drainage:rear-fence:rear-easement");
    assert_eq!(text(fence, "verdict"), "fails");
    beside(&report, "tern-hollow/easement-clear:shed:rear-easement", "shared area", 84.0);
}

#[test]
fn the_fence_at_the_corner() {
    let plain = report("two-street-fence", &[]);
    let corner = |subject: &str| format!("tern-hollow/corner-sight:{subject}:lot.nw-sw:lot.sw-se");
    beside(&plain, &corner("fence"), "length inside", 16.5);
    beside(&plain, &corner("hedge"), "length inside", 21.5);
    beside(&plain, "tern-hollow/drive-sight:fence:lot.nw-sw:drive", "length inside", 8.5);
    beside(&plain, "tern-hollow/front-fence:fence:lot.nw-sw", "length inside", 67.0);
    beside(&plain, "tern-hollow/easement-clear:shed:east-easement", "shared area", 60.0);
    assert_eq!(said(&plain, "data::front-proposed").len(), 1, "which of the two streets it fronts");
    assert_eq!(text(finding(&plain, "tern-hollow/fence-height-basis:fence"), "verdict"), "missing");
    assert_eq!(text(finding(&plain, "tern-hollow/sheet-public-walk:sheet"), "verdict"), "missing");
    let moved = report(
        "two-street-fence",
        &[(
            "outline = [[70, 88], [78, 88], [78, 98], [70, 98]]",
            "outline = [[60, 80], [68, 80], [68, 90], [60, 90]]",
        )],
    );
    let ids = |report: &Value| -> Vec<String> {
        let fails = report["findings"].as_array().unwrap().iter().filter(|it| text(it, "verdict") == "fails");
        let ids = fails.map(|finding| text(finding, "id").to_owned());
        ids.filter(|id| id.starts_with("tern-hollow/")).collect()
    };
    let (before, after) = (ids(&plain), ids(&moved));
    assert_eq!(
        before.iter().filter(|id| !after.contains(id)).count(),
        3,
        "the shed is clear of two lines and the easement"
    );
    assert!(after.iter().all(|id| before.contains(id)), "the others keep their ids");
}

/// Both readings of the definition are told, and a gap of 2 ft in the fence adds exactly one finding.
#[test]
fn the_pool_behind_the_house() {
    let plain = report("garden-pool", &[]);
    for (id, share, verdict) in
        [("lake-hard-surface", 29.1, "meets"), ("lake-hard-surface-with-water", 34.8, "fails")]
    {
        let found = finding(&plain, &format!("tern-hollow/{id}:lot"));
        let shown = found["shown"]["value"].as_f64().unwrap() * 100.0;
        assert!((shown - share).abs() < 0.05 && text(found, "verdict") == verdict, "{id}: {shown} %");
    }
    let fails = |report: &Value| -> Vec<String> {
        let fails = report["findings"].as_array().unwrap().iter().filter(|it| text(it, "verdict") == "fails");
        fails.map(|finding| text(finding, "id").to_owned()).collect()
    };
    let gap = report(
        "garden-pool",
        &[("[4, 107], [68, 107], [68, 66], [64, 66]]", "[4, 107], [68, 107], [68, 66], [66, 66]]")],
    );
    let new: Vec<String> = fails(&gap).into_iter().filter(|id| !fails(&plain).contains(id)).collect();
    assert_eq!(new, ["tern-hollow/pool-barrier-closed:water"]);
    let shown = finding(&gap, &new[0])["shown"]["value"].as_f64().unwrap() / FOOT;
    assert!((shown - 2.0).abs() < 1e-6, "{shown}");
}
