//! Packages built here, good and hostile.

use std::collections::BTreeMap;

use groundrule_plan::{Faults, Place, Plan};
use proptest::prelude::*;
use rusqlite::{Connection, params};

use super::*;
use crate::LinearUnit;

/// A geometry as the standard's binary form: header without envelope, then well-known binary.
fn blob(system: i32, geometry: &[u8]) -> Vec<u8> {
    let mut bytes = b"GP\x00\x01".to_vec();
    bytes.extend(system.to_le_bytes());
    bytes.extend(geometry);
    bytes
}

fn places(places: &[(f64, f64)]) -> Vec<u8> {
    let mut bytes = u32::try_from(places.len()).expect("few").to_le_bytes().to_vec();
    for (x, y) in places {
        bytes.extend(x.to_le_bytes());
        bytes.extend(y.to_le_bytes());
    }
    bytes
}

fn shape(kind: u32, rest: &[u8]) -> Vec<u8> {
    let mut bytes = vec![1];
    bytes.extend(kind.to_le_bytes());
    bytes.extend(rest);
    bytes
}

fn polygon(ring: &[(f64, f64)]) -> Vec<u8> {
    let mut rest = 1u32.to_le_bytes().to_vec();
    rest.extend(places(ring));
    shape(3, &rest)
}

fn line(path: &[(f64, f64)]) -> Vec<u8> {
    shape(2, &places(path))
}

/// A package with the three tables the standard asks for and some systems.
fn package() -> Connection {
    let package = Connection::open_in_memory().expect("memory");
    package
        .execute_batch(
            "CREATE TABLE gpkg_spatial_ref_sys (srs_name TEXT NOT NULL, srs_id INTEGER PRIMARY KEY,
                organization TEXT NOT NULL, organization_coordsys_id INTEGER NOT NULL,
                definition TEXT NOT NULL, description TEXT);
             CREATE TABLE gpkg_contents (table_name TEXT PRIMARY KEY, data_type TEXT NOT NULL, srs_id INTEGER);
             CREATE TABLE gpkg_geometry_columns (table_name TEXT, column_name TEXT, srs_id INTEGER);
             INSERT INTO gpkg_spatial_ref_sys VALUES
                ('Undefined cartesian', -1, 'NONE', -1, 'undefined', NULL),
                ('Undefined geographic', 0, 'NONE', 0, 'undefined', NULL),
                ('WGS 84', 4326, 'EPSG', 4326, 'undefined', NULL),
                ('Mercator of the moon', 9, 'NONE', 9, 'PROJCS[\"moon\"]', NULL),
                ('WGS 84 / UTM zone 33N', 100, 'EPSG', 32633, 'undefined', NULL);",
        )
        .expect("tables");
    package
}

fn add_layer(package: &Connection, name: &str, system: i32, rows: &[Option<Vec<u8>>]) {
    package
        .execute_batch(&format!(
            "CREATE TABLE \"{name}\" (fid INTEGER PRIMARY KEY, geom BLOB, name TEXT);
             INSERT INTO gpkg_contents VALUES ('{name}', 'features', {system});
             INSERT INTO gpkg_geometry_columns VALUES ('{name}', 'geom', {system});"
        ))
        .expect("a layer");
    for row in rows {
        let geometry = row.as_ref().map(|geometry| blob(system, geometry));
        package
            .execute(
                &format!("INSERT INTO \"{name}\" (geom, name) VALUES (?1, ?2)"),
                params![geometry, "Alder Row"],
            )
            .expect("a row");
    }
}

/// A lot of 20 by 30 m in UTM zone 33, its house and its street.
const LOT: [(f64, f64); 5] = [
    (457_000.0, 5_549_900.0),
    (457_020.0, 5_549_900.0),
    (457_020.0, 5_549_930.0),
    (457_000.0, 5_549_930.0),
    (457_000.0, 5_549_900.0),
];
const HOUSE: [(f64, f64); 5] = [
    (457_004.0, 5_549_906.0),
    (457_016.0, 5_549_906.0),
    (457_016.0, 5_549_916.0),
    (457_004.0, 5_549_916.0),
    (457_004.0, 5_549_906.0),
];
const STREET: [(f64, f64); 2] = [(456_900.0, 5_549_890.0), (457_100.0, 5_549_890.0)];

