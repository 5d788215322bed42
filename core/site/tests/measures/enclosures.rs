//! Rings around a pool. Figures in feet; S4 is the pool of the invented scenarios.

use std::f64::consts::TAU;

use groundrule_site::{FeatureId, Mark};
use groundrule_survey::Shape;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use crate::gradients;
use crate::regions::{FOOT, in_feet};
use crate::sheet::{Built, Sheet, close};
use Drawn::{Disc, Line, Outline, Stated, Thick};

fn ids(built: &Built, names: &[&str]) -> Vec<FeatureId> {
    names.iter().map(|name| built.id(name)).collect()
}

/// The widest opening in feet, and the pieces by name.
fn ring(built: &Built, pieces: &[&str]) -> Option<(f64, String)> {
    let found = built.site.widest_opening(built.id("pool"), &ids(built, pieces))?;
    let name = |id: &FeatureId| built.site.feature(*id).expect("it is there").id.0.clone();
    let names: Vec<String> = found.pieces.iter().map(name).collect();
    Some((found.opening.value().si() / FOOT, names.join(" ")))
}

/// S4: pool, house and a gate; the fence is added by each case.
fn yard() -> Sheet {
    let mut sheet = Sheet::new();
    sheet.outline("pool", &in_feet(&[[22.0, 84.0], [54.0, 84.0], [54.0, 100.0], [22.0, 100.0]]), 0.0);
    sheet.outline("house", &in_feet(&[[15.0, 30.0], [60.0, 30.0], [60.0, 65.0], [15.0, 65.0]]), 0.0);
    sheet.line("gate", &in_feet(&[[60.0, 66.0], [64.0, 66.0]]), 0.0, 0.0);
    sheet
}

#[test]
fn the_house_wall_is_the_fourth_side() {
    let check = |what: &str, fence: &[&[[f64; 2]]], expected: f64, spans: [f64; 4]| {
        let mut sheet = yard();
        let names: Vec<String> = (0..fence.len()).map(|i| format!("fence-{i}")).collect();
        for (name, path) in names.iter().zip(fence) {
            sheet.line(name, &in_feet(path), 0.0, 0.0);
        }
        let built = sheet.build();
        let pieces: Vec<&str> = names.iter().map(String::as_str).chain(["house", "gate"]).collect();
        let (opening, _) = ring(&built, &pieces).expect(what);
        close(what, opening, expected, 1e-9);
        let found = built.site.widest_opening(built.id("pool"), &ids(&built, &pieces)).expect(what);
        let [Mark::Span(from, to)] = found.opening.marks.as_slice() else {
            panic!("{:?}", found.opening.marks)
        };
        let shown = [from.x, from.y, to.x, to.y].map(|at| at.metres() / FOOT);
        let back = [shown[2], shown[3], shown[0], shown[1]];
        let fits = |shown: [f64; 4]| shown.iter().zip(spans).all(|(a, b)| (a - b).abs() < 1e-6);
        assert!(fits(shown) || fits(back), "{what}: {shown:?}");
    };
    // The gate hangs on a post one foot off the corner of the house.
    let whole: &[[f64; 2]] = &[[15.0, 65.0], [15.0, 108.0], [64.0, 108.0], [64.0, 66.0]];
    check("closed but for the post", &[whole], 1.0, [60.0, 65.0, 60.0, 66.0]);
    let open: [&[[f64; 2]]; 2] =
        [&[[15.0, 65.0], [15.0, 90.0]], &[[15.0, 92.0], [15.0, 108.0], [64.0, 108.0], [64.0, 66.0]]];
    check("two feet taken out", &open, 2.0, [15.0, 90.0, 15.0, 92.0]);
    let short: &[[f64; 2]] = &[[15.0, 65.0], [15.0, 108.0], [64.0, 108.0], [64.0, 69.5]];
    check("the fence stops short of the gate", &[short], 3.5, [64.0, 69.5, 64.0, 66.0]);
}

