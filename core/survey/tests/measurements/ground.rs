//! Levels of the ground: what is stated, what follows from it, and what is odd about it.

use groundrule_survey::{Ground, GroundLevel, GroundLine, Layout, Surface};

use crate::support::{made, plan, whole};

/// A lot of 30 by 40 m, levels read to a standard uncertainty of 0.01 m.
const LOT: &str = r#"
[site]
name = "Plot 5, Tern Hollow"
units = "m"
north = "up"
by = "map"

[accuracy]
map = "0.5 m"
levels = "0.01959963984540054 m"

[ground]
datum = "assumed, 30.00 on the bolt of the hydrant"
by = "levels"
"#;

const CORNERS: &str = r#"
[points]
oak = [10, 10]

[lot]
corners = [[0, 0], [30, 0], [30, 40], [0, 40]]
names = ["sw", "se", "ne", "nw"]
by = "design"
"#;

fn sigma(level: &GroundLevel) -> f64 {
    level.error.iter().map(|(_, by)| by.metres() * by.metres()).sum::<f64>().sqrt() + 0.0
}

/// One level: `house.ne E 30.400 +-0.010 at 8.00 12.00`, with `*` where it is derived.
fn shown(level: &GroundLevel) -> String {
    let surface = match level.surface {
        Surface::Existing => "E",
        Surface::Proposed => "P",
    };
    let mark = if level.derived { "*" } else { "" };
    format!(
        "{}{mark} {surface} {:.3} +-{:.4} at {:.2} {:.2}",
        level.name.0,
        level.height.metres(),
        sigma(level),
        level.at.at.x.metres() + 0.0,
        level.at.at.y.metres() + 0.0
    )
}

/// One line: its kind, surface, and levels by index.
fn line(line: &GroundLine) -> String {
    let closed = if line.closed { " closed" } else { "" };
    format!("{:?} {:?} {:?}{closed}", line.kind, line.surface, line.levels)
}

fn lines(ground: &Ground) -> Vec<String> {
    ground.lines.iter().map(line).collect()
}

fn layout(rest: &str) -> (Layout, Vec<String>) {
    let (layout, remarks) = whole(&format!("{LOT}{rest}{CORNERS}"));
    let codes = remarks.iter().map(|remark| remark.code.to_owned()).collect();
    (layout, codes)
}

/// The levels and the lines of the ground.
#[track_caller]
fn check(features: &str, levels: &[&str], made_lines: &[&str]) {
    let (layout, _) = layout(features);
    let found: Vec<String> = layout.ground.levels.iter().map(shown).collect();
    assert_eq!(found, levels, "{features}");
    assert_eq!(lines(&layout.ground), made_lines, "{features}");
}

/// The codes of the remarks on levels, in order of the file.
#[track_caller]
fn odd(features: &str, expected: &[&str]) {
    let (_, codes) = layout(features);
    let about_levels = [
        "data::two-levels-at-one-place",
        "data::level-in-doubt",
        "data::levels-all-equal",
        "data::too-few-levels",
        "data::level-far-from-lot",
        "data::station-beyond-line",
        "data::contour-without-level",
        "data::level-not-of-the-ground",
        "data::term-contradicts",
    ];
    let found: Vec<&str> =
        codes.iter().map(String::as_str).filter(|code| about_levels.contains(code)).collect();
    assert_eq!(found, expected, "{features}");
}

/// A feature with its keys.
fn feature(id: &str, kind: &str, keys: &str) -> String {
    format!("[[feature]]\nid = '{id}'\nkind = '{kind}'\nby = 'design'\n{keys}\n")
}

