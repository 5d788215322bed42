//! What is written becomes the right typed plan.
#![allow(clippy::expect_used, clippy::panic, reason = "a helper of tests fails as a test does")]

mod support;

use groundrule_plan::{
    Accuracy, Anchor, Attribute, Curve, Feature, Geometry, Place, Plan, PointRef, Presence, Role, Status,
    WallRef,
};
use groundrule_units::{Length, SheetUnit};
use support::{fixtures, read, render};

/// The plan of a valid fixture.
fn plan(name: &str) -> Plan {
    let file =
        fixtures("valid").into_iter().find(|file| file.name == format!("{name}.toml")).expect("the fixture");
    read(&file).unwrap_or_else(|faults| panic!("{}", render(&faults)))
}

fn feature<'p>(plan: &'p Plan, id: &str) -> &'p Feature {
    plan.features.iter().find(|feature| feature.id.value.0 == id).expect("the feature")
}

/// A place in a few characters; lengths in the unit given.
fn place(place: &Place, unit: fn(Length) -> f64) -> String {
    let show = |length: Length| {
        format!("{:.3}", unit(length)).trim_end_matches('0').trim_end_matches('.').to_owned()
    };
    match place {
        Place::Near { x, y, .. } => format!("near ({}, {})", show(x.value), show(y.value)),
        Place::At { x, y, .. } => format!("({}, {})", show(x.value), show(y.value)),
        Place::Point(at) => point(at),
        Place::From { base, right, up, .. } => {
            format!("{} + ({}, {})", point(base), show(right.value), show(up.value))
        }
        Place::Along { wall, station, offset, .. } => {
            format!("{} @ {} off {}", self::wall(wall), show(station.value), show(offset.value))
        }
    }
}

fn point(point: &PointRef) -> String {
    match &point.owner {
        Some(owner) => format!("{}.{}", owner.0, point.point.0),
        None => point.point.0.clone(),
    }
}

fn wall(wall: &WallRef) -> String {
    format!("{} -> {}", point(&wall.from), point(&wall.to))
}

fn corners(path: &groundrule_plan::Path) -> Vec<&str> {
    path.vertices.iter().map(|vertex| vertex.corner.as_ref().map_or("-", |name| name.0.as_str())).collect()
}

#[test]
fn places() {
    let plan = plan("every-place-form");
    let points: Vec<String> = plan
        .points
        .iter()
        .map(|point| format!("{} {}", point.name.value.0, place(&point.place, Length::feet)))
        .collect();
    assert_eq!(
        points,
        [
            "pin (0, 0)",
            "same pin",
            "oak house.ne + (12, 3)",
            "elm oak + (-3, -1.5)",
            "tap house.sw -> house.se @ 4 off -0.25",
            "rod pin -> oak @ 4 off 0",
        ]
    );
    assert!(
        matches!(&plan.points[2].by, Some(Accuracy::Own(own)) if own.plus_minus.value == Length::from_inches(2.0))
    );

    let Some(Geometry::Outline { ring, holes }) = &feature(&plan, "pool-deck").geometry else {
        panic!("an outline")
    };
    let vertices: Vec<String> =
        ring.vertices.iter().map(|vertex| place(&vertex.place, Length::feet)).collect();
    assert_eq!(
        vertices,
        ["pin", "(10, 0)", "(10, 10)", "house.sw + (-20, 0)", "lot.nw -> lot.sw @ 50 off 1"]
    );
    assert_eq!(corners(ring), ["pin", "c2", "far", "c4", "c5"]);
    assert!(
        matches!(ring.vertices[2].curve.as_deref(), Some(Curve::Through(at)) if place(at, Length::feet) == "(5, 14)")
    );
    assert!(
        matches!(ring.vertices[3].curve.as_deref(), Some(Curve::Radius { radius, left: true, .. }) if radius.value == Length::from_feet(25.0))
    );
    assert_eq!(holes.len(), 1);
}

