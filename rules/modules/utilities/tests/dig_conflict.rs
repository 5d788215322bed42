//! A post hole over or beside a gas pipe.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_utilities::DigConflict;

/// The judged margin and the facts of a hole with its near side so far from a pipe on x = 0.
fn told(sketch: &Sketch) -> String {
    sketch.ask::<DigConflict>()
}

#[track_caller]
fn check(sketch: &Sketch, margin: &str, facts: &[&str]) {
    let told = told(sketch);
    assert!(told.starts_with(&format!("post > gas: {margin};")), "{told}");
    for fact in facts {
        assert!(told.contains(fact), "{fact} is not in {told}");
    }
}

fn pipe(gap: f64) -> Sketch {
    Sketch::new()
        .feature("post", "structure/fence", Rect::metres(gap, 4.0, gap + 0.3, 4.3))
        .feature("gas", "utility/buried-line/gas-line", Rect::metres(0.0, 0.0, 0.0, 10.0))
        .stating("located", "marked")
        .subjects(&["post"])
        .group("lines", &["gas"])
        .parameter("marked", Length::from_metres(0.6))
}

/// The same with the depths of both assumed by the row.
fn assumed(gap: f64, depth: f64, cover: f64) -> Sketch {
    pipe(gap)
        .parameter("usual_depth", Length::from_metres(depth))
        .parameter("least_cover", Length::from_metres(cover))
}

#[test]
fn the_greater_of_beside_and_above() {
    // In the strip by 0.2 m, and 0.7 m deeper than the cover: the lesser way out is sideways.
    check(&assumed(0.4, 0.9, 0.2), "-0.2 m", &["beside -0.2 m", "above -0.7 m"]);
    // In the strip, and 0.1 m too deep: the lesser way out is up.
    check(&assumed(0.1, 0.3, 0.2), "-0.1 m", &["beside -0.5 m", "above -0.1 m"]);
    // Dug shallow over it; out of the strip, however deep.
    check(&assumed(0.1, 0.1, 0.2), "0.1 m", &["beside -0.5 m", "above 0.1 m"]);
    check(&assumed(1.0, 0.9, 0.2), "0.4 m", &["beside 0.4 m", "above -0.7 m"]);
}

#[test]
fn spare_earth_comes_off_the_cover() {
    let sketch = assumed(0.1, 0.1, 0.2).parameter("spare", Length::from_metres(0.15));
    check(&sketch, "-0.05 m", &["above -0.05 m"]);
}

#[test]
fn what_is_stated_goes_before_what_is_assumed() {
    check(&assumed(0.1, 0.3, 0.2), "-0.1 m", &["cover_basis assumed", "depth_basis assumed"]);
    let sketch = assumed(0.1, 0.3, 0.2).stating("cover", Length::from_metres(0.5));
    check(&sketch, "0.2 m", &["cover_basis stated", "depth_basis assumed", "cover 0.5 m", "dig_depth 0.3 m"]);
}

#[test]
fn each_kind_of_line_has_its_own_least_cover() {
    // Least covers by kind, chosen low (common practice): gas 8 in, anything else 2 in.
    let sketch = assumed(0.1, 0.1, 0.05).parameter("least_gas", Length::from_metres(0.2));
    check(&sketch, "0.1 m", &["cover 0.2 m", "cover_basis assumed"]);
    let power = assumed(0.1, 0.1, 0.05).parameter("least_power", Length::from_metres(0.2));
    check(&power, "-0.05 m", &["cover 0.05 m"]);
}

#[test]
fn everything_that_is_lacking_at_once() {
    assert!(
        told(&pipe(0.1)).starts_with("post > gas: lacking dig depth of post, cover of gas;"),
        "{}",
        told(&pipe(0.1))
    );
    let sketch = pipe(0.1).feature("gas2", "utility/buried-line/gas-line", Rect::metres(0.0, 0.0, 0.0, 9.0));
    let sketch = sketch.group("lines", &["gas2"]);
    let all = "post > gas2: lacking how the place of gas2 is known, dig depth of post, cover of gas2;";
    assert!(told(&sketch).starts_with(all), "{}", told(&sketch));
}

#[test]
fn no_line_is_near() {
    let sketch = assumed(9.0, 0.9, 0.2).parameter("reach", Length::from_metres(3.0));
    assert_eq!(told(&sketch), "post: not applicable, no line is within reach");
    let refused = pipe(0.1).parameter("spare", "deep");
    assert!(told(&refused).starts_with("refused: parameter `spare` is a text"), "{}", told(&refused));
}