#[test]
fn levels_at_a_place() {
    let cases = [
        ("at = [1, 2]\nlevel = 30.5", Some("E 30.500 +-0.0100")),
        ("at = [1, 2]\nlevel = 'EG 30.5'\nstatus = 'proposed'", Some("E 30.500 +-0.0100")),
        ("at = [1, 2]\nlevel = 'FG 30.5'", Some("P 30.500 +-0.0000")),
        ("at = [1, 2]\nlevel = 'HP 30.5'\nstatus = 'proposed'", Some("P 30.500 +-0.0000")),
        ("at = [1, 2]\nlevel = 'LP 30.5'\nstatus = 'remove'", Some("E 30.500 +-0.0100")),
        ("at = [1, 2]\nlevel = 'BW 30.5'", Some("E 30.500 +-0.0100")),
        ("at = [1, 2]\nlevel = 'FL 30.5'", Some("E 30.500 +-0.0100")),
        ("circle = { centre = [1, 2], radius = '1 m' }\nlevel = '30.5'", Some("E 30.500 +-0.0100")),
        ("at = [1, 2]\nlevel = 'FF 30.5'", None),
        ("at = [1, 2]\nlevel = 'FFE 30.5'", None),
        ("at = [1, 2]\nlevel = 'TW 30.5'", None),
        ("at = [1, 2]\nlevel = 'TC 30.5'", None),
        ("at = [1, 2]\nlevel = 'INV 30.5'", None),
        ("at = [1, 2]\nlevel = 'BM 30.5'", None),
        ("level = '30.5'", None),
    ];
    for (keys, expected) in cases {
        let expected: Vec<String> =
            expected.map(|level| format!("s {level} at 1.00 2.00")).into_iter().collect();
        let expected: Vec<&str> = expected.iter().map(String::as_str).collect();
        check(&feature("s", "spot-level", keys), &expected, &[]);
    }
    check(&feature("bm", "benchmark", "at = [1, 2]\nlevel = 30"), &[], &[]);
    check(
        &feature("in", "inlet", "at = [1, 2]\nrim = 'RIM 29.4'\ninvert = 'INV 28'\nstatus = 'existing'"),
        &["in E 29.400 +-0.0100 at 1.00 2.00"],
        &[],
    );
    check(
        &feature(
            "in",
            "inlet",
            "outline = [[1, 1], [3, 1], [3, 2], [1, 2]]\nrim = 29.4\nstatus = 'proposed'",
        ),
        &["in P 29.400 +-0.0000 at 2.00 1.50"],
        &[],
    );
}

#[test]
fn levels_around_and_along() {
    let square = "outline = [[0, 0], [4, 0], [4, 4], [0, 4]]";
    // All around: closed, and each corner by its own reading.
    check(
        &feature(
            "patio",
            "patio",
            &format!("{square}\nlevels = [30, 30.1, 30.2, 30.3]\nstatus = 'existing'"),
        ),
        &[
            "patio.c1 E 30.000 +-0.0100 at 0.00 0.00",
            "patio.c2 E 30.100 +-0.0100 at 4.00 0.00",
            "patio.c3 E 30.200 +-0.0100 at 4.00 4.00",
            "patio.c4 E 30.300 +-0.0100 at 0.00 4.00",
        ],
        &["Break Existing [0, 1, 2, 3] closed"],
    );
    // A gap is filled along the outline, with the error of a mean; before the first and after the last there is nothing.
    check(
        &feature("patio", "patio", &format!("{square}\nlevels = [30, '-', 30.2, '-']\nstatus = 'existing'")),
        &[
            "patio.c1 E 30.000 +-0.0100 at 0.00 0.00",
            "patio.c3 E 30.200 +-0.0100 at 4.00 4.00",
            "patio* E 30.100 +-0.0071 at 4.00 0.00",
        ],
        &["Break Existing [0, 2, 1]"],
    );
    check(
        &feature("patio", "patio", &format!("{square}\nlevels = ['-', 30, '-', '-']\nstatus = 'existing'")),
        &["patio.c2 E 30.000 +-0.0100 at 4.00 0.00"],
        &[],
    );
    // Existing and proposed levels of one list are two lines.
    check(
        &feature(
            "house",
            "dwelling",
            &format!("{square}\nlevels = ['EG 30', 'FG 31', 'EG 30.2', 'FF 33']\nstatus = 'existing'"),
        ),
        &[
            "house.c1 E 30.000 +-0.0100 at 0.00 0.00",
            "house.c2 P 31.000 +-0.0000 at 4.00 0.00",
            "house.c3 E 30.200 +-0.0100 at 4.00 4.00",
            "house* E 30.100 +-0.0071 at 4.00 0.00",
        ],
        &["Break Existing [0, 3, 2]"],
    );
    // The corners of a box in their order, also where it was drawn clockwise.
    check(
        &feature(
            "house",
            "dwelling",
            "box = { corner = 'ne', at = [9, 9], size = ['4 m', '3 m'] }\nlevels = ['FG 30', 'FG 30.1', 'FG 30.2', 'FG 30.3']\nstatus = 'existing'",
        ),
        &[
            "house.sw P 30.000 +-0.0000 at 5.00 6.00",
            "house.se P 30.100 +-0.0000 at 9.00 6.00",
            "house.ne P 30.200 +-0.0000 at 9.00 9.00",
            "house.nw P 30.300 +-0.0000 at 5.00 9.00",
        ],
        &["Break Proposed [0, 1, 2, 3] closed"],
    );
    check(
        &feature("lawn", "lawn", "outline = [[0, 0], [0, 4], [4, 0]]\nlevels = [30, 30.1, 30.2]"),
        &[
            "lawn.c1 E 30.000 +-0.0100 at 0.00 0.00",
            "lawn.c2 E 30.100 +-0.0100 at 0.00 4.00",
            "lawn.c3 E 30.200 +-0.0100 at 4.00 0.00",
        ],
        &["Break Existing [0, 1, 2] closed"],
    );
}