/// A piece as a case draws it, in feet.
enum Drawn {
    Line(Vec<[f64; 2]>),
    Thick(Vec<[f64; 2]>, f64),
    Outline(Vec<[f64; 2]>),
    Disc([f64; 2], f64),
    Stated,
}

const AROUND: [[f64; 2]; 4] = [[0.0, 0.0], [10.0, 0.0], [10.0, 8.0], [0.0, 8.0]];

/// The ring that pieces make around a pool of 6 by 4 in the middle of `AROUND`: its opening and its pieces.
fn check(what: &str, pieces: &[(&str, Drawn)], expected: Option<(f64, &str)>) {
    let mut sheet = Sheet::new();
    sheet.outline("pool", &in_feet(&[[2.0, 2.0], [8.0, 2.0], [8.0, 6.0], [2.0, 6.0]]), 0.0);
    for (name, drawn) in pieces {
        match drawn {
            Line(path) => sheet.line(name, &in_feet(path), 0.0, 0.0),
            Thick(path, width) => sheet.line(name, &in_feet(path), width * FOOT, 0.0),
            Outline(ring) => sheet.outline(name, &in_feet(ring), 0.0),
            Disc([x, y], radius) => sheet.disc(name, [x * FOOT, y * FOOT], radius * FOOT, 0.0),
            Stated => sheet.add(name, Shape::Absent),
        };
    }
    let names: Vec<&str> = pieces.iter().map(|(name, _)| *name).collect();
    let found = ring(&sheet.build(), &names);
    match (&found, expected) {
        (Some((opening, names)), Some((wanted, expected))) => {
            close(what, *opening, wanted, 1e-9);
            assert_eq!(names, expected, "{what}");
        }
        (None, None) => {}
        _ => panic!("{what}: {found:?} for {expected:?}"),
    }
}

fn path(places: &[&[[f64; 2]]]) -> Drawn {
    Line(places.concat())
}

#[test]
fn a_piece_may_go_around_by_itself() {
    check("an outline", &[("fence", Outline(AROUND.to_vec()))], Some((0.0, "fence")));
    check("a line that closes", &[("fence", path(&[&AROUND, &AROUND[..1]]))], Some((0.0, "fence")));
    check("a line that all but closes", &[("fence", path(&[&AROUND, &[[0.0, 1.5]]]))], Some((1.5, "fence")));
    let crossed = path(&[&[[-1.0, 0.0]], &AROUND[1..], &[[0.0, -2.0]]]);
    check("a line that crosses itself", &[("fence", crossed)], Some((-1.0, "fence")));
    check("a round fence", &[("fence", Disc([5.0, 4.0], 9.0))], Some((0.0, "fence")));
    // One foot thick, drawn along its middle, with flat ends: its last end stops two short of the first stretch's face.
    let thick = [[-0.5, -0.5], [10.5, -0.5], [10.5, 8.5], [-0.5, 8.5], [-0.5, 2.0]];
    check("a thick wall", &[("wall", Thick(thick.to_vec(), 1.0))], Some((2.0, "wall")));
}

#[test]
fn pieces_that_touch_or_cross_leave_no_opening() {
    let side = |i: usize| Line(vec![AROUND[i], AROUND[(i + 1) % 4]]);
    let sides = [("w", side(3)), ("s", side(0)), ("n", side(2)), ("e", side(1))];
    check("four that meet at their ends", &sides, Some((0.0, "w s e n")));
    let over = [
        ("s", Line(vec![[-1.0, 0.0], [11.0, 0.0]])),
        ("e", Line(vec![[10.0, -1.0], [10.0, 9.0]])),
        ("n", Line(vec![[11.0, 8.0], [-1.0, 8.0]])),
        ("w", Line(vec![[0.0, 8.25], [0.0, -1.0]])),
    ];
    check("four that overrun by one, and one by less", &over, Some((-0.25, "s e n w")));
    let trees = [
        [-2.0, -2.0],
        [5.0, -2.0],
        [12.0, -2.0],
        [12.0, 4.0],
        [12.0, 10.0],
        [5.0, 10.0],
        [-2.0, 10.0],
        [-2.0, 4.0],
    ];
    let names = ["t0", "t1", "t2", "t3", "t4", "t5", "t6", "t7"];
    let trees: Vec<(&str, Drawn)> = names.into_iter().zip(trees.map(|at| Disc(at, 1.0))).collect();
    check("trees, seven apart and two wide", &trees, Some((5.0, "t0 t1 t2 t3 t4 t5 t6 t7")));
}

