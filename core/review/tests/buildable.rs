//! Required setbacks and what they leave of a lot.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops at what it did not expect")]

mod support;

use groundrule_review::{Buildable, Review};
use support::{Case, pack, plan, reviewed, rule, shed};

/// A corner lot of 80 by 100 ft, its roles left to be proposed, with further tables.
fn corner(rest: &str) -> String {
    corner_by("0", rest)
}

fn corner_by(plus_minus: &str, rest: &str) -> String {
    format!(
        "[site]\nname = \"Corner\"\nunits = \"ft\"\nnorth = \"up\"\ndistrict = \"D\"\nby = \"class\"\n\
         [accuracy]\nclass = \"{plus_minus}\"\nexact = \"0\"\n\
         [lot]\ncorners = [[0, 0], [80, 0], [80, 100], [0, 100]]\nnames = [\"sw\", \"se\", \"ne\", \"nw\"]\n\
         sides = {{ sw-se = {{ street = \"A\" }}, nw-sw = {{ street = \"B\" }} }}\n{rest}\n"
    )
}

fn yard(id: &str, role: &str, limit: &str, more: &str) -> String {
    rule(
        id,
        &format!(
            "check = \"ruler/yard\"\nto.lines = {{ kind = \"lot-line\", role = {role} }}\n\
             limit = {{ at_least = {limit} }}\ndraws = \"setback\"\n{more}"
        ),
    )
}

fn yards() -> String {
    yard("front", "[\"front\", \"street_side\"]", "\"20 ft\"", "")
        + &yard("side", "\"side\"", "\"5 ft\"", "")
        + &yard("rear", "\"rear\"", "\"10 ft\"", "")
}

/// `rule line depth` in feet for each setback, and the area in square feet or what it lacks.
fn told(review: &Review) -> Vec<String> {
    let of = |lot: &Buildable| {
        let setbacks = lot.setbacks.iter().map(|setback| {
            let depth = setback.depth.value.si() / 0.3048;
            let assumed = if setback.assumed { "*" } else { "" };
            format!("{} {}{assumed} {:.3}", setback.rule.0, setback.name.0, depth)
        });
        let area = lot.area.as_ref().map(|area| format!("{:.3}", area.value.si() / (0.3048 * 0.3048)));
        let needs = lot.needs.iter().map(|need| need.what.clone());
        setbacks.chain(area).chain(needs).collect::<Vec<_>>()
    };
    review.buildable.iter().flat_map(of).collect()
}

#[test]
fn a_vacant_corner_lot() {
    let review = reviewed(&corner(""), &yards());
    assert_eq!(
        told(&review),
        [
            "front lot.sw-se* 20.000",
            "side lot.se-ne* 5.000",
            "rear lot.ne-nw* 10.000",
            "front lot.nw-sw* 20.000",
            // (80 - 20 - 5) x (100 - 20 - 10)
            "3850.000",
        ]
    );
    assert_eq!(review.buildable[0].regions.len(), 1);
    assert!(review.buildable[0].setbacks.iter().all(|setback| setback.paths.len() == 1));
}

#[test]
fn the_spread_of_the_area() {
    // Every corner errs by itself; each edge of what is left moves with the two corners of its lot line, by the share
    // of the way along at its middle. Summed by hand for the four sides of 55 and 70 ft, in feet.
    let review = Case::default().review(&corner_by("0.1 ft", ""), &[pack("t", &yards())]);
    let area = review.buildable[0].area.as_ref().unwrap();
    let sigma = 0.1 / 1.959_963_984_540_054;
    let edge = |length: f64, at: f64| length * length * (at * at + (1.0 - at) * (1.0 - at));
    // Along each lot line the middle of its edge lies so far: 47.5 of 80, 55 of 100.
    let square = 2.0 * edge(55.0, 47.5 / 80.0) + 2.0 * edge(70.0, 0.55);
    let expected = sigma * libm::sqrt(square);
    let found = area.spread.si() / (0.3048 * 0.3048);
    assert!((found - expected).abs() < 1e-6 * expected, "{found} is not {expected}");
}

#[test]
fn the_greatest_governs() {
    let two = format!("{}{}", yards(), yard("wide", "\"side\"", "\"8 ft\"", ""));
    let review = Case::default().review(
        &corner(""),
        &[pack("t", &two), pack("u", &yard("least", "[\"side\", \"rear\"]", "\"7 ft\"", ""))],
    );
    let told = told(&review);
    assert!(told.contains(&"wide lot.se-ne* 8.000".to_owned()), "{told:?}");
    assert!(told.contains(&"rear lot.ne-nw* 10.000".to_owned()), "{told:?}");
}

