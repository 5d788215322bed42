//! One page that holds everything: the drawing, the findings, and what stands behind them.
//!
//! It loads nothing. Without a script the numbers are links between drawing and list; with it both sides are
//! marked and the keyboard stays where the reader is.

mod cards;
mod folded;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::groups::Group;
use crate::lines::Lines;
use crate::{CAUTIONS, Report, drawing, safe, words};

const STYLE: &str = include_str!("page.css");
const SCRIPT: &str = include_str!("page.js");
/// The SHA-256 of the script in Base64, the only one a browser may run; a test compares.
const SCRIPT_HASH: &str = "sha256-uMfsx6vsfpxWFAJ+lLQCRLola2UP+E5vZpBgz0q80BU=";

/// The page of one plan's review.
pub fn page(report: &Report<'_>) -> String {
    let review = report.review;
    let title = safe::plain(&review.plan);
    let policy = format!(
        "default-src 'none'; style-src 'unsafe-inline'; script-src '{SCRIPT_HASH}'; base-uri 'none'; form-action 'none'"
    );
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(policy);
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "Review of " (title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                a.skip href="#findings" { "Skip to the findings" }
                header {
                    p.kind { "Site plan review" }
                    h1 { (title) }
                    (sums(report))
                    p.faint { (words::judged(review.judged_at.as_deref(), review.level)) " " (rules_in_a_line(report)) }
                }
                main {
                    section #drawing aria-label="Drawing" { (PreEscaped(drawing::review(report))) }
                    section #findings tabindex="-1" aria-label="Findings" { (findings(report)) }
                }
                footer { (folded::authorities(review)) (cautions()) }
                script { (PreEscaped(SCRIPT)) }
            }
        }
    };
    let mut text = page.into_string();
    text.push('\n');
    text
}

/// The sums, each in words; those that ask for something lead to their group.
fn sums(report: &Report<'_>) -> Markup {
    let counts = report.review.counts();
    let sums = words::sums(&counts);
    html! {
        @if sums.is_empty() {
            p { (words::summary(&counts)) }
        } @else {
            ul.sums aria-label="In short" {
                @for (count, words) in sums {
                    li { strong { (count) } " " (words) }
                }
            }
        }
    }
}

fn rules_in_a_line(report: &Report<'_>) -> Markup {
    let packs = &report.review.packs;
    html! {
        @if !packs.is_empty() {
            "Rules: "
            @for (i, pack) in packs.iter().enumerate() {
                @if i > 0 { "; " }
                (safe::plain(&pack.title)) " (" (safe::plain(&pack.name)) " " (safe::plain(&pack.version)) ")"
            }
            "."
        }
    }
}

/// Everything found, what asks for something first.
fn findings(report: &Report<'_>) -> Markup {
    let review = report.review;
    let lines = Lines::of(&report.plan.source);
    let asking: Vec<_> = review.data.iter().filter(|finding| finding.number.is_some()).collect();
    html! {
        h2 { "Findings" }
        @if Group::ALL.iter().all(|group| group.of(review).is_empty()) && asking.is_empty() && review.tool.is_empty() {
            p { "Nothing here asks for anything." }
        }
        @for group in Group::ALL {
            @let members = group.of(review);
            @if !members.is_empty() {
                h3 { (group.heading()) " (" (members.len()) ")" }
                @if let Some(caution) = group.caution() { p { (caution) } }
                ol.cards { @for finding in members { li { (cards::finding(finding, report.site, report.style)) } } }
            }
        }
        @if !asking.is_empty() {
            h3 { "About the data (" (asking.len()) ")" }
            ol.cards { @for finding in asking { li { (cards::data(finding, report.plan, &lines)) } } }
        }
        @if !review.tool.is_empty() {
            h3 { "Stopped modules: these rules were not checked (" (review.tool.len()) ")" }
            ol.cards { @for finding in &review.tool { li { (cards::tool(finding)) } } }
        }
        (folded::fieldwork(report))
        (folded::buildable(report))
        (folded::settled(report))
    }
}

fn cautions() -> Markup {
    html! {
        h2 { "Cautions" }
        dl.cautions {
            @for caution in CAUTIONS {
                dt { (caution.subject) }
                dd { (caution.text) }
            }
        }
    }
}
