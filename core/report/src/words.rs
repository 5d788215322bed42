//! The words all outputs share, so that they say the same.

use groundrule_packs::Weight;
use groundrule_plan::Gravity;
use groundrule_review::{Citation, Counts, Finding, FindingId, Remeasure, Review, Verdict};
use groundrule_units::{Ratio, Style, show, show_with_spread};

/// The verdict, and what hangs on it where that is less than everything: `fails (advice)`.
pub(crate) fn verdict(finding: &Finding) -> String {
    let word = finding.verdict.word();
    let asks = matches!(finding.verdict, Verdict::Fails | Verdict::Verify | Verdict::Missing);
    match finding.weight {
        Weight::Advised if asks => format!("{word} (advice)"),
        Weight::Noted if asks => format!("{word} (noted)"),
        _ => word.to_owned(),
    }
}

/// What was measured or answered.
pub(crate) fn shown(finding: &Finding, style: Style) -> Option<String> {
    match &finding.shown {
        Some(shown) if finding.verdict != Verdict::Missing => {
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

/// What measuring again would settle and help, by the numbers of the findings.
pub(crate) fn effect(review: &Review, settles: &[FindingId], helps: &[FindingId]) -> String {
    let numbers = |ids: &[FindingId]| {
        let found = review.findings.iter().filter(|finding| ids.contains(&finding.id));
        found.filter_map(|finding| finding.number).map(|number| number.to_string()).collect::<Vec<_>>()
    };
    let part = |verb: &str, ids| {
        let numbers = numbers(ids);
        if numbers.is_empty() { String::new() } else { format!("; {verb} {}", numbers.join(", ")) }
    };
    format!("{}{}", part("settles", settles), part("helps", helps))
}

/// How well something is to be measured again.
pub(crate) fn how_well(how: &Remeasure, style: Style) -> String {
    match how {
        Remeasure::Directly { plus_minus, .. } => format!("to within ±{}", show((*plus_minus).into(), style)),
        Remeasure::Again { enough: Some(enough), .. } => format!("to within ±{}", show(*enough, style)),
        Remeasure::Again { plus_minus, enough: None } => format!("better than ±{}", show(*plus_minus, style)),
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