#[test]
fn shapes() {
    let plan = plan("every-shape");
    let walk = feature(&plan, "walk");
    assert!(matches!(&walk.geometry, Some(Geometry::Line { path, width: Some(width) })
            if corners(path) == ["c1", "bend", "c3"] && width.value == Length::from_feet(4.0)));
    assert!(
        matches!(&feature(&plan, "tree").geometry, Some(Geometry::Spot(at)) if place(at, Length::feet) == "(6, 10)")
    );
    assert!(matches!(&feature(&plan, "pond").geometry, Some(Geometry::Circle { centre, radius })
            if place(centre, Length::feet) == "tree" && radius.value == Length::from_feet(6.0)));
    let Some(Geometry::Box {
        anchor: Anchor::Corner { corner, place: at, turn },
        width,
        depth,
        sizes_by,
        ..
    }) = &feature(&plan, "bed").geometry
    else {
        panic!("a box by its corner")
    };
    assert_eq!((corner.0.as_str(), place(at, Length::feet).as_str()), ("ne", "house.nw"));
    assert!((turn.degrees() - 10.0).abs() < 1e-9, "anticlockwise is positive");
    assert_eq!((width.value, depth.value), (Length::from_feet(5.0), Length::from_feet(8.0)));
    assert!(sizes_by.is_some());
    let Some(Geometry::Box { anchor: Anchor::Wall { wall: along, station, offset, left }, .. }) =
        &feature(&plan, "bench").geometry
    else {
        panic!("a box along a wall")
    };
    assert_eq!(wall(along), "house.se -> house.ne");
    assert_eq!(
        (station.value, offset.value, *left),
        (Length::from_feet(4.0), Length::from_inches(6.0), false)
    );
    let gate = feature(&plan, "gate");
    assert!(gate.geometry.is_none(), "some things are only stated");
    let stated: Vec<(&str, &Attribute)> =
        gate.attributes.iter().map(|(name, attribute)| (name.0.as_str(), &attribute.value)).collect();
    assert!(
        matches!(&stated[..], [("clear_opening", Attribute::Length(width))] if width.value == Length::from_inches(34.0))
    );
    let stepped = feature(&plan, "stepped-fence");
    let lists: Vec<(&str, Vec<f64>)> = stepped
        .attributes
        .iter()
        .filter_map(|(name, attribute)| match &attribute.value {
            Attribute::Lengths(lengths) => {
                Some((name.0.as_str(), lengths.iter().map(|it| it.value.feet()).collect()))
            }
            _ => None,
        })
        .collect();
    assert_eq!(
        lists,
        [
            ("heights", vec![6.0, 5.5, 5.0]),
            ("low_heights", vec![6.0, 6.5, 7.0]),
            ("stations", vec![0.0, 24.0, 40.0])
        ]
    );
    assert_eq!(feature(&plan, "fence").status.as_ref().map(|status| status.value), Some(Status::Proposed));
    assert!(feature(&plan, "bed").status.is_none());
}

/// The sides of the first lot: name, first and last corner, role.
fn sides(plan: &Plan) -> Vec<(&str, usize, usize, Option<Role>)> {
    let sides = plan.lots[0].sides.iter();
    sides
        .map(|side| (side.name.0.as_str(), side.from, side.until, side.role.as_ref().map(|role| role.value)))
        .collect()
}

#[test]
fn sides_of_lots() {
    assert_eq!(
        sides(&plan("lot-and-house")),
        [
            ("sw-se", 0, 1, Some(Role::Front)),
            ("se-ne", 1, 2, None),
            ("ne-nw", 2, 3, Some(Role::Rear)),
            ("nw-sw", 3, 0, None)
        ]
    );
    assert_eq!(
        sides(&plan("side-over-several-edges")),
        [
            ("sw-se", 0, 2, Some(Role::Front)),
            ("se-ne", 2, 3, None),
            ("ne-nw", 3, 4, Some(Role::Rear)),
            ("nw-sw", 4, 0, None)
        ]
    );
    let hyphens = plan("corner-names-with-hyphens");
    assert_eq!(sides(&hyphens)[0], ("south-west-south-east", 0, 1, Some(Role::Front)));
    assert_eq!(place(&hyphens.points[0].place, Length::feet), "lot.south-west -> lot.south-east @ 4 off 0");
}

#[test]
fn a_ring_closed_by_hand_is_not_repeated() {
    let plan = plan("ring-closed-by-hand");
    let Some(Geometry::Outline { ring, .. }) = &feature(&plan, "shed").geometry else { panic!("an outline") };
    assert_eq!(corners(ring), ["c1", "c2", "c3", "c4"]);
}

