//! The plane against geodesics computed elsewhere; sources beside the data.

use geographiclib_rs::{Geodesic, InverseGeodesic};
use proptest::prelude::*;
use serde::Deserialize;

use super::*;
use crate::kernel::{Xy, length, minus, twice_area};

#[derive(Deserialize)]
struct Published {
    lots: Vec<LotCase>,
    projected: Vec<PointCase>,
}

#[derive(Deserialize)]
struct LotCase {
    name: String,
    ring: Vec<[f64; 2]>,
    sides: Vec<f64>,
    diagonals: Vec<f64>,
    area: f64,
    plane: Vec<[f64; 2]>,
}

#[derive(Deserialize)]
struct PointCase {
    epsg: u32,
    lon: f64,
    lat: f64,
    x: f64,
    y: f64,
    definition: String,
}

fn published() -> Published {
    serde_json::from_str(include_str!("../../tests/data/local_planes.json")).expect("test data")
}

fn degrees(longitude: f64, latitude: f64) -> LonLat {
    LonLat { longitude: Angle::from_degrees(longitude), latitude: Angle::from_degrees(latitude) }
}

fn flat(plane: &Plane, ring: &[[f64; 2]]) -> Vec<Xy> {
    ring.iter()
        .map(|&[x, y]| plane.position(degrees(x, y)).expect("on the plane"))
        .map(|at| [at.x.metres(), at.y.metres()])
        .collect()
}

#[track_caller]
fn close(what: &str, found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found} is not {expected} to {tolerance}");
}

#[test]
fn sides_diagonals_and_areas_of_lots_are_those_on_the_ground() {
    for case in published().lots {
        let centre = degrees(case.ring[0][0], case.ring[0][1]);
        let plane = Plane::at(centre, Ellipsoid::WGS84).expect("a plane");
        let ring = flat(&plane, &case.ring);
        for (found, expected) in ring.iter().zip(&case.plane) {
            // The published places are rounded to a micrometre.
            close(&case.name, length(minus(*found, *expected)), 0.0, 1e-6);
        }
        for (i, side) in case.sides.iter().enumerate() {
            close(&case.name, length(minus(ring[(i + 1) % 4], ring[i])), *side, 1e-6);
        }
        for (i, diagonal) in case.diagonals.iter().enumerate() {
            close(&case.name, length(minus(ring[i + 2], ring[i])), *diagonal, 1e-6);
        }
        // The published geodesic area is itself good to 2e-5 m2.
        close(&case.name, twice_area(&ring).abs() / 2.0, case.area, 5e-5);
    }
}

/// The same lots in other systems: whatever a file is written in, the plane is the same.
#[test]
fn projected_systems_lead_to_the_same_place() {
    let mut refused = Vec::new();
    for case in published().projected {
        let by_code = System::from_epsg(case.epsg);
        let by_text = System::from_wkt(&case.definition);
        if let Err(PlaneError::Unusable(why)) = &by_text {
            refused.push((case.epsg, why.clone()));
            continue;
        }
        for system in by_code.into_iter().chain([by_text]) {
            let system = system.expect("a system");
            let found = system.lon_lat([case.x, case.y]).expect("a place");
            // Definitions round a false easting to a thousandth of a foot: 0.1 mm, 1e-9 degrees.
            close(system.name(), found.longitude.degrees(), case.lon, 2e-9);
            close(system.name(), found.latitude.degrees(), case.lat, 2e-9);
        }
    }
    assert_eq!(refused.len(), 1, "{refused:?}");
    assert_eq!(refused[0].0, 5514);
    assert!(refused[0].1.contains("Krovak"), "{refused:?}");
}

#[test]
fn the_two_feet_differ_by_12_feet_in_six_million() {
    // NIST/NGS notice on the end of the US survey foot (2020): 2 parts per million.
    let [international, survey] =
        [crate::LinearUnit::Foot, crate::LinearUnit::SurveyFoot].map(|unit| unit.one().feet() * 6e6);
    close("difference", survey - international, 12.000_024, 1e-6);
    let texas = published().projected.into_iter().find(|case| case.epsg == 2277).expect("Texas Central");
    let system = System::from_wkt(&texas.definition).expect("a system");
    let survey = system.lon_lat([texas.x, texas.y]).expect("a place");
    let wrong = system.in_unit(crate::LinearUnit::Foot).lon_lat([texas.x, texas.y]).expect("a place");
    let north = (survey.latitude - wrong.latitude).degrees() * 110_850.0;
    close("20 ft off to the north in metres", north, 6.1, 0.2);
}

