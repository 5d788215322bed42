//! A guest with one check for each way of doing wrong.

// Its exports have names that only a WebAssembly linker takes.
#![cfg(target_family = "wasm")]

#[allow(
    missing_docs,
    unreachable_pub,
    clippy::pedantic,
    clippy::allow_attributes_without_reason,
    reason = "written by a macro from plugins/wit, where everything is documented"
)]
mod interface {
    wit_bindgen::generate!({ path: "../../../../plugins/wit/0.1.2", world: "rule-module" });
    pub(crate) use exports::groundrule::rules::checks;
    pub(crate) use groundrule::rules::{amounts, area, distance, region, site, task, trouble, types, width};
    export!(Misfit with_types_in self);
    use super::Misfit;
}

mod answers;
mod misuse;
mod waste;

use interface::checks::{Answer, CheckInfo, Fact, Guest, Reading};
use interface::types::{Dimension, Need};
use interface::{task, trouble};

struct Misfit;

/// A way of doing wrong.
type Wrong = fn() -> Result<Vec<Reading>, String>;

/// Every check: its name, what it promises, what it does.
const CHECKS: [(&str, Option<Dimension>, Wrong); 38] = [
    ("loops", None, waste::loops),
    ("works-the-host", None, waste::works_the_host),
    ("hoards-memory", None, waste::hoards_memory),
    ("hoards-amounts", None, waste::hoards_amounts),
    ("doubles-an-amount", None, waste::doubles_an_amount),
    ("lends-a-crowd", None, waste::lends_a_crowd),
    ("recurses", None, waste::recurses),
    ("recurses-with-large-frames", None, waste::recurses_with_large_frames),
    ("returns-too-much", None, waste::returns_too_much),
    ("returns-a-long-text", None, waste::returns_a_long_text),
    ("panics", None, waste::panics),
    ("panics-with-escapes", None, waste::panics_with_escapes),
    ("traps", None, waste::traps),
    ("refuses", None, waste::refuses),
    ("names-no-feature", None, misuse::names_no_feature),
    ("searches-for-ever", None, misuse::searches_for_ever),
    ("scales-by-infinity", None, misuse::scales_by_infinity),
    ("overflows", None, misuse::overflows),
    ("adds-apples-to-pears", None, misuse::adds_apples_to_pears),
    ("makes-up-an-amount", None, misuse::makes_up_an_amount),
    ("lets-go-twice", None, misuse::lets_go_twice),
    ("makes-regions-for-ever", None, waste::makes_regions_for_ever),
    ("makes-a-region-of-a-region-for-ever", None, waste::makes_a_region_of_a_region_for_ever),
    ("reaches-nowhere", None, misuse::reaches_nowhere),
    ("answers-with-a-region", None, answers::answers_with_a_region),
    ("says-nothing", None, answers::says_nothing),
    ("answers-for-another", None, answers::answers_for_another),
    ("answers-about-no-feature", None, answers::answers_about_no_feature),
    ("answers-about-nothing", None, answers::answers_about_nothing),
    ("gives-an-area-for-a-length", Some(Dimension::Length), answers::gives_an_area),
    ("gives-a-count-for-a-length", Some(Dimension::Length), answers::gives_a_count),
    ("gives-an-amount-for-a-count", None, answers::gives_an_area),
    ("marks-nowhere", None, answers::marks_nowhere),
    ("marks-half-a-place", None, answers::marks_half_a_place),
    ("lacks-nothing", None, answers::lacks_nothing),
    ("tells-a-fact-twice", None, answers::tells_a_fact_twice),
    ("tells-an-unnameable-fact", None, answers::tells_an_unnameable_fact),
    ("dresses-up", None, answers::dresses_up),
];

impl Guest for Misfit {
    fn version() -> String {
        "6.6.6\u{1b}[1m".to_owned()
    }

    fn describe() -> Vec<CheckInfo> {
        let info = |(name, dimension, _): &(&str, Option<Dimension>, Wrong)| CheckInfo {
            name: (*name).to_owned(),
            summary: format!("\u{1b}[31m{name}"),
            dimension: dimension.clone(),
            parameters: Vec::new(),
            groups: Vec::new(),
        };
        CHECKS.iter().map(info).collect()
    }

    fn run(check: String) -> Result<Vec<Reading>, String> {
        std::panic::set_hook(Box::new(|panic| {
            let place = panic.location().map_or((String::new(), 0), |it| (it.file().to_owned(), it.line()));
            let words = panic.payload_as_str().unwrap_or("no words");
            trouble::panicked(words, &place.0, place.1);
        }));
        match CHECKS.iter().find(|(name, ..)| *name == check) {
            Some((_, _, wrong)) => wrong(),
            None => Err(format!("no check {check}")),
        }
    }
}

/// The first subject.
fn subject() -> u32 {
    task::subjects()[0]
}

/// A reading about the first subject.
fn reading(answer: Answer) -> Reading {
    Reading { features: vec![subject()], answer, marks: Vec::new(), facts: Vec::new() }
}

/// A reading about the first subject with facts.
fn telling(facts: Vec<(String, Fact)>) -> Reading {
    Reading { facts, ..reading(Answer::Count(1)) }
}

fn need(what: &str, how: &str) -> Need {
    Need { what: what.to_owned(), how: how.to_owned() }
}
