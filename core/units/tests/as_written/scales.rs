use groundrule_units::{Length, Ratio, Scale, Style, read_scale};

use crate::{asks, close, refuses};

#[track_caller]
fn reads(text: &str, denominator: f64) {
    let written = read_scale(text).unwrap_or_else(|unread| panic!("{text}: {unread}"));
    assert_eq!(written.value, Scale::from_denominator(Ratio::from_fraction(denominator)), "{text}");
}

#[test]
fn scales() {
    for text in
        ["1\"=20'", "1\" = 20'", "1\" = 20'-0\"", "1 in = 20 ft", "1 inch = 20 feet", "1:240", "1”=20’"]
    {
        reads(text, 240.0);
    }
    reads("1/8\"=1'-0\"", 96.0);
    reads("1/8\" = 1'-0\"", 96.0);
    reads("3/32\" = 1'-0\"", 128.0);
    reads("1 1/2\" = 1'-0\"", 8.0);
    reads("1:200", 200.0);
    reads("1 : 2,500", 2500.0);
    reads("1 cm = 2 m", 200.0);
    reads("1:1", 1.0);
}

#[test]
fn missing_units_ask() {
    asks("1\"=20", read_scale, &["1\" = 20 ft", "1\" = 20 in", "1\" = 20 m"]);
    asks("1=20'", read_scale, &["1 in = 20'", "1 cm = 20'"]);
}

#[test]
fn refused_scales() {
    refuses("NTS", read_scale, "neither");
    refuses("1=20", read_scale, "neither side");
    refuses("20:1", read_scale, "as large as the drawing");
    refuses("1:0", read_scale, "above zero");
    refuses("0\"=20'", read_scale, "more than zero");
    refuses("1\"=20 furlongs", read_scale, "furlongs");
}

#[test]
fn shown_and_used() {
    let show = |text: &str, style| read_scale(text).expect("the scale reads").value.show(style);
    for text in [
        "1\" = 10'",
        "1\" = 20'",
        "1\" = 16'",
        "1/8\" = 1'-0\"",
        "1/4\" = 1'-0\"",
        "3/32\" = 1'-0\"",
        "1 1/2\" = 1'-0\"",
        "1:200",
    ] {
        assert_eq!(show(text, Style::FeetInches), text);
    }
    assert_eq!(show("1\"=20'", Style::Metres), "1:240");
    assert_eq!(show("1\"=20.5'", Style::DecimalFeet), "1:246");
    let scale = read_scale("1\"=16'").expect("the scale reads").value;
    close("100 ft line", scale.paper(Length::from_feet(100.0)).inches(), 6.25);
    close("6.25 in", scale.ground(Length::from_inches(6.25)).feet(), 100.0);
}
