//! Roles of lot lines on lots small enough to judge by eye. Feet; south is down; the definition is at the head of
//! `roles`.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops at what it did not expect")]

use groundrule_plan::{Remark, Role, Source, read_plan};
use groundrule_survey::{Layout, resolve};

/// A lot with these keys.
fn plan(lot: &str) -> String {
    format!(
        "[site]\nname = \"Lot\"\nunits = \"ft\"\nby = \"deed\"\n[accuracy]\ndeed = \"0.1 ft\"\n[lot]\n{lot}\n"
    )
}

fn placed(lot: &str) -> (Layout, Vec<Remark>) {
    let source = Source { name: "lot.toml".to_owned(), text: plan(lot).into() };
    let plan = read_plan(&source).unwrap_or_else(|faults| panic!("{:#?}", faults.faults));
    resolve(&plan).unwrap_or_else(|faults| panic!("{:#?}", faults.faults))
}

/// `interior: c1-c2 front*, c2-c3 side`, a star on what is proposed, and the codes of what is told.
fn words(lot: &str) -> (String, Vec<&'static str>) {
    let (layout, remarks) = placed(lot);
    let lot = &layout.lots[0];
    let word = |role: Option<Role>| match role {
        Some(Role::Front) => "front",
        Some(Role::Rear) => "rear",
        Some(Role::Side) => "side",
        Some(Role::StreetSide) => "street",
        None => "none",
    };
    let sides: Vec<String> = lot
        .sides
        .iter()
        .map(|side| format!("{} {}{}", side.name.0, word(side.role), if side.assumed { "*" } else { "" }))
        .collect();
    let position = lot.position.map_or("unknown", |position| position.word());
    (format!("{position}: {}", sides.join(", ")), remarks.iter().map(|remark| remark.code).collect())
}

#[track_caller]
fn check(lot: &str, expected: &str, told: &[&str]) {
    let (found, codes) = words(lot);
    assert_eq!(found, expected);
    assert_eq!(codes, told);
}

const BOX: &str = "corners = [[0, 0], [80, 0], [80, 100], [0, 100]]";

#[track_caller]
fn boxed(sides: &str, expected: &str, told: &[&str]) {
    check(&format!("{BOX}\nsides = {{ {sides} }}"), expected, told);
}

#[test]
fn one_street() {
    boxed(
        "c1-c2 = { street = \"A\" }",
        "interior: c1-c2 front*, c2-c3 side*, c3-c4 rear*, c4-c1 side*",
        &["data::roles-proposed"],
    );
    // Written clockwise it is the same lot.
    check(
        "corners = [[0, 100], [80, 100], [80, 0], [0, 0]]\nsides = { c3-c4 = { street = \"A\" } }",
        "interior: c4-c1 side*, c3-c4 front*, c2-c3 side*, c1-c2 rear*",
        &["data::roles-proposed"],
    );
}

#[test]
fn two_streets_that_meet() {
    boxed(
        "c1-c2 = { street = \"A\" }, c4-c1 = { street = \"B\" }",
        "corner: c1-c2 front*, c2-c3 side*, c3-c4 rear*, c4-c1 street*",
        &["data::front-proposed"],
    );
    let (_, remarks) = placed(&format!(
        "{BOX}\nsides = {{ c1-c2 = {{ street = \"Linnet Street\" }}, c4-c1 = {{ street = \"Plover Way\" }} }}"
    ));
    assert_eq!(
        remarks[0].message,
        "The corner lot `lot` does not say which of its lines is the front. Proposed is `c1-c2` along Linnet Street \
         (80.00 ft): the shortest of its street lines, which is the usual rule (from memory). The other is `c4-c1` \
         along Plover Way (100.00 ft). Proposed with it: front `c1-c2`; street side `c4-c1`; rear `c3-c4`; side `c2-c3`."
    );
    assert_eq!(remarks[0].spots.len(), 2);
    assert!(
        remarks[0]
            .help
            .as_ref()
            .unwrap()
            .starts_with("Say `role = \"front\"` on `c1-c2` to confirm it, or on `c4-c1`")
    );
}

