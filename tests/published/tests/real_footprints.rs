//! Real building footprints, plots and streets that nobody here drew, from the file to the measurements.
//!
//! The data is `momepy/datasets/bubenec.gpkg` of the Python package momepy 0.11.0 (BSD-3-Clause), a
//! GeoPackage in Web Mercator; it is downloaded, not committed. The expected values in
//! `data/real_footprints.json` come from `real_footprints.py`: another language, other libraries, another
//! projection, and the roles of lot lines programmed a second time from their definition.
//!
//! Run with the path of the file:
//! `GROUNDRULE_FOOTPRINTS=bubenec.gpkg cargo test -p groundrule-published --features real-data`.

#![allow(clippy::expect_used, reason = "a test ends where something it needs is not there")]

use std::collections::BTreeMap;

use groundrule_formats::{Layers, Options, Use, geopackage};
use groundrule_plan::{Gravity, KindTree, Plan};
use groundrule_site::{FeatureId, Site};
use groundrule_units::Length;
use serde_json::Value;

/// Lengths in the expected values are rounded to a micrometre and the two planes differ by less.
const LENGTH: f64 = 5e-6;
/// Areas in square metres, of plots up to some hectares.
const AREA: f64 = 1e-3;

struct Town {
    plan: Plan,
    site: Site,
    ids: BTreeMap<String, FeatureId>,
    expected: Value,
}

#[allow(
    clippy::disallowed_methods,
    reason = "a test of a file on disk; the path comes from whoever downloaded it"
)]
fn town() -> Town {
    let path = std::env::var("GROUNDRULE_FOOTPRINTS")
        .expect("GROUNDRULE_FOOTPRINTS must name bubenec.gpkg; see the head of this file");
    let bytes = std::fs::read(&path).expect("the file GROUNDRULE_FOOTPRINTS names");
    let layers = BTreeMap::from([
        ("plots".to_owned(), Use::Lots),
        ("buildings".to_owned(), Use::Buildings),
        ("streets".to_owned(), Use::Streets),
    ]);
    let options = Options::new("Real footprints", Layers::Named(layers));
    let plan = geopackage::read_bytes("bubenec.gpkg", &bytes, &options).expect("a plan");
    let (layout, remarks) = groundrule_survey::resolve(&plan).expect("a layout");
    assert!(remarks.iter().all(|remark| remark.gravity != Gravity::Wrong), "{remarks:#?}");
    let (site, _) = Site::build(&plan, &layout, KindTree::standard());
    let ids = site.features().map(|(id, feature)| (feature.id.0.clone(), id)).collect();
    let expected = serde_json::from_str(include_str!("../data/real_footprints.json")).expect("values");
    Town { plan, site, ids, expected }
}

impl Town {
    fn rows(&self, table: &str) -> impl Iterator<Item = &Vec<Value>> {
        self.expected[table].as_array().expect("a table").iter().map(|row| row.as_array().expect("a row"))
    }

    fn count(&self, pointer: &str) -> usize {
        let count = self.expected.pointer(pointer).and_then(Value::as_u64).expect("a count");
        usize::try_from(count).expect("a small count")
    }

    fn building(&self, fid: &Value) -> FeatureId {
        self.ids[&format!("building-{fid}")]
    }

    fn lot(&self, fid: &Value) -> FeatureId {
        self.ids[&format!("lot-{fid}")]
    }

    /// The lines of a lot that have a role, with it.
    fn lines(&self, lot: FeatureId) -> Vec<(String, FeatureId)> {
        let of_lot =
            self.site.features().filter(|(_, line)| line.kind == "lot-line" && line.lot == Some(lot));
        of_lot
            .filter_map(|(id, line)| match line.facts.get("role") {
                Some(groundrule_site::Fact::Text(role)) => Some((role.clone(), id)),
                _ => None,
            })
            .collect()
    }
}

#[track_caller]
fn close(what: &str, found: f64, expected: f64, tolerance: f64) {
    assert!(found.is_finite(), "{what}: {found}");
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, expected {expected}");
}

