use groundrule_units::{Angle, Bearing, read_angle, read_bearing, read_latitude, read_longitude, read_turn};

use crate::{asks, close, refuses};

#[track_caller]
fn azimuth(text: &str, degrees: f64) {
    let written = read_bearing(text).unwrap_or_else(|unread| panic!("{text}: {unread}"));
    close(text, written.value.azimuth().degrees(), degrees);
}

#[track_caller]
fn angle(text: &str, degrees: f64) {
    let written = read_angle(text).unwrap_or_else(|unread| panic!("{text}: {unread}"));
    close(text, written.value.degrees(), degrees);
}

#[test]
fn angles() {
    for text in [
        "184°30'",
        "184° 30'",
        "184º30′",
        "184°30'00\"",
        "184 deg 30 min",
        "184-30",
        "184-30-00",
        "184.30.00",
        "184 30 00",
        "184.5°",
        "184.5 deg",
        "184.5",
        "184d30m00s",
    ] {
        angle(text, 184.5);
    }
    angle("90°00'00\"", 90.0);
    angle("18 deg", 18.0);
    angle("18", 18.0);
    angle("-18.25°", -18.25);
    angle("0°00'36\"", 0.01);
    angle("3.141592653589793 rad", 180.0);
    angle("4.00", 4.0);
    angle("4.75", 4.75);
}

#[test]
fn quadrant_bearings() {
    for text in [
        "N 4°30'00\" E",
        "N4-30E",
        "N4-30-00E",
        "N04.30.00E",
        "N 4.5 E",
        "N 4.5° E",
        "n 4° 30' e",
        "North 4°30' East",
        "N. 4°30’00” E.",
        "N 4 30 00 E",
        "N4°30E",
        "N 4d30m00s E",
    ] {
        azimuth(text, 4.5);
    }
    azimuth("N 23 1/2 W", 336.5);
    azimuth("N 23½° W", 336.5);
    azimuth("184°30'", 184.5);
    azimuth("S 85°30' E", 94.5);
    azimuth("S 4°30' W", 184.5);
    azimuth("S 85°30' W", 265.5);
    azimuth("N 4°30' W", 355.5);
    azimuth("N 90 E", 90.0);
    azimuth("due north", 0.0);
    azimuth("South", 180.0);
    azimuth("due W", 270.0);
    azimuth("360", 0.0);
}

#[test]
fn packed_degrees_ask() {
    asks("N 4.30 E", read_bearing, &["N 4°30' E", "N 4.30° E"]);
    asks("N04.3015E", read_bearing, &["N04°30'15\"E", "N04.3015°E"]);
    asks("184.30", read_bearing, &["184°30'", "184.30°"]);
    asks("4.30", read_angle, &["4°30'", "4.30°"]);
    asks("-4.30 (R)", read_angle, &["-4°30' (R)", "-4.30° (R)"]);
}

#[test]
fn refused_angles() {
    refuses("N 95 E", read_bearing, "at most 90");
    refuses("E 4 N", read_bearing, "starts from north or south");
    refuses("N 4°30'", read_bearing, "followed by E or W");
    refuses("N 4°70' E", read_bearing, "under 60");
    refuses("N 4.5°30' E", read_bearing, "whole number");
    refuses("361", read_bearing, "at most 360");
    refuses("N E", read_bearing, "no angle");
    refuses("N 4°30' E 132.00", read_bearing, "left over");
    refuses("1.2.3.4", read_angle, "not one number");
    refuses("wide", read_angle, "number");
    refuses("12°30.5'20\"", read_angle, "whole number");
}

/// Latitude and longitude are written as decimals everywhere: `45.30` is no question here.
#[test]
fn latitude_and_longitude() {
    let latitude =
        |text: &str| read_latitude(text).unwrap_or_else(|unread| panic!("{text}: {unread}")).value.degrees();
    let longitude =
        |text: &str| read_longitude(text).unwrap_or_else(|unread| panic!("{text}: {unread}")).value.degrees();
    close("45.30", latitude("45.30"), 45.3);
    close("45.3000 N", latitude("45.3000 N"), 45.3);
    close("45°18'00\" S", latitude("45°18'00\" S"), -45.3);
    close("N 45 18 00", latitude("N 45 18 00"), 45.3);
    close("-122.68", longitude("-122.68"), -122.68);
    close("122.68° W", longitude("122.68° W"), -122.68);
    close("22.68 East", longitude("22.68 East"), 22.68);
    refuses("95", read_latitude, "at most 90");
    refuses("181 W", read_longitude, "at most 180");
    refuses("45 E", read_latitude, "left over");
    refuses("-122 W", read_longitude, "two signs");
    refuses("N 45 N", read_latitude, "two signs");
}

#[test]
fn turns_need_a_sense() {
    let degrees =
        |text: &str| read_turn(text).unwrap_or_else(|unread| panic!("{text}: {unread}")).value.degrees();
    close("ccw", degrees("10 deg counterclockwise"), 10.0);
    close("cw", degrees("10° cw"), -10.0);
    close("zero", degrees("0"), 0.0);
    asks("10 deg", read_turn, &["10 deg clockwise", "10 deg counterclockwise"]);
    refuses("10 deg up", read_turn, "which way");
}

#[test]
fn bearings_are_shown_by_quadrant_and_read_back() {
    for seconds in (0..1_296_000).step_by(1_013) {
        let shown = Bearing::from_azimuth(Angle::from_degrees(f64::from(seconds) / 3600.0)).to_string();
        let back = read_bearing(&shown).unwrap_or_else(|unread| panic!("{shown}: {unread}")).value;
        assert!((back.azimuth().degrees() * 3600.0 - f64::from(seconds)).abs() < 1e-6, "{shown}");
    }
    let show = |degrees: f64| Bearing::from_azimuth(Angle::from_degrees(degrees)).to_string();
    assert_eq!(show(4.5), "N 4°30'00\" E");
    assert_eq!(show(94.5), "S 85°30'00\" E");
    assert_eq!(show(90.0), "N 90°00'00\" E");
    assert_eq!(show(359.999_999), "N 0°00'00\" E");
    assert_eq!(show(-10.0), "N 10°00'00\" W");
    assert_eq!(show(89.999_999), "N 90°00'00\" E");
}

/// Latitudes and departures of a textbook traverse, as printed in a solved exercise (justaaa.com, civil
/// engineering 19749): the cosine and sine of each bearing times its length, to the millimetre printed.
#[test]
fn bearings_of_a_published_traverse() {
    let courses = [
        ("N 22-36-40 W", 314.02, 289.883, -120.733),
        ("S 60-39-24 W", 264.49, -129.611, -230.556),
        ("S 38-46-10 E", 213.5, -166.46, 133.691),
        ("N 88-22-58 E", 217.69, 6.144, 217.603),
    ];
    for (text, length, latitude, departure) in courses {
        let azimuth = read_bearing(text).expect("the bearing reads").value.azimuth().radians();
        assert!((length * libm::cos(azimuth) - latitude).abs() < 6e-4, "{text}");
        assert!((length * libm::sin(azimuth) - departure).abs() < 6e-4, "{text}");
    }
}
