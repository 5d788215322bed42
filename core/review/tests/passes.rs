//! What is said across findings: ids, numbers, which limit governs, deviations, and what to measure again.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops at what it did not expect")]
#![allow(clippy::float_cmp, reason = "exact figures are expected exactly")]

mod support;

use groundrule_plan::{Gravity, Name, Remark, Span};
use groundrule_review::{Deviation, FindingId, Remeasure, Review};
use support::{Case, check, feature, lines, pack, plan, plan_by, reviewed, rule, shed};

const YARD: &str = "check = \"ruler/yard\"\nto.lines = { kind = \"lot-line\", role = \"side\" }";

fn note(review: &Review, id: &str) -> String {
    let finding = review.findings.iter().find(|finding| finding.id.0 == id).unwrap();
    finding.note.clone().unwrap_or_default()
}

#[test]
fn ids_survive_edits_elsewhere() {
    let row = rule("side", YARD);
    let near = shed("shed", 4.0, 40.0, "status = \"proposed\"");
    let far = shed("barn", 40.0, 70.0, "status = \"proposed\"");
    let id =
        |review: &Review| lines(review).into_iter().find(|line| line.contains("shed:lot.nw-sw")).unwrap();
    assert_eq!(id(&reviewed(&plan(&near), &row)), "1 t/side:shed:lot.nw-sw fails required");
    assert_eq!(id(&reviewed(&plan(&(far.clone() + &near)), &row)), "1 t/side:shed:lot.nw-sw fails required");
    let before = rule("other", "with = { value = \"1 ft\" }");
    assert_eq!(
        id(&reviewed(&plan(&(far + &near)), &(before + &row))),
        "3 t/side:shed:lot.nw-sw fails required"
    );
}

#[test]
fn ids_and_numbers_of_data() {
    let remark = |gravity, about: &str| Remark {
        code: "data::odd",
        gravity,
        message: "It is odd.".to_owned(),
        about: vec![Name(about.to_owned())],
        spots: Vec::new(),
        span: Span::default(),
        help: None,
    };
    let remarks = vec![
        remark(Gravity::Noted, "a"),
        remark(Gravity::Suspect, "b"),
        remark(Gravity::Lacking, "b"),
        remark(Gravity::Wrong, "c"),
    ];
    let review = |remarks| {
        let row = rule("r", "with = { value = \"4 ft\" }\nweight = \"advised\"");
        let case = Case { remarks, ..Case::default() };
        case.review(&plan(&shed("shed", 40.0, 40.0, "status = \"proposed\"")), &[pack("t", &row)])
    };
    let all = review(remarks.clone());
    check(&all, 1, &["1 t/r:shed fails advised"]);
    let data: Vec<_> = all.data.iter().map(|d| (d.id.0.as_str(), d.number)).collect();
    assert_eq!(
        data,
        [
            ("data::odd:a", None),
            ("data::odd:b", Some(2)),
            ("data::odd:b#2", Some(3)),
            ("data::odd:c", Some(4))
        ]
    );
    assert_eq!(review(remarks[..3].to_vec()).exit_code(), 0, "only what is wrong fails a plan");
    assert_eq!(all.counts().data, 4);
}

#[test]
fn the_stricter_of_several_packs_governs() {
    let row = |id: &str, limit: &str, more: &str| {
        rule(id, &format!("with = {{ value = \"9 ft\" }}\nlimit = {{ {limit} }}\n{more}"))
    };
    let here = plan(&shed("shed", 40.0, 40.0, "status = \"proposed\""));
    let both = |a: String, b: String| Case::default().review(&here, &[pack("base", &a), pack("overlay", &b)]);

    let review = both(row("r", "at_least = \"5 ft\"", ""), row("s", "at_least = \"12 ft\"", ""));
    check(&review, 1, &["- base/r:shed meets required", "1 overlay/s:shed fails required"]);
    assert_eq!(note(&review, "base/r:shed"), "overlay/s (at least 12 ft) governs.");
    assert_eq!(note(&review, "overlay/s:shed"), "It governs over base/r (at least 5 ft).");

    let review = both(row("r", "at_most = \"10 ft\"", ""), row("s", "at_most = \"12 ft\"", ""));
    assert_eq!(note(&review, "overlay/s:shed"), "base/r (at most 10 ft) governs.");

    // Limits that do not compare, and advice beside a requirement, are left alone.
    for (a, b) in [
        (row("r", "at_most = \"10 ft\"", ""), row("s", "at_least = \"5 ft\"", "")),
        (row("r", "at_least = \"5 ft\"", ""), row("s", "at_least = \"12 ft\"", "weight = \"advised\"")),
    ] {
        let review = both(a, b);
        assert_eq!(note(&review, "base/r:shed") + &note(&review, "overlay/s:shed"), "");
    }
    // Two rows of one pack are that pack's own business.
    let rows = row("r", "at_least = \"5 ft\"", "") + &row("s", "at_least = \"12 ft\"", "");
    let review = Case::default().review(&here, &[pack("base", &rows)]);
    assert_eq!(note(&review, "base/r:shed"), "");
}

