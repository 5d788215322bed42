//! The words all outputs share, so that they say the same.

use std::collections::BTreeMap;

use groundrule_packs::Weight;
use groundrule_plan::Gravity;
use groundrule_review::{
    Buildable, Citation, Counts, Finding, FindingId, Remeasure, Retake, Review, Setback, Verdict,
};
use groundrule_site::{Fact, Site};
use groundrule_units::{Quantity, Ratio, Style, show, show_with_spread};

use crate::Report;

/// The verdict, and what hangs on it where that is less than everything: `fails (advice)`.
pub(crate) fn verdict(finding: &Finding) -> String {
    let word = finding.verdict.word();
    let asks = matches!(finding.verdict, Verdict::Fails | Verdict::Verify | Verdict::Missing);
    match finding.weight {
        _ if crate::listed::is_of_digging(finding) => "look first".to_owned(),
        Weight::Advised if asks => format!("{word} (advice)"),
        Weight::Noted if asks => format!("{word} (noted)"),
        _ => word.to_owned(),
    }
}

/// What was measured or answered; in words where the check has words for it.
pub(crate) fn shown(finding: &Finding, style: Style) -> Option<String> {
    match &finding.shown {
        Some(shown) if finding.verdict != Verdict::Missing && finding.answer.is_none() => {
            Some(show_with_spread(shown.value, shown.spread, style))
        }
        _ => finding.answer.clone(),
    }
}

/// Amounts beside the one that is judged: `shared area 60.0 sq ft; share 75.0%`.
pub(crate) fn beside(finding: &Finding, style: Style) -> String {
    let amounts = finding.beside.iter().map(|beside| {
        format!("{} {}", beside.what, show_with_spread(beside.shown.value, beside.shown.spread, style))
    });
    amounts.collect::<Vec<_>>().join("; ")
}

/// How sure the verdict is, in words and in percent.
///
/// The words are those of the guidance on uncertainty for the fifth assessment report of the IPCC (2010),
/// table 1; from memory.
pub(crate) fn probability(conformity: Ratio) -> String {
    let p = conformity.fraction();
    let words = match p {
        p if p >= 0.99 => "virtually certain",
        p if p >= 0.9 => "very likely",
        p if p >= 0.66 => "likely",
        p if p >= 0.33 => "about as likely as not",
        p if p >= 0.1 => "unlikely",
        p if p >= 0.01 => "very unlikely",
        _ => "exceptionally unlikely",
    };
    format!("{words} to conform ({})", percent(p))
}

fn percent(p: f64) -> String {
    match p * 100.0 {
        percent if percent < 0.1 => "under 0.1 %".to_owned(),
        percent if percent > 99.9 => "over 99.9 %".to_owned(),
        percent if (1.0..=99.0).contains(&percent) => format!("{percent:.0} %"),
        percent => format!("{percent:.1} %"),
    }
}

/// The text and the section there.
pub(crate) fn source(citation: &Citation) -> String {
    let section = citation.section.as_ref().map(|section| format!(", {section}")).unwrap_or_default();
    format!("{}{section}", citation.source)
}

/// How grave a finding on the data is.
pub(crate) const fn gravity(gravity: Gravity) -> &'static str {
    match gravity {
        Gravity::Wrong => "wrong",
        Gravity::Suspect => "suspect",
        Gravity::Lacking => "lacking",
        Gravity::Noted => "noted",
    }
}

/// What a review adds up to, sort by sort, with what asks for something first; sorts with none are left out.
pub(crate) fn sums(counts: &Counts) -> Vec<(usize, &'static str)> {
    let one_or_many = |count, one, many| if count == 1 { one } else { many };
    let sums = [
        (counts.fails, one_or_many(counts.fails, "fails", "fail")),
        (counts.advice, one_or_many(counts.advice, "fails as advice or noted", "fail as advice or noted")),
        (counts.verify, "to verify in field"),
        (counts.missing, "missing data"),
        (counts.data, "about the data"),
        (counts.tool, one_or_many(counts.tool, "module stopped", "modules stopped")),
        (counts.meets, one_or_many(counts.meets, "meets", "meet")),
        (counts.accepted, "accepted"),
        (counts.not_applicable, "not applicable"),
    ];
    sums.into_iter().filter(|(count, _)| *count > 0).collect()
}