#[test]
fn levels_at_stations() {
    // Stations in any order; the corner between two of them gets its share.
    check(
        &feature(
            "swale",
            "swale",
            "line = [[0, 0], [10, 0], [10, 10]]\nstations = ['16 m', '2 m']\nlevels = ['FL 28', 'FL 29.4']\nstatus = 'proposed'",
        ),
        &[
            "swale P 28.000 +-0.0000 at 10.00 6.00",
            "swale P 29.400 +-0.0000 at 2.00 0.00",
            "swale* P 28.600 +-0.0000 at 10.00 0.00",
        ],
        &["Break Proposed [1, 2, 0]"],
    );
    let beyond = feature(
        "top",
        "breakline",
        "line = [[0, 0], [10, 0]]\nstations = ['0 m', '10.04 m', '12 m', '-1 m']\nlevels = [30, 31, 32, 33]",
    );
    check(
        &beyond,
        &["top E 30.000 +-0.0100 at 0.00 0.00", "top E 31.000 +-0.0100 at 10.00 0.00"],
        &["Break Existing [0, 1]"],
    );
    odd(&beyond, &["data::station-beyond-line", "data::too-few-levels"]);
}

#[test]
fn a_curve_has_levels_between_its_ends() {
    // A quarter circle of radius 4: its chords are alike, so the level rises evenly along them.
    let (layout, _) = layout(&feature(
        "edge",
        "breakline",
        "line = [{ at = [0, 0], radius = '4 m left' }, [4, 4]]\nlevels = ['FG 30', 'FG 31']",
    ));
    let [line] = layout.ground.lines.as_slice() else { panic!("{:?}", layout.ground.lines) };
    let heights: Vec<f64> =
        line.levels.iter().map(|i| layout.ground.levels[*i as usize].height.metres()).collect();
    assert!(heights.len() > 20, "{heights:?}");
    let step = 1.0 / (heights.len() - 1) as f64;
    for (i, height) in heights.iter().enumerate() {
        assert!((height - (30.0 + step * i as f64)).abs() < 1e-9, "{i}: {height}");
    }
    assert_eq!(layout.ground.levels.iter().filter(|level| !level.derived).count(), 2);
}

#[test]
fn a_contour_is_one_reading() {
    check(
        &feature("c30", "contour", "line = [[0, 0], [5, 1], [10, 0]]\nlevel = 'EG 30'"),
        &[
            "c30 E 30.000 +-0.0100 at 0.00 0.00",
            "c30* E 30.000 +-0.0100 at 5.00 1.00",
            "c30* E 30.000 +-0.0100 at 10.00 0.00",
        ],
        &["Contour Existing [0, 1, 2]"],
    );
    let (layout, _) = layout(&feature(
        "c30",
        "contour",
        "outline = [[0, 0], [5, 1], [10, 0]]\nlevel = '30'\nstatus = 'proposed'",
    ));
    assert_eq!(lines(&layout.ground), ["Contour Proposed [0, 1, 2] closed"]);
    let (layout, _) = self::layout(&feature("c", "contour", "line = [[0, 0], [5, 1]]\nlevel = 30"));
    let [a, b] = layout.ground.levels.as_slice() else { panic!("two levels") };
    assert_eq!(a.error, b.error);
}

#[test]
fn walls_have_two_faces() {
    let wall = |keys: &str| {
        feature(
            "wall",
            "wall",
            &format!("line = [[0, 0], [10, 0]]\nwidth = '0.4 m'\nstatus = 'existing'\n{keys}"),
        )
    };
    check(
        &wall("top_levels = ['TW 32', 'TW 32.2']\nbottom_levels = ['BW 30', 30.1]\nhigh_side = 'left'"),
        &[
            "wall.c1 E 32.000 +-0.0100 at 0.00 0.20",
            "wall.c2 E 32.200 +-0.0100 at 10.00 0.20",
            "wall.c1 E 30.000 +-0.0100 at 0.00 -0.20",
            "wall.c2 E 30.100 +-0.0100 at 10.00 -0.20",
        ],
        &["WallTop Existing [0, 1]", "WallFoot Existing [2, 3]"],
    );
    // The ground behind it, where that is stated, and not its top.
    check(
        &wall(
            "top_levels = ['TW 32', 'TW 32']\nupper_levels = [31.5, '-']\nbottom_levels = ['FG 30', '-']\nhigh_side = 'right'",
        ),
        &["wall.c1 E 31.500 +-0.0100 at 0.00 -0.20", "wall.c1 P 30.000 +-0.0000 at 0.00 0.20"],
        &[],
    );
    // Nobody knows which face is which.
    check(&wall("top_levels = ['TW 32', 'TW 32']\nbottom_levels = ['BW 30', 'BW 30']"), &[], &[]);
    // A thin wall around a corner: its faces keep 0.05 m from both sides of it, and stations lie between.
    check(
        &feature(
            "wall",
            "wall",
            "line = [[0, 0], [10, 0], [10, 10]]\nstations = ['0 m', '5 m', '20 m']\nbottom_levels = ['30', '30.5', '32']\nhigh_side = 'left'\nstatus = 'proposed'",
        ),
        &[
            "wall P 30.000 +-0.0000 at 0.00 -0.05",
            "wall P 30.500 +-0.0000 at 5.00 -0.05",
            "wall P 32.000 +-0.0000 at 10.05 10.00",
            "wall* P 31.000 +-0.0000 at 10.05 -0.05",
        ],
        &["WallFoot Proposed [0, 1, 3, 2]"],
    );
    let curb = "line = [[0, 0], [10, 0]]\nlevels = ['FL 30', 'FL 29.9']\ntop_levels = ['TC 30.15', 'TC 30.05']\nstatus = 'existing'\nhigh_side = 'left'";
    check(
        &feature("curb", "curb", curb),
        &[
            "curb.c1 E 30.150 +-0.0100 at 0.00 0.05",
            "curb.c2 E 30.050 +-0.0100 at 10.00 0.05",
            "curb.c1 E 30.000 +-0.0100 at 0.00 -0.05",
            "curb.c2 E 29.900 +-0.0100 at 10.00 -0.05",
        ],
        &["WallTop Existing [0, 1]", "WallFoot Existing [2, 3]"],
    );
    check(
        &feature("curb", "curb", &curb.replace("high_side = 'left'", "")),
        &["curb.c1 E 30.000 +-0.0100 at 0.00 0.00", "curb.c2 E 29.900 +-0.0100 at 10.00 0.00"],
        &["Break Existing [0, 1]"],
    );
}

