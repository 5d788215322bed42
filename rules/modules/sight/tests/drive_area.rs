//! Sight areas beside a drive; those of the sketch are squares of 3 m.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_sight::DriveArea;

fn drive() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("drive", "paving/drive", Rect::metres(8.0, 0.0, 11.0, 20.0))
        .on("lot")
        .region(&["drive", "lot.s"], Rect::metres(5.0, 0.0, 8.0, 3.0))
        .region(&["drive", "lot.s"], Rect::metres(11.0, 0.0, 14.0, 3.0))
        .feature("hedge", "planting/hedge", Rect::metres(0.0, 1.0, 7.0, 1.0))
        .on("lot")
        .stating("height", Length::from_metres(1.2))
        .subjects(&["hedge"])
        .group("drives", &["drive"])
        .group("lines", &["lot.s"])
}

#[test]
fn each_side_of_the_drive_within_reach_is_told() {
    let reach = |metres: f64| {
        let sketch = drive().parameter("leg", Length::from_metres(3.0));
        sketch.parameter("reach", Length::from_metres(metres)).ask::<DriveArea>()
    };
    let first = "hedge > lot.s > drive: 1.2 m; inside 1 m, length_inside 2 m, sight_area 9 m2";
    assert_eq!(reach(1.0), first);
    let second = "hedge > lot.s > drive: 1.2 m; inside -4 m, length_inside 0 m, sight_area 9 m2";
    assert_eq!(reach(9.0), format!("{first}\n{second}"));
    assert_eq!(
        drive().parameter("leg", Length::from_metres(3.0)).group("drives", &[]).ask::<DriveArea>(),
        "hedge: not applicable, it stands near no mouth of a drive on its lot"
    );
}

#[test]
fn a_row_without_legs_is_refused() {
    let told = drive().ask::<DriveArea>();
    assert!(told.starts_with("refused: parameter `leg` is not given"), "{told}");
}
