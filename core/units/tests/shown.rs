//! What is shown: trade rounding, carries and signs, and that every shown text reads back.

#![allow(clippy::panic, reason = "a test fails by panicking, also in its helpers")]

use groundrule_units::{
    Angle, Area, Dimension, Flow, Length, Quantity, Ratio, Speed, Style, Time, Volume, read_quantity, show,
    show_with_spread,
};
use proptest::prelude::*;

const STYLES: [Style; 3] = [Style::FeetInches, Style::DecimalFeet, Style::Metres];

#[track_caller]
fn shows(quantity: impl Into<Quantity>, expected: [&str; 3]) {
    let quantity = quantity.into();
    assert_eq!(STYLES.map(|style| show(quantity, style)), expected);
}

#[test]
fn lengths_round_to_an_eighth_a_hundredth_and_a_millimetre() {
    shows(Length::from_feet(12.375), ["12'-4 1/2\"", "12.38 ft", "3.772 m"]);
    shows(Length::from_feet(12.8), ["12'-9 5/8\"", "12.80 ft", "3.901 m"]);
    shows(Length::from_metres(3.05), ["10'-0 1/8\"", "10.01 ft", "3.050 m"]);
    shows(Length::ZERO, ["0'-0\"", "0.00 ft", "0.000 m"]);
    shows(Length::from_inches(0.5), ["0'-0 1/2\"", "0.04 ft", "0.013 m"]);
    shows(Length::from_feet(1234.5), ["1234'-6\"", "1234.50 ft", "376.276 m"]);
}

#[test]
fn inches_carry_over_to_the_next_foot() {
    shows(Length::from_inches(11.95), ["1'-0\"", "1.00 ft", "0.304 m"]);
    shows(Length::from_inches(11.93), ["0'-11 7/8\"", "0.99 ft", "0.303 m"]);
    shows(Length::from_inches(23.99), ["2'-0\"", "2.00 ft", "0.609 m"]);
    shows(Length::from_inches(2.25), ["0'-2 1/4\"", "0.19 ft", "0.057 m"]);
}

#[test]
fn signs() {
    shows(Length::from_feet(-4.5), ["-4'-6\"", "-4.50 ft", "-1.372 m"]);
    shows(Length::from_inches(-11.95), ["-1'-0\"", "-1.00 ft", "-0.304 m"]);
    // What rounds to nothing has no sign.
    shows(Length::from_inches(-0.01), ["0'-0\"", "0.00 ft", "0.000 m"]);
    shows(Ratio::from_percent(-2.04), ["-2.0%", "-2.0%", "-2.0%"]);
}

#[test]
fn areas_volumes_ratios_and_angles() {
    shows(Area::from_square_feet(10_019.2), ["10,019 sq ft", "10,019 sq ft", "930.81 m²"]);
    shows(Area::from_square_feet(60.04), ["60.0 sq ft", "60.0 sq ft", "5.58 m²"]);
    shows(Area::from_square_feet(99.96), ["100 sq ft", "100 sq ft", "9.29 m²"]);
    shows(Area::from_square_feet(1_234_567.0), ["1,234,567 sq ft", "1,234,567 sq ft", "114695.03 m²"]);
    shows(Volume::from_cubic_metres(9.4), ["12.3 cu yd", "12.3 cu yd", "9.40 m³"]);
    shows(Ratio::from_fraction(1.0 / 12.0), ["8.3%", "8.3%", "8.3%"]);
    shows(Ratio::from_fraction(0.348), ["34.8%", "34.8%", "34.8%"]);
    shows(Angle::from_degrees(18.0), ["18.0°", "18.0°", "18.0°"]);
}

#[test]
fn flows_speeds_and_times() {
    shows(Flow::from_cubic_feet_per_second(0.372_8), ["0.373 cfs", "0.373 cfs", "10.56 L/s"]);
    shows(Flow::from_cubic_feet_per_second(344.2), ["344.2 cfs", "344.2 cfs", "9746.66 L/s"]);
    shows(Speed::from_feet_per_second(2.363), ["2.36 ft/s", "2.36 ft/s", "0.720 m/s"]);
    shows(Speed::from_inches_per_hour(4.0), ["4.00 in/h", "4.00 in/h", "101.6 mm/h"]);
    shows(Time::from_hours(1.528), ["1.53 h", "1.53 h", "1.53 h"]);
    shows(Time::from_minutes(6.0), ["6.0 min", "6.0 min", "6.0 min"]);
    let spread = show_with_spread(
        Speed::from_feet_per_second(2.0).into(),
        Speed::from_inches_per_hour(36.0).into(),
        Style::DecimalFeet,
    );
    assert_eq!(spread, "2.00 ft/s ± 0.01 ft/s");
}

#[test]
fn numbers_without_a_size_are_said_in_words() {
    shows(Length::from_metres(f64::NAN), ["not a finite number"; 3]);
    shows(Length::from_metres(f64::INFINITY), ["not a finite number"; 3]);
}

