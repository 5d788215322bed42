use groundrule_units::Dimension::{self, Angle, Area, Flow, Length, Ratio, Speed, Time, Volume};
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
fn flows_speeds_and_times() {
    let foot = 0.3048_f64;
    for text in ["0.5 cfs", "0.5 ft3/s", "0.5 cu ft/s", "0.5 ft³/sec", "0.5 cu. ft. per second"] {
        reads(text, Flow, 0.5 * foot * foot * foot);
    }
    for text in ["92.5 gpm", "92.5 gal/min", "92.5 gallons per minute"] {
        reads(text, Flow, 92.5 * 231.0 * 0.0254 * 0.0254 * 0.0254 / 60.0);
    }
    reads("14 L/s", Flow, 0.014);
    reads("0.0106 m3/s", Flow, 0.0106);
    reads("36 m³/h", Flow, 0.01);
    reads("4 ft/s", Speed, 4.0 * foot);
    reads("4 fps", Speed, 4.0 * foot);
    reads("1.22 m/s", Speed, 1.22);
    for text in ["4 in/h", "4 in/hr", "4 in per hour", "4 inches an hour", "4 iph"] {
        reads(text, Speed, 4.0 * 0.0254 / 3600.0);
    }
    reads("25 mm/h", Speed, 0.025 / 3600.0);
    reads("24 mm per day", Speed, 0.001 / 3600.0);
    reads("48 h", Time, 172_800.0);
    reads("1.53 hours", Time, 5508.0);
    reads("10 min", Time, 600.0);
    reads("2 days", Time, 172_800.0);
    // A slope is still one.
    reads("1/4 in/ft", Ratio, 0.25 / 12.0);
    refuses("4 in/furlong", read_quantity, "is not a unit of length");
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