#[test]
fn facts_of_the_site() {
    let plan = plan("metric");
    let site = &plan.site;
    assert_eq!((site.name.as_str(), site.units), ("Sorrel Yard", SheetUnit::Metres));
    let north = site.north.as_ref().expect("north is given");
    assert!((north.clockwise_of_up.degrees() + 12.0).abs() < 1e-9);
    assert!((site.latitude.expect("given").degrees() - 45.1).abs() < 1e-12);
    assert!((site.longitude.expect("given").degrees() + 93.2).abs() < 1e-12);
    assert_eq!((site.filed.as_deref(), site.permit.as_deref()), (Some("2026-05-01"), Some("fence")));
    assert_eq!(site.overlays, ["heritage"]);
    assert!(matches!(&site.by, Some(Accuracy::Class(class)) if class.value.0 == "survey"));
    let class = plan.accuracy.values().next().expect("one class");
    assert_eq!(class.plus_minus.value, Length::from_metres(0.02));
    let lots: Vec<&str> = plan.lots.iter().map(|lot| lot.id.value.0.as_str()).collect();
    assert_eq!(lots, ["east", "west"]);
    let area = plan.lots[0].stated_area.as_ref().expect("stated");
    assert!((area.value.value.square_metres() - 448.0).abs() < 1e-9);
    assert_eq!(plan.sheet.date.as_ref().map(|date| date.value.as_str()), Some("2026-04-18"));
    assert_eq!(plan.sheet.scale.as_ref().map(|scale| scale.value.text.as_str()), Some("1:200"));
}

/// Everything the sheet states, one to a line.
fn stated(plan: &Plan) -> Vec<String> {
    let shown = |attribute: &Attribute| match attribute {
        Attribute::Length(length) => format!("{:.4} m", length.value.metres()),
        Attribute::Area(area) => format!("{:.4} m2", area.value.square_metres()),
        Attribute::Ratio(ratio) => format!("{:.4}", ratio.value.fraction()),
        Attribute::Number(number) => format!("{:.4}", number.fraction()),
        Attribute::Flow(flow) => format!("{:.4} m3/s", flow.value.cubic_metres_per_second()),
        Attribute::Speed(speed) => format!("{:.7} m/s", speed.value.metres_per_second()),
        Attribute::Time(time) => format!("{:.4} s", time.value.seconds()),
        Attribute::Count(count) => count.to_string(),
        Attribute::Flag(flag) => flag.to_string(),
        Attribute::Text(text) => text.clone(),
        Attribute::Level(level) => format!("{:.4} m", level.value.height.metres()),
        Attribute::Levels(levels) => format!("{} levels", levels.len()),
        Attribute::Lengths(lengths) => {
            let metres: Vec<String> = lengths.iter().map(|it| format!("{:.4}", it.value.metres())).collect();
            format!("{} m", metres.join(" "))
        }
    };
    plan.sheet.attributes.iter().map(|(name, it)| format!("{}: {}", name.0, shown(&it.value))).collect()
}

#[test]
fn the_sheet() {
    let plan = plan("full-sheet");
    let sheet = &plan.sheet;
    assert_eq!(sheet.scale.as_ref().map(|scale| scale.value.value.denominator().fraction()), Some(240.0));
    let checked = sheet.checked.as_ref().expect("a checked length");
    assert_eq!(checked.said.value, Length::from_feet(100.0));
    assert_eq!(checked.on_paper.value, Length::from_inches(6.25));
    let arrow = sheet.arrow.as_ref().expect("an arrow");
    assert!((arrow.clockwise_of_up.degrees() + 90.0).abs() < 1e-9, "{arrow:?}");
    let (width, height) = &sheet.size.as_ref().expect("a size").value;
    assert_eq!((width.text.as_str(), height.text.as_str()), ("24 in", "18 in"));
    assert_eq!(
        stated(&plan),
        [
            "address: 12 Heron Lane",
            "building_coverage: 0.2020",
            "contour_interval: 0.3048 m",
            "datum: rim of the manhole, 100.00",
            "drainage_arrows: true",
            "erosion_control: true",
            "ground_slope: 0.0200",
            "hard_surface: 0.2910",
            "landscape_area: 92.9030 m2",
            "legend: true",
            "owner: the owner",
            "parcel: 02-003",
            "record_description: Lot 3, Block 2, Sorrel Addition",
            "revision: B",
            "right_of_way: 18.2880 m",
            "roof_water: to the rain garden",
            "scale_bar: true",
            "seal: false",
            "setback_lines: true",
            "vicinity_map: true",
            "water_counted: false",
            "zone_standards: true",
        ]
    );
    assert_eq!(sheet.drawn_by.as_ref().map(|by| by.value.as_str()), Some("A. Student"));
    let text = plan.source.text.get(sheet.span.start as usize..).unwrap_or_default();
    assert!(text.starts_with("[sheet]"), "the sheet has its place: {text}");
}

