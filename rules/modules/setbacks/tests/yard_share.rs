//! Sheds in a rear yard, on a lot of 20 m by 40 m.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_setbacks::YardShare;

fn lot() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("shed", "accessory-structure/shed", Rect::metres(2.0, 28.0, 7.0, 36.0))
        .on("lot")
        .subjects(&["lot"])
        .group("covering", &["shed"])
        .group("lines", &["lot.n"])
}

#[test]
fn what_stands_in_the_strip_counts() {
    // Of the 8 m of the shed, 6 lie within the 10 m of the yard.
    assert_eq!(
        lot().parameter("depth", Length::from_metres(10.0)).ask::<YardShare>(),
        "lot > lot.n: 0.15; line lot.n, covered_area 30 m2, yard_area 200 m2"
    );
}

#[test]
fn rows_and_lots_without_what_is_needed() {
    let told = lot().ask::<YardShare>();
    assert!(told.starts_with("refused: parameter `depth` is not given"), "{told}");
    let depth = Length::from_metres(10.0);
    assert_eq!(
        lot().group("lines", &[]).parameter("depth", depth).ask::<YardShare>(),
        "lot: not applicable, lot has no line of the kind asked about"
    );
    let told = lot().subjects(&["shed"]).parameter("depth", depth).ask::<YardShare>();
    assert!(told.starts_with("refused: the subject of yard-share is a lot"), "{told}");
}