fn options() -> Options {
    let layers = [("lots", Use::Lots), ("houses", Use::Buildings), ("streets", Use::Streets)];
    Options::new(
        "Heron Bend",
        Layers::Named(layers.into_iter().map(|(name, role)| (name.to_owned(), role)).collect()),
    )
}

fn town(system: i32) -> Connection {
    let package = package();
    add_layer(&package, "lots", system, &[Some(polygon(&LOT))]);
    add_layer(&package, "houses", system, &[Some(polygon(&HOUSE))]);
    add_layer(&package, "streets", system, &[Some(line(&STREET))]);
    package
}

fn widths(plan: &Plan) -> Vec<f64> {
    let at = |i: usize| match &plan.lots[0].ring.vertices[i].place {
        Place::At { x, y, .. } => (x.value.metres(), y.value.metres()),
        other => panic!("{other:?}"),
    };
    [(0, 1), (1, 2)].map(|(a, b)| libm::hypot(at(b).0 - at(a).0, at(b).1 - at(a).1)).to_vec()
}

#[test]
fn a_package_is_read_from_a_connection_and_from_bytes() {
    let mut package = town(100);
    let plan = super::read("town.gpkg", &package, &options()).expect("a plan");
    assert_eq!(plan.features[0].kind.value, "dwelling");
    assert_eq!(plan.features[0].lot.as_ref().map(|lot| lot.value.0.as_str()), Some("lot-1"));
    let streets: Vec<Option<&str>> = plan.lots[0].sides.iter().map(|side| side.street.as_deref()).collect();
    assert_eq!(streets, [Some("Alder Row"), None, None, None]);
    // UTM lengths are 0.99962 of those on the ground here (EPSG 32633 at 14.4, 50.1: pyproj 3.7.2).
    for (found, drawn) in widths(&plan).iter().zip([20.0, 30.0]) {
        assert!((found - drawn / 0.999_622_61).abs() < 1e-4, "{found}");
    }
    let bytes = package.serialize(MAIN_DB).expect("bytes").to_vec();
    let again = read_bytes("town.gpkg", &bytes, &options()).expect("a plan");
    assert_eq!(format!("{:?}", again.lots), format!("{:?}", plan.lots));
}

#[test]
fn an_undefined_system_is_refused_until_the_unit_is_said() {
    for system in [-1, 0] {
        let package = town(system);
        let faults = super::read("town.gpkg", &package, &options()).expect_err("refused");
        assert_eq!(faults.faults[0].code, "geopackage::undefined-system");
        let told = Options { unit: Some(LinearUnit::Foot), ..options() };
        let plan = super::read("town.gpkg", &package, &told).expect("a plan");
        assert_eq!(plan.site.latitude, None);
        for (found, drawn) in widths(&plan).iter().zip([20.0, 30.0]) {
            assert!((found - drawn * 0.3048).abs() < 1e-9, "{found}");
        }
    }
}

#[test]
fn other_layers_are_left_out_aloud() {
    let package = town(100);
    add_layer(&package, "trees", 100, &[Some(shape(1, &places(&[(457_001.0, 5_549_901.0)])[4..]))]);
    let plan = super::read("town.gpkg", &package, &options()).expect("a plan");
    let remark = plan.remarks.iter().find(|remark| remark.code == "data::layers-left-out").expect("said");
    assert!(remark.message.contains("`trees` (1)"), "{}", remark.message);
    let Layers::Named(mut named) = options().layers else { panic!("named") };
    named.insert("trees".to_owned(), Use::Kind("tree".to_owned()));
    let plan = super::read("town.gpkg", &package, &Options { layers: Layers::Named(named), ..options() })
        .expect("a plan");
    assert_eq!(plan.features[1].id.value.0, "tree-1");
}

fn faults(package: &Connection, options: &Options) -> Vec<String> {
    lines(&super::read("town.gpkg", package, options).expect_err("faults"))
}