#[test]
fn every_plot_building_and_line_arrives() {
    let town = town();
    assert_eq!(town.plan.lots.len(), town.count("/plots"));
    assert_eq!(town.plan.features.len(), town.count("/buildings"));
    assert_eq!(town.plan.lots.iter().map(|lot| lot.sides.len()).sum::<usize>(), town.count("/sides"));
    let about = |code: &str| {
        let remark = town.plan.remarks.iter().find(|remark| remark.code == code);
        remark.map_or(0, |remark| remark.about.len())
    };
    assert_eq!(about("data::roles-assumed"), town.count("/fronts/plain") + town.count("/fronts/corner"));
    assert_eq!(about("data::front-unknown"), town.count("/fronts/unknown"));
    assert_eq!(about("data::street-land"), town.count("/fronts/land"));
    assert!(town.plan.lots.iter().flat_map(|lot| &lot.sides).all(|side| side.role.is_none() || side.assumed));
}

#[test]
fn buildings_stand_on_their_plots() {
    let town = town();
    for row in town.rows("yards") {
        let feature = town.site.feature(town.building(&row[0])).expect("the building");
        assert_eq!(feature.lot, Some(town.lot(&row[1])), "plot of building {}", row[0]);
        assert_eq!(feature.kind == "dwelling", row[2] == 1, "kind of building {}", row[0]);
        let area = town.site.area(town.building(&row[0])).value().si();
        close(&format!("area of building {}", row[0]), area, row[3].as_f64().expect("an area"), AREA);
    }
}

#[test]
fn yards_by_role_are_those_computed_elsewhere() {
    let town = town();
    let mut finite = BTreeMap::new();
    for row in town.rows("yards") {
        let building = town.building(&row[0]);
        let lines = town.lines(town.lot(&row[1]));
        for (role, expected) in ["front", "side", "rear", "street_side"].iter().zip(&row[4..]) {
            let away: Option<f64> = lines
                .iter()
                .filter(|(of, _)| of == role)
                .map(|(_, line)| town.site.distance(building, *line).value().si())
                .min_by(f64::total_cmp);
            let what = format!("{role} yard of building {}", row[0]);
            match (away, expected.as_f64()) {
                (Some(found), Some(expected)) => {
                    close(&what, found, expected, LENGTH);
                    *finite.entry(*role).or_insert(0) += 1;
                }
                (found, expected) => assert_eq!(found.is_some(), expected.is_some(), "{what}"),
            }
        }
    }
    let finite: Vec<(&str, i32)> = finite.into_iter().collect();
    assert_eq!(finite, [("front", 106), ("rear", 106), ("side", 106), ("street_side", 19)]);
}

#[test]
fn separations_under_10_feet_are_those_computed_elsewhere() {
    let town = town();
    let buildings: Vec<FeatureId> =
        town.ids.iter().filter(|(id, _)| id.starts_with("building-")).map(|(_, id)| *id).collect();
    let found: BTreeMap<(FeatureId, FeatureId), f64> = town
        .site
        .near(&buildings, &buildings, Length::from_feet(10.0))
        .into_iter()
        .map(|(a, b)| ((a.min(b), a.max(b)), town.site.distance(a, b).value().si()))
        .collect();
    let mut expected = 0;
    for row in town.rows("separations") {
        let (a, b) = (town.building(&row[0]), town.building(&row[1]));
        let what = format!("buildings {} and {}", row[0], row[1]);
        let away = found.get(&(a.min(b), a.max(b))).unwrap_or_else(|| panic!("{what} not found"));
        close(&what, *away, row[2].as_f64().expect("a distance"), LENGTH);
        expected += 1;
    }
    assert_eq!(found.len(), expected);
    assert_eq!(expected, 135);
}

#[test]
fn coverage_shares_are_those_computed_elsewhere() {
    let town = town();
    let mut shares = 0;
    for row in town.rows("coverage") {
        let lot = town.lot(&row[0]);
        let on_lot = town.site.features().filter(|(_, feature)| feature.lot == Some(lot));
        let built: Vec<FeatureId> =
            on_lot.filter(|(_, feature)| feature.id.0.starts_with("building-")).map(|(id, _)| id).collect();
        let area = town.site.area(lot).value().si();
        let covered = town.site.covered(&built, Some(lot)).value().si();
        close(&format!("area of plot {}", row[0]), area, row[1].as_f64().expect("an area"), AREA);
        close(&format!("share of plot {}", row[0]), covered / area, row[2].as_f64().expect("a share"), 1e-5);
        shares += 1;
    }
    assert_eq!(shares, 123);
}
