//! What a terminal shows, at several widths.

mod common;

use common::{HERON_LANE, Sample};
use groundrule_report::terminal;
use groundrule_units::Style;
use textwrap::core::display_width;

fn plain(text: &str) -> String {
    anstream::adapter::strip_str(text).to_string()
}

/// No line is wider than asked for, and none ends in spaces.
fn lay_out(text: &str, width: usize) -> String {
    let text = plain(text);
    for line in text.lines() {
        assert!(display_width(line) <= width, "{} > {width}: {line}", display_width(line));
        assert_eq!(line.trim_end(), line);
    }
    text
}

#[test]
fn a_review_at_three_widths() {
    let sample = Sample::reviewed();
    for width in [60, 80, 140] {
        let text = lay_out(&terminal::review(&sample.report(), width, width == 80), width);
        insta::assert_snapshot!(format!("review-{width}"), text);
    }
}

#[test]
fn every_width_is_kept() {
    let sample = Sample::reviewed();
    for width in 40..=170 {
        lay_out(&terminal::review(&sample.report(), width, true), width);
        lay_out(&terminal::areas(&sample.site, Style::DecimalFeet, width), width);
    }
}

#[test]
fn styles_say_nothing_alone() {
    let sample = Sample::reviewed();
    let styled = terminal::review(&sample.report(), 80, true);
    assert!(styled.contains('\u{1b}'));
    let text = plain(&styled);
    for word in [
        "fails",
        "fails (advice)",
        "fails (noted)",
        "verify",
        "missing",
        "meets",
        "accepted",
        "not applicable",
    ] {
        assert!(text.contains(word), "{word}");
    }
}

#[test]
fn areas_of_a_plan() {
    let sample = Sample::of(HERON_LANE);
    insta::assert_snapshot!("areas-80", lay_out(&terminal::areas(&sample.site, Style::DecimalFeet, 80), 80));
    let bare = Sample::of("[site]\nname = \"Bare\"\nunits = \"m\"\n");
    assert_eq!(
        plain(&terminal::areas(&bare.site, Style::Metres, 80)),
        "Nothing on this plan covers ground.\n"
    );
}

#[test]
fn a_stopped_module_in_one_line() {
    let sample = Sample::reviewed();
    insta::assert_snapshot!(terminal::blame(&sample.review.tool[0].blame), @"module walks 0.1.0, rule walk-width: out of fuel. It used all the fuel it was given; raise the limit or ask its author. (2000000 units of fuel used)");
}

#[test]
fn nothing_to_say_is_said() {
    let sample = Sample::of(HERON_LANE);
    let text = plain(&terminal::review(&sample.report(), 80, false));
    assert!(text.contains("No rule was asked of anything on this plan."), "{text}");
    assert!(text.contains("Cautions"), "{text}");
}