fn lines(faults: &Faults) -> Vec<String> {
    crate::testing::lines(faults)
}

#[test]
fn bad_packages_are_told() {
    let only = Options::new("", Layers::Only(Use::Lots));
    let with = |rows: &[Option<Vec<u8>>]| {
        let package = package();
        add_layer(&package, "lots", 100, rows);
        faults(&package, &only)
    };
    let two = package();
    add_layer(&two, "lots", 100, &[Some(polygon(&LOT))]);
    add_layer(
        &two,
        "houses",
        4326,
        &[Some(polygon(&[(14.4, 50.1), (14.5, 50.1), (14.5, 50.2), (14.4, 50.1)]))],
    );
    let mixed = Options::new(
        "",
        Layers::Named(BTreeMap::from([
            ("lots".to_owned(), Use::Lots),
            ("houses".to_owned(), Use::Buildings),
        ])),
    );
    let [moon, nowhere] = [9, 77].map(|system| {
        let package = package();
        add_layer(&package, "lots", system, &[Some(polygon(&LOT))]);
        faults(&package, &only)
    });
    let mut many = u32::MAX.to_le_bytes().to_vec();
    many.extend(places(&LOT));
    let open = &LOT[..4];
    let bare = Connection::open_in_memory().expect("memory");
    crate::testing::snapshot!([
        lines(&read_bytes("x.gpkg", b"", &only).expect_err("faults")),
        lines(&read_bytes("x.gpkg", b"SQLite format 3\0 but not really", &only).expect_err("faults")),
        lines(&read_bytes("x.gpkg", &[0; 5000], &only).expect_err("faults")),
        faults(&bare, &only),
        faults(&package(), &options()),
        faults(&town(100), &only),
        faults(&town(100), &Options::new("", Layers::Named(BTreeMap::new()))),
        faults(&two, &mixed),
        moon,
        nowhere,
        with(&[
            None,
            Some(Vec::new()),
            Some(vec![9; 40]),
            Some(shape(3, &0u32.to_le_bytes())),
            Some(shape(3, &many)),
            Some(shape(6, &u32::MAX.to_le_bytes())),
            Some(polygon(open)),
            Some(polygon(&[(f64::NAN, 0.0), (1.0, 0.0), (1.0, 1.0), (f64::NAN, 0.0)])),
            Some(shape(10, &[0; 8])),
            Some(line(&STREET)),
        ]),
        with(&[Some(polygon(&[(1e300, 0.0), (2e300, 0.0), (2e300, 1e300), (1e300, 0.0)]))]),
    ]);
}

#[test]
fn nested_collections_cost_no_stack() {
    let package = package();
    let mut nested = Vec::new();
    for _ in 0..200_000 {
        nested.extend(shape(7, &1u32.to_le_bytes()));
    }
    add_layer(&package, "lots", 100, &[Some(nested)]);
    let told = faults(&package, &Options::new("", Layers::Only(Use::Lots)));
    assert!(told[0].contains("collection"), "{told:?}");
}

#[test]
fn views_that_never_end_are_not_asked() {
    let package = package();
    package
        .execute_batch(
            "CREATE VIEW lots AS WITH RECURSIVE n(fid) AS (SELECT 1 UNION ALL SELECT fid + 1 FROM n)
                SELECT fid, x'00' AS geom FROM n;
             INSERT INTO gpkg_contents VALUES ('lots', 'features', 100);
             INSERT INTO gpkg_geometry_columns VALUES ('lots', 'geom', 100);",
        )
        .expect("a view");
    let told = faults(&package, &options());
    assert!(told.iter().any(|line| line.contains("no feature tables")), "{told:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    /// Damaged files end in a plan or in faults.
    #[test]
    fn damage_never_panics(hits in prop::collection::vec((0usize..40_000, any::<u8>()), 1..30)) {
        let mut bytes = town(100).serialize(MAIN_DB).expect("bytes").to_vec();
        let size = bytes.len();
        for (at, byte) in hits {
            bytes[at % size] = byte;
        }
        let _ = read_bytes("town.gpkg", &bytes, &options());
    }
}