/// The sums as one line; a review of nothing says so.
pub(crate) fn summary(counts: &Counts) -> String {
    let sums: Vec<String> = sums(counts).iter().map(|(count, words)| format!("{count} {words}")).collect();
    if sums.is_empty() { "No rule was asked of anything on this plan.".to_owned() } else { sums.join(", ") }
}

/// The heading of what to take in the field.
pub(crate) const FIELDWORK: &str = "What to take in the field, best first";
/// Its columns.
pub(crate) const FIELDWORK_COLUMNS: [&str; 4] = ["from", "to / what", "to within", "settles"];
/// No table for reading is longer: nobody goes out with more at once. The data holds all.
pub(crate) const FIELDWORK_LONGEST: usize = 40;

/// What a table says of the entries it leaves out.
pub(crate) fn more_fieldwork(all: usize) -> Option<String> {
    let more = all.checked_sub(FIELDWORK_LONGEST).filter(|more| *more > 0)?;
    Some(format!("{more} more are listed by `groundrule fieldwork` and in the JSON; these come first."))
}

/// One line of the table of what to take in the field.
pub(crate) struct Taking {
    /// From where.
    pub(crate) from: String,
    /// To where, and what that is.
    pub(crate) to: String,
    /// How well.
    pub(crate) within: String,
    /// Which findings it settles and helps, by their numbers.
    pub(crate) settles: String,
}

/// What people call a point or a feature: a lot line by its role as well.
pub(crate) fn called(site: &Site, name: &str) -> String {
    let line = site.find(name).and_then(|id| site.feature(id)).filter(|feature| feature.kind == "lot-line");
    match line.and_then(|line| line.facts.get("role")) {
        Some(Fact::Text(role)) => format!("{} line {name}", role.replace('_', " ")),
        _ => name.to_owned(),
    }
}

/// An entry in words.
pub(crate) fn taking(report: &Report<'_>, numbers: &Numbers<'_>, retake: &Retake) -> Taking {
    let (site, style) = (report.site, report.style);
    let within = match &retake.how {
        Remeasure::Supply { measured: true, .. } => "measure".to_owned(),
        Remeasure::Supply { measured: false, .. } => "state".to_owned(),
        _ => retake.plus_minus().map_or_else(String::new, |enough| plus_minus(enough, style)),
    };
    let (from, to) = match (&retake.from, &retake.to, &retake.how) {
        (Some(from), Some(to), Remeasure::Directly { .. }) => (called(site, from), called(site, to)),
        (Some(from), Some(to), _) => (called(site, from), format!("{}: {}", called(site, to), retake.what)),
        (_, _, Remeasure::Supply { how, .. }) if !how.is_empty() => {
            (String::new(), format!("{}: {how}", retake.what))
        }
        _ => (String::new(), retake.what.clone()),
    };
    Taking { from, to, within, settles: numbers.settled(retake) }
}

/// A plus-or-minus, never shown as nothing.
pub(crate) fn plus_minus(half_width: Quantity, style: Style) -> String {
    let shown = show(half_width, style);
    let none = show(Quantity::new(half_width.dimension(), 0.0), style);
    if shown == none && half_width.si() > 0.0 {
        format!("under ±{}", step(half_width, style))
    } else {
        format!("±{shown}")
    }
}

/// The least that is shown.
fn step(like: Quantity, style: Style) -> String {
    let spread = show_with_spread(
        Quantity::new(like.dimension(), 0.0),
        Quantity::new(like.dimension(), like.si().abs().max(f64::MIN_POSITIVE)),
        style,
    );
    spread.split_once('±').map_or_else(String::new, |(_, step)| step.trim().to_owned())
}

