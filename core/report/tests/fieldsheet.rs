//! The field sheet: one page, a number for each thing to take, nothing from outside.

#![allow(clippy::panic, reason = "a sheet that is no drawing ends its test")]

mod common;

use common::{HERON_LANE, Sample};
use groundrule_report::{fieldsheet, terminal};
use groundrule_units::Style;

#[test]
fn each_entry_has_a_row_and_a_number_on_the_sketch() {
    let sample = Sample::reviewed();
    let page = fieldsheet::page(&sample.report());
    let sketch = fieldsheet::sketch(&sample.report());
    let document = roxmltree::Document::parse(&sketch).unwrap_or_else(|error| panic!("{error}"));
    for n in 1..=sample.review.retakes.len() {
        assert_eq!(page.matches(&format!("id=\"f{n}\"")).count(), 1, "row {n}");
        let marks =
            document.descendants().filter(|node| node.attribute("id") == Some(&format!("m{n}"))).count();
        assert_eq!(marks, 1, "number {n}");
    }
    for blank in ["Date", "Taken by", "Weather", "Tape", "Read", "Initials", "Good to", "On the plan now"] {
        assert!(page.contains(blank), "{blank}");
    }
    for caution in ["one-call service", "neighbor's land", "licensed surveyor"] {
        assert!(page.contains(caution), "{caution}");
    }
    assert!(!sketch.contains("bubble verdict-"), "findings are not on it");
}

/// What does not fit on the page is counted; the best are on it.
#[test]
fn a_long_list_stays_on_one_page() {
    let mut sample = Sample::reviewed();
    let first = sample.review.retakes[0].clone();
    sample.review.retakes = vec![first; fieldsheet::ROWS + 5];
    let page = fieldsheet::page(&sample.report());
    assert_eq!(page.matches("<tr id=").count(), fieldsheet::ROWS);
    assert!(page.contains("5 more"));
}

#[test]
fn a_sheet_without_anything_to_take_says_so() {
    let sample = Sample::of(HERON_LANE);
    let words = "No verdict hangs on anything that could be taken in the field.";
    assert!(fieldsheet::page(&sample.report()).contains(words));
    assert!(terminal::fieldwork(&sample.report(), 80).contains(words));
}

#[test]
fn paper_of_the_units() {
    for (style, size) in [(Style::Metres, "A4"), (Style::DecimalFeet, "letter")] {
        let mut sample = Sample::reviewed();
        sample.style = style;
        assert!(fieldsheet::page(&sample.report()).contains(&format!("@page{{size:{size}}}")));
    }
}

#[test]
fn nothing_is_loaded() {
    let page = fieldsheet::page(&Sample::reviewed().report()).replace("http://www.w3.org/2000/svg", "");
    for outside in ["http:", "src=", "@import", "<link", "<script", "<img"] {
        assert!(!page.contains(outside), "{outside}");
    }
}

#[test]
fn points_with_their_plus_or_minus() {
    let sample = Sample::of(HERON_LANE);
    let surveyed = terminal::Surveyed {
        plan: &sample.plan,
        layout: &sample.layout,
        remarks: &[],
        style: Style::DecimalFeet,
    };
    for width in [80, 110] {
        let text = anstream::adapter::strip_str(&terminal::survey(&surveyed, width)).to_string();
        insta::assert_snapshot!(format!("survey-{width}"), text);
    }
}