/// What is said of levels left out for their terms: code, features, and words that the message and the help have.
#[track_caller]
fn left_out(features: &str, expected: &[(&str, &str, &str, &str)]) {
    let (_, remarks) = whole(&format!("{LOT}{features}{CORNERS}"));
    let of_terms = ["data::level-not-of-the-ground", "data::term-contradicts"];
    let found: Vec<_> = remarks.iter().filter(|remark| of_terms.contains(&remark.code)).collect();
    assert_eq!(found.len(), expected.len(), "{features}\n{found:#?}");
    for (remark, (code, about, message, help)) in found.into_iter().zip(expected) {
        let names: Vec<&str> = remark.about.iter().map(|name| name.0.as_str()).collect();
        assert_eq!((remark.code, names.as_slice()), (*code, [*about].as_slice()));
        assert!(remark.message.contains(message), "{}", remark.message);
        let said = remark.help.as_deref().unwrap_or_default();
        assert!(said.contains(help), "{said}");
        assert_ne!(remark.span, groundrule_plan::Span::default());
    }
}

#[test]
fn an_invert_is_ground_where_water_runs_on_top() {
    let keys = "line = [[0, 0], [10, 0]]\nlevels = ['INV 30', 'INV 29.9']\nstatus = 'existing'";
    for kind in ["swale", "curb"] {
        check(
            &feature("s", kind, keys),
            &["s.c1 E 30.000 +-0.0100 at 0.00 0.00", "s.c2 E 29.900 +-0.0100 at 10.00 0.00"],
            &["Break Existing [0, 1]"],
        );
        left_out(&feature("s", kind, keys), &[]);
    }
    check(&feature("s", "breakline", keys), &[], &[]);
    left_out(
        &feature("s", "breakline", keys),
        &[(
            "data::level-not-of-the-ground",
            "s",
            "INV 30.000 m (the level of corner c1 of s), INV 29.900 m (the level of corner c2 of s)",
            "`invert` of its inlet or outlet",
        )],
    );
}

