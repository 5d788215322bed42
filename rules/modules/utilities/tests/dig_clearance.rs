//! Work beside a line, with the strips that differ from place to place.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_utilities::DigClearance;

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<DigClearance>(), expected);
}

fn inches(figure: f64) -> f64 {
    Length::from_inches(figure).metres()
}

/// A gas pipe of this size along x = 0 and a hole a foot across whose middle is so far east of the pipe's.
fn hole(size: f64, middle: f64) -> Sketch {
    let (half, near, far) = (inches(size / 2.0), inches(middle - 6.0), inches(middle + 6.0));
    Sketch::new()
        .feature("gas", "utility/buried-line/gas-line", Rect::metres(-half, 0.0, half, 10.0))
        .stating("located", "marked")
        .feature("post", "structure/fence", Rect::metres(near, 4.0, far, 4.0 + inches(12.0)))
        .subjects(&["post"])
        .group("lines", &["gas"])
}

/// The margin in inches, with the strip in inches.
#[track_caller]
fn margin(size: f64, middle: f64, strip: f64, expected: f64) {
    let sketch = hole(size, middle).parameter("marked", Length::from_inches(strip));
    let told = sketch.ask::<DigClearance>();
    let metres: f64 =
        told.split([' ', ';']).nth(3).and_then(|figure| figure.parse().ok()).unwrap_or(f64::NAN);
    // Answers are told to the millimetre.
    assert!((metres - inches(expected)).abs() <= 0.000_5 + 1e-9, "{told}");
}

#[test]
fn a_post_hole_thirty_inches_from_a_thin_pipe() {
    // Worked: a hole of 12 in, its middle 30 in from the middle of a pipe of 1 in: 23.5 in from edge to edge. It is
    // clear of a strip of 18 in (Common Ground Alliance, practice 5.19), not of 24 in (California Government Code
    // 4216) nor of 48 in (Michigan's caution zone, MCL 460.722, the section from memory).
    margin(1.0, 30.0, 18.0, 5.5);
    margin(1.0, 30.0, 24.0, -0.5);
    margin(1.0, 30.0, 48.0, -24.5);
}

#[test]
fn the_strip_begins_at_the_outside_of_the_pipe() {
    // Worked: beside a pipe of 6 in the strip of 18 in ends 21 in from its middle and that of 24 in ends 27 in from
    // it (Indiana's published example: 2 ft 3 in). The hole reaches 6 in this way from its own middle.
    margin(6.0, 21.0 + 6.0, 18.0, 0.0);
    margin(6.0, 27.0 + 6.0, 24.0, 0.0);
}

#[test]
fn a_thin_line_is_as_thick_as_it_says() {
    // Worked: 30 in from the middle of a pipe of 1 in, drawn as a line: still 23.5 in from edge to edge.
    let sketch = hole(0.0, 30.0)
        .feature("thin", "utility/buried-line/gas-line", Rect::metres(0.0, 0.0, 0.0, 10.0))
        .stating("located", "marked")
        .stating("diameter", Length::from_inches(1.0))
        .group("lines", &["thin"])
        .parameter("marked", Length::from_inches(18.0));
    check(&sketch, "post > thin: 0.14 m; located marked, gap 0.597 m, zone 0.457 m, line thin");
}

#[test]
fn the_strip_follows_how_the_place_is_known() {
    let strips = |located: &str| {
        hole(1.0, 30.0)
            .feature("cable", "utility/buried-line/buried-power", Rect::metres(2.0, 0.0, 2.0, 10.0))
            .stating("located", located)
            .group("lines", &["cable"])
            .parameter("marked", Length::from_metres(0.5))
    };
    let told = |sketch: &Sketch| {
        let mut told = sketch.ask::<DigClearance>();
        for name in ["line cable", "gap 1.086 m"] {
            assert!(told.contains(name), "{told}");
        }
        told.truncate(told.find(';').unwrap_or(told.len()));
        told
    };
    assert_eq!(told(&strips("marked")), "post > cable: 0.586 m");
    // Without a strip of their own, the lesser kinds take the next better one.
    assert_eq!(told(&strips("guessed")), "post > cable: 0.586 m");
    let wide = |located: &str| strips(located).parameter("record", Length::from_metres(1.0));
    assert_eq!(told(&wide("record")), "post > cable: 0.086 m");
    assert_eq!(told(&wide("guessed")), "post > cable: 0.086 m");
    let widest = |located: &str| wide(located).parameter("guessed", Length::from_metres(2.0));
    assert_eq!(told(&widest("guessed")), "post > cable: -0.914 m");
    assert_eq!(told(&widest("marked")), "post > cable: 0.586 m");
}

#[test]
fn a_line_that_nobody_located_is_lacking() {
    let sketch = hole(1.0, 30.0)
        .feature("cable", "utility/buried-line/buried-power", Rect::metres(2.0, 0.0, 2.0, 10.0))
        .group("lines", &["cable"])
        .parameter("marked", Length::from_inches(18.0));
    let expected = "post > cable: lacking how the place of cable is known; line cable";
    check(&sketch, expected);
    check(
        &hole(1.0, 30.0)
            .feature("cable", "utility/buried-line/buried-power", Rect::metres(2.0, 0.0, 2.0, 10.0))
            .stating("located", "somewhere")
            .group("lines", &["cable"])
            .parameter("marked", Length::from_inches(18.0)),
        expected,
    );
    check(&sketch.undrawn("pond", "water/pond").subjects(&["pond"]), "pond: lacking outline of pond");
}

#[test]
fn no_line_is_near() {
    let sketch = hole(1.0, 300.0)
        .parameter("marked", Length::from_inches(18.0))
        .parameter("reach", Length::from_feet(10.0));
    check(&sketch, "post: not applicable, no line is within reach");
}

#[test]
fn a_row_without_a_strip_is_refused() {
    check(
        &hole(1.0, 30.0),
        "refused: parameter `marked` is not given; give the strip each side of a marked line, such as \"24 in\"",
    );
}
