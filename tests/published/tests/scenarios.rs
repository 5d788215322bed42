//! The two example plans made of measurements, against an independent solution.
//!
//! Source: `data/scenarios.json`, an independent solution with scipy 1.17.1 of the invented plans; the script that wrote
//! it, `independent/scenarios.py`, shares no code with this project and was given the readings by hand.

#![allow(clippy::expect_used, clippy::panic, reason = "a test ends where something it needs is not there")]

use groundrule_plan::{KindTree, Source, read_plan};
use groundrule_site::{FeatureId, Measured, Site};
use groundrule_survey::{Dispute, Layout, Point};

use serde_json::Value;

const ROUGH_MARKUP: &str = include_str!("../../../examples/rough-markup.toml");
const DEED: &str = include_str!("../../../examples/deed-with-a-slip.toml");

/// Coordinates, in metres.
const PLACE: f64 = 1e-6;
/// Spreads, as a share of themselves.
const SPREAD: f64 = 1e-4;
/// A spread that the program draws for, because more than two points could be the nearest; see `core/site`.
const DRAWN: f64 = 0.03;

struct Case {
    layout: Layout,
    site: Site,
}

impl Case {
    fn of(text: &str) -> Self {
        let plan = read_plan(&Source { name: "plan.toml".to_owned(), text: text.into() }).expect("a plan");
        let (layout, _) = groundrule_survey::resolve(&plan).expect("a layout");
        let (site, _) = Site::build(&plan, &layout, KindTree::standard());
        Self { layout, site }
    }

    fn id(&self, name: &str) -> FeatureId {
        self.site.find(name).expect("a feature of this name")
    }

    /// The value of this name: `area of shed`, `coverage of lot`, `shed to lot.nw-sw`, `shed to house`.
    fn value(&self, name: &str) -> Measured {
        if let Some(of) = name.strip_prefix("area of ") {
            return self.site.area(self.id(of));
        }
        if let Some(lot) = name.strip_prefix("coverage of ") {
            let built = [self.id("house"), self.id("shed")];
            let lot = self.id(lot);
            let covered = self.site.covered(&built, Some(lot));
            return covered.ratio(&self.site.area(lot)).expect("a share");
        }
        let (from, to) = name.split_once(" to ").expect("two things");
        let (from, to) = (self.id(from), self.id(to));
        match self.site.feature(to).expect("a feature").kind.as_str() {
            "lot-line" => self.site.yard(from, to),
            _ => self.site.clearance(from, to),
        }
    }
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

#[track_caller]
fn same(found: f64, expected: f64, within: f64, what: &str) {
    assert!((found - expected).abs() <= within, "{what}: {found} is not {expected} within {within}");
}

/// The standard uncertainty in x and in y.
fn sigma(point: &Point) -> [f64; 2] {
    let terms = point.error.terms();
    let root = |square: f64| libm::sqrt(square);
    [
        root(terms.iter().map(|term| term.x.metres() * term.x.metres()).sum()),
        root(terms.iter().map(|term| term.y.metres() * term.y.metres()).sum()),
    ]
}

/// Every point and every value of the independent solution.
fn check(text: &str, expected: &Value) {
    let case = Case::of(text);
    let points = expected["points"].as_object().expect("points");
    for (name, point) in points {
        let found = case.layout.named.get(name).expect("a point of this name");
        let at = [found.at.x.metres(), found.at.y.metres()];
        for (axis, (at, sigma)) in at.into_iter().zip(sigma(found)).enumerate() {
            same(at, number(&point["at"][axis]), PLACE, name);
            let spread = number(&point["sigma"][axis]);
            same(sigma, spread, (SPREAD * spread).max(1e-9), &format!("spread of {name}"));
        }
    }
    let values = expected["values"].as_object().expect("values");
    for (name, value) in values {
        let found = case.value(name);
        let (expected, spread) = (number(&value["value"]), number(&value["sigma"]));
        same(found.value().si(), expected, PLACE * expected.abs().max(1.0), name);
        let within = if value["could decide"].as_u64() <= Some(2) { SPREAD } else { DRAWN };
        same(found.spread().si(), spread, (within * spread).max(1e-9), &format!("spread of {name}"));
    }
    assert!(points.len() >= 12 && values.len() >= 12, "the solution is whole");
}

fn data() -> Value {
    serde_json::from_str(include_str!("../data/scenarios.json")).expect("data")
}

/// The rough markup with every position read to within so much.
fn read_to_within(each: &str) -> String {
    let class = "aerial = \"1 ft\"";
    assert_eq!(ROUGH_MARKUP.matches(class).count(), 1);
    ROUGH_MARKUP.replace(class, &format!("aerial = \"{each}\""))
}

#[test]
fn rough_markup() {
    for solution in data()["rough-markup"].as_array().expect("two accuracies") {
        let each = solution["each"].as_str().expect("an accuracy");
        check(&read_to_within(each), solution);
        let layout = Case::of(&read_to_within(each)).layout;
        let [adjustment] = layout.adjustments.as_slice() else { panic!("one adjustment") };
        let beyond = f64::from(adjustment.beyond_needed);
        same(beyond, number(&solution["degrees of freedom"]), 0.0, "readings beyond need");
        let off = adjustment.together.expect("readings beyond need").off.fraction();
        same(off * off * beyond, number(&solution["weighted sum"]), 1e-6, "weighted sum");
    }
}

#[test]
fn rough_markup_as_it_is_written_is_read_to_a_foot() {
    check(ROUGH_MARKUP, &data()["rough-markup"][0]);
}

#[test]
fn deed_with_a_slip() {
    let solution = &data()["deed-with-a-slip"];
    check(DEED, solution);
    let layout = Case::of(DEED).layout;
    let disputed: Vec<&Dispute> = layout.disputed.values().collect();
    let [Dispute::Off(misclosure)] = disputed.as_slice() else { panic!("the traverse: {disputed:?}") };
    same(misclosure.si(), number(&solution["misclosure"]), PLACE, "misclosure");
    for (slip, put_right) in [("\"S 85°30' E\"", "call 2 to N E"), ("\"S 85°30' W\"", "call 4 to N W")] {
        let settled = Case::of(&DEED.replace(slip, &slip.replace('S', "N")));
        let area = settled.site.area(settled.id("lot")).value().si();
        same(area, number(&solution[put_right]["area"]), 1e-6, put_right);
    }
}