#[test]
fn a_class_too_close_to_call() {
    // Ten by ten feet, each corner read to one foot: about 100 sq ft.
    let class = "[[class]]\nname = \"large\"\nsubject = { kind = \"shed\" }\nfact = \"area\"\nlimit = { more_than = \"100 sq ft\" }\n\n[[class]]\nname = \"small\"\nsubject = { kind = \"shed\" }\nfact = \"area\"\nlimit = { at_most = \"100 sq ft\" }\n\n";
    let here = plan_by("1 ft", &shed("shed", 40.0, 40.0, "status = \"proposed\"\nby = \"class\""));
    let of = |class: &str, limit: &str| {
        rule(
            class,
            &format!(
                "subject = {{ kind = \"shed\", class = \"{class}\" }}\nwith = {{ value = \"6 ft\" }}\nlimit = {{ at_least = \"{limit}\" }}"
            ),
        )
    };
    let both = |large: &str, small: &str| {
        reviewed(&here, &format!("{class}{}{}", of("large", large), of("small", small)))
    };

    let same = both("5 ft", "4 ft");
    check(&same, 0, &["- t/large:shed meets required", "- t/small:shed meets required"]);
    assert!(
        note(&same, "t/large:shed").ends_with("the verdict is the same."),
        "{}",
        note(&same, "t/large:shed")
    );
    check(&both("9 ft", "8 ft"), 1, &["1 t/large:shed fails required", "2 t/small:shed fails required"]);
    let differ = both("9 ft", "4 ft");
    check(&differ, 1, &["1 t/large:shed verify required", "2 t/small:shed verify required"]);
    assert!(note(&differ, "t/small:shed").contains("the verdict hangs on it"));

    // A rule that stands alone differs from none at all.
    let alone = reviewed(&here, &format!("{class}{}", of("large", "9 ft")));
    check(&alone, 1, &["1 t/large:shed verify required"]);
    let alone = reviewed(&here, &format!("{class}{}", of("large", "5 ft")));
    check(&alone, 0, &["- t/large:shed meets required"]);
}

#[test]
fn a_condition_too_close_to_call() {
    let here = plan_by("1 ft", &shed("shed", 40.0, 40.0, "status = \"proposed\"\nby = \"class\""));
    let row = |value: &str| {
        rule(
            "r",
            &format!(
                "with = {{ value = \"{value}\" }}\nlimit = {{ at_least = \"5 ft\" }}\n[[rule.exception]]\nwhen = \"subject.area < square_feet(105)\"\nlimit = {{ at_least = \"3 ft\" }}\nsource = \"Text, small\""
            ),
        )
    };
    check(&reviewed(&here, &row("6 ft")), 0, &["- t/r:shed meets required"]);
    check(&reviewed(&here, &row("2 ft")), 1, &["1 t/r:shed fails required"]);
    let open = reviewed(&here, &row("4 ft"));
    check(&open, 1, &["1 t/r:shed verify required"]);
    assert!(
        note(&open, "t/r:shed")
            .ends_with("Whether its condition holds is too close to call at this accuracy.")
    );
}

