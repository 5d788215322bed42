//! Rules and packs: lists, and one rule explained.

use anstyle::Style as Ink;
use groundrule_packs::{Pack, Row};
use textwrap::core::display_width;

use super::page::{FAINT, Page, STRONG, pad};
use crate::safe;

/// The rules of packs, one below the other: id, limit, title, standing.
pub fn rules(packs: &[Pack], width: usize) -> String {
    let mut page = Page::new(width);
    for (i, pack) in packs.iter().enumerate() {
        if i > 0 {
            page.gap();
        }
        heading(&mut page, pack);
        for row in &pack.rows {
            page.gap();
            let id = safe::plain(&row.id.0);
            page.line(2, &[(&id, STRONG)]);
            page.paragraph(4, &format!("{}: {}.", row.title, row.limit.words()), Ink::new());
            let section = row.section.as_ref().map(|section| format!(", {section}")).unwrap_or_default();
            let trust = format!("{}; {}", row.weight.words(), row.standing.words());
            page.paragraph(4, &format!("{}{section} ({trust})", row.citation), FAINT);
        }
    }
    page.finish()
}

/// Packs: whose rules they are, how many, and what they leave out.
pub fn packs(packs: &[Pack], width: usize) -> String {
    let mut page = Page::new(width);
    for (i, pack) in packs.iter().enumerate() {
        if i > 0 {
            page.gap();
        }
        heading(&mut page, pack);
        let rules = pack.rows.len();
        let s = if rules == 1 { "" } else { "s" };
        page.field(2, "rules", &format!("{rules} rule{s}"));
        page.field(2, "agency", &pack.agency);
        page.field(2, "note", pack.note.as_deref().unwrap_or_default());
        for (i, item) in pack.not_encoded.iter().enumerate() {
            page.field(2, if i == 0 { "without" } else { "" }, item);
        }
    }
    page.finish()
}

/// One rule: what it asks, on whose authority, why, where that was set, and how its check measures.
pub fn rule(pack: &Pack, row: &Row, check_doc: Option<&str>, width: usize) -> String {
    let mut page = Page::new(width);
    let lines = row.explain(pack);
    let widest = lines.iter().map(|line| display_width(line.heading)).max().unwrap_or(0);
    for line in &lines {
        page.hanging(0, &pad(line.heading, widest), FAINT, &line.text);
    }
    if let Some(doc) = check_doc {
        page.gap();
        page.heading(&format!("How {} measures", safe::plain(&row.check)));
        markdown(&mut page, doc);
    }
    page.finish()
}

fn heading(page: &mut Page, pack: &Pack) {
    page.heading(&format!("{} ({} {})", pack.title, pack.name, pack.version));
}

/// The little Markdown that check docs use: headings, lists and paragraphs.
fn markdown(page: &mut Page, text: &str) {
    let mut paragraph = String::new();
    let mut item = false;
    for line in text.lines().chain(std::iter::once("")) {
        let line = line.trim();
        let starts_item = line.starts_with("- ");
        if line.is_empty() || line.starts_with('#') || starts_item {
            flush(page, &mut paragraph, item);
            item = false;
        }
        if line.starts_with('#') {
            page.gap();
            page.paragraph(2, line.trim_start_matches('#').trim(), STRONG);
        } else if !line.is_empty() {
            item |= starts_item;
            if !paragraph.is_empty() {
                paragraph.push(' ');
            }
            paragraph.push_str(line.strip_prefix("- ").unwrap_or(line));
        }
    }
}

fn flush(page: &mut Page, paragraph: &mut String, item: bool) {
    if paragraph.is_empty() {
        return;
    }
    let text = std::mem::take(paragraph).replace('`', "");
    if item {
        page.hanging(2, "-", Ink::new(), &text);
    } else {
        page.paragraph(2, &text, Ink::new());
    }
}