#[test]
fn a_stated_role_stands() {
    // The longer street line is the front when somebody says so, and the rest follows from that.
    boxed(
        "c1-c2 = { street = \"A\" }, c4-c1 = { street = \"B\", role = \"front\" }",
        "corner: c1-c2 street*, c2-c3 rear*, c3-c4 side*, c4-c1 front",
        &["data::roles-proposed"],
    );
    // What a street line is said to be leaves the other.
    boxed(
        "c1-c2 = { street = \"A\", role = \"street_side\" }, c4-c1 = { street = \"B\" }",
        "corner: c1-c2 street, c2-c3 rear*, c3-c4 side*, c4-c1 front*",
        &["data::roles-proposed"],
    );
    // A rear that is stated is the only one.
    boxed(
        "c1-c2 = { street = \"A\" }, c2-c3 = { role = \"rear\" }",
        "interior: c1-c2 front*, c2-c3 rear, c3-c4 side*, c4-c1 side*",
        &["data::roles-proposed"],
    );
    // All stated: nothing is proposed, and nothing told.
    boxed(
        "c1-c2 = { role = \"front\" }, c2-c3 = { role = \"side\" }, c3-c4 = { role = \"rear\" }, c4-c1 = { role = \"side\" }",
        "interior: c1-c2 front, c2-c3 side, c3-c4 rear, c4-c1 side",
        &[],
    );
    // Every street line is said to be something else, so none is left to propose.
    boxed(
        "c1-c2 = { role = \"street_side\" }, c4-c1 = { role = \"street_side\" }, c3-c4 = { role = \"rear\" }",
        "unknown: c1-c2 street, c2-c3 none, c3-c4 rear, c4-c1 street",
        &["data::no-front"],
    );
}

#[test]
fn no_street_and_no_role() {
    check(BOX, "unknown: c1-c2 none, c2-c3 none, c3-c4 none, c4-c1 none", &["data::no-front"]);
    assert_eq!(placed(BOX).1[0].spots.len(), 1);
    boxed(
        "c2-c3 = { role = \"side\" }",
        "unknown: c1-c2 none, c2-c3 side, c3-c4 none, c4-c1 none",
        &["data::no-front"],
    );
}

#[test]
fn equal_street_lines_take_the_first() {
    let lot = "corners = [[0, 0], [80, 0], [80, 80], [0, 80]]\nsides = { c2-c3 = { street = \"A\" }, c3-c4 = { street = \"B\" } }";
    check(lot, "corner: c1-c2 side*, c2-c3 front*, c3-c4 street*, c4-c1 rear*", &["data::front-proposed"]);
    assert!(placed(lot).1[0].message.contains("of equals the first is taken"));
}

#[test]
fn streets_that_do_not_meet() {
    boxed(
        "c1-c2 = { street = \"A\" }, c3-c4 = { street = \"B\" }",
        "through: c1-c2 front*, c2-c3 side*, c3-c4 front*, c4-c1 side*",
        &["data::roles-proposed"],
    );
    boxed(
        "c1-c2 = { street = \"A\", role = \"front\" }, c3-c4 = { street = \"B\", role = \"rear\" }",
        "through: c1-c2 front, c2-c3 side*, c3-c4 rear, c4-c1 side*",
        &["data::roles-proposed"],
    );
}

#[test]
fn three_streets() {
    // The end of a block: the short line is the front, the long ones meet it.
    boxed(
        "c1-c2 = { street = \"A\" }, c2-c3 = { street = \"B\" }, c4-c1 = { street = \"C\" }",
        "corner: c1-c2 front*, c2-c3 street*, c3-c4 rear*, c4-c1 street*",
        &["data::front-proposed"],
    );
    // Across the block: the line opposite the front is a front as well.
    check(
        "corners = [[0, 0], [60, 0], [60, 100], [0, 100]]\nsides = { c1-c2 = { street = \"A\" }, c2-c3 = { street = \"B\" }, c3-c4 = { street = \"C\" } }",
        "corner: c1-c2 front*, c2-c3 street*, c3-c4 front*, c4-c1 side*",
        &["data::front-proposed"],
    );
}

#[test]
fn corners_that_are_cut_or_rounded() {
    let sides = "sides = { c1-c2 = { street = \"A\" }, c4-c5 = { street = \"B\" } }";
    let cut = "corners = [[15, 0], [80, 0], [80, 100], [0, 100], [0, 15]]";
    let expected = "corner: c1-c2 front*, c2-c3 side*, c3-c4 rear*, c4-c5 street*, c5-c1 street*";
    check(&format!("{cut}\n{sides}"), expected, &["data::front-proposed"]);
    let round =
        "corners = [[25, 0], [80, 0], [80, 100], [0, 100], { at = [0, 25], through = [7.322, 7.322] }]";
    check(&format!("{round}\n{sides}"), expected, &["data::front-proposed"]);
}

