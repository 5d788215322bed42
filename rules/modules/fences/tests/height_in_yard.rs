//! Fences through a front yard, on a lot of 20 m by 40 m.

use groundrule_fences::HeightInYard;
use groundrule_kit::{Length, Rect, Sketch};

/// A fence up the sheet along x = 1 m, from one place to another.
fn fence(from: f64, to: f64) -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("fence", "fence", Rect::metres(1.0, from, 1.0, to))
        .on("lot")
        .subjects(&["fence"])
        .group("lines", &["lot.s"])
        .parameter("depth", Length::from_metres(6.0))
}

#[test]
fn how_far_and_how_long_it_runs_in_the_yard() {
    let height = |sketch: Sketch| sketch.stating("height", Length::from_metres(1.8));
    assert_eq!(
        height(fence(2.0, 30.0)).ask::<HeightInYard>(),
        "fence > lot.s: 1.8 m; line lot.s, inside 4 m, length_inside 4 m"
    );
    assert_eq!(
        height(fence(8.0, 30.0)).ask::<HeightInYard>(),
        "fence > lot.s: 1.8 m; line lot.s, inside -2 m, length_inside 0 m"
    );
}

#[test]
fn of_several_lines_the_one_it_reaches_deepest_from() {
    let fence =
        fence(2.0, 30.0).stating("height", Length::from_metres(1.8)).group("lines", &["lot.s", "lot.w"]);
    assert_eq!(
        fence.ask::<HeightInYard>(),
        "fence > lot.w: 1.8 m; line lot.w, inside 5 m, length_inside 28 m"
    );
}

#[test]
fn only_stations_in_the_yard_count() {
    let stations = [0.0, 3.0, 20.0].map(Length::from_metres);
    let heights = [1.0, 1.1, 1.8].map(Length::from_metres);
    let fence = fence(2.0, 30.0).stating_each("stations", &stations).stating_each("heights", &heights);
    assert_eq!(
        fence.ask::<HeightInYard>(),
        "fence > lot.s: 1.1 m; station 3 m, line lot.s, inside 4 m, length_inside 4 m"
    );
}

#[test]
fn what_is_lacking_or_does_not_arise() {
    assert_eq!(
        fence(2.0, 30.0).ask::<HeightInYard>(),
        "fence > lot.s: lacking height of fence; line lot.s, inside 4 m, length_inside 4 m"
    );
    assert_eq!(
        fence(2.0, 30.0).group("lines", &[]).ask::<HeightInYard>(),
        "fence: not applicable, lot has no line of the kind asked about"
    );
    let bare = Sketch::new().feature("fence", "fence", Rect::metres(1.0, 2.0, 1.0, 9.0)).subjects(&["fence"]);
    assert_eq!(
        bare.clone().parameter("depth", Length::from_metres(6.0)).ask::<HeightInYard>(),
        "fence: lacking lot of fence"
    );
    assert!(bare.ask::<HeightInYard>().starts_with("refused: parameter `depth` is not given"));
}