#[test]
fn what_cannot_go_around_makes_no_ring() {
    check("nothing", &[], None);
    check("only stated", &[("fence", Stated)], None);
    check("one straight fence", &[("fence", Line(vec![[-50.0, 0.0], [50.0, 0.0]]))], None);
    check("something else's", &[("fence", Outline(AROUND.map(|[x, y]| [x + 40.0, y]).to_vec()))], None);
    // The way between its ends leads through the pool, or past it.
    check("two sides", &[("fence", Line(vec![[0.0, 8.0], [0.0, 0.0], [10.0, 0.0]]))], None);
    let wide = Line(vec![[0.0, 20.0], [0.0, 0.0], [20.0, 0.0]]);
    check("two sides of a larger yard", &[("fence", wide)], Some((libm::hypot(20.0, 20.0), "fence")));
    let long = |y| Line(vec![[-50.0, y], [50.0, y]]);
    check("two long fences, ways past the pool", &[("s", long(0.0)), ("n", long(8.0))], Some((8.0, "s n")));
    let mut sheet = Sheet::new();
    sheet.outline("pool", &in_feet(&AROUND), 0.0);
    assert_eq!(ring(&sheet.build(), &["pool"]), None, "it is no piece of its own ring");
}

#[test]
fn what_stands_in_the_pool_is_no_part_of_the_ring() {
    // A wing of the house stands in the pool: bad data, but what goes around both still does.
    let mut sheet = yard();
    sheet.outline("wing", &in_feet(&[[30.0, 60.0], [40.0, 60.0], [40.0, 90.0], [30.0, 90.0]]), 0.0);
    sheet.line("fence", &in_feet(&[[15.0, 65.0], [15.0, 108.0], [64.0, 108.0], [64.0, 66.0]]), 0.0, 0.0);
    sheet.line("through", &in_feet(&[[10.0, 92.0], [80.0, 92.0]]), 0.0, 0.0);
    let built = sheet.build();
    let (opening, names) = ring(&built, &["wing", "fence", "through", "house", "gate"]).expect("a ring");
    close("the post", opening, 1.0, 1e-9);
    assert!(names.contains("fence") && names.contains("gate"), "{names}");
    let (all, _) = ring(&built, &["wing", "through"]).unwrap_or((f64::INFINITY, String::new()));
    assert!(all > 1.0, "half the pool is not the pool: {all}");
}

/// The opening changes with the points at its two ends as it says.
#[test]
fn an_opening_errs_with_its_posts() {
    let scene = |end: [f64; 2]| {
        let mut sheet = Sheet::new();
        sheet.outline("pool", &[[2.0, 2.0], [8.0, 2.0], [8.0, 6.0], [2.0, 6.0]], gradients::SIGMA);
        sheet.outline("house", &[[-1.0, -5.0], [12.0, -6.0], [12.0, -1.0], [-1.0, 0.0]], gradients::SIGMA);
        sheet.line("fence", &[[12.0, -1.0], [11.0, 9.0], [-0.7, 9.4], end], 0.0, gradients::SIGMA);
        sheet
    };
    let check = |end: [f64; 2]| {
        gradients::check(&mut scene(end), |built| {
            built
                .site
                .widest_opening(built.id("pool"), &ids(built, &["house", "fence"]))
                .expect("a ring")
                .opening
        });
    };
    // Beside the wall, off its corner, and just through the wall.
    check([-0.2, 1.3]);
    check([-1.9, 0.8]);
}

