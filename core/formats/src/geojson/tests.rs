//! GeoJSON in, good and bad, and out and in again.

use std::collections::BTreeMap;

use groundrule_plan::{KindTree, Place, Plan, Source};
use groundrule_site::{Mark, Site};
use groundrule_survey::{Position, resolve};
use groundrule_units::{Angle, Length};
use proptest::prelude::*;

use super::*;
use crate::{Layers, LonLat, Options, Use};

fn source(text: &str) -> Source {
    Source { name: "lots.geojson".to_owned(), text: text.into() }
}

fn layers() -> Layers {
    let named = [
        ("lot", Use::Lots),
        ("house", Use::Buildings),
        ("street", Use::Streets),
        ("tree", Use::Kind("tree".to_owned())),
    ];
    Layers::Named(named.into_iter().map(|(name, role)| (name.to_owned(), role)).collect())
}

fn feature(id: &str, layer: &str, kind: &str, coordinates: &str) -> String {
    format!(
        r#"{{"type":"Feature","id":"{id}","properties":{{"layer":"{layer}","name":"{id} name"}},"geometry":{{"type":"{kind}","coordinates":{coordinates}}}}}"#
    )
}

fn collection(features: &[String]) -> String {
    format!(r#"{{"type":"FeatureCollection","features":[{}]}}"#, features.join(",\n"))
}

/// An invented lot of about 24 by 36 m at 45 degrees north, its house, a shed, a tree and its street.
fn corner_lot() -> String {
    collection(&[
        feature(
            "L1",
            "lot",
            "Polygon",
            "[[[-93.0,45.0],[-92.9997,45.0],[-92.9997,45.0003],[-93.0,45.0003],[-93.0,45.0]]]",
        ),
        feature(
            "H1",
            "house",
            "Polygon",
            "[[[-92.99995,45.00010],[-92.9998,45.00010],[-92.9998,45.0002],[-92.99995,45.0002],[-92.99995,45.0001]]]",
        ),
        feature(
            "H2",
            "house",
            "MultiPolygon",
            "[[[[-92.99975,45.00025],[-92.99972,45.00025],[-92.99972,45.00028],[-92.99975,45.00025]]]]",
        ),
        feature("T1", "tree", "Point", "[-92.99996,45.00028,281.5]"),
        feature("S1", "street", "LineString", "[[-93.001,44.9999],[-92.998,44.9999]]"),
    ])
}

fn read_text(text: &str) -> Plan {
    read(&source(text), &Options::new("Heron Bend", layers())).expect("a plan")
}

#[test]
fn a_lot_with_its_buildings_becomes_a_plan() {
    let plan = read_text(&corner_lot());
    let lot = &plan.lots[0];
    assert_eq!(lot.id.value.0, "lot-L1");
    let sides: Vec<String> = lot
        .sides
        .iter()
        .map(|side| {
            format!(
                "{} {:?} {} {:?}",
                side.name.0,
                side.role.as_ref().map(|role| role.value),
                side.assumed,
                side.street
            )
        })
        .collect();
    let features: Vec<String> = plan
        .features
        .iter()
        .map(|feature| {
            format!(
                "{} {} on {:?}",
                feature.id.value.0,
                feature.kind.value,
                feature.lot.as_ref().map(|lot| &lot.value.0)
            )
        })
        .collect();
    let remarks: Vec<String> = plan
        .remarks
        .iter()
        .map(|remark| format!("{:?} {} {}", remark.gravity, remark.code, remark.message))
        .collect();
    crate::testing::snapshot!((sides, features, remarks));
    // Spans point at the feature in the file.
    let span = plan.features[0].span;
    assert!(
        plan.source.text[span.start as usize..span.end as usize]
            .starts_with(r#"{"type":"Feature","id":"H1""#)
    );
}

#[test]
fn the_plane_is_the_one_on_the_ground() {
    // pyproj 3.7.2, Geod(ellps='WGS84'): 0.0003 degrees of longitude at 45 and 45.0003 N, of latitude at 45 N.
    let expected = [23.654_051, 33.339_534, 23.653_927, 33.339_534];
    let plan = read_text(&corner_lot());
    let at: Vec<(f64, f64)> = plan.lots[0]
        .ring
        .vertices
        .iter()
        .map(|vertex| match &vertex.place {
            Place::At { x, y, .. } => (x.value.metres(), y.value.metres()),
            other => panic!("{other:?}"),
        })
        .collect();
    for (i, expected) in expected.iter().enumerate() {
        let (a, b) = (at[i], at[(i + 1) % 4]);
        let side = libm::hypot(b.0 - a.0, b.1 - a.1);
        assert!((side - expected).abs() < 2e-6, "side {i}: {side}");
    }
}

#[test]
fn a_lot_across_the_antimeridian_is_small() {
    let text = collection(&[feature(
        "F",
        "lot",
        "Polygon",
        "[[[179.9999,-16.8],[-179.9999,-16.8],[-179.9999,-16.7998],[179.9999,-16.7998],[179.9999,-16.8]]]",
    )]);
    let options = Options::new("", Layers::Only(Use::Lots));
    let plan = read(&source(&text), &options).expect("a plan");
    let widest = plan.lots[0].ring.vertices.iter().map(|vertex| match &vertex.place {
        Place::At { x, .. } => x.value.abs(),
        other => panic!("{other:?}"),
    });
    assert!(widest.max().expect("corners") < Length::from_metres(12.0));
    assert!((plan.site.longitude.expect("a place").degrees().abs() - 180.0).abs() < 1e-9);
}

fn faults(text: &str, options: &Options) -> Vec<String> {
    crate::testing::lines(&read(&source(text), options).expect_err("faults"))
}

#[test]
fn bad_files_are_told_all_at_once() {
    let options = Options::new("", layers());
    let near = |longitude, latitude| Options {
        near: Some(LonLat {
            longitude: Angle::from_degrees(longitude),
            latitude: Angle::from_degrees(latitude),
        }),
        ..Options::new("", Layers::Only(Use::Lots))
    };
    let lot = |coordinates: &str| collection(&[feature("L", "lot", "Polygon", coordinates)]);
    let only = Options::new("", Layers::Only(Use::Lots));
    let square = "[[[14.4,50.1],[14.4003,50.1],[14.4003,50.1002],[14.4,50.1]]]";
    let with_crs = |name: &str| {
        lot(square).replacen(
            '{',
            &format!(r#"{{"crs":{{"type":"name","properties":{{"name":"{name}"}}}},"#),
            1,
        )
    };
    crate::testing::snapshot!([
        faults("", &options),
        faults("{\n  \"type\": \"FeatureCollection\",\n  \"features\": [ {]\n}", &options),
        faults("[1, 2]", &options),
        faults(r#"{"type":"Point","coordinates":[1,2]}"#, &options),
        faults(r#"{"type":"FeatureCollection"}"#, &options),
        faults(&corner_lot().replace(r#""layer":"street""#, r#""layer":"road""#), &options),
        faults(&corner_lot().replace("layer", "strata"), &options),
        faults(&collection(&[]), &only),
        faults(
            &collection(&[
                feature("a", "lot", "Polygon", "[]"),
                feature("b", "lot", "Polygon", "[[[0,0],[1,0],[1,1],[0,1]]]"),
                feature("c", "lot", "Polygon", "[[[0,0],[1,0],[0,0],[0,0]]]"),
                feature("d", "lot", "Polygon", "[[[0],[1,0],[1,1],[0]]]"),
                feature("e", "lot", "Polygon", "[[[0,0],[1,0],[1,\"x\"],[0,0]]]"),
                feature("f", "lot", "LineString", "[[0,0],[1,0]]"),
                feature("g", "lot", "Circle", "[0,0]"),
                r#"{"type":"Feature","id":"h","properties":{},"geometry":null}"#.to_owned(),
                r#"{"type":"Feature","id":"i","properties":{},"geometry":{"type":"GeometryCollection","geometries":[]}}"#.to_owned(),
                "7".to_owned(),
            ]),
            &only
        ),
        faults(&lot("[[[30.2672,-97.7431],[30.2672,-97.7428],[30.2675,-97.7428],[30.2672,-97.7431]]]"), &only),
        faults(&lot("[[[457089,5549921],[457099,5549921],[457099,5549931],[457089,5549921]]]"), &only),
        faults(&lot("[[[0,0],[-97.7,30.2],[-97.7,30.3],[0,0]]]"), &only),
        faults(&lot("[[[14.0,50.0],[16.0,50.0],[16.0,51.0],[14.0,50.0]]]"), &only),
        faults(&lot(square), &near(50.1, 14.4)),
        faults(&lot(square), &near(-97.7, 30.3)),
        faults(&with_crs("urn:ogc:def:crs:EPSG::2277"), &only),
        faults(&lot(square).replacen('{', r#"{"local_frame":{"unit":"metre"},"#, 1), &only),
    ]);
    // The members older files name WGS 84 by, and a place that fits.
    for name in ["urn:ogc:def:crs:OGC:1.3:CRS84", "EPSG:4326", "urn:ogc:def:crs:EPSG::4326"] {
        assert!(read(&source(&with_crs(name)), &only).is_ok(), "{name}");
    }
    assert!(read(&source(&lot(square)), &near(14.6, 50.0)).is_ok());
}

#[test]
fn a_file_nested_or_repeated_without_end_is_only_a_fault() {
    let only = Options::new("", Layers::Only(Use::Lots));
    let deep = "[".repeat(200_000);
    assert!(read(&source(&deep), &only).is_err());
    let nested = collection(&[feature("L", "lot", "Polygon", &format!("{deep}{}", "]".repeat(200_000)))]);
    assert!(read(&source(&nested), &only).is_err());
    let broken: Vec<String> = (0..10_000).map(|_| "{}".to_owned()).collect();
    let faults = read(&source(&collection(&broken)), &only).expect_err("faults");
    assert_eq!(faults.faults.len(), 51);
    assert!(faults.faults[50].message.contains("9950 more"), "{}", faults.faults[50].message);
}

/// A plan out to GeoJSON.
fn written(plan: &Plan, found: &[Marked<'_>]) -> String {
    let (layout, _) = resolve(plan).expect("a layout");
    let (site, _) = Site::build(plan, &layout, KindTree::standard());
    write(plan, &layout, &site, found)
}

#[test]
fn what_is_written_reads_back_to_the_same_places() {
    let plan = read_text(&corner_lot());
    let text = written(&plan, &[]);
    let roles = [
        ("lot", Use::Lots),
        ("dwelling", Use::Buildings),
        ("accessory-structure", Use::Buildings),
        ("tree", Use::Kind("tree".to_owned())),
    ];
    let roles = roles.into_iter().map(|(name, role)| (name.to_owned(), role)).collect();
    let again = read(&source(&text), &Options::new("", Layers::Named(roles))).expect("a plan");
    let (first, _) = resolve(&plan).expect("a layout");
    let (second, _) = resolve(&again).expect("a layout");
    let sides = |layout: &groundrule_survey::Layout| -> Vec<f64> {
        let ring = &layout.lots[0].ring;
        let next = ring.iter().cycle().skip(1);
        let side = |(a, b): (&groundrule_survey::Point, &groundrule_survey::Point)| {
            libm::hypot((b.at.x - a.at.x).metres(), (b.at.y - a.at.y).metres())
        };
        ring.iter().zip(next).map(side).collect()
    };
    for (a, b) in sides(&first).iter().zip(sides(&second)) {
        assert!((a - b).abs() < 3e-4, "{a} {b}");
    }
    assert_eq!(again.features.len(), plan.features.len());
}

#[test]
fn features_and_findings_as_written() {
    let plan = read_text(&corner_lot());
    let place = |x, y| Position { x: Length::from_metres(x), y: Length::from_metres(y) };
    let marks = [
        Mark::Spot(place(0.0, 0.0)),
        Mark::Span(place(0.0, 0.0), place(10.0, 0.0)),
        Mark::Region(vec![place(0.0, 0.0), place(1.0, 0.0), place(0.0, 1.0)]),
    ];
    let properties = BTreeMap::from([("verdict".to_owned(), "verify".to_owned())]);
    let found = [Marked { id: "rear-yard/house".to_owned(), properties, marks: &marks }];
    insta::with_settings!({omit_expression => true}, { insta::assert_snapshot!(written(&plan, &found)) });
}

#[test]
fn without_a_place_on_the_earth_metres_are_written_and_refused_back() {
    let mut plan = read_text(&corner_lot());
    plan.site.latitude = None;
    let text = written(&plan, &[]);
    assert!(text.contains("\"local_frame\""));
    let value: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    let features = value["features"].as_array().expect("features");
    let lot = features.iter().find(|feature| feature["id"] == "lot-L1").expect("the lot");
    let x = |corner: usize| lot["geometry"]["coordinates"][0][corner][0].as_f64().expect("metres");
    assert!((x(1) - x(0) - 23.654).abs() < 2e-4, "the lot's width in metres: {}", x(1) - x(0));
    let faults = read(&source(&text), &Options::new("", Layers::Only(Use::Lots))).expect_err("refused");
    assert_eq!(faults.faults[0].code, "geojson::local-frame");
}

#[test]
fn north_turned_on_the_sheet_is_turned_back_on_the_earth() {
    let mut plan = read_text(&corner_lot());
    let straight = written(&plan, &[]);
    // The sheet turned: true north points to its right, so what was drawn up lies to the west.
    if let Some(north) = &mut plan.site.north {
        north.clockwise_of_up = Angle::from_degrees(90.0);
    }
    let turned: serde_json::Value = serde_json::from_str(&written(&plan, &[])).expect("JSON");
    let straight: serde_json::Value = serde_json::from_str(&straight).expect("JSON");
    let tree = |value: &serde_json::Value| {
        let features = value["features"].as_array().expect("features");
        let tree = features.iter().find(|feature| feature["id"] == "tree-T1").expect("the tree");
        [0, 1].map(|axis| tree["geometry"]["coordinates"][axis].as_f64().expect("a number"))
    };
    let centre = [
        plan.site.longitude.expect("a longitude").degrees(),
        plan.site.latitude.expect("a latitude").degrees(),
    ];
    let metres = |at: [f64; 2]| [(at[0] - centre[0]) * 78_846.8, (at[1] - centre[1]) * 111_131.9];
    let (before, after) = (metres(tree(&straight)), metres(tree(&turned)));
    // East and north on the ground of the sheet's (x, y): (-y, x).
    assert!((after[0] + before[1]).abs() < 0.01, "{before:?} {after:?}");
    assert!((after[1] - before[0]).abs() < 0.01, "{before:?} {after:?}");
}

proptest! {
    /// Any damage to a good file ends in a plan or in faults.
    #[test]
    fn damage_never_panics(at in 0usize..1500, cut in 0usize..40, put in "\\PC{0,6}") {
        let mut text: Vec<char> = corner_lot().chars().collect();
        let at = at.min(text.len());
        let end = (at + cut).min(text.len());
        text.splice(at..end, put.chars());
        let text: String = text.into_iter().collect();
        if let Err(faults) = read(&source(&text), &Options::new("", layers())) {
            crate::testing::lines(&faults);
        }
    }
}
