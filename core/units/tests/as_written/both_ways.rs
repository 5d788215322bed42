//! What is written and how it is shown again, rounded as the trade does: 1/8 in, 0.01 ft, 1 mm, 0.1 %.

use groundrule_units::{SheetUnit, Style, read_area, read_length, read_quantity, read_ratio, show};

#[test]
fn lengths() {
    let shown = [
        ("12'-4 1/2\"", "12'-4 1/2\"", "12.38 ft", "3.772 m"),
        ("12' 4.5", "12'-4 1/2\"", "12.38 ft", "3.772 m"),
        ("12-4.5", "12'-4 1/2\"", "12.38 ft", "3.772 m"),
        ("12.4'", "12'-4 3/4\"", "12.40 ft", "3.780 m"),
        ("12.8'", "12'-9 5/8\"", "12.80 ft", "3.901 m"),
        ("4-1/2\"", "0'-4 1/2\"", "0.38 ft", "0.114 m"),
        ("54\"", "4'-6\"", "4.50 ft", "1.372 m"),
        ("3.05 m", "10'-0 1/8\"", "10.01 ft", "3.050 m"),
        ("305 cm", "10'-0 1/8\"", "10.01 ft", "3.050 m"),
        ("66.00' (R)", "66'-0\"", "66.00 ft", "20.117 m"),
        ("1 chain", "66'-0\"", "66.00 ft", "20.117 m"),
        ("1 link", "0'-7 7/8\"", "0.66 ft", "0.201 m"),
        ("1 pole", "16'-6\"", "16.50 ft", "5.029 m"),
        ("1 vara (TX)", "2'-9 3/8\"", "2.78 ft", "0.847 m"),
    ];
    for (text, feet_inches, decimal_feet, metres) in shown {
        let length = read_length(text, None).unwrap_or_else(|unread| panic!("{text}: {unread}")).value;
        let found =
            [Style::FeetInches, Style::DecimalFeet, Style::Metres].map(|style| show(length.into(), style));
        assert_eq!(found, [feet_inches, decimal_feet, metres], "{text}");
    }
    let bare = read_length("3050", Some(SheetUnit::Millimetres)).expect("the sheet names the unit").value;
    assert_eq!(show(bare.into(), Style::Metres), "3.050 m");
}

#[test]
fn slopes_and_shares() {
    for (text, expected) in [
        ("2%", "2.0%"),
        ("1/4\"/ft", "2.1%"),
        ("1/4\"/ft (2.08%)", "2.1%"),
        ("6\" in 10'", "5.0%"),
        ("1 in 50", "2.0%"),
        ("1 in 12", "8.3%"),
        ("3H:1V", "33.3%"),
    ] {
        let ratio = read_ratio(text).unwrap_or_else(|unread| panic!("{text}: {unread}")).value;
        assert_eq!(show(ratio.into(), Style::FeetInches), expected, "{text}");
    }
}

#[test]
fn areas_and_angles() {
    for (text, feet, metres) in [
        ("0.23 ac", "10,019 sq ft", "930.78 m²"),
        ("10,019 sf", "10,019 sq ft", "930.80 m²"),
        ("931 m2", "10,021 sq ft", "931.00 m²"),
    ] {
        let area = read_area(text, None).unwrap_or_else(|unread| panic!("{text}: {unread}")).value;
        let found = [Style::DecimalFeet, Style::Metres].map(|style| show(area.into(), style));
        assert_eq!(found, [feet, metres], "{text}");
    }
    let turn = read_quantity("18 deg").expect("an angle").value;
    assert_eq!(show(turn, Style::FeetInches), "18.0°");
}
