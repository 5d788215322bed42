use groundrule_units::Dimension::{self, Angle, Area, Length, Ratio, Volume};
use groundrule_units::{SheetUnit, read_quantity};

use crate::{asks, close, refuses};

#[track_caller]
fn reads(text: &str, dimension: Dimension, si: f64) {
    let written = read_quantity(text).unwrap_or_else(|unread| panic!("{text}: {unread}"));
    assert_eq!(written.value.dimension(), dimension, "{text}");
    close(text, written.value.si(), si);
    assert_eq!(written.text, text);
}

#[test]
fn the_unit_says_what_it_is() {
    reads("5 ft", Length, 1.524);
    reads("12'-4 1/2\"", Length, 148.5 * 0.0254);
    reads("5'-1/2\"", Length, 60.5 * 0.0254);
    reads("12-4.5", Length, 148.5 * 0.0254);
    reads("915 mm", Length, 0.915);
    reads("35 %", Ratio, 0.35);
    reads("1 in 12", Ratio, 1.0 / 12.0);
    reads("1/4\"/ft", Ratio, 0.25 / 12.0);
    reads("200 sq ft", Area, 200.0 * 0.3048 * 0.3048);
    reads("0.23 ac", Area, 0.23 * 43_560.0 * 0.3048 * 0.3048);
    reads("931 m2", Area, 931.0);
    reads("10,019 sf", Area, 10_019.0 * 0.3048 * 0.3048);
    reads("3 cu yd", Volume, 81.0 * 0.3048 * 0.3048 * 0.3048);
    reads("18 deg", Angle, 18.0_f64.to_radians());
    reads("184°30'", Angle, 184.5_f64.to_radians());
}

#[test]
fn two_meanings_ask() {
    asks("1:12", read_quantity, &["1 in 12", "12 in 1"]);
    asks("5", read_quantity, &["5 ft", "5 in", "5 m", "5 mm", "5 sq ft", "5 %"]);
    asks("0", read_quantity, &["0 ft", "0 in", "0 m", "0 mm", "0 sq ft", "0 %"]);
    asks("20 perches", read_quantity, &["20 rods", "20 sq rods"]);
    asks("4-1/2", read_quantity, &["4-1/2\"", "4'-0 1/2\""]);
    asks("3,050 m", read_quantity, &["3.050 m", "3050 m"]);
    asks("6 in 10 ft", read_quantity, &["6\" in 10 ft", "6' in 10 ft"]);
}

#[test]
fn refused_quantities() {
    refuses("5 furlongs", read_quantity, "`furlongs` is not a unit known here");
    refuses("five feet", read_quantity, "number");
    refuses("", read_quantity, "it is empty");
    refuses("12' 14\"", read_quantity, "under 12");
}

#[test]
fn sheet_units_have_their_names() {
    for unit in SheetUnit::ALL {
        assert_eq!(SheetUnit::parse(unit.name()), Ok(unit));
    }
    assert_eq!(SheetUnit::parse(" Metres "), Ok(SheetUnit::Metres));
    assert!(SheetUnit::parse("yd").is_err_and(|why| why.to_string().contains("write ft, in, m or mm")));
}
