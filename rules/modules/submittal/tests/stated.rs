//! What the sheet states.

use groundrule_kit::{Answer, Check, Sketch};
use groundrule_submittal::Stated;

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<Stated>(), expected);
}

fn sheet() -> Sketch {
    Sketch::new()
        .undrawn("sheet", "sheet")
        .stating("scale", "1 in = 20 ft")
        .stating("parcel", "02-003")
        .stating("legend", true)
        .stating("seal", false)
        .stating("declared.wells", "none")
        .subjects(&["sheet"])
}

fn asking(facts: &[&str]) -> Sketch {
    sheet().parameter("facts", facts.iter().map(|fact| (*fact).to_owned()).collect::<Vec<_>>())
}

#[test]
fn stated_or_lacking() {
    check(&asking(&["scale"]), "sheet: yes");
    check(&asking(&["address or parcel", "legend"]), "sheet: yes");
    check(&asking(&["declared.wells"]), "sheet: yes");
    check(
        &asking(&["date", "scale", "contour_interval or ground_slope"]),
        "sheet: lacking date, contour interval or ground slope",
    );
    check(&asking(&["arrow"]).parameter("called", "a north arrow"), "sheet: lacking a north arrow");
}

#[test]
fn a_no_says_that_it_is_not_there_unless_it_is_an_answer() {
    check(&asking(&["seal"]), "sheet: lacking seal");
    check(&asking(&["seal"]).parameter("no_counts", true), "sheet: yes");
}

/// What to do about the first fact that is not stated.
#[track_caller]
fn advises(facts: &[&str], expected: &str) {
    let how = Stated::run(&asking(facts)).ok().and_then(|readings| match &readings.first()?.answer {
        Answer::Lacking(needs) => Some(needs.first()?.how.clone()),
        _ => None,
    });
    assert_eq!(how.as_deref(), Some(expected), "{facts:?}");
}

#[test]
fn it_says_what_to_write() {
    advises(&["date"], "State `date` under [sheet].");
    advises(&["address or owner"], "State `address` or `owner` under [sheet].");
    advises(&["declared.septic"], "Say `septic = \"none\"` or `\"shown\"` under [declared].");
    advises(
        &["owner or declared.septic"],
        "State `owner` under [sheet], or say `septic = \"none\"` or `\"shown\"` under [declared].",
    );
}

#[test]
fn a_row_without_facts_is_refused() {
    check(&sheet(), "refused: parameter `facts` is not given; give the names of facts, such as [\"scale\"]");
}