#[test]
fn a_fence_that_just_touches_may_be_open() {
    // Ends read to 0.1 ft each: the two that touch have the spread of their distance apart.
    let mut sheet = Sheet::new();
    sheet.outline("pool", &in_feet(&[[2.0, 2.0], [8.0, 2.0], [8.0, 6.0], [2.0, 6.0]]), 0.0);
    let sigma = 0.1 * FOOT;
    sheet.line("half", &in_feet(&[[0.0, 3.0], [0.0, 0.0], [10.0, 0.0], [10.0, 8.0], [0.0, 8.0]]), 0.0, sigma);
    sheet.line("rest", &in_feet(&[[0.0, 8.0], [0.0, 3.0]]), 0.0, sigma);
    let built = sheet.build();
    let found = built.site.widest_opening(built.id("pool"), &ids(&built, &["half", "rest"])).expect("a ring");
    close("opening", found.opening.value().si(), 0.0, 1e-12);
    let spread = found.opening.spread().si() / FOOT;
    // One joint has a spread of 0.1 times the root of two; of two such the wider is somewhat more or less.
    assert!((0.1..0.2).contains(&spread), "{spread}");
}

fn find(leader: &mut [usize], mut i: usize) -> usize {
    while leader[i] != i {
        leader[i] = leader[leader[i]];
        i = leader[i];
    }
    i
}

