use groundrule_survey::Position;
use groundrule_survey::closing::{Meeting, TieFrom, Verdict, ties, two_ties};
use groundrule_units::Length;

fn at(x: f64, y: f64) -> Position {
    Position { x: Length::from_metres(x), y: Length::from_metres(y) }
}

fn tie(x: f64, y: f64, distance: f64, half_width: f64) -> TieFrom {
    let length = Length::from_metres;
    TieFrom { from: at(x, y), distance: length(distance), half_width: length(half_width) }
}

fn near(found: Position, expected: (f64, f64)) -> bool {
    close(found.x.metres(), expected.0) && close(found.y.metres(), expected.1)
}

fn close(found: f64, expected: f64) -> bool {
    (found - expected).abs() < 1e-9
}

#[test]
fn two_ties_meet_in_mirrored_points() {
    // A base of 10, whose ends see the point at 3-4-5 and beyond.
    let pair = two_ties(&tie(0.0, 0.0, 5.0, 0.1), &tie(6.0, 0.0, 5.0, 0.1), Length::ZERO);
    let Meeting::At([left, right]) = pair.meeting else { panic!("{pair:?}") };
    assert!(near(left, (3.0, 4.0)) && near(right, (3.0, -4.0)), "{pair:?}");
    assert_eq!((pair.verdict, pair.weak), (Verdict::Closes, false));
    // Facing the other way, left is the other side.
    let pair = two_ties(&tie(6.0, 0.0, 5.0, 0.1), &tie(0.0, 0.0, 5.0, 0.1), Length::ZERO);
    assert!(near(pair.drawn, (3.0, -4.0)), "{pair:?}");
}

enum Lack {
    Short(f64),
    Inside(f64),
}

#[test]
fn ties_that_do_not_meet_say_by_how_much() {
    let check = |(a, b, base): (f64, f64, f64), lack: Lack, drawn: f64, verdict: Verdict| {
        let pair = two_ties(&tie(0.0, 0.0, a, 0.3), &tie(base, 0.0, b, 0.4), Length::ZERO);
        let right = match (pair.meeting, lack) {
            (Meeting::Short(found), Lack::Short(lack)) | (Meeting::Inside(found), Lack::Inside(lack)) => {
                close(found.metres(), lack)
            }
            _ => false,
        };
        assert!(right && near(pair.drawn, (drawn, 0.0)), "{pair:?}");
        assert_eq!((pair.verdict, pair.crossing, pair.weak), (verdict, None, true));
    };
    check((4.0, 5.0, 10.0), Lack::Short(1.0), 4.5, Verdict::DoesNotAddUp);
    check((4.0, 5.4, 10.0), Lack::Short(0.6), 4.3, Verdict::Suspicious);
    check((4.0, 5.6, 10.0), Lack::Short(0.4), 4.2, Verdict::Closes);
    check((15.0, 4.0, 10.0), Lack::Inside(1.0), 14.5, Verdict::DoesNotAddUp);
    check((4.0, 15.0, 10.0), Lack::Inside(1.0), -4.5, Verdict::DoesNotAddUp);
}

#[test]
fn weak_angles_are_flagged() {
    let check = |degrees: f64, weak: bool| {
        // Two ties of 10 whose ends stand as far apart as the angle between them says.
        let base = 2.0 * 10.0 * libm::sin(degrees.to_radians() / 2.0);
        let pair = two_ties(&tie(0.0, 0.0, 10.0, 0.1), &tie(base, 0.0, 10.0, 0.1), Length::ZERO);
        let crossing = pair.crossing.expect("they cross").degrees();
        assert!((crossing - degrees).abs() < 1e-6, "{crossing} for {degrees}");
        assert_eq!(pair.weak, weak, "{degrees}");
    };
    check(29.9, true);
    check(30.0, false);
    check(90.0, false);
    check(150.0, false);
    check(150.1, true);
    check(179.0, true);
}

#[test]
fn a_third_tie_tells_the_mirror_and_checks_the_others() {
    let from = |last: f64| {
        let first = [tie(0.0, 0.0, 5.0, 0.1), tie(6.0, 0.0, 5.0, 0.1)];
        ties(&[first[0], first[1], tie(3.0, -4.0, last, 0.1)], Length::ZERO)
    };
    let closing = from(8.0);
    assert!(near(closing.drawn.expect("a place"), (3.0, 4.0)));
    assert_eq!((closing.verdict, closing.misfits.len(), closing.weak), (Verdict::Closes, 3, false));
    let closing = from(9.0);
    assert_eq!(closing.verdict, Verdict::DoesNotAddUp, "{closing:#?}");
    let mirrored = from(0.05);
    assert!(mirrored.drawn.is_some_and(|at| at.y < Length::ZERO), "{mirrored:?}");
}

#[test]
fn too_few_ties_fix_nothing() {
    for count in 0..2 {
        let closing = ties(&vec![tie(0.0, 0.0, 5.0, 0.1); count], Length::ZERO);
        assert_eq!((closing.best, closing.drawn, closing.pairs.len()), (None, None, 0));
    }
    let same = two_ties(&tie(1.0, 1.0, 5.0, 0.1), &tie(1.0, 1.0, 5.0, 0.1), Length::ZERO);
    assert_eq!((same.meeting, same.verdict), (Meeting::Nowhere, Verdict::DoesNotAddUp));
}