#[test]
fn web_mercator_is_known_however_it_is_called() {
    let published = published();
    let case = published.projected.iter().find(|case| case.epsg == 3857).expect("Web Mercator");
    for name in ["WGS_1984_Web_Mercator_Auxiliary_Sphere", "Popular Visualisation CRS / Mercator"] {
        let other = case.definition.replace("WGS 84 / Pseudo-Mercator", name);
        assert!(System::from_wkt(&other).expect("a system").is_web_mercator(), "{name}");
    }
    assert!(System::from_epsg(900_913).expect("known").expect("a system").is_web_mercator());
}

#[test]
fn broken_definitions_say_what_is_wrong() {
    let cases = [
        ("", "goes wrong"),
        ("undefined", "goes wrong"),
        ("GEOGCS[", "goes wrong"),
        ("GEOGCS[\"x\"]", "no spheroid"),
        ("LOCAL_CS[\"site\",UNIT[\"metre\",1]]", "LOCAL_CS"),
        ("GEOGCS[\"x\",DATUM[\"d\",SPHEROID[\"moon\",1737400,0]]]", "not the earth"),
        ("GEOGCS[\"x\",DATUM[\"d\",SPHEROID[\"s\",6378137,298.25]],UNIT[\"grad\",0.0157]]", "degrees"),
        (
            "PROJCS[\"x\",GEOGCS[\"g\",DATUM[\"d\",SPHEROID[\"s\",6378137,298.25]]],PROJECTION[\"Transverse_Mercator\"]]",
            "linear unit",
        ),
        ("PROJCS[\"x\",UNIT[\"metre\",1]]", "no projection"),
    ];
    for (text, expected) in cases {
        match System::from_wkt(text) {
            Err(PlaneError::Unusable(why)) => assert!(why.contains(expected), "{text}: {why}"),
            other => panic!("{text}: {other:?}"),
        }
    }
    let deep = "A[".repeat(100_000);
    assert!(System::from_wkt(&deep).is_err());
}

#[test]
fn there_is_no_plane_at_a_pole_or_nowhere() {
    for centre in [degrees(0.0, 90.0), degrees(f64::NAN, 0.0), degrees(0.0, f64::INFINITY)] {
        assert_eq!(Plane::at(centre, Ellipsoid::WGS84).err(), Some(PlaneError::OutOfReach));
    }
}

proptest! {
    /// Karney's geodesics (geographiclib) and the plane agree to a micrometre on any lot.
    #[test]
    fn a_length_on_the_plane_is_the_geodesic(
        longitude in -180.0..180.0f64, latitude in -80.0..80.0f64,
        east in -300.0..300.0f64, north in -300.0..300.0f64,
        further_east in -50.0..50.0f64, further_north in -50.0..50.0f64,
    ) {
        let plane = Plane::at(degrees(longitude, latitude), Ellipsoid::WGS84).expect("a plane");
        let at = |x: f64, y: f64| Position { x: Length::from_metres(x), y: Length::from_metres(y) };
        let ends = [at(east, north), at(east + further_east, north + further_north)];
        let [a, b] = ends.map(|end| plane.lon_lat(end).expect("a place"));
        let geodesic: f64 = Geodesic::wgs84().inverse(
            a.latitude.degrees(), a.longitude.degrees(), b.latitude.degrees(), b.longitude.degrees(),
        );
        prop_assert!((geodesic - libm::hypot(further_east, further_north)).abs() < 1e-6);
        // And back again.
        let back = plane.position(a).expect("on the plane");
        prop_assert!((back.x - ends[0].x).abs() < Length::from_metres(1e-6));
        prop_assert!((back.y - ends[0].y).abs() < Length::from_metres(1e-6));
    }
}
