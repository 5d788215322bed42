//! One reading against one limit.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops at what it did not expect")]
#![allow(clippy::float_cmp, reason = "exact figures are expected exactly")]

mod support;

use groundrule_review::{Finding, Verdict};
use support::{Case, pack, plan, reviewed, rule, shed};

/// The finding of one row that is given a value.
fn one(limit: &str, with: &str, more: &str) -> Finding {
    let row = rule("r", &format!("limit = {{ {limit} }}\nwith = {{ {with} }}\n{more}"));
    let review =
        reviewed(&plan(&shed("shed", 40.0, 40.0, "status = \"proposed\"\nheight = \"12 ft\"")), &row);
    assert!(review.tool.is_empty(), "{:#?}", review.tool);
    review.findings.into_iter().next().unwrap()
}

fn check(limit: &str, with: &str, expected: Verdict) {
    let found = one(limit, with, "");
    assert_eq!(found.verdict, expected, "{limit} with {with}: {found:#?}");
}

use Verdict::{Accepted, Fails, Meets, Missing, NotApplicable, Verify};

/// Sources: JCGM 106:2012 and the decision rule at 95 % of ISO 14253-1, computed with scipy; the rows of
/// `data/conformity.json`, in feet.
#[test]
fn three_way_table() {
    for (value, spread, verdict, p) in [
        ("5.2 ft", "0.3 ft", Verify, 0.747_507_462_453_077_3),
        ("5.6 ft", "0.3 ft", Meets, 0.977_249_868_051_820_7),
        ("4.4 ft", "0.3 ft", Fails, 0.022_750_131_948_179_268),
        ("5.02 ft", "0.0125 ft", Verify, 0.945_200_708_300_438_2),
        ("5.0 ft", "0.0125 ft", Verify, 0.5),
        ("4.97 ft", "0.0125 ft", Fails, 0.008_197_535_924_595_687),
        ("5 ft", "0 ft", Meets, 1.0),
        ("4.9999 ft", "0 ft", Fails, 0.0),
    ] {
        let found = one("at_least = \"5 ft\"", &format!("value = \"{value}\", spread = \"{spread}\""), "");
        assert_eq!(found.verdict, verdict, "{value} {spread}");
        let conformity = found.conformity.unwrap().fraction();
        assert!((conformity - p).abs() < 1e-12, "{value} {spread}: {conformity} is not {p}");
    }
}

#[test]
fn every_sense_at_below_and_above_its_limit() {
    for (sense, below, at, above) in [
        ("at_least", Fails, Meets, Meets),
        ("more_than", Fails, Fails, Meets),
        ("at_most", Meets, Meets, Fails),
        ("less_than", Meets, Fails, Fails),
    ] {
        let limit = format!("{sense} = \"5 ft\"");
        check(&limit, "value = \"4.99 ft\"", below);
        check(&limit, "value = \"5 ft\"", at);
        check(&limit, "value = \"5.01 ft\"", above);
    }
}

#[test]
fn within_a_micrometre_is_equal() {
    for (value, at_least, more_than, at_most) in [
        ("1.0000009 m", Meets, Fails, Meets),
        ("0.9999991 m", Meets, Fails, Meets),
        ("1.0000011 m", Meets, Meets, Fails),
        ("0.9999989 m", Fails, Fails, Meets),
    ] {
        let with = format!("value = \"{value}\"");
        check("at_least = \"1 m\"", &with, at_least);
        check("more_than = \"1 m\"", &with, more_than);
        check("at_most = \"1 m\"", &with, at_most);
        // An accuracy finer than equality itself is none.
        let with = format!("value = \"{value}\", spread = \"0.0000005 m\"");
        check("at_least = \"1 m\"", &with, at_least);
    }
    check("at_most = \"35 %\"", "value = \"35 %\"", Meets);
    check("at_most = \"35 %\"", "value = \"35.001 %\"", Fails);
    check("at_most = \"200 sq ft\"", "value = \"200.0005 sq ft\"", Meets);
    check("at_most = \"200 sq ft\"", "value = \"200.01 sq ft\"", Fails);
}