#[test]
fn levels_of_something_else_are_told() {
    const OTHER: &str = "data::level-not-of-the-ground";
    let spot = |level: &str| feature("s", "spot-level", &format!("at = [1, 2]\nlevel = '{level}'"));
    for (level, help) in [
        ("FF 30.5", "`floor_level` of its building"),
        ("FFE 30.5", "`floor_level` of its building"),
        ("TW 30.5", "in its `top_levels`"),
        ("TC 30.5", "in its `top_levels`"),
        ("INV 30.5", "as `invert`"),
        ("BM 30.5", "of kind `benchmark`"),
    ] {
        left_out(&spot(level), &[(OTHER, "s", level, help)]);
        left_out(&format!("not_ground = ['s']\n{}", spot(level)), &[]);
    }
    for level in ["30.5", "EG 30.5", "FL 30.5", "RIM 30.5", "BW 30.5", "HP 30.5"] {
        left_out(&spot(level), &[]);
    }
    left_out(&feature("bm", "benchmark", "at = [1, 2]\nlevel = 'BM 30'"), &[]);
    // Several of one feature are one remark; a floor that its building states is none, nor a corner that is listed.
    let square = "outline = [[0, 0], [4, 0], [4, 4], [0, 4]]\nstatus = 'existing'";
    let house = |more: &str| {
        feature(
            "house",
            "dwelling",
            &format!("{square}\nlevels = ['EG 30', 'FF 33', 'TW 31', 'FFE 33']\n{more}"),
        )
    };
    left_out(
        &house(""),
        &[(OTHER, "house", "(finished floor, top of wall, finished floor elevation)", "State a floor")],
    );
    left_out(
        &house("floor_level = 'FF 33'"),
        &[(OTHER, "house", "TW 31.000 m (the level of corner c3 of house)", "top_levels")],
    );
    left_out(&format!("not_ground = ['house.c3']\n{}", house("floor_level = 'FF 33'")), &[]);
    // So it is with levels of points.
    let mark = |level: &str, more: &str| {
        format!(
            "levels = {{ {level} }}\n{}",
            house(more).replace("'TW 31'", "31").replace("FFE", "EG").replace("'FF 33', 31", "33, 31")
        )
    };
    left_out(
        &mark("oak = ['EG 30', 'FF 33', 'BM 31']", ""),
        &[(OTHER, "oak", "FF 33.000 m (at `oak`), BM 31.000 m (at `oak`)", "benchmark")],
    );
    left_out(
        &mark("house.c1 = 'FF 33'", ""),
        &[(OTHER, "house", "FF 33.000 m (at `house.c1`)", "not_ground")],
    );
    left_out(&mark("house.c1 = 'FF 33'", "floor_level = 'FF 33'"), &[]);
    left_out(&format!("not_ground = ['oak']\n{}", mark("oak = 'BM 33'", "")), &[]);
}

#[test]
fn terms_that_contradict_their_list_are_asked_about() {
    const AGAINST: &str = "data::term-contradicts";
    let wall = |keys: &str| {
        let line = "line = [[0, 0], [10, 0]]\nstatus = 'existing'\nhigh_side = 'left'";
        feature("wall", "wall", &format!("{line}\n{keys}"))
    };
    left_out(&wall("top_levels = ['TW 32', 'EG 32']\nbottom_levels = ['BW 30', 'FG 30']"), &[]);
    left_out(
        &wall("top_levels = ['BW 32', 'TW 32']\nbottom_levels = [30, 30]"),
        &[(AGAINST, "wall", "BW 32.000 m (bottom of wall) in `top_levels`", "swapped")],
    );
    left_out(
        &wall("top_levels = [32, 'INV 32']\nbottom_levels = [30, 30]"),
        &[(AGAINST, "wall", "INV 32.000 m (invert) in `top_levels`", "whose invert it is")],
    );
    left_out(
        &wall("top_levels = [32, 32]\nbottom_levels = ['TW 30', 30]"),
        &[(
            AGAINST,
            "wall",
            "TW 30.000 m (top of wall) in `bottom_levels`",
            "move the level to `top_levels`",
        )],
    );
    // The level itself is left out.
    check(&wall("top_levels = ['BW 30', 'TW 32']"), &["wall.c2 E 32.000 +-0.0100 at 10.00 0.05"], &[]);
}

#[test]
fn levels_at_points_and_corners() {
    let house = feature(
        "house",
        "dwelling",
        "box = { corner = 'sw', at = [5, 20], size = ['4 m', '3 m'] }\nstatus = 'proposed'",
    );
    check(
        &format!(
            "levels = {{ house.ne = 30.4, \"house.sw\" = 'EG 30.1', oak = ['EG 29.8', 'FG 30.1', 'FF 33'], lot.sw = '+29.5' }}\n{house}"
        ),
        &[
            "house.ne P 30.400 +-0.0000 at 9.00 23.00",
            "house.sw E 30.100 +-0.0100 at 5.00 20.00",
            "oak E 29.800 +-0.0100 at 10.00 10.00",
            "oak P 30.100 +-0.0000 at 10.00 10.00",
            "lot.sw E 29.500 +-0.0100 at 0.00 0.00",
        ],
        &[],
    );
}

#[test]
fn measured_heights_are_levels_of_the_ground() {
    let run = "[[level]]\npoint = 'bm'\nheight = '30 m'\nby = 'design'\n[[level]]\nfrom = 'bm'\nto = 'a'\nfall = '0.5 m'\n\
               [[level]]\nfrom = 'bm'\nto = 'd'\nfall = '0.2 m'\n[[level]]\nfrom = 'bm'\nto = 'sill'\nrise = '0.2 m'\n";
    let sill = feature("sill", "door", "at = [3, 3]\nwidth = '1 m'");
    let head = |ground: &str| made(&format!("{ground}{run}{sill}"));
    let names =
        |(layout, _): (Layout, _)| -> Vec<String> { layout.ground.levels.iter().map(shown).collect() };
    // A benchmark off the plan has no place, a door is no ground.
    assert_eq!(names(head("")), ["a E 29.500 +-0.0200 at 0.00 0.00", "d E 29.800 +-0.0200 at 0.00 10.00"]);
    let named = |text: &str| names(made(&text.replace("'sill'", "'floor-1'").replace("'d'", "'bm-2'")));
    let points = "bm-2 = [5, 5]\nfloor-1 = [6, 6]\n";
    assert_eq!(named(&format!("{points}{run}")), ["a E 29.500 +-0.0200 at 0.00 0.00"]);
    assert_eq!(names(head("[ground]\nnot_ground = ['bm', 'a']\n")), ["d E 29.800 +-0.0200 at 0.00 10.00"]);
}