#[test]
fn a_measured_limit_errs_with_the_value() {
    // The yard asked for is a tenth of the lot's own area over 100 ft, which errs with the lot's corners.
    let row =
        rule("r", &format!("{YARD}\nlimit = {{ at_least = {{ formula = \"lot.area / feet(1000)\" }} }}"));
    let here = plan_by("1 ft", &shed("shed", 10.5, 40.0, "status = \"proposed\""));
    let review = reviewed(&here, &row);
    let finding = review.findings.iter().find(|f| f.id.0 == "t/r:shed:lot.nw-sw").unwrap();
    assert_eq!(finding.verdict.word(), "verify");
    let half = finding.shown.as_ref().unwrap().spread.si();
    assert!(half > 0.0);
    // 10.5 ft against 10 ft is 0.5 ft; by the yard's own error alone it would be some other probability.
    let alone = groundrule_review::conformity(0.5 * 0.3048, half).0.fraction();
    let found = finding.conformity.unwrap().fraction();
    assert!((alone - found).abs() > 1e-3, "the limit's error counts: {found} and {alone}");
}

fn deviation(finding: &str, expires: Option<&str>) -> Deviation {
    Deviation {
        finding: FindingId(finding.to_owned()),
        reason: "The old wall stands there.".to_owned(),
        accepted_by: "the board".to_owned(),
        accepted_on: "2026-01-05".to_owned(),
        expires: expires.map(str::to_owned),
        span: Span::default(),
    }
}

#[test]
fn deviations() {
    let here = plan(&shed("shed", 4.0, 40.0, "status = \"proposed\""));
    let review = |deviation: Deviation, date| {
        let case = Case { deviations: vec![deviation], date, ..Case::default() };
        case.review(&here, &[pack("t", &rule("side", YARD))])
    };
    let id = "t/side:shed:lot.nw-sw";
    let meets = "- t/side:shed:lot.se-ne meets required";
    let accepted = "- t/side:shed:lot.nw-sw accepted required";
    let fails = "1 t/side:shed:lot.nw-sw fails required";
    for (deviation, date, exit, line, code) in [
        (deviation(id, None), None, 0, accepted, None),
        (deviation(id, Some("2026-06-01")), Some("2026-06-01"), 0, accepted, None),
        (deviation(id, Some("2026-06-01")), Some("2026-06-02"), 1, fails, Some("review::expired-deviation")),
        (deviation(id, Some("2026-06-01")), None, 1, fails, Some("review::undated-deviation")),
        (deviation("t/side:shed:lot.se-ne", None), None, 1, fails, Some("review::stale-deviation")),
        (deviation("t/side:barn:lot.se-ne", None), None, 1, fails, Some("review::unused-deviation")),
    ] {
        let review = review(deviation, date);
        check(&review, exit, &[meets, line]);
        assert_eq!(review.data.first().map(|data| data.remark.code), code);
    }
    let review = review(deviation(id, Some("2026-06-01")), Some("2026-05-01"));
    assert_eq!(
        note(&review, id),
        "Accepted by the board on 2026-01-05 until 2026-06-01: The old wall stands there."
    );
    assert_eq!(review.judged_at.as_deref(), Some("2026-05-01"));
}

#[test]
fn dates_come_from_the_plan_unless_given() {
    let filed = plan("").replace("district", "filed = 2026-03-04\ndistrict");
    assert_eq!(reviewed(&filed, &rule("r", "")).judged_at.as_deref(), Some("2026-03-04"));
    assert_eq!(reviewed(&plan(""), &rule("r", "")).judged_at, None);
}

#[test]
fn a_standing_shed_is_taped_to_the_line() {
    let here = plan_by("1 ft", &shed("shed", 4.0, 40.0, "status = \"existing\""));
    let review = reviewed(&here, &rule("side", YARD));
    let retake = &review.retakes[0];
    assert_eq!(retake.what, "shed to side line lot.nw-sw");
    assert_eq!(retake.settles, [FindingId("t/side:shed:lot.nw-sw".to_owned())]);
    let Remeasure::Directly { plus_minus, .. } = &retake.how else { panic!("{retake:?}") };
    // 1 ft short of the limit, over 1.645 for the level, times 1.960 for a half width.
    assert!((plus_minus.feet() - 1.0 / 1.644_853_627 * 1.959_963_985).abs() < 1e-6, "{}", plus_minus.feet());
    assert_eq!(review.retakes.len(), 1);
}

