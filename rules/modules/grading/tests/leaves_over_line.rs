//! A lot that sheds more over its east line than it did.

use groundrule_grading::LeavesOverLine;
use groundrule_kit::{Area, Grade, Length, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<LeavesOverLine>(), expected);
}

fn lot() -> Sketch {
    let area = Area::from_square_metres;
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .plane(Grade::Proposed, Length::from_metres(100.0), -0.02, 0.0)
        .plane(Grade::Existing, Length::from_metres(100.0), -0.02, 0.0)
        .leaving(Grade::Existing, "lot.e", area(100.0))
        .leaving(Grade::Proposed, "lot.e", area(160.0))
        .leaving(Grade::Proposed, "lot.s", area(500.0))
        .subjects(&["lot"])
        .group("lines", &["lot.e"])
}

#[test]
fn more_than_today() {
    check(&lot(), "lot > lot.e: 60 m2; before 100 m2, after 160 m2");
    check(&lot().parameter("compare", "none"), "lot > lot.e: 160 m2; after 160 m2");
}

#[test]
fn no_such_line() {
    check(&lot().group("lines", &["lot.n"]), "lot: not applicable, none of its lines is of that sort");
}

#[test]
fn what_is_lacking() {
    let bare = Sketch::new().lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0)).subjects(&["lot"]);
    check(&bare, "lot: lacking levels of the proposed ground");
    let new = bare.plane(Grade::Proposed, Length::from_metres(100.0), 0.0, 0.0);
    check(&new, "lot: lacking levels of the existing ground");
}
