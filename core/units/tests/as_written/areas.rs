use groundrule_units::{SheetUnit, read_area, read_area_rounding, read_volume};

use crate::{asks, close, refuses};

#[track_caller]
fn reads(text: &str, square_metres: f64) {
    let written = read_area(text, None).unwrap_or_else(|unread| panic!("{text}: {unread}"));
    close(text, written.value.square_metres(), square_metres);
}

const SQUARE_FOOT: f64 = 0.3048 * 0.3048;

#[test]
fn acres_square_feet_and_square_metres() {
    reads("0.23 ac", 0.23 * 43_560.0 * SQUARE_FOOT);
    reads("0.23 acres ±", 0.23 * 43_560.0 * SQUARE_FOOT);
    for text in [
        "10,019 sf",
        "10,019 S.F.",
        "10019 sq ft",
        "10,019 sq. ft.",
        "10,019 sqft",
        "10,019 square feet",
        "10,019 ft2",
        "10,019 ft²",
    ] {
        reads(text, 10_019.0 * SQUARE_FOOT);
    }
    for text in ["931 m2", "931 m²", "931 sq m", "931 sq. m.", "931 square metres", "931 square meters"] {
        reads(text, 931.0);
    }
    reads("0.1 ha", 1000.0);
    reads("160 sq rods", 43_560.0 * SQUARE_FOOT);
    reads("0", 0.0);
}

/// International acre: 4,046.8564224 m² , 43,560 international square feet (NIST Handbook 44, appendix C).
#[test]
fn acre_in_square_metres() {
    reads("1 acre", 4_046.856_422_4);
}

#[test]
fn rounding_of_acres_hides_hundreds_of_square_feet() {
    let rounding = read_area_rounding("0.23 ac", None).expect("acres read");
    close("0.23 ac", rounding.square_feet(), 217.8);
}

#[test]
fn bare_areas() {
    let feet = read_area("200", Some(SheetUnit::Feet)).expect("the sheet is in feet");
    close("200", feet.value.square_feet(), 200.0);
    let metres = read_area("200", Some(SheetUnit::Metres)).expect("the sheet is in metres");
    close("200", metres.value.square_metres(), 200.0);
    asks("200", |text| read_area(text, None), &["200 sq ft", "200 m2"]);
    asks("200", |text| read_area(text, Some(SheetUnit::Inches)), &["200 sq ft", "200 sq in"]);
    asks("200", |text| read_area(text, Some(SheetUnit::Millimetres)), &["200 m2", "200 mm2"]);
}

#[test]
fn refused_areas() {
    refuses("12 ft", |text| read_area(text, None), "not a unit of area");
    refuses("-4 sf", |text| read_area(text, None), "number");
    refuses("1,00 sf", |text| read_area(text, None), "thousands");
}

#[test]
fn volumes() {
    let check = |text: &str, cubic_metres: f64| {
        let written = read_volume(text).unwrap_or_else(|unread| panic!("{text}: {unread}"));
        close(text, written.value.cubic_metres(), cubic_metres);
    };
    check("5 cu yd", 5.0 * 27.0 * 0.3048 * 0.3048 * 0.3048);
    check("5 CY", 5.0 * 27.0 * 0.3048 * 0.3048 * 0.3048);
    check("27 cu. ft.", 27.0 * 0.3048 * 0.3048 * 0.3048);
    check("3.8 m³", 3.8);
    // The US gallon is 231 cubic inches, 3.785411784 L (NIST Handbook 44, appendix C).
    check("1 gal", 0.003_785_411_784);
    check("1000 L", 1.0);
    refuses("5", read_volume, "no unit");
    refuses("5 ft", read_volume, "not a unit of volume");
}