#[test]
fn a_front_on_a_turning_circle() {
    // The front curves into the lot; its chord tells which line lies opposite.
    check(
        "corners = [{ at = [0, 0], through = [20, 8] }, [40, 0], [75, 110], [-35, 110]]\nsides = { c1-c2 = { street = \"A\" } }",
        "interior: c1-c2 front*, c2-c3 side*, c3-c4 rear*, c4-c1 side*",
        &["data::roles-proposed"],
    );
    // In chords that each turn by 30 degrees it is one front still.
    check(
        "corners = [[0, 0], [20, 5.36], [40, 0], [75, 110], [-35, 110]]\nsides = { c1-c2 = { street = \"A\" }, c2-c3 = { street = \"A\" } }",
        "interior: c1-c2 front*, c2-c3 front*, c3-c4 side*, c4-c5 rear*, c5-c1 side*",
        &["data::roles-proposed"],
    );
    // And as one side over several edges.
    check(
        "corners = [[0, 0], [20, 5.36], [40, 0], [75, 110], [-35, 110]]\nsides = { c1-c3 = { street = \"A\" } }",
        "interior: c1-c3 front*, c3-c4 side*, c4-c5 rear*, c5-c1 side*",
        &["data::roles-proposed"],
    );
}

#[test]
fn a_triangle() {
    check(
        "corners = [[0, 0], [80, 0], [40, 120]]\nsides = { c1-c2 = { street = \"A\" } }",
        "interior: c1-c2 front*, c2-c3 side*, c3-c1 side*",
        &["data::roles-proposed"],
    );
    check(
        "corners = [[0, 0], [80, 0], [40, 120]]\npointed_rear = \"10 ft\"\nsides = { c1-c2 = { street = \"A\" } }",
        "interior: c1-c2 front*, c2-c3 side*, c3-c1 side*, pointed-rear rear",
        &["data::roles-proposed"],
    );
}

#[test]
fn only_the_far_side_of_an_l() {
    check(
        "corners = [[0, 0], [100, 0], [100, 40], [50, 40], [50, 130], [0, 130]]\nsides = { c1-c2 = { street = \"A\" } }",
        "interior: c1-c2 front*, c2-c3 side*, c3-c4 side*, c4-c5 side*, c5-c6 rear*, c6-c1 side*",
        &["data::roles-proposed"],
    );
}

#[test]
fn a_flag() {
    let pole = "corners = [[0, 0], [20, 0], [20, 120], [90, 120], [90, 220], [0, 220]]\nsides = { c1-c2 = { street = \"A\" } }";
    check(
        pole,
        "flag: c1-c2 front*, c2-c3 side*, c3-c4 side*, c4-c5 side*, c5-c6 rear*, c6-c1 side*",
        &["data::roles-proposed"],
    );
    assert!(placed(pole).1[0].message.contains("flag lot"));
    // A pole in the middle.
    check(
        "corners = [[40, 0], [60, 0], [60, 120], [100, 120], [100, 220], [0, 220], [0, 110], [40, 110]]\nsides = { c1-c2 = { street = \"A\" } }",
        "flag: c1-c2 front*, c2-c3 side*, c3-c4 side*, c4-c5 side*, c5-c6 rear*, c6-c7 side*, c7-c8 side*, c8-c1 side*",
        &["data::roles-proposed"],
    );
    // A lot that widens evenly has no pole, though its back is notched.
    check(
        "corners = [[0, 0], [40, 0], [100, 120], [60, 120], [60, 150], [-60, 150]]\nsides = { c1-c2 = { street = \"A\" } }",
        "interior: c1-c2 front*, c2-c3 side*, c3-c4 rear*, c4-c5 side*, c5-c6 rear*, c6-c1 side*",
        &["data::roles-proposed"],
    );
}

#[test]
fn a_jog_follows_its_longer_neighbour() {
    check(
        "corners = [[0, 0], [30, 0], [30, 2], [80, 2], [80, 100], [0, 100]]\nsides = { c1-c2 = { street = \"A\" }, c3-c4 = { street = \"A\" } }",
        "interior: c1-c2 front*, c2-c3 front*, c3-c4 front*, c4-c5 side*, c5-c6 rear*, c6-c1 side*",
        &["data::roles-proposed"],
    );
}