#[test]
fn declarations() {
    let file = support::source("example.toml", include_str!("../docs/example.toml"));
    let plan = read(&file).expect("the example reads");
    let said: Vec<_> = plan
        .declared
        .iter()
        .map(|(subject, said)| (subject.0.as_str(), said.presence, said.said_by.as_deref()))
        .collect();
    assert_eq!(
        said,
        [("easements", Presence::None, None), ("overhead_wires", Presence::Unknown, Some("owner"))]
    );
}

#[test]
fn spans_point_at_what_was_written() {
    let file = support::source("example.toml", include_str!("../docs/example.toml"));
    let plan = read(&file).expect("the example reads");
    let text = |span: groundrule_plan::Span| &file.text[span.start as usize..span.end as usize];
    let house = feature(&plan, "house");
    assert_eq!(
        (text(house.id.span), text(house.kind.span), text(house.span)),
        ("\"house\"", "\"dwelling\"", "[[feature]]")
    );
    let eave = house.attributes.values().next().expect("an eave");
    assert_eq!(text(eave.span), "\"2 ft\"");
    assert_eq!(text(plan.points[0].name.span), "tap");
    assert_eq!(text(plan.lots[0].sides[0].span), "sw-se");
}

fn level(level: &groundrule_plan::At<groundrule_units::Written<groundrule_units::Level>>) -> String {
    let groundrule_units::Level { term, height } = level.value.value;
    let term = term.map(|term| format!("{} ", term.short())).unwrap_or_default();
    format!("{term}{:.2}", height.feet())
}

#[test]
fn levels() {
    let plan = plan("levels");
    let ground = &plan.ground;
    assert_eq!(
        ground.datum.as_ref().map(|datum| datum.value.as_str()),
        Some("assumed, 100.00 on the bolt of the hydrant")
    );
    assert!(matches!(&ground.by, Some(Accuracy::Class(class)) if class.value.0 == "builders_level"));
    assert_eq!(ground.not_ground.iter().map(point).collect::<Vec<_>>(), ["bm", "sill"]);
    let marks: Vec<String> =
        ground.levels.iter().map(|mark| format!("{} {}", point(&mark.point), level(&mark.level))).collect();
    assert_eq!(
        marks,
        ["house.ne FG 100.40", "house.nw 100.60", "oak EG 99.80", "oak FG 100.10", "lot.sw 98.50"]
    );
    let stated: Vec<String> = plan
        .features
        .iter()
        .flat_map(|feature| feature.attributes.iter().map(move |(name, it)| (feature, name, &it.value)))
        .filter_map(|(feature, name, attribute)| {
            let levels = match attribute {
                Attribute::Level(it) => {
                    level(&groundrule_plan::At { value: it.clone(), span: groundrule_plan::Span::default() })
                }
                Attribute::Levels(list) => {
                    let each = list.iter().map(|it| it.as_ref().map_or("-".to_owned(), level));
                    each.collect::<Vec<_>>().join(", ")
                }
                _ => return None,
            };
            Some(format!("{}.{}: {levels}", feature.id.value.0, name.0))
        })
        .collect();
    assert_eq!(
        stated,
        [
            "house.floor_level: FF 102.00",
            "house.foundation_level: 101.20",
            "house.levels: FG 100.50, FG 100.45, -, EG 100.39",
            "house.siding_level: 101.40",
            "walk.levels: 99.00, 99.25",
            "wall.bottom_levels: BW 98.50, BW 98.70",
            "wall.top_levels: TW 101.50, TW 101.50",
            "wall.upper_levels: 101.00, -",
            "c99.level: EG 99.00",
            "s1.level: HP 99.40",
            "swale.levels: FL 99.50, FL 97.50",
            "inlet.invert: INV 95.90",
            "inlet.rim: RIM 97.40",
            "curb.levels: FL 97.00, FL 96.50",
            "curb.top_levels: TC 97.50, TC 97.00",
            "top.levels: 99.20, -, 99.60",
        ]
    );
}