#[test]
fn figures_of_line_lot_and_site() {
    let table = "{ by = \"line.role\", values = { front = \"25 ft\", rear = \"15 ft\" } }";
    let rows = yard("by-role", "[\"front\", \"rear\", \"street_side\"]", table, "")
        + &yard("by-width", "\"side\"", "{ formula = \"greatest(feet(5), lot.width * percent(10))\" }", "");
    // A street side has no line in the table, and so no setback.
    assert_eq!(
        told(&reviewed(&corner(""), &rows))[..3],
        ["by-role lot.sw-se* 25.000", "by-width lot.se-ne* 8.000", "by-role lot.ne-nw* 15.000"]
    );
    let when = yard("only", "\"side\"", "\"5 ft\"", "when = \"lot.position == 'interior'\"");
    assert_eq!(told(&reviewed(&corner(""), &when)), Vec::<String>::new());
    let elsewhere = yard("only", "\"side\"", "\"5 ft\"", "district = \"E\"");
    assert_eq!(told(&reviewed(&corner(""), &elsewhere)), Vec::<String>::new());
    let nowhere = corner("").replace("district = \"D\"\n", "");
    assert_eq!(told(&reviewed(&nowhere, &elsewhere)), ["the zoning district"]);
    let lifted = format!(
        "{}\n[[rule.exception]]\nwhen = \"lot.width > feet(70)\"\nlimit = {{ at_least = \"3 ft\" }}\nsource = \"Text\"\n",
        yard("side", "\"side\"", "\"5 ft\"", "").trim_end()
    );
    assert_eq!(told(&reviewed(&corner(""), &lifted))[0], "side lot.se-ne* 3.000");
}

#[test]
fn figures_of_what_stands_there() {
    let rows = yard("tall", "\"side\"", "{ formula = \"greatest(feet(5), subject.height / 2)\" }", "");
    let two = shed("low", 30.0, 30.0, "height = \"8 ft\"") + &shed("high", 50.0, 50.0, "height = \"14 ft\"");
    assert_eq!(told(&reviewed(&corner(&two), &rows)), ["tall lot.se-ne* 7.000", "7300.000"]);
    // One whose height nobody said leaves the line open, and so does an empty lot.
    let unsaid = shed("low", 30.0, 30.0, "height = \"8 ft\"") + &shed("high", 50.0, 50.0, "");
    assert_eq!(told(&reviewed(&corner(&unsaid), &rows)), ["the height of high"]);
    assert_eq!(told(&reviewed(&corner(""), &rows)), ["what `Rule tall` is about"]);
}

#[test]
fn what_is_not_known_is_asked() {
    let bare = plan("").replace("sw-se = { role = \"front\" }, ", "");
    let from = bare.find("sides").unwrap();
    let until = from + bare[from..].find('\n').unwrap();
    let bare = format!("{}{}", &bare[..from], &bare[until..]);
    let review = reviewed(&bare, &yards());
    assert_eq!(told(&review), ["the front line of lot"]);
    assert!(review.buildable[0].regions.is_empty());
    // No rule draws, nothing is drawn.
    let quiet = yards().replace("draws = \"setback\"\n", "");
    assert!(reviewed(&corner(""), &quiet).buildable.is_empty());
}

#[test]
fn behind_a_pointed_rear_nothing_is_built() {
    // Front 80 ft, the point 120 ft back: the rear line of 10 ft lies 105 ft back, so a yard of 25 ft ends 80 ft back,
    // where the lot is 80 / 3 wide. Worked out on the stated rule.
    let lot = "[site]\nname = \"Point\"\nunits = \"ft\"\ndistrict = \"D\"\nby = \"class\"\n[accuracy]\nclass = \"0\"\n\
               [lot]\ncorners = [[0, 0], [80, 0], [40, 120]]\npointed_rear = \"10 ft\"\nsides = { c1-c2 = { street = \"A\" } }\n";
    let review = reviewed(lot, &yard("rear", "\"rear\"", "\"25 ft\"", ""));
    // The ends of the line are round; at the sides of the lot they reach no farther forward than the middle does.
    let trapezoid = (40.0 + 40.0 / 3.0) * 80.0;
    let told = told(&review);
    assert_eq!(told[0], "rear lot.pointed-rear 25.000");
    let area: f64 = told[1].parse().unwrap();
    let ends = review.buildable[0].setbacks[0].paths[0].iter().map(|p| p.y.metres() / 0.3048);
    assert!((ends.fold(f64::INFINITY, f64::min) - 80.0).abs() < 1e-6);
    // Beside the ends the setback curves back toward the sides, so a little more is left than below a straight line.
    assert!(area > trapezoid && area < trapezoid + 120.0, "{area}");
}