/// The rear line set out inside a lot: its ends, in feet, from right to left.
fn pointed(lot: &str) -> Vec<(f64, f64)> {
    let (layout, remarks) = placed(lot);
    let Some(side) = layout.lots[0].sides.iter().find(|side| side.name.0 == "pointed-rear") else {
        panic!("{remarks:#?}")
    };
    side.path.iter().map(|p| (p.at.x.metres() / 0.3048, p.at.y.metres() / 0.3048)).collect()
}

#[test]
fn the_rear_line_of_a_pointed_lot() {
    let near = |found: &[(f64, f64)], expected: &[(f64, f64)]| {
        let off = |(a, b): (&(f64, f64), &(f64, f64))| libm::hypot(a.0 - b.0, a.1 - b.1);
        assert_eq!(found.len(), expected.len());
        assert!(found.iter().zip(expected).map(off).fold(0.0, f64::max) < 1e-9, "{found:?}");
    };
    let street = "sides = { c1-c2 = { street = \"A\" } }";
    // Front 80 ft, the point 120 ft back: 10 ft long, it lies 105 ft back. Worked out on the stated rule.
    let lot = format!("corners = [[0, 0], [80, 0], [40, 120]]\npointed_rear = \"10 ft\"\n{street}");
    near(&pointed(&lot), &[(45.0, 105.0), (35.0, 105.0)]);
    // The point 100 ft back, over one end of a front 100 ft long and askew on the sheet: 90 ft back, from that end.
    let lot = format!("corners = [[0, 0], [80, 60], [-60, 80]]\npointed_rear = \"10 ft\"\n{street}");
    near(&pointed(&lot), &[(-46.0, 78.0), (-54.0, 72.0)]);
}

#[test]
fn a_pointed_rear_that_cannot_be() {
    let street = "sides = { c1-c2 = { street = \"A\" } }";
    let told = |lot: &str| {
        let codes: Vec<_> =
            placed(&format!("{lot}\n{street}")).1.iter().map(|r| (r.code, r.message.clone())).collect();
        codes.into_iter().find(|(code, _)| *code == "data::pointed-rear").map(|(_, message)| message)
    };
    let message = told("corners = [[0, 0], [80, 0], [40, 120]]\npointed_rear = \"90 ft\"").unwrap();
    assert!(message.contains("nowhere as wide"), "{message}");
    let message = told(&format!("{BOX}\npointed_rear = \"10 ft\"")).unwrap();
    assert!(message.contains("80.00 ft wide"), "{message}");
    assert_eq!(told("corners = [[0, 0], [80, 0], [44, 120], [36, 120]]\npointed_rear = \"10 ft\""), None);
}

/// The rear line set out inside a lot errs with the corners it hangs on: terms against differences.
#[test]
fn the_errors_of_a_pointed_rear() {
    const STEP: f64 = 1e-3;
    let lot = |corners: &[[f64; 2]; 4]| {
        let corners: Vec<String> = corners.iter().map(|[x, y]| format!("[{x:.9}, {y:.9}]")).collect();
        let text = format!(
            "corners = [{}]\npointed_rear = \"10 ft\"\nsides = {{ c1-c2 = {{ street = \"A\" }} }}",
            corners.join(", ")
        );
        placed(&text).0.lots.remove(0)
    };
    let corners = [[0.0, 0.0], [80.0, 7.0], [62.0, 70.0], [31.0, 125.0]];
    let here = lot(&corners);
    let line = &here.sides[4];
    assert!(line.inside);
    for (i, corner) in here.ring.iter().enumerate() {
        for (axis, term) in corner.error.terms().iter().enumerate() {
            let moved = |by: f64| {
                let mut corners = corners;
                corners[i][axis] += by;
                lot(&corners).sides[4].path.clone()
            };
            let (more, less) = (moved(STEP), moved(-STEP));
            let sigma = libm::hypot(term.x.metres(), term.y.metres());
            for ((more, less), end) in more.iter().zip(&less).zip(&line.path) {
                let slope = |a: f64, b: f64| (a - b) / (2.0 * STEP * 0.3048) * sigma;
                let expected = (
                    slope(more.at.x.metres(), less.at.x.metres()),
                    slope(more.at.y.metres(), less.at.y.metres()),
                );
                let found = end
                    .error
                    .terms()
                    .iter()
                    .find(|t| t.source == term.source)
                    .map_or((0.0, 0.0), |t| (t.x.metres(), t.y.metres()));
                let off = libm::hypot(found.0 - expected.0, found.1 - expected.1);
                assert!(off < 1e-4 * sigma, "corner {i}, axis {axis}: {found:?} is not {expected:?}");
            }
        }
    }
}