/// The numbers of findings by their ids.
pub(crate) struct Numbers<'a>(BTreeMap<&'a FindingId, u32>);

impl<'a> Numbers<'a> {
    pub(crate) fn of(review: &'a Review) -> Self {
        Self(review.findings.iter().filter_map(|finding| Some((&finding.id, finding.number?))).collect())
    }

    fn list(&self, ids: &[FindingId]) -> Option<String> {
        let mut numbers: Vec<u32> = ids.iter().filter_map(|id| self.0.get(id).copied()).collect();
        numbers.sort_unstable();
        let numbers: Vec<String> = numbers.iter().map(u32::to_string).collect();
        (!numbers.is_empty()).then(|| numbers.join(", "))
    }

    /// What an entry settles and helps: `1, 4, 7; helps 9`.
    fn settled(&self, retake: &Retake) -> String {
        match (self.list(&retake.settles), self.list(&retake.helps)) {
            (None, None) => "-".to_owned(),
            (None, Some(helps)) => format!("helps {helps}"),
            (Some(settles), None) => settles,
            (Some(settles), Some(helps)) => format!("{settles}; helps {helps}"),
        }
    }
}

/// At which date and level it was judged.
pub(crate) fn judged(date: Option<&str>, level: Ratio) -> String {
    let date = date.map_or_else(|| "at no date".to_owned(), |date| format!("at {date}"));
    let level = level.percent();
    let level =
        if (level - level.round()).abs() < 1e-9 { format!("{level:.0}") } else { format!("{level:.1}") };
    format!("Judged {date}; a verdict is given at a probability of {level} %.")
}

/// What is said of the buildable area of lots, wherever it is listed.
pub(crate) const BUILDABLE_NOTE: &str = "Plus or minus at 95 %. Only required setbacks are taken off: easements, slopes and other limits may leave less.";

/// The buildable area of a lot, or what is lacking to know it.
pub(crate) fn buildable(lot: &Buildable, style: Style) -> String {
    if let Some(area) = &lot.area {
        return show_with_spread(area.value, area.spread, style);
    }
    let needs: Vec<&str> = lot.needs.iter().map(|need| need.what.as_str()).collect();
    format!("not known without {}", needs.join("; "))
}

/// The setback of a lot line: `front line lot.sw-se: 20 ft, by Front yard`.
pub(crate) fn setback(setback: &Setback, style: Style) -> String {
    let depth = if setback.depth.spread.si() > 0.0 {
        show_with_spread(setback.depth.value, setback.depth.spread, style)
    } else {
        show(setback.depth.value, style)
    };
    let assumed = if setback.assumed { " (role proposed)" } else { "" };
    format!("{}{assumed}: {depth}, by {}", setback.called, setback.title)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn probabilities_in_words() {
        let check =
            |p: f64, expected: &str| assert_eq!(probability(Ratio::from_fraction(p)), expected, "{p}");
        check(0.0, "exceptionally unlikely to conform (under 0.1 %)");
        check(0.005, "exceptionally unlikely to conform (0.5 %)");
        check(0.05, "very unlikely to conform (5 %)");
        check(0.5, "about as likely as not to conform (50 %)");
        check(0.7, "likely to conform (70 %)");
        check(0.994, "virtually certain to conform (99.4 %)");
        check(1.0, "virtually certain to conform (over 99.9 %)");
    }

    #[test]
    fn sums_leave_out_what_there_is_none_of() {
        let check = |counts: Counts, expected: &str| assert_eq!(summary(&counts), expected);
        check(Counts::default(), "No rule was asked of anything on this plan.");
        check(Counts { fails: 1, meets: 2, ..Counts::default() }, "1 fails, 2 meet");
        check(
            Counts { fails: 2, advice: 1, verify: 3, missing: 1, meets: 1, ..Counts::default() },
            "2 fail, 1 fails as advice or noted, 3 to verify in field, 1 missing data, 1 meets",
        );
    }
}
