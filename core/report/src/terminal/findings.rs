//! A whole review.

use anstyle::Style as Ink;
use groundrule_packs::Sense;
use groundrule_review::{DataFinding, Finding, Review, ToolFinding, Verdict};
use groundrule_site::Site;
use groundrule_units::Style;
use rayon::prelude::*;
use textwrap::core::display_width;

use super::fieldwork;
use super::page::{self, BAD, FAINT, GOOD, LACKING, OPEN, Page, STRONG, pad_left};
use crate::groups::{Group, settled};
use crate::lines::Lines;
use crate::{CAUTIONS, Report, listed, safe, words};

/// How far the details of a finding stand in.
const DETAIL: usize = 5;

/// The review of one plan: what asks for something first and in full, then what meets, then the packs, what
/// was not checked and the cautions. With `all`, what meets and what does not apply is listed too.
pub fn review(report: &Report<'_>, width: usize, all: bool) -> String {
    let Report { plan, review, style, .. } = report;
    let mut page = Page::new(width);
    page.heading(&review.plan);
    page.paragraph(0, &format!("{}.", words::summary(&review.counts()).trim_end_matches('.')), Ink::new());
    page.paragraph(0, &words::judged(review.judged_at.as_deref(), review.level), FAINT);
    for group in Group::ALL {
        let members = group.of(review);
        let Some(caution) = group.caution() else {
            section(&mut page, group.heading(), &members, |page, finding| {
                one(page, finding, report.site, *style);
            });
            continue;
        };
        if !members.is_empty() {
            page.gap();
            page.heading(&format!("{} ({})", group.heading(), members.len()));
            page.paragraph(0, caution, Ink::new());
            for finding in members {
                page.gap();
                list(&mut page, finding, report.site, *style);
            }
        }
    }
    let lines = Lines::of(&plan.source);
    let at = |finding: &DataFinding| {
        let place = lines.find(finding.remark.span);
        place.map(|(line, column)| format!("{}:{line}:{column}", plan.source.name))
    };
    let asking: Vec<&DataFinding> = review.data.iter().filter(|finding| finding.number.is_some()).collect();
    section(&mut page, "About the data", &asking, |page, finding| data(page, finding, at(finding)));
    let stopped: Vec<&ToolFinding> = review.tool.iter().collect();
    section(&mut page, "Stopped modules: these rules were not checked", &stopped, tool);
    fieldwork::table(&mut page, report);
    buildable(&mut page, report);
    quiet(&mut page, report, all);
    authorities(&mut page, review);
    cautions(&mut page);
    page.finish()
}

/// So many items are laid out by one thread; a map of a town has many thousands.
const TOGETHER: usize = 256;

fn section<T: Sync>(page: &mut Page, heading: &str, items: &[&T], one: impl Fn(&mut Page, &T) + Sync) {
    if items.is_empty() {
        return;
    }
    page.gap();
    page.heading(&format!("{heading} ({})", items.len()));
    let width = page.width();
    let lay_out = |items: &[&T]| {
        let mut page = Page::new(width);
        for item in items {
            page.gap();
            one(&mut page, item);
        }
        page
    };
    let pages: Vec<Page> = items.par_chunks(TOGETHER).map(lay_out).collect();
    for part in &pages {
        page.append(part);
    }
}

/// What the required setbacks leave of each lot.
fn buildable(page: &mut Page, report: &Report<'_>) {
    let lots = &report.review.buildable;
    if lots.is_empty() {
        return;
    }
    page.gap();
    page.heading(&format!("Buildable area ({})", lots.len()));
    for lot in lots {
        page.gap();
        page.hanging(0, &safe::plain(&lot.name.0), STRONG, &words::buildable(lot, report.style));
        for setback in &lot.setbacks {
            page.paragraph(DETAIL, &words::setback(setback, report.style), Ink::new());
        }
    }
    page.gap();
    page.paragraph(0, words::BUILDABLE_NOTE, FAINT);
}

/// Number, verdict, title and place on one line where they fit, then the details.
fn one(page: &mut Page, finding: &Finding, site: &Site, style: Style) {
    let place = safe::plain(&finding.place);
    head(page, finding.number, &words::verdict(finding), page::of(finding), &finding.title, &place);
    let truth = finding.required.as_ref().is_some_and(|r| matches!(r.sense, Sense::Holds | Sense::HoldsNot));
    if truth || finding.required.is_none() {
        page.paragraph(DETAIL, &finding.message, Ink::new());
    }
    if !truth {
        page.field(DETAIL, "shown", &words::shown(finding, style).unwrap_or_default());
        page.field(DETAIL, "beside", &words::beside(finding, style));
        for line in listed::lines(finding, site, style) {
            page.hanging(DETAIL, "-", Ink::new(), &format!("{}: {}", line.name, line.known));
        }
        page.field(
            DETAIL,
            "required",
            &finding.required.as_ref().map(groundrule_review::Required::words).unwrap_or_default(),
        );
    }
    if let (Verdict::Verify, Some(conformity)) = (finding.verdict, finding.conformity) {
        page.field(DETAIL, "chance", &words::probability(conformity));
    }
    let citation = &finding.citation;
    let trust = format!("{}; {}", citation.standing.words(), citation.provenance.words());
    page.field(DETAIL, "source", &format!("{} ({trust})", words::source(citation)));
    page.field(DETAIL, "note", finding.note.as_deref().unwrap_or_default());
    page.field(DETAIL, "do", &finding.action);
    page.field(DETAIL, "ask", finding.referral.as_deref().unwrap_or_default());
}