#[test]
fn heights_from_nowhere_do_not_stand_beside_levels() {
    let fall = "[[level]]\nfrom = 'a'\nto = 'b'\nfall = '0.5 m'\n";
    let count = |text: &str| made(text).0.ground.levels.len();
    assert_eq!(count(fall), 2);
    let spot = feature("s", "spot-level", "at = [3, 3]\nlevel = 30");
    assert_eq!(count(&format!("{fall}{spot}")), 1);
    assert_eq!(count(&format!("{fall}[[level]]\npoint = 'a'\nheight = '30 m'\n{spot}")), 3);
}

#[test]
fn each_reading_has_its_words() {
    let text = format!(
        "{LOT}levels = {{ oak = 30, lot.sw = 'EG 29', house.ne = 30.2 }}\n{}{}{}{}{CORNERS}",
        feature(
            "house",
            "dwelling",
            "box = { corner = 'sw', at = [5, 20], size = ['4 m', '3 m'] }\nstatus = 'existing'\nlevels = ['-', 30, 31, '-']"
        ),
        feature("s1", "spot-level", "at = [1, 1]\nlevel = 30"),
        feature("in", "inlet", "at = [2, 1]\nrim = 30\nstatus = 'existing'"),
        feature(
            "wall",
            "wall",
            "line = [[0, 5], [10, 5]]\nstatus = 'existing'\nstations = ['0 m', '4 m']\ntop_levels = [31, 32]\nbottom_levels = ['-', 30]\nhigh_side = 'left'"
        ),
    );
    let plan = plan(&text);
    let (layout, _) = whole(&text);
    let words: Vec<String> = layout
        .ground
        .levels
        .iter()
        .filter_map(|level| Some(layout.owner(level.error.first()?.0)?.describe(&plan)))
        .collect();
    assert_eq!(
        words,
        [
            "level of corner se of house",
            "level of corner ne of house",
            "level of s1",
            "level of the rim of in",
            "level at station 1 of the top of wall",
            "level at station 2 of the top of wall",
            "level at station 2 of the foot of wall",
            "level of oak",
            "level of corner sw of lot",
            "level of corner ne of house",
        ]
    );
}

#[test]
fn the_datum_has_one_name() {
    let datum = |text: &str| whole(text).0.ground.datum;
    assert_eq!(
        datum(&format!("{LOT}{CORNERS}")).as_deref(),
        Some("assumed, 30.00 on the bolt of the hydrant")
    );
    let sheet = LOT.replace("[ground]\ndatum", "[sheet]\ndatum").replace("by = \"levels\"", "");
    assert_eq!(
        datum(&format!("{sheet}{CORNERS}")).as_deref(),
        Some("assumed, 30.00 on the bolt of the hydrant")
    );
    assert_eq!(datum(CORNERS_ONLY).as_deref(), None);
}

const CORNERS_ONLY: &str = "[site]\nname = 'Plot 6, Tern Hollow'\nunits = 'm'\n";

/// Spot levels at places, one for each `(x, y, level)`.
fn spots(levels: &[(f64, f64, &str)]) -> String {
    let one = |(i, (x, y, level)): (usize, &(f64, f64, &str))| {
        feature(&format!("s{i}"), "spot-level", &format!("at = [{x}, {y}]\nlevel = '{level}'"))
    };
    levels.iter().enumerate().map(one).collect()
}

const SOUND: [(f64, f64, &str); 4] =
    [(1.0, 1.0, "30"), (20.0, 1.0, "30.5"), (20.0, 30.0, "31"), (1.0, 30.0, "30.2")];

#[test]
fn two_levels_at_one_place() {
    let with = |more: &[(f64, f64, &str)]| spots(&[&SOUND[..], more].concat());
    odd(&with(&[]), &[]);
    odd(&with(&[(1.0, 1.0, "30.5")]), &["data::two-levels-at-one-place"]);
    odd(&with(&[(1.004, 1.0, "30.5")]), &["data::two-levels-at-one-place"]);
    odd(&with(&[(1.02, 1.0, "30.5")]), &[]);
    // As far apart as two readings may be: 1.96 times the root of two times 0.01 m.
    odd(&with(&[(1.0, 1.0, "30.027")]), &[]);
    odd(&with(&[(1.0, 1.0, "30.029")]), &["data::two-levels-at-one-place"]);
    // Existing and proposed ground may differ; two designs may not, but by the rounding of figures.
    odd(&with(&[(1.0, 1.0, "FG 31")]), &[]);
    odd(&with(&[(1.0, 1.0, "FG 31"), (1.0, 1.0, "FG 31.003")]), &[]);
    odd(&with(&[(1.0, 1.0, "FG 31"), (1.0, 1.0, "FG 31.01")]), &["data::two-levels-at-one-place"]);
}

