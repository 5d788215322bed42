//! Drives near a corner of two streets.

use groundrule_kit::{Rect, Sketch};
use groundrule_sight::DriveToCorner;

fn drive(rect: Rect) -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("drive", "paving/drive", rect)
        .on("lot")
        .subjects(&["drive"])
        .group("lines", &["lot.s", "lot.w"])
}

#[test]
fn from_the_mouth_to_the_other_street() {
    assert_eq!(drive(Rect::metres(0.0, 23.0, 8.0, 28.0)).ask::<DriveToCorner>(), "drive > lot.s: 23 m");
    assert_eq!(drive(Rect::metres(9.0, 0.1, 12.0, 8.0)).ask::<DriveToCorner>(), "drive > lot.w: 9 m");
}

#[test]
fn a_drive_that_reaches_neither_or_a_lot_without_a_corner() {
    let nowhere = "drive: not applicable, it opens onto no street that meets another here";
    assert_eq!(drive(Rect::metres(5.0, 23.0, 8.0, 28.0)).ask::<DriveToCorner>(), nowhere);
    assert_eq!(
        drive(Rect::metres(9.0, 0.0, 12.0, 8.0)).group("lines", &["lot.s"]).ask::<DriveToCorner>(),
        nowhere
    );
}
