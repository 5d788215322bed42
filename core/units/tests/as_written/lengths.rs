use groundrule_units::SheetUnit::{Feet, Inches, Metres, Millimetres};
use groundrule_units::{Length, SheetUnit, Style, read_length, read_length_rounding, show};

use crate::{asks, close, refuses};

#[track_caller]
fn reads(text: &str, sheet: impl Into<Option<SheetUnit>>, metres: f64) {
    let written = read_length(text, sheet.into()).unwrap_or_else(|unread| panic!("{text}: {unread}"));
    close(text, written.value.metres(), metres);
    assert_eq!(written.text, text.trim());
}

const INCH: f64 = 0.0254;
const FOOT: f64 = 0.3048;

#[test]
fn feet_and_inches() {
    for text in [
        "12'-4 1/2\"",
        "12' 4 1/2\"",
        "12'4 1/2\"",
        "12' - 4 1/2\"",
        "12'-4-1/2\"",
        "12' 4.5",
        "12ft 4 1/2in",
        "12 ft. 4 1/2 in.",
        "12 feet 4.5 inches",
        "12-4.5",
        "12-4 1/2",
        "12-4 1/2\"",
        "12’-4½”",
        "12′ 4 ½″",
        "12' 4 1⁄2''",
        "  12'–4 1/2\"  ",
    ] {
        reads(text, None, 148.5 * INCH);
    }
    reads("1'-0\"", None, FOOT);
    reads("0'-6\"", None, 6.0 * INCH);
    reads("-0'-6\"", None, -6.0 * INCH);
    reads("-12'-4 1/2\"", None, -148.5 * INCH);
    reads("12ft2in", None, 146.0 * INCH);
    reads("12-4.5", Inches, 148.5 * INCH);
}

#[test]
fn decimal_feet_are_not_feet_and_inches() {
    reads("12.4'", None, 12.4 * FOOT);
    reads("12.4 ft", None, 12.4 * FOOT);
    reads("12 1/2'", None, 12.5 * FOOT);
    // 12.8' is 12 ft 9 5/8 in, not 12 ft 8 in.
    let wall = read_length("12.8'", None).expect("decimal feet read").value;
    assert_eq!(show(wall.into(), Style::FeetInches), "12'-9 5/8\"");
}

#[test]
fn inches() {
    reads("4-1/2\"", None, 4.5 * INCH);
    reads("4 1/2\"", None, 4.5 * INCH);
    reads("54\"", None, 54.0 * INCH);
    reads("4.5 in", None, 4.5 * INCH);
    reads("1/2 in", None, 0.5 * INCH);
    reads("⅝\"", None, 0.625 * INCH);
    reads("4 1/2", Inches, 4.5 * INCH);
    // Decking is sold as five-quarter boards.
    reads("5/4\"", None, 1.25 * INCH);
}

#[test]
fn metric() {
    reads("3.05 m", None, 3.05);
    reads("3050", Millimetres, 3.05);
    reads("305 cm", None, 3.05);
    reads("3,050 mm", None, 3.05);
    reads("3.05", Metres, 3.05);
    reads("3.05 metres", None, 3.05);
    reads("3.05 meters", None, 3.05);
}

#[test]
fn five_feet_are_exactly_so_many_metres() {
    reads("5 ft", None, 1.524);
    reads("5'", None, 1.524);
    reads("60 in", None, 1.524);
    reads("1,000 ft", None, 304.8);
    reads("1,200,000.5 ft", None, 1_200_000.5 * FOOT);
    reads(".5'", None, 0.1524);
}

#[test]
fn bare_numbers_take_the_unit_of_the_sheet_or_ask() {
    reads("12.4", Feet, 12.4 * FOOT);
    reads("+2", Feet, 2.0 * FOOT);
    reads("54", Inches, 54.0 * INCH);
    reads("0", None, 0.0);
    reads("0.0", Metres, 0.0);
    asks("3050", |text| read_length(text, None), &["3050 ft", "3050 in", "3050 m", "3050 mm"]);
    asks("-2.5", |text| read_length(text, None), &["-2.5 ft", "-2.5 in", "-2.5 m", "-2.5 mm"]);
    asks("4 1/2", |text| read_length(text, None), &["4 1/2 ft", "4 1/2 in", "4 1/2 m", "4 1/2 mm"]);
    asks("4 1/2", |text| read_length(text, Some(Feet)), &["4 1/2 in", "4 1/2 ft"]);
    asks("½", |text| read_length(text, Some(Metres)), &["½ in", "½ m"]);
    asks("4-1/2", |text| read_length(text, Some(Feet)), &["4-1/2\"", "4'-0 1/2\""]);
}

#[test]
fn a_comma_in_metres_may_be_a_decimal_comma() {
    asks("3,050 m", |text| read_length(text, None), &["3.050 m", "3050 m"]);
    asks("3,050", |text| read_length(text, Some(Metres)), &["3.050", "3050"]);
    reads("1,234.5 m", None, 1234.5);
}

#[test]
fn a_lost_space_asks() {
    asks("11/4\"", |text| read_length(text, None), &["1 1/4\"", "2 3/4\""]);
    asks("6' 11/4\"", |text| read_length(text, None), &["6' 1 1/4\"", "6' 2 3/4\""]);
    asks("13/8 in", |text| read_length(text, None), &["1 3/8 in", "1 5/8 in"]);
    reads("10/4\"", None, 2.5 * INCH);
}

#[test]
fn refusals_say_what_is_wrong() {
    let read = |text: &str| read_length(text, None);
    refuses("", read, "it is empty");
    refuses("  ", read, "it is empty");
    refuses("wide", read, "does not start with a number");
    refuses("12 furlongs", read, "`furlongs` is not a unit of length");
    refuses("12 furlongs", read, "12'-4 1/2\"");
    refuses("12'-14\"", read, "under 12");
    refuses("12-14", read, "under 12");
    refuses("12.5' 4\"", read, "whole number");
    refuses("10-12 ft", read, "joined by a hyphen");
    refuses("12 4 1/2", read, "is not a unit");
    refuses("12,4 ft", read, "thousands");
    refuses("0,500 m", read, "thousands");
    refuses("1.2.3 ft", read, "not one number");
    refuses("1/0 in", read, "zero below the line");
    refuses("4 5/4 in", read, "not less than one");
    refuses("200 ft2", read, "right behind the unit");
    refuses("200 ft²", read, "not a unit of length");
    refuses("nan ft", read, "number");
    refuses("inf", read, "number");
    refuses("1e3 ft", read, "not a unit");
    refuses("1 m 2", read, "not a unit");
    refuses("--5 ft", read, "number");
    refuses(&"9".repeat(400), read, "too long");
    refuses("4.00 ft ± 1.39 ft", read, "accuracy class");
    refuses("12-4.5", |text| read_length(text, Some(Millimetres)), "metric");
}

#[test]
fn a_written_length_shows_how_finely_it_was_read() {
    let check = |text: &str, half: Length| {
        let found = read_length_rounding(text, None).expect("the length reads");
        close(text, found.metres(), half.metres());
    };
    check("12.40'", Length::from_feet(0.005));
    check("4 1/8\"", Length::from_inches(0.0625));
    check("66.0' (R)", Length::from_feet(0.05));
    check("12'-4\"", Length::from_inches(0.5));
}
