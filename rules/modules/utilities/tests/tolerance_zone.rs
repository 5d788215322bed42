//! Strips beside lines, by how the line is known.

use groundrule_kit::{Answer, Check as _, Length, Mark, Rect, Sketch};
use groundrule_utilities::ToleranceZone;

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<ToleranceZone>(), expected);
}

fn pipe(located: &str) -> Sketch {
    Sketch::new()
        .feature("gas", "utility/buried-line/gas-line", Rect::feet(0.0, 0.0, 0.0, 40.0))
        .stating("located", located)
        .stating("diameter", Length::from_inches(6.0))
        .subjects(&["gas"])
}

#[test]
fn across_and_from_the_middle() {
    // Worked: a pipe of 6 in with 18 in and 24 in each side: 42 and 54 in across, 21 and 27 in from the middle of
    // its mark (Indiana's published example: 2 ft 3 in).
    let strip = |inches: f64| pipe("marked").parameter("marked", Length::from_inches(inches));
    check(&strip(18.0), "gas: 0.457 m; located marked, across 1.067 m, from_middle 0.533 m");
    check(&strip(24.0), "gas: 0.61 m; located marked, across 1.372 m, from_middle 0.686 m");
}

#[test]
fn the_ring_is_as_wide_as_it_is_said() {
    // Worked: 40 ft of that pipe with round ends cover 149.621 sq ft at 18 in. Eight chords at each end stay within
    // the circle, so the ring is a little smaller; with square ends it would be 140.0.
    for (inches, flat, round) in [(18.0, 140.0, 149.621), (24.0, 180.0, 195.904)] {
        let sketch = pipe("marked").parameter("marked", Length::from_inches(inches));
        let readings = ToleranceZone::run(&sketch).unwrap();
        let [Mark::Region(ring)] = readings[0].marks.as_slice() else { panic!("{readings:?}") };
        let feet = |length: Length| length.metres() / Length::from_feet(1.0).metres();
        let twice: f64 = ring
            .iter()
            .zip(ring.iter().cycle().skip(1))
            .map(|(a, b)| feet(a.x) * feet(b.y) - feet(b.x) * feet(a.y))
            .sum();
        let area = twice / 2.0;
        // The area of a 16-gon is 0.9745 of its circle's.
        let expected = flat + (round - flat) * 0.974_495;
        assert!((area - expected).abs() < 0.01, "{area} is not {expected}");
    }
}

#[test]
fn a_corner_is_rounded_by_nothing_and_a_sharp_one_is_cut() {
    let one = |sketch: &Sketch| {
        let readings = ToleranceZone::run(sketch).unwrap();
        match readings[0].marks.as_slice() {
            [Mark::Region(ring)] => ring.len(),
            [] => 0,
            marks => panic!("{marks:?}"),
        }
    };
    // Two corners of the sides and seven places around each end, with the ends of the half circles.
    assert_eq!(one(&pipe("marked").parameter("marked", Length::from_metres(0.5))), 18);
    // A disc or an outline has no strip drawn around it, and is still told its width.
    let tank = Sketch::new()
        .feature("tank", "utility/buried-line", Rect::feet(0.0, 0.0, 4.0, 4.0))
        .stating("located", "record")
        .subjects(&["tank"])
        .parameter("marked", Length::from_metres(0.5));
    assert_eq!(one(&tank), 0);
}

#[test]
fn the_strip_follows_how_the_place_is_known() {
    let strip = |located: &str| {
        let sketch = pipe(located).parameter("marked", Length::from_metres(0.5));
        let sketch = sketch.parameter("record", Length::from_metres(1.0));
        let readings = ToleranceZone::run(&sketch.parameter("guessed", Length::from_metres(2.0))).unwrap();
        match &readings[0].answer {
            Answer::Amount(amount) => amount.value().si().to_string(),
            answer => panic!("{answer:?}"),
        }
    };
    assert_eq!([strip("marked"), strip("record"), strip("guessed")], ["0.5", "1", "2"]);
}

#[test]
fn what_nobody_located_or_drew_is_lacking() {
    let marked = |sketch: Sketch| sketch.parameter("marked", Length::from_metres(0.5));
    check(&marked(pipe("somewhere")), "gas: lacking how the place of gas is known");
    let sketch = Sketch::new().undrawn("drop", "utility/buried-line/buried-power").subjects(&["drop"]);
    check(&marked(sketch), "drop: lacking outline of drop");
    check(
        &pipe("marked"),
        "refused: parameter `marked` is not given; give the strip each side of a marked line, such as \"24 in\"",
    );
}