#[test]
fn levels_in_another_unit() {
    let with = |more: &[(f64, f64, &str)]| spots(&[&SOUND[..], more].concat());
    // 30.5 m written in feet, and the other way round with a sheet in feet below.
    odd(&with(&[(5.0, 5.0, "100.07")]), &["data::level-in-doubt"]);
    odd(&with(&[(5.0, 5.0, "9.3")]), &["data::level-in-doubt"]);
    // Far, and explained by nothing: the figure is asked about all the same, but not where another bears it out.
    odd(&with(&[(5.0, 5.0, "60")]), &["data::level-in-doubt"]);
    odd(&with(&[(5.0, 5.0, "36.5"), (8.0, 5.0, "37")]), &[]);
    // A bank of several metres is no slip.
    odd(&with(&[(5.0, 5.0, "34.5")]), &[]);
    let hundreds: Vec<(f64, f64, &str)> = vec![
        (1.0, 1.0, "100.2"),
        (20.0, 1.0, "100.6"),
        (20.0, 30.0, "101"),
        (1.0, 30.0, "0.6"),
        (9.0, 9.0, "100.1"),
    ];
    odd(&spots(&hundreds), &["data::level-in-doubt"]);
    // Around a datum of zero nothing can be told.
    let zero =
        vec![(1.0, 1.0, "0.2"), (20.0, 1.0, "-0.6"), (20.0, 30.0, "1"), (1.0, 30.0, "3.2"), (9.0, 9.0, "0")];
    odd(&spots(&zero), &[]);
}

/// What is asked of a level, and what to do, in the words of the remark; nothing where nothing is asked.
#[track_caller]
fn asked(units: &str, others: &[&str], level: &str, expected: Option<(&str, &str)>) {
    let places = [(1.0, 1.0), (20.0, 1.0), (20.0, 30.0), (1.0, 30.0)];
    let all = places.iter().zip(others).map(|((x, y), other)| (*x, *y, *other));
    let all: Vec<(f64, f64, &str)> = all.chain([(9.0, 9.0, level)]).collect();
    let text =
        format!("{LOT}{}{CORNERS}", spots(&all)).replace("units = \"m\"", &format!("units = \"{units}\""));
    let (_, remarks) = whole(&text);
    let mut found = remarks.iter().filter(|remark| remark.code == "data::level-in-doubt");
    let Some((question, help)) = expected else {
        assert_eq!(found.next(), None);
        return;
    };
    let remark = found.next().expect("the remark");
    assert_eq!(found.next(), None);
    assert_eq!(remark.about.iter().map(|name| name.0.as_str()).collect::<Vec<_>>(), ["s4"]);
    assert!(remark.message.contains(question), "{}", remark.message);
    let said = remark.help.as_deref().unwrap_or_default();
    assert!(said.starts_with(help), "{said}");
}

#[test]
fn what_is_asked_of_a_level_far_from_the_rest() {
    let high = ["811", "813", "815", "817"];
    let lost = "Has it lost its leading digits?";
    let wrong = "Is one of its leading digits wrong?";
    let same = "Is it of the same ground and datum?";
    let check_it = "Check the figure and the datum";
    for (level, expected) in [
        ("12.4", Some((lost, "Write 812.400 m"))),
        ("16", Some((lost, "Write 816.000 m"))),
        ("4.5", Some((lost, "Write 804.500 m"))),
        ("712.4", Some((wrong, "Write 812.400 m"))),
        ("912.4", Some((wrong, "Write 812.400 m"))),
        ("1813", Some((wrong, "Write 813.000 m"))),
        ("50", Some((same, check_it))),
        ("870", Some((same, check_it))),
        ("-30", Some((same, check_it))),
        ("820", None),
        ("836", None),
    ] {
        asked("m", &high, level, expected);
    }
    asked("m", &["1204", "1206", "1208", "1210"], "206.5", Some((lost, "Write 1206.500 m")));
    asked("m", &["1204", "1206", "1208", "1210"], "6.5", Some((lost, "Write 1206.500 m")));
    // Figures in feet: the hundred is one of feet.
    asked("ft", &["811", "813", "815", "817"], "12.4", Some((lost, "Write 812.40 ft")));
    // Both ways between the units, on a sheet of either.
    let near = ["30", "30.5", "31", "30.2"];
    asked("m", &near, "100.07", Some(("Is it in feet?", "Write 30.50")));
    asked(
        "m",
        &near,
        "9.3",
        Some(("Is it a figure of metres that was written or converted as one of feet?", "Write 30.51")),
    );
    let feet = ["220", "220.5", "221", "220.2"];
    asked("ft", &feet, "67.2", Some(("Is it in metres?", "Write 220.47 ft")));
    asked(
        "ft",
        &feet,
        "220.4 m",
        Some(("Is it a figure of feet that was written or converted as one of metres?", "Write 220.40 ft")),
    );
    // So wide a range says nothing of hundreds.
    asked("m", &["800", "830", "860", "890"], "12.4", Some((same, check_it)));
}

