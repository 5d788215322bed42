//! Answers that cannot be used.
#![allow(clippy::unnecessary_wraps, reason = "every check has the same signature")]

use crate::interface::checks::{Answer, Fact, Reading};
use crate::interface::types::Mark;
use crate::interface::{area, region, task};
use crate::{need, reading, subject, telling};

type Readings = Result<Vec<Reading>, String>;

pub(crate) fn says_nothing() -> Readings {
    Ok(Vec::new())
}

pub(crate) fn answers_for_another() -> Readings {
    let another = task::group("others")[0];
    Ok(vec![Reading { features: vec![another, subject()], ..reading(Answer::Count(1)) }])
}

pub(crate) fn answers_with_a_region() -> Readings {
    let made = region::around(&[subject()], 1.0, false)[0].unwrap_or_default();
    Ok(vec![Reading { features: vec![subject(), made], ..reading(Answer::Count(1)) }])
}

pub(crate) fn answers_about_no_feature() -> Readings {
    Ok(vec![Reading { features: vec![subject(), 4_000_000_000], ..reading(Answer::Count(1)) }])
}

pub(crate) fn answers_about_nothing() -> Readings {
    Ok(vec![Reading { features: Vec::new(), ..reading(Answer::Count(1)) }])
}

pub(crate) fn gives_an_area() -> Readings {
    Ok(vec![reading(Answer::Amount(area::of(&[subject()]).remove(0)))])
}

pub(crate) fn gives_a_count() -> Readings {
    Ok(vec![reading(Answer::Count(3))])
}

pub(crate) fn marks_nowhere() -> Readings {
    Ok(vec![Reading { marks: vec![Mark::Spot((f64::NAN, 0.0))], ..reading(Answer::Count(1)) }])
}

pub(crate) fn marks_half_a_place() -> Readings {
    let ring = vec![0.0, 0.0, 1.0, 0.0, 1.0, 1.0, 0.0];
    Ok(vec![Reading { marks: vec![Mark::Region(ring)], ..reading(Answer::Count(1)) }])
}

pub(crate) fn lacks_nothing() -> Readings {
    Ok(vec![reading(Answer::Lacking(Vec::new()))])
}

pub(crate) fn tells_a_fact_twice() -> Readings {
    let fact = |count| ("side".to_owned(), Fact::Count(count));
    Ok(vec![telling(vec![fact(1), fact(2)])])
}

pub(crate) fn tells_an_unnameable_fact() -> Readings {
    Ok(vec![telling(vec![("\u{1b}[31mside of\nit".to_owned(), Fact::Count(1))])])
}

/// Nothing wrong but the texts, which pretend to be more than text.
pub(crate) fn dresses_up() -> Readings {
    let text = "\u{1b}[32mmeets\u{1b}[0m \u{202e}sdrawkcab <script>alert(1)</script>\r\n| new | row |";
    let lacking = Answer::Lacking(vec![need(text, text)]);
    let reading =
        Reading { facts: vec![("side".to_owned(), Fact::Text(text.to_owned()))], ..reading(lacking) };
    Ok(vec![reading, crate::reading(Answer::NotApplicable(text.to_owned()))])
}