/// How wide a thing gets from the middle to far away without coming near any fence, on a grid of this step: places are
/// opened up, those farthest from all fences first, until the middle hangs together with the rim.
fn widest_way_out(fences: &[[f64; 4]], step: f64) -> f64 {
    const HALF: u8 = 120;
    let side = 2 * usize::from(HALF) + 1;
    let place = |i: usize| {
        let along = |i: usize| (i as f64 - f64::from(HALF)) * step;
        (along(i % side), along(i / side))
    };
    let off = |i: usize| {
        let (x, y) = place(i);
        let each = |[a, b, c, d]: &[f64; 4]| {
            let (u, v) = (c - a, d - b);
            let t = (((x - a) * u + (y - b) * v) / (u * u + v * v)).clamp(0.0, 1.0);
            libm::hypot(x - a - u * t, y - b - v * t)
        };
        fences.iter().map(each).fold(f64::INFINITY, f64::min)
    };
    let offs: Vec<f64> = (0..side * side).map(off).collect();
    let mut order: Vec<usize> = (0..offs.len()).collect();
    order.sort_by(|a, b| offs[*b].total_cmp(&offs[*a]));
    // One more, to which all of the rim belongs.
    let rim = offs.len();
    let mut leader: Vec<usize> = (0..=rim).collect();
    let mut open = vec![false; offs.len()];
    let middle = offs.len() / 2;
    for i in order {
        open[i] = true;
        let (x, y) = (i % side, i / side);
        if x == 0 || y == 0 || x + 1 == side || y + 1 == side {
            let (a, b) = (find(&mut leader, i), find(&mut leader, rim));
            leader[a] = b;
        }
        for (dx, dy) in [(0, 1), (1, 0), (1, 1), (2, 1), (1, 2), (0, 0), (2, 0), (0, 2), (2, 2)] {
            let (Some(x), Some(y)) = ((x + dx).checked_sub(1), (y + dy).checked_sub(1)) else { continue };
            if x < side && y < side && open[y * side + x] {
                let (a, b) = (find(&mut leader, i), find(&mut leader, y * side + x));
                leader[a] = b;
            }
        }
        if open[middle] && find(&mut leader, middle) == find(&mut leader, rim) {
            return 2.0 * offs[i];
        }
    }
    0.0
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, rng_seed: RngSeed::Fixed(9), ..ProptestConfig::default() })]

    #[test]
    fn the_opening_is_the_widest_way_out(
        fences in prop::collection::vec((0.0..TAU, 4.0..14.0, 0.0..TAU, 2.0..16.0), 3..10),
    ) {
        let mut sheet = Sheet::new();
        sheet.disc("pool", [0.0, 0.0], 0.05, 0.0);
        let mut drawn = Vec::new();
        for (i, (at, away, turn, long)) in fences.into_iter().enumerate() {
            let ((s, c), (q, p)) = (libm::sincos(at), libm::sincos(turn));
            let (x, y) = (away * c, away * s);
            let fence = [x - p * long / 2.0, y - q * long / 2.0, x + p * long / 2.0, y + q * long / 2.0];
            sheet.line(&format!("fence-{i}"), &[[fence[0], fence[1]], [fence[2], fence[3]]], 0.0, 0.0);
            drawn.push(fence);
        }
        let built = sheet.build();
        let names: Vec<String> = (0..drawn.len()).map(|i| format!("fence-{i}")).collect();
        let pieces: Vec<FeatureId> = names.iter().map(|name| built.id(name)).collect();
        let near = |[a, b, c, d]: &[f64; 4]| {
            let (u, v) = (c - a, d - b);
            let t = ((-a * u - b * v) / (u * u + v * v)).clamp(0.0, 1.0);
            libm::hypot(a + u * t, b + v * t)
        };
        let room = drawn.iter().map(near).fold(f64::INFINITY, f64::min);
        prop_assume!(room > 1.0);
        let step = 0.2;
        let way = widest_way_out(&drawn, step);
        let opening = built.site.widest_opening(built.id("pool"), &pieces).map(|ring| ring.opening.value().si());
        match opening {
            // Nothing wider than the room the pool has can be told apart by something that starts at the pool.
            Some(opening) if way < 2.0 * room - 2.0 * step => {
                prop_assert!((opening.max(0.0) - way).abs() <= 2.0 * step, "{opening} for {way}");
            }
            Some(opening) => prop_assert!(opening >= way - 2.0 * step, "{opening} for {way}"),
            None => prop_assert!(way >= 2.0 * room - 2.0 * step, "none for {way} in {room}"),
        }
    }

    #[test]
    fn no_drawing_panics(
        fences in prop::collection::vec(((-4_i32..5, -4_i32..5), (-4_i32..5, -4_i32..5), 0_u8..4), 0..8),
        (low, high) in (-2_i32..1, 1_i32..3),
    ) {
        // On whole numbers, so that ends meet, edges fall together and fences stand in the pool.
        let mut sheet = Sheet::new();
        let (low, high) = (f64::from(low), f64::from(high));
        sheet.outline("pool", &[[low, low], [high, low], [high, high], [low, high]], 0.0);
        let mut pieces = Vec::new();
        for (i, ((a, b), (c, d), how)) in fences.into_iter().enumerate() {
            let [a, b, c, d] = [a, b, c, d].map(f64::from);
            let name = format!("fence-{i}");
            match how {
                0 => sheet.line(&name, &[[a, b], [c, d]], 0.0, 0.1),
                1 => sheet.line(&name, &[[a, b], [c, d], [b, c]], 0.5, 0.1),
                2 => sheet.outline(&name, &[[a, b], [c, d], [d, a]], 0.1),
                _ => sheet.disc(&name, [a, b], c.abs(), 0.1),
            };
            pieces.push(name);
        }
        let built = sheet.build();
        let ids: Vec<FeatureId> = pieces.iter().map(|name| built.id(name)).collect();
        if let Some(ring) = built.site.widest_opening(built.id("pool"), &ids) {
            prop_assert!(ring.opening.value().si().is_finite() && ring.opening.spread().si().is_finite());
            prop_assert!(!ring.pieces.is_empty());
        }
    }
}
