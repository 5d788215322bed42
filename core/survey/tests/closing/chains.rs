use groundrule_plan::OfEach;
use groundrule_survey::closing::{
    CandidateKind, Chain, ChainClosing, Verdict, agree, close_chain, side_lengths,
};
use groundrule_units::SheetUnit;

use crate::{figure, words};

fn chain(pieces: &str, overall: &str, half_width: f64, of_each: OfEach, running: bool) -> ChainClosing {
    let pieces = pieces.split(", ").filter(|text| !text.is_empty());
    close_chain(&Chain {
        pieces: pieces.map(|text| figure(text, half_width)).collect(),
        overall: figure(overall, half_width),
        running,
        of_each,
        sheet: Some(SheetUnit::Feet),
    })
}

fn near(value: f64, expected: f64) -> bool {
    (value - expected).abs() < 1e-9
}

/// Gap, expected and worst in feet, and the judgement.
#[track_caller]
fn check(
    (pieces, overall): (&str, &str),
    half_width: f64,
    of_each: OfEach,
    running: bool,
    expected: (f64, f64, f64, Verdict),
) {
    let closing = chain(pieces, overall, half_width, of_each, running);
    let found = (closing.gap.feet(), closing.bounds.expected.feet(), closing.bounds.worst.feet());
    assert!(near(found.0, expected.0) && near(found.1, expected.1) && near(found.2, expected.2), "{found:?}");
    assert_eq!(closing.verdict, expected.3, "{pieces}");
    if closing.verdict == Verdict::Closes {
        assert!(closing.candidates.list.is_empty(), "a chain that closes needs no excuse");
    }
}

// e √(n + 1) and e (n + 1) for lengths are common practice; 2 e and 4 e for positions follow from the two ends of
// the chain and the two of its overall.
#[test]
fn a_chain_is_judged_by_its_readings() {
    use OfEach::{Length, Position};
    use Verdict::{Closes, DoesNotAddUp, Suspicious};
    let three = |gap: f64, verdict| (gap, 2.0, 4.0, verdict);
    check(("10, 20, 30", "60"), 1.0, Length, false, three(0.0, Closes));
    check(("10, 20, 30", "58"), 1.0, Length, false, three(2.0, Closes));
    check(("10, 20, 30", "63"), 1.0, Length, false, three(-3.0, Suspicious));
    check(("10, 20, 30", "64.5"), 1.0, Length, false, three(-4.5, DoesNotAddUp));
    let eight = "10, 10, 10, 10, 10, 10, 10, 10";
    check((eight, "83"), 1.0, Length, false, (-3.0, 3.0, 9.0, Closes));
    check((eight, "83"), 1.0, Position, false, (-3.0, 2.0, 4.0, Suspicious));
    check((eight, "85"), 1.0, Position, false, (-5.0, 2.0, 4.0, DoesNotAddUp));
    check(("10, 20, 61", "60"), 0.6, Length, true, (1.0, 0.6 * 2.0_f64.sqrt(), 1.2, Suspicious));
    check(("10, 20, 61", "60"), 1.0, Position, true, (1.0, 2.0, 4.0, Closes));
    check(("", "60"), 1.0, Length, false, (-60.0, 1.0, 1.0, DoesNotAddUp));
    check(("10, 20", "30"), 0.0, Length, false, (0.0, 0.0, 0.0, Closes));
    check(("12.50, 19.25, 26.45, 21.80", "80.00"), 0.0, Length, false, (0.0, 0.0, 0.0, Closes));
}

#[test]
fn a_running_chain_is_the_differences_of_its_figures() {
    let closing = chain("12, 31.5, 31.5, 60", "60", 0.1, OfEach::Length, true);
    let pieces: Vec<f64> = closing.pieces.iter().map(|piece| piece.feet()).collect();
    assert!(pieces.iter().zip([12.0, 19.5, 0.0, 28.5]).all(|(a, b)| near(*a, b)), "{pieces:?}");
    assert_eq!((closing.verdict, closing.backwards.len()), (Verdict::Closes, 0));
}

#[track_caller]
fn check_words(
    (pieces, overall): (&str, &str),
    half_width: f64,
    of_each: OfEach,
    running: bool,
    expected: &[&str],
) {
    let closing = chain(pieces, overall, half_width, of_each, running);
    assert_eq!(words(&closing.candidates), expected, "{pieces} against {overall}");
    assert_eq!(closing.candidates.unlisted, 0);
}

