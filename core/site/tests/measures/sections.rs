//! Sections of the ground, and its contours where it is made anew. Surfaces are planes, values worked by hand.

use groundrule_survey::Position;
use groundrule_survey::Surface::{Existing, Proposed};
use groundrule_units::Length;

use crate::sheet::{Built, Sheet, close, metres};

fn place(x: f64, y: f64) -> Position {
    Position { x: metres(x), y: metres(y) }
}

/// Ground of 40 m by 40 m that falls by a tenth to the right, from 4 to nothing.
fn slope() -> Sheet {
    let mut sheet = Sheet::new();
    for [x, y] in [[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]] {
        sheet.level(Existing, [x, y, 4.0 - x / 10.0], (0.0, 0.0));
    }
    sheet
}

/// The same with a terrace at two metres in its middle, meeting the slope at 20.
fn terrace() -> Built {
    let mut sheet = slope();
    for [x, y] in [[14.0, 10.0], [26.0, 10.0], [26.0, 30.0], [14.0, 30.0]] {
        sheet.level(Proposed, [x, y, 2.0], (0.0, 0.0));
    }
    sheet.outline("patio", &[[14.0, 10.0], [26.0, 10.0], [26.0, 30.0], [14.0, 30.0]], 0.0);
    sheet.line("fence", &[[30.0, 0.0], [30.0, 40.0]], 0.0, 0.0);
    sheet.build()
}

#[test]
fn a_line_crosses_both_surfaces_and_what_stands_there() {
    let built = terrace();
    let section =
        built.site.section(&[place(-5.0, 20.0), place(20.0, 20.0), place(45.0, 20.0)]).expect("a section");
    close("length", section.length.metres(), 50.0, 1e-12);
    assert_eq!(section.bends, [metres(25.0)]);
    let existing = section.existing.expect("existing ground");
    // From one rim to the other in one leg, five metres in from each end.
    let [leg] = existing.legs.as_slice() else { panic!("{:?}", existing.legs) };
    close("from", leg.from.0.metres(), 5.0, 1e-9);
    close("to", leg.to.0.metres(), 45.0, 1e-9);
    close("slope", leg.slope.fraction(), -0.1, 1e-9);
    let named: Vec<(&str, f64, f64)> = section
        .crossings
        .iter()
        .filter_map(|it| {
            Some((built.site.feature(it.feature)?.id.0.as_str(), it.from.metres(), it.to.metres()))
        })
        .filter(|(name, ..)| ["patio", "fence"].contains(name))
        .collect();
    let [(first, from, to), (second, at, same)] = named.as_slice() else { panic!("{named:?}") };
    assert_eq!((*first, *second), ("patio", "fence"));
    close("patio from", *from, 19.0, 1e-9);
    close("patio to", *to, 31.0, 1e-9);
    close("fence", *at, 35.0, 1e-9);
    close("fence again", *same, 35.0, 1e-9);
    // Left of 20 the terrace is cut into the slope, right of it it is filled; deepest at its edges.
    let [cut, fill] = section.moved.as_slice() else { panic!("{:?}", section.moved) };
    assert!(cut.cut && !fill.cut);
    close("cut at", cut.deepest.0.metres(), 19.0, 1e-9);
    close("cut", cut.deepest.1.metres(), 0.6, 1e-9);
    close("fill at", fill.deepest.0.metres(), 31.0, 1e-9);
    close("fill", fill.deepest.1.metres(), 0.6, 1e-9);
}

#[test]
fn contours_are_new_where_the_ground_is() {
    let built = terrace();
    assert!(built.site.is_regraded());
    let new = built.site.new_contours(metres(0.25));
    assert!(!new.is_empty());
    let existing = built.site.ground(Existing).expect("existing ground");
    let proposed = built.site.ground(Proposed).expect("proposed ground");
    let apart = |at: Position| {
        let [now, then] = [existing, proposed].map(|ground| ground.level_of(at).expect("a level").metres());
        (now - then).abs()
    };
    for line in &new {
        // On the proposed surface, and somewhere along it the ground has changed.
        for at in &line.path {
            close(
                "on the surface",
                proposed.level_of(*at).expect("a level").metres(),
                line.level.metres(),
                1e-9,
            );
        }
        let middle = |pair: &[Position]| {
            place(
                f64::midpoint(pair[0].x.metres(), pair[1].x.metres()),
                f64::midpoint(pair[0].y.metres(), pair[1].y.metres()),
            )
        };
        let changed =
            line.path.iter().copied().chain(line.path.windows(2).map(middle)).map(apart).fold(0.0, f64::max);
        assert!(changed > 0.015, "{} {changed}", line.level.metres());
    }
    // Contours of the ground as it lies end at its rim: they run from one side of the square to the other.
    let rim = |at: &Position| {
        [at.x, at.y].into_iter().any(|it| it.metres().abs() < 1e-9 || (it.metres() - 40.0).abs() < 1e-9)
    };
    let lines = existing.contours(metres(0.25));
    assert_eq!(lines.len(), 16);
    for line in lines {
        assert!(!line.closed && [line.path.first(), line.path.last()].into_iter().flatten().all(rim));
    }
    let untouched = slope().build();
    assert!(!untouched.site.is_regraded() && untouched.site.new_contours(metres(0.25)).is_empty());
}

#[test]
fn levels_on_the_drawing() {
    let built = terrace();
    let spots = built.site.ground(Proposed).expect("proposed ground").spots();
    let of = |surface| spots.iter().filter(|spot| spot.of == surface).count();
    assert_eq!((of(Existing), of(Proposed)), (4, 4));
    let existing = built.site.ground(Existing).expect("existing ground");
    let ring = [place(5.0, 5.0), place(35.0, 5.0), place(35.0, 35.0), place(5.0, 35.0)];
    let fall = existing.fall_within(&ring).expect("ground inside");
    close("area", fall.area.square_metres(), 900.0, 1e-6);
    close("slope", fall.slope.fraction(), 0.1, 1e-12);
    close("mean", fall.mean.fraction(), 0.1, 1e-12);
    let (right, up) = fall.way.expect("a way");
    close("to the right", right, 1.0, 1e-9);
    close("not up", up, 0.0, 1e-9);
    let (low, high) = existing.range_within(place(10.0, 10.0), place(30.0, 30.0)).expect("levels inside");
    close("low", low.metres(), 1.0, 1e-9);
    close("high", high.metres(), 3.0, 1e-9);
    assert_eq!(existing.range_within(place(90.0, 90.0), place(99.0, 99.0)), None);
    assert_eq!(existing.level_of(place(50.0, 0.0)), None::<Length>);
}
