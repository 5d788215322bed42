//! One page to take outside: a sketch, what to take, blanks to fill in.

use groundrule_review::Remeasure;
use groundrule_units::Style;
use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::{Report, drawing, safe, words};

const STYLE: &str = include_str!("fieldsheet.css");
/// As many rows as one page has room for below the sketch.
pub const ROWS: usize = 8;

/// What whoever goes out must know (common practice of the trade, and the law of most places).
const CAUTIONS: [&str; 4] = [
    "Call the local one-call service before any digging; drawn utilities are not locations.",
    "Do not enter a neighbor's land without leave.",
    "A boundary is for a licensed surveyor; what is measured here establishes none.",
    "Read twice, the second time from the other end; write down what was read, not what was expected.",
];

/// The sketch alone, as SVG in millimetres.
pub fn sketch(report: &Report<'_>) -> String {
    drawing::sketch(report, ROWS)
}

/// The page, for printing on Letter or A4.
pub fn page(report: &Report<'_>) -> String {
    let paper = match report.style {
        Style::Metres => "A4",
        Style::FeetInches | Style::DecimalFeet => "letter",
    };
    let title = safe::plain(&report.plan.site.name);
    let all = report.review.retakes.len();
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "Field sheet of " (title) }
                style { (PreEscaped(STYLE)) "@page{size:" (paper) "}" }
            }
            body class=(paper) {
                main {
                    header {
                        h1 { "Field sheet" }
                        p.plan-name { (title) }
                    }
                    (blanks(&["Date", "Taken by", "Weather", "Tape, last checked"]))
                    figure aria-label="Sketch" { (PreEscaped(sketch(report))) }
                    @if all == 0 {
                        p.none { "No verdict hangs on anything that could be taken in the field." }
                    } @else {
                        (table(report))
                        @if all > ROWS {
                            p.more { "These come first; " (all - ROWS) " more are listed by " code { "groundrule fieldwork" } " without a file." }
                        }
                    }
                    ul.cautions { @for caution in CAUTIONS { li { (caution) } } }
                }
            }
        }
    };
    let mut text = page.into_string();
    text.push('\n');
    text
}

fn blanks(names: &[&str]) -> Markup {
    html! { div.blanks { @for name in names { div { span { (name) } } } } }
}

fn table(report: &Report<'_>) -> Markup {
    html! {
        table {
            thead {
                tr {
                    th.n scope="col" { "No." }
                    th.from scope="col" { "From" }
                    th.to scope="col" { "To / what" }
                    th.good scope="col" { "Good to" }
                    th.now scope="col" { "On the plan now" }
                    th.read scope="col" { "Read" }
                    th.again scope="col" { "Read again" }
                    th.by scope="col" { "Initials" }
                }
            }
            tbody {
                @for (at, retake) in report.review.retakes.iter().take(ROWS).enumerate() {
                    @let good = match &retake.how {
                        Remeasure::Supply { measured: true, .. } => "measure".to_owned(),
                        Remeasure::Supply { measured: false, .. } => "ask".to_owned(),
                        _ => retake.plus_minus().map_or_else(String::new, |enough| words::plus_minus(enough, report.style)),
                    };
                    @let (from, to) = ends(report, retake);
                    tr id={ "f" (at + 1) } {
                        th.n scope="row" { (at + 1) }
                        td { div { (safe::plain(&from)) } }
                        td { div { (safe::plain(&to)) } }
                        td { (good) }
                        td { div { (safe::plain(retake.now.as_deref().unwrap_or_default())) } }
                        td {} td {} td {}
                    }
                }
                // Room for what only shows outside.
                @for _ in report.review.retakes.len()..ROWS {
                    tr { th.n scope="row" {} td {} td {} td {} td {} td {} td {} td {} }
                }
            }
        }
    }
}

/// From where to where; what has no two ends says what it is.
fn ends(report: &Report<'_>, retake: &groundrule_review::Retake) -> (String, String) {
    let called = |name: &String| words::called(report.site, name);
    match (&retake.from, &retake.to, &retake.how) {
        (Some(from), Some(to), Remeasure::Directly { .. } | Remeasure::Again { .. }) => {
            (called(from), called(to))
        }
        (Some(from), _, Remeasure::Disputed { .. }) => (called(from), retake.what.clone()),
        // A place by itself, shown by its coordinates, is tied from two points that are surely known.
        (None, None, Remeasure::Again { .. }) if retake.now.is_some() => {
            ("two sure points".to_owned(), retake.what.clone())
        }
        _ => (String::new(), retake.what.clone()),
    }
}