#[test]
fn spreads_are_half_widths_at_95_percent() {
    let check = |value: f64, spread: f64, expected: [&str; 3]| {
        let (value, spread) = (Length::from_feet(value).into(), Length::from_feet(spread).into());
        assert_eq!(STYLES.map(|style| show_with_spread(value, spread, style)), expected);
    };
    // Two positions of ±1 ft each: ±1.4 ft between them.
    let one_foot = 1.0 / 1.959_964;
    let piece = one_foot * std::f64::consts::SQRT_2;
    check(4.0, piece, ["4'-0\" ± 1'-5\"", "4.00 ft ± 1.41 ft", "1.219 m ± 0.431 m"]);
    check(4.0, 0.707, ["4'-0\" ± 1'-4 5/8\"", "4.00 ft ± 1.39 ft", "1.219 m ± 0.422 m"]);
    check(4.0, one_foot, ["4'-0\" ± 1'-0\"", "4.00 ft ± 1.00 ft", "1.219 m ± 0.305 m"]);
    // Too small to show is not nothing; nothing is left out.
    check(4.0, 1e-9, ["4'-0\" ± 0'-0 1/8\"", "4.00 ft ± 0.01 ft", "1.219 m ± 0.001 m"]);
    check(4.0, 0.0, ["4'-0\"", "4.00 ft", "1.219 m"]);
}

#[test]
fn spreads_of_areas_and_ratios() {
    let spread = |value: Quantity, spread: Quantity| show_with_spread(value, spread, Style::DecimalFeet);
    let area = spread(Area::from_square_feet(7316.0).into(), Area::from_square_feet(93.0).into());
    assert_eq!(area, "7,316 sq ft ± 182 sq ft");
    let share = spread(Ratio::from_percent(34.8).into(), Ratio::from_percent(0.5).into());
    assert_eq!(share, "34.8% ± 1.0%");
}

/// The step a style shows a quantity in, in SI units; written out here again, apart from the code it checks.
fn step(quantity: Quantity, style: Style) -> f64 {
    let square_foot = 0.3048 * 0.3048;
    match (quantity.dimension(), style) {
        (Dimension::Length, Style::FeetInches) => 0.0254 / 8.0,
        (Dimension::Length, Style::DecimalFeet) => 0.01 * 0.3048,
        (Dimension::Length, Style::Metres) | (Dimension::Ratio, _) => 0.001,
        (Dimension::Area | Dimension::Volume, Style::Metres) => 0.01,
        (Dimension::Area, _) if quantity.si() < 100.0 * square_foot => 0.1 * square_foot,
        (Dimension::Area, _) => square_foot,
        (Dimension::Volume, _) => 0.1 * 27.0 * square_foot * 0.3048,
        (Dimension::Angle, _) => 0.1_f64.to_radians(),
        (Dimension::Flow, Style::Metres) => 1e-5,
        (Dimension::Flow, _) if quantity.si() < 9.99 * square_foot * 0.3048 => 0.001 * square_foot * 0.3048,
        (Dimension::Flow, _) => 0.1 * square_foot * 0.3048,
        (Dimension::Speed, style) => speed_step(quantity.si() < 1e-3, style),
        (Dimension::Time, _) if quantity.si() < 3600.0 => 6.0,
        (Dimension::Time, _) => 36.0,
    }
}

/// Of a speed, by whether it is one of rain.
fn speed_step(slow: bool, style: Style) -> f64 {
    match (slow, style) {
        (true, Style::Metres) => 1e-4 / 3600.0,
        (true, _) => 0.01 * 0.0254 / 3600.0,
        (false, Style::Metres) => 0.001,
        (false, _) => 0.01 * 0.3048,
    }
}

fn any_quantity() -> impl Strategy<Value = Quantity> {
    prop_oneof![
        (-1e6..1e6).prop_map(|x| Length::from_metres(x).into()),
        (-3.0..3.0).prop_map(|x| Length::from_metres(x).into()),
        (0.0..1e7).prop_map(|x| Area::from_square_metres(x).into()),
        (0.0..20.0).prop_map(|x| Area::from_square_metres(x).into()),
        (0.0..1e5).prop_map(|x| Volume::from_cubic_metres(x).into()),
        (-10.0..10.0).prop_map(|x| Angle::from_radians(x).into()),
        (-2.0..2.0).prop_map(|x| Ratio::from_fraction(x).into()),
        (0.0..50.0).prop_map(|x| Flow::from_cubic_metres_per_second(x).into()),
        (0.0..0.2).prop_map(|x| Flow::from_cubic_metres_per_second(x).into()),
        (0.0..9.0).prop_map(|x| Speed::from_metres_per_second(x).into()),
        (0.0..1e-4).prop_map(|x| Speed::from_metres_per_second(x).into()),
        (0.0..1e6).prop_map(|x| Time::from_seconds(x).into()),
        (0.0..5e3).prop_map(|x| Time::from_seconds(x).into()),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_shown_reads_back_within_half_a_step(quantity in any_quantity()) {
        for style in STYLES {
            let shown = show(quantity, style);
            let back = read_quantity(&shown).unwrap_or_else(|unread| panic!("{shown}: {unread}")).value;
            prop_assert_eq!(back.dimension(), quantity.dimension(), "{}", &shown);
            let off = (back.si() - quantity.si()).abs();
            let half = step(quantity, style) / 2.0;
            prop_assert!(off <= half * (1.0 + 1e-5), "{} is off by {} of a half step", shown, off / half);
        }
    }
}