#[test]
fn every_single_mistake_that_closes_is_listed() {
    let tape = |pieces, overall, expected: &[&str]| {
        check_words((pieces, overall), 0.05, OfEach::Length, false, expected);
    };
    tape(
        "12.5, 46.0, 30.2",
        "106.7",
        &[
            "`46.0` may be `64.0` with two digits swapped; that leaves 0.00 ft",
            "`18.0` may be left out; where is not known; that leaves 0.00 ft",
        ],
    );
    tape(
        "12.5, 28.3, 46.1, 28.3",
        "86.9",
        &[
            "`28.3` may be counted twice, or not belong here; that leaves 0.00 ft",
            "`28.3` may be counted twice, or not belong here; that leaves 0.00 ft",
        ],
    );
    tape(
        "12.8, 20.40",
        "33.07",
        &["`12.8` may be `12'-8\"`, feet and inches written as decimal feet; that leaves 0.00 ft"],
    );
    tape(
        "12'-8\", 20.44",
        "33.24",
        &[
            "`12'-8\"` may be `12.8 ft`, decimal feet written as feet and inches; that leaves 0.00 ft",
            "`0.13` may be left out; where is not known; that leaves 0.00 ft",
        ],
    );
    tape(
        "5.25, 3.10 m, 31.00",
        "39.35",
        &["`3.10 m` may be `3.10 ft`, a number in another unit; that leaves 0.00 ft"],
    );
    tape(
        "46.25, 3.02",
        "59.27",
        &[
            "`46.25` may be `56.25`, with 10 dropped; that leaves 0.00 ft",
            "`3.02` may be `13.02`, with 10 dropped; that leaves 0.00 ft",
            "`59.27` may be `49.27`, with 10 too many; that leaves 0.00 ft",
            "`10.00` may be left out; where is not known; that leaves 0.00 ft",
        ],
    );
    tape(
        "46.25, 3.01",
        "46.26",
        &[
            "`3.01` may be counted twice, or not belong here; that leaves 0.01 ft",
            "`46.25` may be `43.25` with one digit misread; that leaves 0.00 ft",
            "`3.01` may be `0.01` with one digit misread; that leaves 0.00 ft",
            "`46.26` may be `49.26` with one digit misread; that leaves 0.00 ft",
        ],
    );
}

#[test]
fn a_habit_may_run_through_every_piece() {
    check_words(
        ("12.8, 20.4, 7.6", "40'-6\""),
        0.05,
        OfEach::Length,
        false,
        &[
            "feet and inches may be written as decimal feet throughout: 12'-8\", 20'-4\", 7'-6\"; that leaves 0.00 ft",
            "`12.8` may be `12.5` with one digit misread; that leaves 0.00 ft",
            "`20.4` may be `20.1` with one digit misread; that leaves 0.00 ft",
            "`7.6` may be `7.3` with one digit misread; that leaves 0.00 ft",
        ],
    );
}

#[test]
fn a_running_chain_hangs_on_its_last_figure() {
    check_words(
        ("12.0, 31.5, 46.3", "64.3"),
        0.05,
        OfEach::Length,
        true,
        &[
            "`46.3` may be `64.3` with two digits swapped; that leaves 0.00 ft",
            "`64.3` may be `46.3` with two digits swapped; that leaves 0.00 ft",
        ],
    );
    let back = chain("12.0, 41.5, 34.0, 60.0", "60.0", 0.05, OfEach::Length, true);
    assert_eq!((back.verdict, back.backwards.as_slice()), (Verdict::DoesNotAddUp, &[2][..]));
    let found = words(&back.candidates);
    let swapped = "`41.5` may be `14.5` with two digits swapped; that leaves 0.00 ft";
    let dropped = "`34.0` may be `44.0`, with 10 dropped; that leaves 0.00 ft";
    assert!([swapped, dropped].iter().all(|text| found.iter().any(|line| line == text)), "{found:#?}");
}

#[test]
fn an_aerial_chain_is_not_explained_by_what_its_errors_could_make() {
    // Off by 2.5 ft at two feet to be expected: one foot more or less explains nothing.
    let closing = chain("46, 30, 21.5", "95", 1.0, OfEach::Position, false);
    assert_eq!(closing.verdict, Verdict::Suspicious);
    let counts = |kind: CandidateKind| matches!(kind, CandidateKind::Dropped(_) | CandidateKind::Added(_));
    assert!(!closing.candidates.list.iter().any(|candidate| counts(candidate.kind)), "{closing:#?}");
}

#[test]
fn a_record_is_compared_within_both_accuracies() {
    let check = |measured: (&str, f64), record: (&str, f64), expected: (f64, Verdict)| {
        let found = agree(&figure(measured.0, measured.1), &figure(record.0, record.1));
        assert!(near(found.difference.feet(), expected.0), "{found:?}");
        assert_eq!(found.verdict, expected.1, "{measured:?} {record:?}");
    };
    check(("65.8", 0.1), ("66.00", 0.02), (-0.2, Verdict::DoesNotAddUp));
    check(("65.89", 0.1), ("66.00", 0.02), (-0.11, Verdict::Suspicious));
    check(("66.10", 0.1), ("66.00", 0.02), (0.1, Verdict::Closes));
    check(("66", 0.0), ("66.00", 0.0), (0.0, Verdict::Closes));
}

#[test]
fn sides_alone_leave_a_shape_free() {
    let check = |sides: &[&str], expected: Option<(usize, usize, Verdict)>| {
        let sides: Vec<_> = sides.iter().map(|text| figure(text, 0.1)).collect();
        let found = side_lengths(&sides).map(|found| (found.lacking, found.longest, found.verdict));
        assert_eq!(found, expected);
    };
    check(&[], None);
    check(&["10", "10"], None);
    check(&["3", "4", "5"], Some((0, 2, Verdict::Closes)));
    check(&["75", "120", "75", "120"], Some((1, 1, Verdict::Closes)));
    check(&["10", "20", "60", "20", "10"], Some((2, 2, Verdict::Closes)));
    check(&["10", "20", "60.2", "20", "10"], Some((2, 2, Verdict::Closes)));
    check(&["10", "20", "60.4", "20", "10"], Some((2, 2, Verdict::Suspicious)));
    check(&["10", "20", "160", "20", "10"], Some((2, 2, Verdict::DoesNotAddUp)));
}
