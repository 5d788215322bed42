//! Things that a list asks for, and what is said of them.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_submittal::Item;

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<Item>(), expected);
}

/// Two trees, of which only the first says what it is and how thick, and a third that is not drawn.
fn trees() -> Sketch {
    Sketch::new()
        .undrawn("sheet", "sheet")
        .feature("oak", "planting/tree", Rect::metres(1.0, 1.0, 1.0, 1.0))
        .stating("species", "Quercus")
        .stating("trunk", Length::from_inches(22.0))
        .feature("elm", "planting/tree", Rect::metres(5.0, 1.0, 5.0, 1.0))
        .stating("size", "2 in cal.")
        .undrawn("ash", "planting/tree")
        .subjects(&["sheet"])
}

fn list(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}

#[test]
fn what_is_there_is_counted() {
    check(&trees().group("things", &["oak", "elm", "ash"]), "sheet: yes; things 3");
    check(&trees().group("things", &["oak"]).parameter("states", "species"), "sheet: yes; things 1");
}

#[test]
fn each_must_state_what_is_asked() {
    let all = || trees().group("things", &["oak", "elm", "ash"]);
    check(&all().parameter("states", "species"), "sheet: lacking species of elm and ash; things 3");
    check(&all().parameter("states", "trunk or size"), "sheet: lacking trunk or size of ash; things 3");
    check(
        &all().parameter("states", list(&["species", "trunk or size"])),
        "sheet: lacking species of elm and ash, trunk or size of ash; things 3",
    );
}

#[test]
fn one_that_states_it_can_be_enough() {
    let all = || trees().group("things", &["oak", "elm", "ash"]);
    check(&all().parameter("some_state", "species"), "sheet: yes; things 3");
    check(
        &all().parameter("some_state", "spread"),
        "sheet: lacking spread of any of oak, elm and ash; things 3",
    );
}

#[test]
fn what_is_only_stated_is_not_drawn() {
    let all = || trees().group("things", &["oak", "elm", "ash"]);
    check(&all().parameter("drawn", true), "sheet: lacking outline of ash; things 3");
    check(&all().parameter("drawn", false), "sheet: yes; things 3");
}

#[test]
fn many_are_not_all_named() {
    let names = ["a", "b", "c", "d", "e", "f"];
    let shrubs = names
        .iter()
        .fold(Sketch::new().undrawn("sheet", "sheet"), |sketch, name| sketch.undrawn(name, "planting/shrub"));
    check(
        &shrubs.subjects(&["sheet"]).group("things", &names).parameter("states", "species"),
        "sheet: lacking species of a, b, c, d and 2 more; things 6",
    );
}

#[test]
fn a_parameter_of_another_sort_is_refused() {
    check(
        &trees().parameter("states", true),
        "refused: parameter `states` is a yes or no; give a text or a list of texts",
    );
    check(&trees().parameter("drawn", "yes"), "refused: parameter `drawn` is a text; give `true` or `false`");
}
