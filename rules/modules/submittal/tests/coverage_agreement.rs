//! Stated coverage less drawn coverage, on a lot of 20 m by 40 m with 160 square metres covered: 20 %.

use groundrule_kit::{Ratio, Rect, Sketch};
use groundrule_submittal::CoverageAgreement;

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<CoverageAgreement>(), expected);
}

fn plan(percent: Option<f64>) -> Sketch {
    let sketch = Sketch::new().undrawn("sheet", "sheet");
    let sketch = match percent {
        Some(percent) => sketch.stating("building_coverage", Ratio::from_percent(percent)),
        None => sketch,
    };
    sketch
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("house", "structure/dwelling", Rect::metres(5.0, 10.0, 15.0, 22.0))
        .on("lot")
        .feature("shed", "structure/shed", Rect::metres(12.0, 30.0, 22.0, 35.0))
        .on("lot")
        .subjects(&["sheet"])
        .group("lots", &["lot"])
        .group("covering", &["house", "shed"])
        .parameter("figure", "building_coverage")
}

#[test]
fn stated_less_drawn() {
    // 120 and the 40 of 50 that stand on the lot.
    check(&plan(Some(20.0)), "sheet: 0; stated 0.2, drawn 0.2");
    check(&plan(Some(18.0)), "sheet: -0.02; stated 0.18, drawn 0.2");
    check(&plan(Some(25.0)).group("covering", &[]), "sheet: 0.25; stated 0.25, drawn 0");
}

#[test]
fn lots_together() {
    let two =
        plan(Some(20.0)).lot("next", Rect::metres(20.0, 0.0, 40.0, 40.0)).group("lots", &["lot", "next"]);
    // 170 of 1,600: the shed's other 10 stand next door.
    check(&two, "sheet: 0.094; stated 0.2, drawn 0.106");
}

#[test]
fn what_cannot_be_told() {
    check(&plan(None), "sheet: not applicable, no building coverage is stated");
    check(&plan(Some(20.0)).group("lots", &[]), "sheet: lacking area of the lot");
    let open = plan(Some(20.0)).undrawn("porch", "structure/porch").on("lot");
    check(&open.group("covering", &["house", "porch"]), "sheet: lacking; stated 0.2, drawn lacking");
}

#[test]
fn a_row_without_its_figure_is_refused() {
    let sketch = Sketch::new().undrawn("sheet", "sheet").subjects(&["sheet"]);
    check(&sketch, "refused: parameter `figure` is not given; give \"building_coverage\"");
}