#[test]
fn one_length_settles_every_row_on_it() {
    let here = plan_by("1 ft", &shed("shed", 4.0, 40.0, "status = \"existing\""));
    let nearer = format!("{YARD}\nlimit = {{ at_least = \"4.5 ft\" }}");
    let review = reviewed(&here, &(rule("side", YARD) + &rule("nearer", &nearer)));
    assert_eq!(review.retakes.len(), 1);
    assert_eq!(review.retakes[0].settles.len(), 2);
    let Remeasure::Directly { plus_minus, .. } = &review.retakes[0].how else { panic!("{review:#?}") };
    assert!(
        (plus_minus.feet() - 0.5 / 1.644_853_627 * 1.959_963_985).abs() < 1e-6,
        "the closer limit asks for more"
    );
}

#[test]
fn a_proposed_shed_rests_on_readings() {
    // Nothing to tape yet, and its own place is exact by design: the line must be read better.
    let here = plan_by("1 ft", &shed("shed", 4.5, 40.0, "status = \"proposed\""));
    let review = reviewed(&here, &rule("side", YARD));
    assert_eq!(review.findings.iter().filter(|f| f.verdict.word() == "verify").count(), 1);
    let settled: usize = review.retakes.iter().map(|retake| retake.settles.len()).sum();
    assert_eq!(settled, 1, "{:#?}", review.retakes);
    let retake = review.retakes.last().unwrap();
    assert!(retake.what.starts_with("position of corner"), "{}", retake.what);
    let Remeasure::Again { plus_minus, enough } = &retake.how else { panic!("{retake:?}") };
    assert!((plus_minus.length().unwrap().feet() - 1.0).abs() < 1e-9);
    assert!(enough.si() < plus_minus.si());
}

/// Scenario: what is read again to the accuracy asked for gives a verdict.
#[test]
fn retakes_keep_their_promise() {
    let sheds =
        shed("one", 4.0, 40.0, "status = \"existing\"") + &shed("two", 86.0, 60.0, "status = \"existing\"");
    let row = rule("side", YARD);
    let open = |by: &str| {
        let review = reviewed(&plan_by(by, &sheds), &row);
        review.findings.iter().filter(|f| f.verdict.word() == "verify").count()
    };
    let review = reviewed(&plan_by("1 ft", &sheds), &row);
    let settled: usize = review.retakes.iter().map(|retake| retake.settles.len()).sum();
    assert_eq!((open("1 ft"), settled), (2, 2), "{:#?}", review.retakes);
    assert_eq!(open("0"), 0);
}

#[test]
fn one_reading_that_settles_several_comes_first() {
    // Three proposed sheds set out exactly near one corner that was read badly.
    let sheds: String = [20.0, 40.0, 60.0]
        .iter()
        .enumerate()
        .map(|(i, y)| shed(&format!("s{i}"), 4.5, *y, "status = \"proposed\""))
        .collect();
    let here = plan_by("1 ft", &sheds);
    let review = reviewed(&here, &rule("side", YARD));
    let open = review.findings.iter().filter(|f| f.verdict.word() == "verify").count();
    assert_eq!(open, 3);
    assert!(review.retakes.len() <= 2, "two ends of one line settle all: {:#?}", review.retakes);
    assert_eq!(review.retakes.iter().map(|r| r.settles.len()).sum::<usize>(), 3);
}

#[test]
fn the_same_on_any_number_of_threads() {
    let sheds: String =
        (0..20_u32).map(|i| shed(&format!("s{i}"), 4.0 + f64::from(i) * 4.0, 20.0, "")).collect();
    let here = plan_by("1 ft", &(sheds + &feature("house", "dwelling", 40.0, 60.0, "status = \"existing\"")));
    let rows: String = (0..12).map(|i| rule(&format!("side-{i}"), YARD)).collect();
    let rows = rows + &rule("gap", "check = \"ruler/gap\"\nto.others = { kind = \"structure\" }");
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| format!("{:?}", reviewed(&here, &rows)))
    };
    assert_eq!(on(1), on(4));
}
