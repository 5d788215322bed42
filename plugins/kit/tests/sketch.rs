//! The sketch measures what its rectangles say. Every expected number is worked out by hand on squared paper.

use groundrule_kit::{
    Amounts as _, Areas as _, Distances as _, Enclosures as _, Exact, Facts as _, Feature, Length, Place,
    Ratio, Rect, Regions as _, Shape, Sketch, Widths as _,
};

/// A lot of 20 by 30, a house, a porch that reaches 1 into the house, a fence, a post and a stated tank.
fn sheet() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 30.0))
        .feature("house", "structure/dwelling", Rect::metres(4.0, 8.0, 14.0, 18.0))
        .on("lot")
        .feature("porch", "structure/porch", Rect::metres(6.0, 5.0, 10.0, 9.0))
        .on("lot")
        .feature("fence", "structure/fence", Rect::metres(18.0, 2.0, 18.0, 22.0))
        .on("lot")
        .feature("post", "mark", Rect::metres(17.0, 22.0, 17.0, 22.0))
        .undrawn("tank", "septic/septic-tank")
}

fn numbers(amounts: &[Exact]) -> Vec<Option<f64>> {
    amounts.iter().map(|amount| (!amount.lacks()).then(|| amount.value().si())).collect()
}

#[test]
fn two_features() {
    let sheet = sheet();
    let check = |a: &str, b: &str, between: f64, clearance: f64, shared: f64| {
        let pair = [(sheet.id(a), sheet.id(b))];
        let found = [sheet.between(&pair), sheet.clearance(&pair), sheet.overlap(&pair)].concat();
        assert_eq!(numbers(&found), [Some(between), Some(clearance), Some(shared)], "{a} {b}");
    };
    check("house", "fence", 4.0, 4.0, 0.0);
    check("house", "porch", 0.0, -1.0, 4.0);
    check("house", "post", 5.0, 5.0, 0.0);
    check("fence", "post", 1.0, 1.0, 0.0);
    check("house", "lot", 0.0, -14.0, 100.0);
    let unknown = [(sheet.id("house"), sheet.id("tank"))];
    assert_eq!(numbers(&sheet.between(&unknown)), [None]);
}

#[test]
fn one_feature() {
    let sheet = sheet();
    let check = |name: &str, shape: Shape, area: Option<f64>, length: Option<f64>, width: Option<f64>| {
        let of = [sheet.id(name)];
        assert_eq!(sheet.shapes(&of), [shape], "{name}");
        let found = [sheet.area(&of), sheet.length(&of), sheet.drawn_width(&of)].concat();
        assert_eq!(numbers(&found), [area, length, width], "{name}");
    };
    check("porch", Shape::Outline, Some(16.0), Some(16.0), Some(4.0));
    check("fence", Shape::Line, Some(0.0), Some(20.0), Some(0.0));
    check("post", Shape::Spot, Some(0.0), Some(0.0), Some(0.0));
    check("tank", Shape::Absent, None, None, None);
}

#[test]
fn what_features_cover_together() {
    let sheet = sheet();
    let check = |names: &[&str], within: Option<&str>, expected: Option<f64>| {
        let of: Vec<Feature> = names.iter().map(|name| sheet.id(name)).collect();
        let covered = sheet.covered(&of, within.map(|name| sheet.id(name)));
        assert_eq!(numbers(&[covered]), [expected], "{names:?} {within:?}");
    };
    check(&["house", "porch"], None, Some(112.0));
    check(&["house", "porch"], Some("porch"), Some(16.0));
    check(&[], Some("lot"), Some(0.0));
    check(&["house", "tank"], None, None);
}

#[test]
fn yards_and_facing_lines() {
    let sheet = sheet().feature("shed", "shed", Rect::metres(-1.0, 24.0, 3.0, 28.0)).on("lot");
    let check = |of: &str, line: &str, expected: f64| {
        let yard = sheet.yard(&[(sheet.id(of), sheet.id(line))]);
        assert_eq!(numbers(&yard), [Some(expected)], "{of} {line}");
    };
    check("house", "lot.s", 8.0);
    check("house", "lot.e", 6.0);
    check("house", "lot.n", 12.0);
    check("house", "lot.w", 4.0);
    check("shed", "lot.w", -1.0);
    check("shed", "lot.n", 2.0);
    let faced = sheet.facing(&[sheet.id("house"), sheet.id("tank")]);
    let names: Vec<Option<&str>> = faced[0].iter().map(|line| Some(sheet.name((*line)?))).collect();
    assert_eq!(names, [Some("lot.s"), Some("lot.e"), Some("lot.n"), Some("lot.w")]);
    assert!(faced[1].is_empty());
}

#[test]
fn near_leaves_out_itself_and_what_is_not_drawn() {
    let sheet = sheet();
    let all = [sheet.id("house"), sheet.id("fence"), sheet.id("tank")];
    let near = |metres| sheet.near(&all, &all, Length::from_metres(metres)).len();
    assert_eq!((near(3.9), near(4.0)), (0, 2));
}