#[test]
fn limits_stay_in_the_unit_their_source_prints() {
    // 36 in is 914.4 mm: the inch form is met at 914.4, the millimetre form of 915 is not needed.
    check("at_least = \"36 in\", also = \"915 mm\"", "value = \"914.4 mm\"", Meets);
    check("at_least = \"915 mm\", also = \"36 in\"", "value = \"914.4 mm\"", Meets);
    check("at_least = \"36 in\", also = \"915 mm\"", "value = \"914.3 mm\"", Fails);
    // 60 in is 1524 mm: for a greatest value the larger form is the easier one.
    check("at_most = \"60 in\", also = \"1525 mm\"", "value = \"1525 mm\"", Meets);
    check("at_most = \"60 in\"", "value = \"1525 mm\"", Fails);
    let found = one("at_least = \"36 in\", also = \"915 mm\"", "value = \"1 ft\"", "");
    assert_eq!(found.required.unwrap().text, "36 in (915 mm)");
}

#[test]
fn ranges() {
    let limit = "between = [\"8 ft\", \"12 ft\"]";
    for (value, expected) in
        [("7.9 ft", Fails), ("8 ft", Meets), ("10 ft", Meets), ("12 ft", Meets), ("12.1 ft", Fails)]
    {
        check(limit, &format!("value = \"{value}\""), expected);
    }
    // The two tails of `two_sided_items`: within, on the limit, and far too wide ever to meet.
    for (value, spread, verdict, p) in [
        ("10 ft", "1 ft", Meets, 0.954_499_736_103_641_6),
        ("11.5 ft", "1 ft", Verify, 0.691_229_832_194_977_6),
        ("12 ft", "1 ft", Verify, 0.499_968_328_758_166_9),
        ("10 ft", "4 ft", Verify, 0.382_924_922_548_026_24),
        ("13 ft", "0.5 ft", Fails, 0.022_750_131_948_179_18),
    ] {
        let found = one(limit, &format!("value = \"{value}\", spread = \"{spread}\""), "");
        assert_eq!(found.verdict, verdict, "{value} {spread}");
        assert!((found.conformity.unwrap().fraction() - p).abs() < 1e-12, "{value} {spread}");
    }
}

#[test]
fn counts_and_truths_are_exact() {
    for (limit, count, expected) in [
        ("at_least = 3", 3, Meets),
        ("at_least = 3", 2, Fails),
        ("more_than = 3", 3, Fails),
        ("at_most = 3", 4, Fails),
        ("less_than = 3", 2, Meets),
    ] {
        let found = one(limit, &format!("value = {count}"), "");
        assert_eq!(
            (found.verdict, found.answer.as_deref()),
            (expected, Some(count.to_string().as_str())),
            "{limit}"
        );
        assert!(found.conformity.is_none() && found.shown.is_none());
    }
    check("holds = true", "value = true", Meets);
    check("holds = true", "value = false", Fails);
    check("holds = false", "value = false", Meets);
    check("holds = false", "value = true", Fails);
}

#[test]
fn the_level_is_an_option() {
    let row = rule("r", "with = { value = \"5.2 ft\", spread = \"0.3 ft\" }");
    for (level, expected) in [(0.95, Verify), (0.75, Verify), (0.74, Meets), (0.999, Verify)] {
        let case = Case { level, ..Case::default() };
        let review = case.review(&plan(&shed("shed", 40.0, 40.0, "")), &[pack("t", &row)]);
        assert_eq!(review.findings[0].verdict, expected, "{level}");
        assert_eq!(review.level.fraction(), level);
    }
}

#[test]
fn tables() {
    let by = |values: &str| format!("at_least = {{ by = \"site.district\", values = {{ {values} }} }}");
    check(&by("D = \"5 ft\", E = \"50 ft\""), "value = \"6 ft\"", Meets);
    check(&by("D = \"7 ft\", E = \"5 ft\""), "value = \"6 ft\"", Fails);
    check(&by("E = \"5 ft\""), "value = \"6 ft\"", NotApplicable);
    let otherwise = "at_least = { by = \"site.district\", values = { E = \"50 ft\" }, else = \"5 ft\" }";
    check(otherwise, "value = \"6 ft\"", Meets);
    let missing =
        one("at_least = { by = \"site.permit\", values = { fence = \"5 ft\" } }", "value = \"6 ft\"", "");
    assert_eq!(missing.verdict, Missing);
    assert_eq!(missing.needs[0].what, "the permit of the site");
}