#[test]
fn too_few_levels() {
    odd(&spots(&[(1.0, 1.0, "30")]), &["data::too-few-levels"]);
    odd(&spots(&[(1.0, 1.0, "30"), (20.0, 1.0, "30.5")]), &["data::too-few-levels"]);
    odd(&spots(&[(1.0, 1.0, "30"), (11.0, 1.0, "30.5"), (21.0, 1.1, "30.2")]), &["data::too-few-levels"]);
    odd(&spots(&[(1.0, 1.0, "30"), (11.0, 1.0, "30.5"), (21.0, 2.0, "30.2")]), &[]);
    // A contour with a bend is a surface of its own, if a flat one; a proposed spot needs no more where ground is known.
    odd(&spots(&[&SOUND[..], &[(9.0, 9.0, "FG 31")]].concat()), &[]);
    odd(&spots(&[(9.0, 9.0, "FG 31")]), &["data::too-few-levels"]);
    odd("", &[]);
    let (layout, remarks) = whole(&format!("{LOT}{}{CORNERS}", spots(&[(1.0, 1.0, "30")])));
    let remark = remarks.iter().find(|remark| remark.code == "data::too-few-levels").expect("the remark");
    assert_eq!(
        remark.help.as_deref(),
        Some("Take the level of the ground at `lot.ne`, `lot.nw`, farthest from those known.")
    );
    assert_eq!(remark.spots.len(), 2);
    assert_eq!(layout.ground.levels.len(), 1);
}

#[test]
fn equal_and_distant_levels() {
    let equal: Vec<(f64, f64, &str)> = SOUND.iter().map(|(x, y, _)| (*x, *y, "30")).collect();
    odd(&spots(&equal), &["data::levels-all-equal"]);
    odd(&spots(&[&SOUND[..], &[(55.0, 10.0, "30")]].concat()), &[]);
    odd(&spots(&[&SOUND[..], &[(61.0, 10.0, "30")]].concat()), &["data::level-far-from-lot"]);
    odd(
        &spots(&[&SOUND[..], &[(61.0, 10.0, "30"), (10.0, -50.0, "30")]].concat()),
        &["data::level-far-from-lot"],
    );
}

#[test]
fn what_is_drawn_wrong_has_no_levels() {
    // Crossing outlines, lines without length, vertices at one place, curves that close on themselves.
    for keys in [
        "outline = [[0, 0], [4, 4], [4, 0], [0, 4]]\nlevels = [30, 31, 32, 33]",
        "outline = [[0, 0], [0, 0], [4, 0], [0, 4]]\nlevels = [30, 31, 32, 33]",
        "line = [[1, 1], [1, 1]]\nlevels = [30, 31]",
        "line = [[1, 1], [1, 1], [2, 2]]\nlevels = [30, '-', 31]",
        "line = [[1, 1], [2, 2], [1, 1]]\nlevels = [30, '-', 31]",
        "line = [[1, 1], [2, 2]]\nstations = ['0 m', '0 m']\nlevels = [30, 31]",
    ] {
        for kind in ["patio", "swale", "curb"] {
            let side = if kind == "curb" { "high_side = 'left'\ntop_levels = [33, 33]" } else { "" };
            let side = if keys.matches(',').count() > 3 { "" } else { side };
            let text = format!(
                "{LOT}{}{CORNERS}",
                feature("x", kind, &format!("status = 'existing'\n{keys}\n{side}"))
            );
            let source = groundrule_plan::Source { name: "x.toml".to_owned(), text: text.into() };
            if let Ok(plan) = groundrule_plan::read_plan(&source) {
                let (layout, _) = groundrule_survey::resolve(&plan).expect("it resolves");
                let count = layout.ground.levels.len();
                let in_range = |line: &GroundLine| line.levels.iter().all(|level| (*level as usize) < count);
                assert!(layout.ground.lines.iter().all(in_range), "{keys}");
            }
        }
    }
    check(
        &feature("x", "patio", "outline = [[0, 0], [4, 4], [4, 0], [0, 4]]\nlevels = [30, 31, 32, 33]"),
        &[],
        &[],
    );
}
