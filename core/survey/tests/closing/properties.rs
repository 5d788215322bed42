//! What must hold for any chain and any loop.

use groundrule_plan::OfEach;
use groundrule_survey::closing::{
    Call, Candidate, CandidateKind, Chain, Figure, Loop, MOST_CANDIDATES, Step, TieFrom, Verdict,
    close_chain, close_loop, compass_rule, side_lengths, ties, transit_rule,
};
use groundrule_survey::{Position, Reading};
use groundrule_units::{Angle, Area, Bearing, Length, Mark, SheetUnit, Written, read_bearing, read_length};
use proptest::prelude::*;

use crate::figure;

const FEET: Option<SheetUnit> = Some(SheetUnit::Feet);

/// Hundredths of a foot as written.
fn hundredths(count: u32) -> String {
    format!("{}.{:02}", count / 100, count % 100)
}

fn chain(pieces: &[String], overall: &str) -> Chain {
    Chain {
        pieces: pieces.iter().map(|text| figure(text, 0.02)).collect(),
        overall: figure(overall, 0.02),
        running: false,
        of_each: OfEach::Length,
        sheet: FEET,
    }
}

/// Swaps two digits of a text by their place among its digits; none when they are the same or a nought would lead.
fn swapped(text: &str, place: usize) -> Option<String> {
    let mut bytes = text.as_bytes().to_vec();
    let digits: Vec<usize> = (0..bytes.len()).filter(|i| bytes[*i].is_ascii_digit()).collect();
    let (i, j) = (*digits.get(place)?, *digits.get(place + 1)?);
    bytes.swap(i, j);
    let changed = String::from_utf8(bytes).expect("digits");
    (changed != text && !changed.starts_with('0')).then_some(changed)
}

/// A blunder in a figure, as the kind that explains it.
fn blundered(text: &str, kind: usize, place: usize) -> Option<(CandidateKind, String)> {
    let (whole, places) = text.split_once('.').expect("hundredths");
    let number: u32 = whole.parse().expect("feet");
    Some(match kind {
        0 => (CandidateKind::SwappedDigits, swapped(text, place)?),
        1 => (CandidateKind::Dropped(10), format!("{}.{places}", number.checked_sub(10)?)),
        2 => (CandidateKind::Added(10), format!("{}.{places}", number + 10)),
        3 => (CandidateKind::Added(100), format!("{}.{places}", number + 100)),
        4 => {
            // One more in the ones, or one less from nine.
            let ones = number % 10;
            let other = if ones == 9 { number - 1 } else { number + 1 };
            (CandidateKind::MisreadDigit, format!("{other}.{places}"))
        }
        _ => (CandidateKind::WrongUnit, format!("{text} yd")),
    })
}

/// True when the change back is listed: at its reading, to what it says, of its kind or of a more specific one.
fn is_listed(list: &[Candidate], at: Option<Reading>, kind: CandidateKind, meant: Length) -> bool {
    list.iter().any(|candidate| {
        let says = read_length(&candidate.instead, FEET)
            .is_ok_and(|read| (read.value - meant).abs() < Length::from_metres(1e-6));
        candidate.at == at && candidate.kind <= kind && says
    })
}

/// Calls written to the hundredth and the second, the last one closing what the others leave.
fn calls_of(steps: &[Step]) -> Vec<(String, String)> {
    steps
        .iter()
        .map(|step| {
            let bearing = step.bearing().expect("a direction").to_string();
            (bearing, format!("{:.2}", step.length().feet()))
        })
        .collect()
}

fn closed(calls: &[(String, String)]) -> Loop {
    let call = |(bearing, distance): &(String, String)| crate::call(bearing, distance, 0.03, 0.1);
    Loop { calls: calls.iter().map(call).collect(), sheet: FEET }
}

prop_compose! {
    /// A ring of points round a centre, so that it does not cross itself and no two sides are alike for long.
    fn ring()(turns in prop::collection::vec(0.5..1.5_f64, 4..9), radii in prop::collection::vec(40.0..90.0_f64, 9))
        -> Vec<Step> {
        let whole: f64 = turns.iter().sum();
        let mut angle = 0.0;
        let points: Vec<(f64, f64)> = turns.iter().zip(&radii).map(|(turn, radius)| {
            angle += turn / whole * 2.0 * std::f64::consts::PI;
            let (sin, cos) = libm::sincos(angle);
            (radius * cos, radius * sin)
        }).collect();
        let next = points.iter().cycle().skip(1);
        points.iter().zip(next).map(|(a, b)| Step {
            east: Length::from_feet(b.0 - a.0),
            north: Length::from_feet(b.1 - a.1),
        }).collect()
    }
}

/// A number that nobody would measure, or an ordinary one.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        Just(0.0),
        Just(-0.0),
        Just(1e12),
        Just(-1e12),
        Just(1e308),
        Just(f64::INFINITY),
        Just(f64::NAN),
        -100.0..100.0_f64,
        any::<f64>(),
    ]
}

