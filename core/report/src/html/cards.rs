//! One card for each numbered finding.

use groundrule_packs::Sense;
use groundrule_plan::Plan;
use groundrule_review::{DataFinding, Finding, ToolFinding, Verdict};
use groundrule_site::Site;
use groundrule_units::Style;
use maud::{Markup, PreEscaped, html};

use crate::drawing::{Frame, badge};
use crate::lines::Lines;
use crate::{listed, safe, words};

/// A card with its number in the frame it has on the drawing.
fn card(number: u32, frame: Frame, word: &str, title: &str, place: &str, inside: &Markup) -> Markup {
    html! {
        article.card id={ "f" (number) } tabindex="-1" aria-labelledby={ "t" (number) } {
            a.number href={ "#m" (number) } aria-label={ "Show finding " (number) " on the drawing" } {
                (PreEscaped(badge(number, frame)))
            }
            h4 id={ "t" (number) } {
                span.word { (word) } " " (safe::plain(title))
            }
            p.place { (safe::plain(place)) }
            (inside)
        }
    }
}

/// A finding on a rule.
pub(super) fn finding(finding: &Finding, site: &Site, style: Style) -> Markup {
    let digging = listed::is_of_digging(finding);
    let listed = listed::lines(finding, site, style);
    let truth = finding.required.as_ref().is_some_and(|r| matches!(r.sense, Sense::Holds | Sense::HoldsNot));
    let shown = words::shown(finding, style).filter(|_| !truth && !digging);
    let required =
        finding.required.as_ref().filter(|_| !truth && !digging).map(groundrule_review::Required::words);
    let beside = words::beside(finding, style);
    let conformity = finding.conformity.filter(|_| finding.verdict == Verdict::Verify);
    let citation = &finding.citation;
    let inside = html! {
        p { (safe::plain(&finding.message)) }
        @if !listed.is_empty() {
            ul.listed {
                @for line in &listed {
                    li { strong { (safe::plain(&line.name)) } ": " (safe::plain(&line.known)) }
                }
            }
        }
        dl {
            @if let Some(shown) = &shown { (field("Shown", shown)) }
            @if !beside.is_empty() { (field("Beside", &beside)) }
            @if let Some(required) = &required { (field("Required", required)) }
            @if let Some(conformity) = conformity { (field("Chance", &words::probability(conformity))) }
            @if !finding.action.is_empty() { (field("Do", &finding.action)) }
            @if let Some(referral) = &finding.referral { (field("Ask", referral)) }
            @if let Some(note) = &finding.note { (field("Note", note)) }
            dt { "Source" }
            dd {
                (safe::plain(&words::source(citation))) " "
                span.standing { "(" (citation.standing.words()) ")" } br;
                span.faint { (safe::plain(&citation.provenance.words())) }
            }
            @if !finding.why.is_empty() { (field("Why", &finding.why)) }
        }
    };
    let frame = Frame::of(finding.verdict);
    card(
        finding.number.unwrap_or(0),
        frame,
        &words::verdict(finding),
        &finding.title,
        &finding.place,
        &inside,
    )
}

/// A finding on the data.
pub(super) fn data(finding: &DataFinding, plan: &Plan, lines: &Lines<'_>) -> Markup {
    let remark = &finding.remark;
    let about: Vec<&str> = remark.about.iter().map(|name| name.0.as_str()).collect();
    let inside = html! {
        p { (safe::plain(&remark.message)) }
        dl {
            @if let Some(help) = &remark.help { (field("Do", help)) }
            @if let Some((line, column)) = lines.find(remark.span) {
                (field("At", &format!("{}:{line}:{column}", plan.source.name)))
            }
        }
    };
    let word = words::gravity(remark.gravity);
    card(finding.number.unwrap_or(0), Frame::Circle, word, remark.code, &about.join(", "), &inside)
}

/// A stopped module.
pub(super) fn tool(finding: &ToolFinding) -> Markup {
    let rules: Vec<&str> = finding.rules.iter().map(|rule| rule.0.as_str()).collect();
    let inside = html! {
        p { (safe::plain(&finding.blame.to_string())) }
        dl { @if !rules.is_empty() { (field("Not checked", &rules.join(", "))) } }
    };
    let blame = &finding.blame;
    card(finding.number.unwrap_or(0), Frame::Circle, "stopped", &blame.module, blame.failure.words(), &inside)
}

fn field(name: &str, text: &str) -> Markup {
    html! { dt { (name) } dd { (safe::plain(text)) } }
}