/// What lies near a piece of work, one thing to a line.
fn list(page: &mut Page, finding: &Finding, site: &Site, style: Style) {
    head(page, finding.number, &words::verdict(finding), OPEN, &finding.place, "");
    page.paragraph(DETAIL, &finding.message, Ink::new());
    page.field(DETAIL, "work", &words::beside(finding, style));
    for line in listed::lines(finding, site, style) {
        page.hanging(DETAIL, "-", Ink::new(), &format!("{}: {}", line.name, line.known));
    }
    page.field(DETAIL, "do", &finding.action);
    page.field(DETAIL, "ask", finding.referral.as_deref().unwrap_or_default());
}

fn head(page: &mut Page, number: Option<u32>, verdict: &str, ink: Ink, title: &str, place: &str) {
    let number = number.map_or_else(String::new, |number| number.to_string());
    let (number, title) = (pad_left(&number, DETAIL - 2), safe::plain(title));
    let used = DETAIL + display_width(verdict) + 2 + display_width(&title);
    let room = page.width().saturating_sub(used);
    if room >= display_width(place) + 3 {
        let place = pad_left(place, room);
        page.line(
            0,
            &[
                (&number, STRONG),
                ("  ", Ink::new()),
                (verdict, ink),
                ("  ", Ink::new()),
                (&title, STRONG),
                (&place, Ink::new()),
            ],
        );
        return;
    }
    if used <= page.width() {
        page.line(
            0,
            &[(&number, STRONG), ("  ", Ink::new()), (verdict, ink), ("  ", Ink::new()), (&title, STRONG)],
        );
    } else {
        page.line(0, &[(&number, STRONG), ("  ", Ink::new()), (verdict, ink)]);
        page.paragraph(DETAIL, &title, STRONG);
    }
    page.field(DETAIL, "where", place);
}

fn data(page: &mut Page, finding: &DataFinding, at: Option<String>) {
    let remark = &finding.remark;
    let about: Vec<&str> = remark.about.iter().map(|name| name.0.as_str()).collect();
    let about = about.join(", ");
    let ink = if remark.gravity == groundrule_plan::Gravity::Wrong { BAD } else { OPEN };
    head(page, finding.number, words::gravity(remark.gravity), ink, remark.code, &safe::plain(&about));
    page.paragraph(DETAIL, &remark.message, Ink::new());
    page.field(DETAIL, "at", &at.unwrap_or_default());
    page.field(DETAIL, "do", remark.help.as_deref().unwrap_or_default());
}

fn tool(page: &mut Page, finding: &ToolFinding) {
    let blame = &finding.blame;
    head(page, finding.number, "stopped", LACKING, &blame.module, blame.failure.words());
    page.paragraph(DETAIL, &blame.to_string(), Ink::new());
    let rules: Vec<&str> = finding.rules.iter().map(|rule| rule.0.as_str()).collect();
    page.field(DETAIL, "rules", &rules.join(", "));
}

/// What asks for nothing.
fn quiet(page: &mut Page, report: &Report<'_>, all: bool) {
    let review = report.review;
    let groups = [
        ("Meets", Verdict::Meets, GOOD),
        ("Accepted deviations", Verdict::Accepted, GOOD),
        ("Not applicable", Verdict::NotApplicable, FAINT),
    ];
    for (heading, verdict, ink) in groups {
        let findings = settled(review, verdict);
        if findings.is_empty() {
            continue;
        }
        if !all && verdict != Verdict::Accepted {
            continue;
        }
        page.gap();
        page.heading(&format!("{heading} ({})", findings.len()));
        for finding in findings {
            let what = format!("{}: {}", finding.title, finding.place);
            let shown = match (words::shown(finding, report.style), &finding.required) {
                (Some(shown), Some(required)) => format!("; {shown}, {} required", required.words()),
                _ => finding.note.as_ref().map(|note| format!("; {note}")).unwrap_or_default(),
            };
            page.hanging(DETAIL - 2, verdict.word(), ink, &format!("{what}{shown}"));
        }
    }
    let noted: Vec<&DataFinding> = review.data.iter().filter(|finding| finding.number.is_none()).collect();
    if !noted.is_empty() {
        page.gap();
        page.heading("Noted about the data");
        for finding in noted {
            let help = finding.remark.help.as_ref().map(|help| format!(" {help}")).unwrap_or_default();
            page.hanging(DETAIL - 2, "-", Ink::new(), &format!("{}{help}", finding.remark.message));
        }
    }
}

/// Whose rules these are, and what of them was not checked.
fn authorities(page: &mut Page, review: &Review) {
    page.gap();
    page.heading("Rules used");
    for pack in &review.packs {
        let note = pack.note.as_ref().map(|note| format!(" {note}")).unwrap_or_default();
        let text = format!("{} ({} {}), {}.{note}", pack.title, pack.name, pack.version, pack.agency);
        page.hanging(DETAIL - 2, "-", Ink::new(), &text);
    }
    let unchecked: Vec<&String> = review.packs.iter().flat_map(|pack| &pack.not_encoded).collect();
    if !unchecked.is_empty() {
        page.gap();
        page.heading("Not checked");
        for item in unchecked {
            page.hanging(DETAIL - 2, "-", Ink::new(), item);
        }
    }
}

fn cautions(page: &mut Page) {
    page.gap();
    page.heading("Cautions");
    for caution in CAUTIONS {
        page.hanging(DETAIL - 2, "-", Ink::new(), &format!("{}: {}", caution.subject, caution.text));
    }
}
