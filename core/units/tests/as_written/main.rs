//! Every way of writing that site plans and deeds are known to use: read, or asked about with usable choices.
//!
//! The strings are common practice of American surveying, grading and planting plans unless a test names its source.

#![allow(clippy::panic, reason = "a test fails by panicking, also in its helpers")]

mod angles;
mod areas;
mod both_ways;
mod curves;
mod deeds;
mod lengths;
mod levels;
mod lines;
mod marks;
mod orientation;
mod planting;
mod quantities;
mod scales;
mod slopes;

use std::fmt::Debug;

use groundrule_units::{Unread, Written};

/// Within a billionth of a millimetre, or the same share of one.
#[track_caller]
fn close(text: &str, found: f64, expected: f64) {
    let off = (found - expected).abs();
    assert!(off <= 1e-12 * expected.abs().max(1.0), "{text}: found {found}, expected {expected}");
}

/// The text asks, offers these choices, and every choice reads without a question.
#[track_caller]
fn asks<T: Debug>(text: &str, read: impl Fn(&str) -> Result<Written<T>, Unread>, choices: &[&str]) {
    let question = match read(text) {
        Err(Unread::Ask(question)) => question,
        other => panic!("{text} should ask: {other:?}"),
    };
    assert_eq!(question.choices, choices, "{text}: {}", question.ask);
    assert!(question.choices.len() >= 2, "{text}: a question has at least two answers");
    assert!(question.ask.contains('?'), "{text}: {}", question.ask);
    for choice in &question.choices {
        assert!(read(choice).is_ok(), "{text}: the choice {choice} does not read: {:?}", read(choice));
    }
}

/// The text is refused, with these words among the reason.
#[track_caller]
fn refuses<T: Debug>(text: &str, read: impl Fn(&str) -> Result<Written<T>, Unread>, words: &str) {
    match read(text) {
        Err(Unread::Malformed(why)) => assert!(why.contains(words), "{text}: {why}"),
        other => panic!("{text} should be refused: {other:?}"),
    }
}