#[test]
fn formulas() {
    // The shed is 12 ft high.
    let half = "at_least = { formula = \"greatest(feet(5), subject.height / 2)\" }";
    check(half, "value = \"6 ft\"", Meets);
    check(half, "value = \"5.9 ft\"", Fails);
    let found = one(half, "value = \"5.9 ft\"", "");
    let required = found.required.unwrap();
    assert!((required.value.unwrap().si() - 6.0 * 0.3048).abs() < 1e-12);
    assert_eq!(required.text, "6.00 ft by `greatest(feet(5), subject.height / 2)`");
    let eave = "at_least = { formula = \"subject.eave + feet(1)\" }";
    let missing = one(eave, "value = \"6 ft\"", "");
    assert_eq!(missing.verdict, Missing);
    assert_eq!(missing.needs[0].what, "the eave of shed");
    assert_eq!(missing.needs[0].how, "State `eave` on shed in the plan.");
}

#[test]
fn conditions_and_exceptions() {
    let exceptions = "
      [[rule.exception]]
      when = \"subject.height > feet(20)\"
      limit = { at_least = \"20 ft\" }
      source = \"Text, tall\"
      [[rule.exception]]
      when = \"subject.height > feet(10)\"
      limit = { at_least = \"4 ft\" }
      source = \"Text, middling\"
      [[rule.exception]]
      when = \"subject.height > feet(11)\"
      lifts = true
      source = \"Text, never reached\"";
    let found = one("at_least = \"5 ft\"", "value = \"4.5 ft\"", exceptions);
    assert_eq!(found.verdict, Meets, "the first that holds governs");
    assert_eq!(found.citation.source, "Text, middling");
    assert_eq!(
        found.note.as_deref(),
        Some("The limit is that of the exception where `subject.height > feet(10)`.")
    );

    let lifted = "
      [[rule.exception]]
      when = \"subject.height > feet(10)\"
      lifts = true
      source = \"Text, tall\"";
    let found = one("at_least = \"5 ft\"", "value = \"1 ft\"", lifted);
    assert_eq!((found.verdict, found.citation.source.as_str()), (NotApplicable, "Text, tall"));

    let unknown = "
      [[rule.exception]]
      when = \"subject.eave > feet(1)\"
      lifts = true
      source = \"Text\"";
    let found = one("at_least = \"5 ft\"", "value = \"1 ft\"", unknown);
    assert_eq!((found.verdict, found.needs[0].what.as_str()), (Missing, "the eave of shed"));

    let when = one("at_least = \"5 ft\"", "value = \"1 ft\"", "when = \"subject.height > feet(15)\"");
    assert_eq!(when.verdict, NotApplicable);
    assert_eq!(when.message, "It is asked only where `subject.height > feet(15)`.");
    assert_eq!(when.note, None);
    let when = one("at_least = \"5 ft\"", "value = \"1 ft\"", "when = \"subject.eave > feet(1)\"");
    assert_eq!(when.verdict, Missing);
}

#[test]
fn what_a_finding_says() {
    let failing = one("at_least = \"5 ft\"", "value = \"4 ft\"", "relief = \"Ask.\"");
    assert_eq!(failing.message, "shed: 4.00 ft against at least 5 ft.");
    assert_eq!(failing.action, "Change the plan to give at least 5 ft. Ask.");
    assert_eq!(failing.place, "shed");

    let open = one("at_least = \"5 ft\"", "value = \"5.2 ft\", spread = \"0.3 ft\"", "");
    // 0.2 / 1.645 * 1.960 = 0.238 ft.
    assert_eq!(
        open.action,
        "Verify in field: shed to within \u{b1}0.24 ft gives a verdict if the value holds."
    );
    let on_it = one("at_least = \"5 ft\"", "value = \"5 ft\", spread = \"0.3 ft\"", "");
    // A quarter of 0.3 ft, times 1.960.
    assert_eq!(
        on_it.action,
        "Verify in field: shed stands at its limit; a new reading to within \u{b1}0.15 ft most likely gives a verdict."
    );
    assert_ne!(open.verdict, Accepted);
}
