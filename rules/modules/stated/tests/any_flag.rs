//! One safeguard of several.

use groundrule_kit::{Rect, Sketch};
use groundrule_stated::AnyFlag;

#[track_caller]
fn check(stated: &[(&str, bool)], expected: &str) {
    let door = Sketch::new().feature("door", "door", Rect::metres(0.0, 0.0, 0.0, 0.0)).subjects(&["door"]);
    let door = stated.iter().fold(door, |door, (name, flag)| door.stating(name, *flag));
    let names = vec!["self_closing".to_owned(), "alarm".to_owned()];
    assert_eq!(door.parameter("names", names).ask::<AnyFlag>(), expected, "{stated:?}");
}

#[test]
fn one_yes_is_enough_and_only_all_no_is_no() {
    check(&[("alarm", true)], "door: yes");
    check(&[("alarm", true), ("self_closing", false)], "door: yes");
    check(&[("alarm", false), ("self_closing", false)], "door: no");
    check(&[("alarm", false)], "door: lacking self closing of door");
    check(&[], "door: lacking self closing or alarm of door");
}

#[test]
fn a_row_without_names_is_refused() {
    let sketch = Sketch::new().feature("door", "door", Rect::metres(0.0, 0.0, 0.0, 0.0)).subjects(&["door"]);
    assert!(sketch.ask::<AnyFlag>().starts_with("refused: parameter `names` is not given"));
    assert!(
        sketch.parameter("names", true).ask::<AnyFlag>().starts_with("refused: parameter `names` is a yes")
    );
}