fn any_text() -> impl Strategy<Value = String> {
    prop_oneof![
        Just(String::new()),
        "[0-9]{1,30}",
        "[0-9]{1,5}[.,][0-9]{0,25}",
        "[0-9/ '\"NSEW°.,-]{0,20}",
        "\\PC{0,12}",
    ]
}

/// A figure whose text may or may not say its value.
fn any_figure() -> impl Strategy<Value = Figure> {
    (any_number(), any_number(), any_text()).prop_map(|(value, half_width, text)| {
        let written = read_length(&text, FEET).unwrap_or(Written {
            value: Length::from_metres(value),
            text,
            mark: Mark::Plain,
        });
        Figure { written, half_width: Length::from_metres(half_width) }
    })
}

fn any_call() -> impl Strategy<Value = Call> {
    (any_figure(), any_number(), any_number(), any_text()).prop_map(
        |(distance, azimuth, half_width, text)| {
            let value = Bearing::from_azimuth(Angle::from_radians(azimuth));
            let bearing = read_bearing(&text).unwrap_or(Written { value, text, mark: Mark::Plain });
            let bearing_half_width = Angle::from_radians(half_width);
            Call { bearing, bearing_half_width, distance, segment: Area::ZERO }
        },
    )
}

proptest! {
    // A test build reads each changed text slowly; thirty times as many were run once.
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn a_chain_that_adds_up_closes(pieces in prop::collection::vec(100..9999_u32, 0..12)) {
        let texts: Vec<String> = pieces.iter().map(|piece| hundredths(*piece)).collect();
        let closing = close_chain(&chain(&texts, &hundredths(pieces.iter().sum())));
        prop_assert_eq!(closing.verdict, Verdict::Closes);
        prop_assert!(closing.gap.abs() < Length::from_metres(1e-9));
    }

    #[test]
    fn a_blunder_in_a_chain_is_among_its_candidates(
        pieces in prop::collection::vec(100..9999_u32, 2..5),
        at in 0..5_usize,
        kind in 0..6_usize,
        place in 0..3_usize,
    ) {
        let mut texts: Vec<String> = pieces.iter().map(|piece| hundredths(*piece)).collect();
        let at = at % texts.len();
        let meant = figure(&texts[at], 0.0).written.value;
        let Some((kind, text)) = blundered(&texts[at], kind, place) else { return Ok(()) };
        texts[at] = text;
        let closing = close_chain(&chain(&texts, &hundredths(pieces.iter().sum())));
        if closing.verdict == Verdict::Closes {
            return Ok(());
        }
        let reading = Some(Reading::Figure(u32::try_from(at).expect("few")));
        let found = is_listed(&closing.candidates.list, reading, kind, meant);
        prop_assert!(found || closing.candidates.unlisted > 0, "{:?} {:#?}", texts, closing);
    }

    #[test]
    fn a_piece_too_many_or_too_few_is_among_the_candidates(
        pieces in prop::collection::vec(100..9999_u32, 2..8), at in 0..8_usize,
    ) {
        let texts: Vec<String> = pieces.iter().map(|piece| hundredths(*piece)).collect();
        let overall = hundredths(pieces.iter().sum());
        let at = at % texts.len();
        let mut more = texts.clone();
        more.insert(at, texts[at].clone());
        let more = close_chain(&chain(&more, &overall));
        let twice = |c: &Candidate| c.kind == CandidateKind::CountedTwice && c.was == texts[at];
        prop_assert!(more.candidates.list.iter().any(twice), "{:#?}", more);
        let mut fewer = texts.clone();
        fewer.remove(at);
        let fewer = close_chain(&chain(&fewer, &overall));
        let lacking = |c: &Candidate| c.kind == CandidateKind::LeftOut && c.instead == texts[at];
        prop_assert!(fewer.candidates.list.iter().any(lacking) || fewer.candidates.unlisted > 0, "{:#?}", fewer);
    }

    #[test]
    fn feet_and_inches_and_decimal_feet_are_told_apart(feet in 2..99_u32, inches in 1..12_u32, rest in 100..9999_u32) {
        let (decimal, whole) = (format!("{feet}.{inches}"), format!("{feet}'-{inches}\""));
        for (read, meant, kind) in [
            (&decimal, format!("{feet}'-{inches}\""), CandidateKind::InchesAsDecimals),
            (&whole, format!("{feet}.{inches} ft"), CandidateKind::DecimalsAsInches),
        ] {
            let rest = hundredths(rest);
            let sum = figure(&meant, 0.0).written.value + figure(&rest, 0.0).written.value;
            let closing = close_chain(&chain(&[read.clone(), rest], &format!("{:.3}", sum.feet())));
            if closing.verdict == Verdict::Closes {
                continue;
            }
            let found = closing.candidates.list.iter().any(|c| c.kind == kind && c.instead == meant);
            prop_assert!(found, "{} {:#?}", read, closing);
        }
    }

    #[test]
    fn an_exact_ring_closes_and_balancing_changes_nothing(steps in ring()) {
        let calls: Vec<Call> = steps.iter().map(|step| Call {
            bearing: Written { value: step.bearing().expect("a direction"), text: String::new(), mark: Mark::Plain },
            bearing_half_width: Angle::ZERO,
            distance: Figure {
                written: Written { value: step.length(), text: String::new(), mark: Mark::Plain },
                half_width: Length::ZERO,
            },
            segment: Area::ZERO,
        }).collect();
        let closing = close_loop(&Loop { calls, sheet: FEET });
        prop_assert_eq!(closing.verdict, Verdict::Closes);
        prop_assert_eq!(closing.precision.to_string(), "exact");
        for balanced in [compass_rule(&closing.steps), transit_rule(&closing.steps)] {
            for (a, b) in balanced.iter().zip(&steps) {
                prop_assert!((a.north - b.north).abs() < Length::from_metres(1e-9));
                prop_assert!((a.east - b.east).abs() < Length::from_metres(1e-9));
            }
        }
    }

    #[test]
    fn a_blunder_in_a_loop_is_among_its_candidates(
        steps in ring(), at in 0..9_usize, kind in 0..10_usize, place in 0..4_usize,
    ) {
        let good = calls_of(&steps);
        let at = at % good.len();
        let (bearing, distance) = good[at].clone();
        let mut calls = good.clone();
        let kind = match kind {
            0..6 => {
                let Some((kind, text)) = blundered(&distance, kind, place) else { return Ok(()) };
                calls[at].1 = text;
                kind
            }
            6 => {
                let other = if bearing.starts_with('N') { 'S' } else { 'N' };
                calls[at].0 = format!("{other}{}", &bearing[1..]);
                CandidateKind::QuadrantLetter
            }
            7 => {
                calls[at].0 = read_bearing(&bearing).expect("a bearing").value.reversed().to_string();
                CandidateKind::Reversed
            }
            8 => {
                calls.insert(at, good[at].clone());
                CandidateKind::CountedTwice
            }
            _ => {
                calls.remove(at);
                CandidateKind::LeftOut
            }
        };
        let closing = close_loop(&closed(&calls));
        if closing.verdict == Verdict::Closes || closing.candidates.unlisted > 0 {
            return Ok(());
        }
        let index = u32::try_from(at).expect("few");
        let found = match kind {
            CandidateKind::QuadrantLetter | CandidateKind::Reversed => closing.candidates.list.iter().any(|c| {
                c.at == Some(Reading::Bearing(index)) && c.kind <= kind && c.instead == bearing
            }),
            CandidateKind::CountedTwice | CandidateKind::LeftOut => {
                closing.candidates.list.iter().any(|c| c.kind == kind)
            }
            _ => {
                let meant = figure(&distance, 0.0).written.value;
                is_listed(&closing.candidates.list, Some(Reading::Figure(index)), kind, meant)
            }
        };
        prop_assert!(found, "{:?} {:?} {:#?}", kind, calls, closing);
    }

    #[test]
    fn absurd_figures_neither_panic_nor_flood(
        pieces in prop::collection::vec(any_figure(), 0..5), overall in any_figure(), running in any::<bool>(),
        positions in any::<bool>(),
    ) {
        let of_each = if positions { OfEach::Position } else { OfEach::Length };
        let _ = side_lengths(&pieces);
        let chain = Chain { pieces, overall, running, of_each, sheet: FEET };
        let closing = close_chain(&chain);
        prop_assert!(closing.candidates.list.len() <= MOST_CANDIDATES);
        prop_assert!(closing.candidates.list.is_sorted_by_key(|c| (c.kind, c.at)));
        prop_assert_eq!(format!("{closing:?}"), format!("{:?}", close_chain(&chain)));
    }

    #[test]
    fn absurd_calls_neither_panic_nor_flood(calls in prop::collection::vec(any_call(), 0..5)) {
        let closing = close_loop(&Loop { calls, sheet: FEET });
        prop_assert!(closing.candidates.list.len() <= MOST_CANDIDATES);
        prop_assert!(!closing.precision.to_string().is_empty());
    }

    #[test]
    fn absurd_ties_do_not_panic(from in prop::collection::vec(prop::array::uniform4(any_number()), 0..5)) {
        let length = Length::from_metres;
        let from: Vec<TieFrom> = from.iter().map(|[x, y, distance, half_width]| TieFrom {
            from: Position { x: length(*x), y: length(*y) },
            distance: length(*distance),
            half_width: length(*half_width),
        }).collect();
        let closing = ties(&from, Length::ZERO);
        prop_assert_eq!(closing.pairs.len(), from.len() * from.len().saturating_sub(1) / 2);
    }
}