#[test]
fn outlines_and_lengths_inside() {
    let sheet = sheet();
    let at = |x, y| Place { x: Length::from_metres(x), y: Length::from_metres(y) };
    assert_eq!(sheet.outline(sheet.id("fence")), [at(18.0, 2.0), at(18.0, 22.0)]);
    assert_eq!(sheet.outline(sheet.id("post")), [at(17.0, 22.0)]);
    assert_eq!(sheet.outline(sheet.id("porch")), [at(6.0, 5.0), at(10.0, 5.0), at(10.0, 9.0), at(6.0, 9.0)]);
    assert!(sheet.outline(sheet.id("tank")).is_empty());
    let band = sheet.feature("band", "easement", Rect::metres(0.0, 20.0, 20.0, 25.0));
    let inside = band.length_inside(&[(band.id("fence"), band.id("band"))]);
    assert_eq!(numbers(&inside), [Some(2.0)]);
}

#[test]
fn arithmetic() {
    let sheet = sheet();
    let metres = |value: f64| Exact::new(Length::from_metres(value));
    let (two, three, none) = (metres(2.0), metres(3.0), metres(0.0));
    assert_eq!(sheet.add(&[(&two, &three)]), [metres(5.0)]);
    assert_eq!(sheet.subtract(&[(&two, &three)]), [metres(-1.0)]);
    assert_eq!(sheet.scale(&[(&two, 1.5)]), [three]);
    let half_more = Exact::new(Ratio::from_fraction(1.5));
    assert_eq!(sheet.ratio(&[(&three, &two), (&three, &none)]), [Some(half_more), None]);
    assert_eq!(sheet.sum(&[&two, &three, &two]), Some(metres(7.0)));
    assert_eq!((sheet.least(&[&three, &two]), sheet.greatest(&[&three, &two])), (Some(two), Some(three)));
    assert_eq!((sheet.sum(&[]), sheet.least(&[]), sheet.greatest(&[])), (None, None, None));
}

#[test]
fn feet_are_international() {
    let sheet = Sketch::new().feature("bed", "bed", Rect::feet(0.0, 0.0, 10.0, 5.0));
    assert_eq!(numbers(&sheet.drawn_width(&[sheet.id("bed")])), [Some(5.0 * 0.3048)]);
}

#[test]
fn places_it_makes_and_places_handed_in() {
    let metres = Length::from_metres;
    let sheet = sheet()
        .region(&["house"], Rect::metres(3.0, 7.0, 15.0, 19.0))
        .region(&["lot.s", "lot.e"], Rect::metres(15.0, 0.0, 20.0, 5.0))
        .region(&["porch", "lot.s"], Rect::metres(4.0, 0.0, 6.0, 2.0))
        .region(&["porch", "lot.s"], Rect::metres(10.0, 0.0, 12.0, 2.0));
    let [lot, house, porch] = ["lot", "house", "porch"].map(|name| sheet.id(name));
    let lines = ["lot.s", "lot.e", "lot.n", "lot.w"].map(|name| sheet.id(name));
    let pairs: Vec<_> = lines.into_iter().zip([lines[1], lines[2], lines[3], lines[0]]).collect();
    assert_eq!(sheet.lot_corners(&[lot, house]), [pairs.clone(), Vec::new()]);

    let strips: Vec<Feature> = sheet.strip(&lines, metres(3.0)).into_iter().flatten().collect();
    assert_eq!(numbers(&sheet.area(&strips)), [60.0, 90.0, 60.0, 90.0].map(Some));
    assert_eq!(numbers(&[sheet.covered(&strips, Some(lot))]), [Some(600.0 - 14.0 * 24.0)]);
    assert_eq!(sheet.strip(&[house, lines[0]], Length::ZERO), [None, None]);
    assert_eq!(sheet.is_a(&strips[..1], "region"), [true]);
    assert_eq!(sheet.lot_of(&strips[..1]), [Some(lot)]);

    let around = sheet.around(&[house, porch], metres(1.0), true);
    assert_eq!(around[1], None, "nobody handed that in");
    assert_eq!(numbers(&sheet.area(&[around[0].expect("it was handed in")])), [Some(144.0)]);
    let corners = sheet.corner_sight(&pairs, metres(5.0), metres(5.0), false);
    assert_eq!(corners.iter().map(Option::is_some).collect::<Vec<_>>(), [true, false, false, false]);
    assert_eq!(sheet.drive_sight(&[(porch, lines[0])], metres(2.0), metres(2.0))[0].len(), 2);
    assert_eq!(sheet.drive_sight(&[(porch, lines[0])], metres(2.0), Length::ZERO), [[]]);
}

#[test]
fn lists_and_rings() {
    let feet = Length::from_feet;
    let sheet = sheet()
        .feature("pool", "pool", Rect::feet(10.0, 70.0, 30.0, 80.0))
        .feature("wall", "wall", Rect::feet(0.0, 60.0, 40.0, 60.0))
        .stating_each("heights", &[feet(6.0), feet(5.0)])
        .opening("pool", feet(2.0), &["fence", "wall"]);
    let [pool, wall, fence] = ["pool", "wall", "fence"].map(|name| sheet.id(name));
    assert_eq!(
        sheet.stated_each(&[wall, pool], "heights"),
        [vec![Exact::new(feet(6.0)), Exact::new(feet(5.0))], vec![]]
    );
    let ring = sheet.widest_opening(pool, &[wall, sheet.id("house"), fence]).expect("it was handed in");
    assert_eq!((ring.opening, ring.pieces), (Exact::new(feet(2.0)), vec![fence, wall]));
    assert_eq!(sheet.widest_opening(pool, &[fence]), None, "not with half of it");
    assert_eq!(sheet.widest_opening(wall, &[fence]), None);
}
