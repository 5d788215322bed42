//! What asks for nothing, and what stands behind the findings.

use groundrule_plan::Gravity;
use groundrule_review::{Finding, Review, Verdict};
use groundrule_units::Style;
use maud::{Markup, html};

use crate::groups;
use crate::{Report, safe, words};

/// What to take in the field, best first.
pub(super) fn fieldwork(report: &Report<'_>) -> Markup {
    let review = report.review;
    let numbers = words::Numbers::of(review);
    html! {
        @if !review.retakes.is_empty() {
            h3 #fieldwork { (words::FIELDWORK) }
            table.fieldwork {
                thead { tr { @for column in words::FIELDWORK_COLUMNS { th scope="col" { (column) } } } }
                tbody {
                    @for retake in review.retakes.iter().take(words::FIELDWORK_LONGEST) {
                        @let taking = words::taking(report, &numbers, retake);
                        tr {
                            td { (safe::plain(&taking.from)) }
                            td { (safe::plain(&taking.to)) }
                            td { (taking.within) }
                            td { (taking.settles) }
                        }
                    }
                }
            }
            @if let Some(more) = words::more_fieldwork(review.retakes.len()) { p.faint { (more) } }
        }
    }
}

/// What meets, what is accepted, what does not apply, and what is only noted; folded but for the accepted.
pub(super) fn settled(report: &Report<'_>) -> Markup {
    let review = report.review;
    let noted: Vec<_> =
        review.data.iter().filter(|finding| finding.remark.gravity == Gravity::Noted).collect();
    html! {
        (list(report, "Accepted deviations", Verdict::Accepted, true))
        (list(report, "Meets", Verdict::Meets, false))
        (list(report, "Not applicable", Verdict::NotApplicable, false))
        @if !noted.is_empty() {
            details {
                summary { "Noted about the data (" (noted.len()) ")" }
                ul {
                    @for finding in noted {
                        li {
                            (safe::plain(&finding.remark.message))
                            @if let Some(help) = &finding.remark.help { " " (safe::plain(help)) }
                        }
                    }
                }
            }
        }
    }
}

fn list(report: &Report<'_>, heading: &str, verdict: Verdict, open: bool) -> Markup {
    let findings = groups::settled(report.review, verdict);
    html! {
        @if !findings.is_empty() {
            details open[open] {
                summary { (heading) " (" (findings.len()) ")" }
                table {
                    thead { tr { th scope="col" { "Rule" } th scope="col" { "Where" } th scope="col" { "Shown" } th scope="col" { "Required" } } }
                    tbody { @for finding in findings { (row(finding, report.style)) } }
                }
            }
        }
    }
}

fn row(finding: &Finding, style: Style) -> Markup {
    let required = finding.required.as_ref().map(groundrule_review::Required::words).unwrap_or_default();
    html! {
        tr {
            th scope="row" { (safe::plain(&finding.title)) }
            td { (safe::plain(&finding.place)) }
            @match (words::shown(finding, style), &finding.note) {
                (Some(shown), note) => {
                    td { (safe::plain(&shown)) }
                    td { (safe::plain(&required)) @if let Some(note) = note { br; span.faint { (safe::plain(note)) } } }
                }
                (None, note) => td colspan="2" { (safe::plain(note.as_deref().unwrap_or(&finding.message))) }
            }
        }
    }
}

/// What the required setbacks leave of each lot.
pub(super) fn buildable(report: &Report<'_>) -> Markup {
    let lots = &report.review.buildable;
    html! {
        @if !lots.is_empty() {
            details {
                summary { "Buildable area (" (lots.len()) ")" }
                table {
                    thead { tr { th scope="col" { "Lot" } th scope="col" { "Buildable area" } th scope="col" { "Setbacks" } } }
                    tbody {
                        @for lot in lots {
                            tr {
                                th scope="row" { (safe::plain(&lot.name.0)) }
                                td { (safe::plain(&words::buildable(lot, report.style))) }
                                td {
                                    @for (i, setback) in lot.setbacks.iter().enumerate() {
                                        @if i > 0 { br; }
                                        (safe::plain(&words::setback(setback, report.style)))
                                    }
                                }
                            }
                        }
                    }
                }
                p.faint { (words::BUILDABLE_NOTE) }
            }
        }
    }
}

/// Whose rules these are, and what of them was not checked.
pub(super) fn authorities(review: &Review) -> Markup {
    html! {
        h2 { "Rules used" }
        ul {
            @for pack in &review.packs {
                li {
                    strong { (safe::plain(&pack.title)) } " (" (safe::plain(&pack.name)) " " (safe::plain(&pack.version)) "), "
                    (safe::plain(&pack.agency)) "."
                    @if let Some(note) = &pack.note { " " (safe::plain(note)) }
                }
            }
        }
        @if review.packs.iter().any(|pack| !pack.not_encoded.is_empty()) {
            h2 { "Not checked" }
            ul { @for item in review.packs.iter().flat_map(|pack| &pack.not_encoded) { li { (safe::plain(item)) } } }
        }
    }
}
