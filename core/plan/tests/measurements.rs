//! What is written of measurements becomes the right typed plan.
#![allow(clippy::expect_used, clippy::panic, reason = "a helper of tests fails as a test does")]

mod support;

use groundrule_plan::{
    Accuracy, At, ClassOrigin, Course, Fact, FallReading, Lengths, Name, OfEach, Place, Plan, PointRef,
    Reading, Sight, TieSide, Turn, WallRef,
};
use groundrule_units::{Length, Written};
use support::{fixtures, read, render, source};

/// The plan of a valid fixture.
fn plan(name: &str) -> Plan {
    let file =
        fixtures("valid").into_iter().find(|file| file.name == format!("{name}.toml")).expect("the fixture");
    read(&file).unwrap_or_else(|faults| panic!("{}", render(&faults)))
}

fn feet(length: &At<Written<Length>>) -> String {
    format!("{:.3}", length.value.value.feet()).trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn point(point: &PointRef) -> String {
    match &point.owner {
        Some(owner) => format!("{}.{}", owner.0, point.point.0),
        None => point.point.0.clone(),
    }
}

fn wall(wall: &WallRef) -> String {
    format!("{}>{}", point(&wall.from), point(&wall.to))
}

fn lengths(lengths: &Lengths) -> String {
    let measured = lengths.measured.as_ref().map(|length| format!(" M {}", feet(length)));
    let record = lengths.record.as_ref().map(|length| format!(" R {}", feet(length)));
    format!("{}{}", measured.unwrap_or_default(), record.unwrap_or_default())
}

fn reading(reading: &Reading) -> String {
    match reading {
        Reading::Chain(chain) => {
            let pieces = chain.pieces.iter().map(|piece| {
                format!(
                    " {} {}",
                    feet(&piece.length),
                    piece.to.as_ref().map_or_else(|| "-".to_owned(), point)
                )
            });
            format!(
                "{}{}{}{} overall{}",
                point(&chain.start),
                pieces.collect::<String>(),
                if chain.running { " running" } else { "" },
                match (&chain.along, chain.abreast) {
                    (Some(along), _) => format!(" along {}", wall(along)),
                    (None, true) => " abreast".to_owned(),
                    (None, false) => String::new(),
                },
                lengths(&chain.overall)
            )
        }
        Reading::Offsets(offsets) => {
            let points = offsets
                .points
                .iter()
                .map(|it| format!(" {} {} {}", point(&it.point), feet(&it.station), feet(&it.offset)));
            format!("{}{}", wall(&offsets.along), points.collect::<String>())
        }
        Reading::Tie(tie) => {
            let from = tie.from.iter().map(|(from, length)| format!(" {} {}", point(from), feet(length)));
            let side = match tie.side.as_ref().map(|side| &side.value) {
                None => "anywhere".to_owned(),
                Some(TieSide::Sheet(side)) => format!("{side:?}"),
                Some(TieSide::Ground(bearing)) => format!("{:.0} deg", bearing.azimuth().degrees()),
                Some(TieSide::LeftOf(along)) => format!("left of {}", wall(along)),
                Some(TieSide::RightOf(along)) => format!("right of {}", wall(along)),
                Some(TieSide::Near { x, y }) => format!("near {} {}", x.value.feet(), y.value.feet()),
            };
            format!("{}{} {side}", point(&tie.point), from.collect::<String>())
        }
        Reading::Traverse(traverse) => {
            let calls = traverse.calls.iter().map(|call| match &call.course {
                Course::Straight { bearing, distance } => {
                    format!(
                        " {:.1} deg {} {}",
                        bearing.value.value.azimuth().degrees(),
                        feet(distance),
                        point(&call.to)
                    )
                }
                Course::Curve { curve, left, chord_bearing } => format!(
                    " R {:.1} {} {} {}",
                    curve.value.radius.feet(),
                    if *left { "left" } else { "right" },
                    chord_bearing.as_ref().map_or(-1.0, |chord| chord.value.value.azimuth().degrees()),
                    point(&call.to)
                ),
            });
            format!("{}{}", point(&traverse.start), calls.collect::<String>())
        }
        Reading::Distance(distance) => {
            format!("{} {}{}", point(&distance.from), point(&distance.to), lengths(&distance.length))
        }
        Reading::Angle(angle) => {
            let turn = match angle.turn.value {
                Turn::Said(angle) => format!("said {:.1}", angle.degrees()),
                Turn::Between(angle) => format!("between {:.1}", angle.degrees()),
            };
            format!("{} {} {} {turn}", point(&angle.at), point(&angle.from), point(&angle.to))
        }
        Reading::Fact(Fact::Square(thing)) => format!("square {}", thing.value.0),
        Reading::Fact(Fact::RightAngle { at, arms }) => {
            let arms = arms.as_ref().map(|(from, to)| format!(" {} {}", point(from), point(to)));
            format!("right {}{}", point(at), arms.unwrap_or_default())
        }
        Reading::Fact(Fact::Parallel(a, b)) => format!("parallel {} {}", wall(a), wall(b)),
        Reading::Fact(Fact::Equal(a, b)) => format!("equal {} {}", wall(a), wall(b)),
        Reading::Fact(Fact::Straight(points)) => {
            format!("straight {}", points.iter().map(point).collect::<Vec<_>>().join(" "))
        }
        Reading::Height(height) => format!("{} at {}", point(&height.point), feet(&height.height)),
        Reading::Fall(fall) => {
            let falls = match &fall.fall {
                FallReading::Height(height) => feet(height),
                FallReading::Slope { slope, run } => {
                    let run = run.as_ref().map_or_else(|| "-".to_owned(), feet);
                    format!("{:.1} % over {run}", slope.value.value.percent())
                }
            };
            format!("{} {} {falls}", point(&fall.from), point(&fall.to))
        }
        Reading::LevelRun(run) => {
            let sight = |sight: &Sight| {
                let one = |read: &Option<At<Written<Length>>>| read.as_ref().map_or("-".to_owned(), feet);
                format!("{} F {} B {}", point(&sight.point), one(&sight.fore), one(&sight.back))
            };
            run.sights.iter().map(sight).collect::<Vec<_>>().join(", ")
        }
    }
}

fn by(accuracy: Option<&Accuracy>) -> String {
    match accuracy {
        None => String::new(),
        Some(Accuracy::Class(name)) => format!(" by {}", name.value.0),
        Some(Accuracy::Own(class)) => format!(" by {}", class.plus_minus.text),
    }
}

#[test]
fn every_measurement() {
    let plan = plan("every-measurement");
    let read: Vec<String> = plan
        .measurements
        .iter()
        .map(|it| format!("{}: {}{}", it.id.0, reading(&it.reading), by(it.by.as_ref())))
        .collect();
    let expected = [
        "chain-sw-se: sw 10 house.sw 18 - 22 house.se 12 se abreast overall M 61.8 R 62",
        "chain-sw-se-2: sw 12 drive.w 21.5 drive.e 61.5 se running along sw>se overall by paces",
        "chain-se-ne: se 118 ne along se>ne overall",
        "chain-ne-nw: ne 0.5 - 60.5 nw overall by photo",
        "west: sw 118 nw overall by 3 in",
        "chain-house-sw-ne: house.sw 34 house.nw 40 house.ne overall",
        "offsets-house-nw-ne: house.nw>house.ne bed.a 12 6 bed.b 18 7 pin 20 0 by tape",
        "tie-oak: oak house.ne 36.1 pin 20 house.nw 31.6 0 deg by tape",
        "tie-elm: elm house.ne 18 house.nw 29 near 44 80 by steel_tape",
        "tie-ash: ash house.ne 18 house.nw 29 left of house.nw>house.ne",
        "tie-fir: fir house.ne 18 house.nw 29 Up",
        "traverse-sw: sw 4.5 deg 132 nw R 25.0 left 45 curb R 25.0 right -1 kerb 184.5 deg 76.6 sw by deed",
        "distance-sw-ne: sw ne M 133.3",
        "distance-sw-ne-2: sw ne R 133.4",
        "angle-b: b a c said -91.5 by tape",
        "angle-b-2: b a oak between 88.5",
        "square-house: square house",
        "right-angle-house-ne: right house.ne by eye",
        "right-angle-b: right b a oak",
        "parallel-house-sw-se: parallel house.sw>house.se lot.sw>lot.se",
        "straight-a-c: straight a b c",
        "equal-house-sw-ne: equal house.sw>house.ne house.se>house.nw",
        "level-bm: bm at 100",
        "level-house-sw: house.sw at 101.2 by hand_level",
        "level-house-sw-sw: house.sw sw 0.333",
        "level-bm-oak: bm oak -0.333",
        "level-a-b: a b 2.0 % over 10",
        "level-run-bm-house-ne: bm F - B 4.32, tp F 5.1 B 3.21, side-shot F 2 B -, house.ne F 2.2 B - by builders_level",
    ];
    for (read, expected) in read.iter().zip(expected) {
        assert_eq!(read, expected);
    }
    assert_eq!(read.len(), expected.len());
}

#[test]
fn measured_corners_have_their_names() {
    let plan = plan("every-measurement");
    let corners = |id: &str| -> Vec<String> {
        let feature = plan.features.iter().find(|feature| feature.id.value.0 == id).expect("the feature");
        let Some(groundrule_plan::Geometry::Outline { ring, .. }) = &feature.geometry else {
            panic!("an outline")
        };
        ring.vertices.iter().map(|vertex| vertex.corner.clone().expect("a name").0).collect()
    };
    assert_eq!(corners("house"), ["sw", "se", "ne", "nw"]);
    assert_eq!(corners("drive"), ["w", "e", "c3", "c4"]);
    assert_eq!(corners("bed"), ["a", "b", "pin"]);
    let sides: Vec<&str> = plan.lots[0].sides.iter().map(|side| side.name.0.as_str()).collect();
    assert_eq!(sides, ["sw-se", "se-ne", "ne-nw", "nw-sw"]);
    assert!(matches!(&plan.points[0].place, Place::Near { x, y, .. }
        if x.value == Length::from_feet(26.0) && y.value == Length::from_feet(87.0)));
}

/// A class of the fixture: plus-or-minus in feet, of each, percent of the length, degrees, and its standing.
fn class(plan: &Plan, name: &str) -> (f64, OfEach, f64, f64, Option<&'static str>) {
    let class = plan.accuracy.get(&Name(name.to_owned())).unwrap_or_else(|| panic!("the class {name}"));
    let round = |value: f64| (value * 1e4).round() / 1e4;
    let standing = match class.origin {
        ClassOrigin::Plan => None,
        ClassOrigin::Usual { standing } => Some(standing),
    };
    (
        round(class.plus_minus.value.feet()),
        class.of_each,
        round(class.of_length.percent()),
        round(class.angle.degrees()),
        standing,
    )
}

#[test]
fn classes() {
    let plan = plan("every-measurement");
    let names: Vec<&str> = plan.accuracy.keys().map(|name| name.0.as_str()).collect();
    assert_eq!(
        names,
        ["aerial", "builders_level", "deed", "eye", "hand_level", "paces", "photo", "steel_tape", "tape"],
        "those of the plan, and the usual ones that it names"
    );
    // Short, over a usual class: what is left out is as usual.
    assert_eq!(class(&plan, "aerial"), (1.0, OfEach::Position, 0.0, 2.0, None));
    assert_eq!(class(&plan, "tape"), (0.0417, OfEach::Length, 0.1, 1.0, None));
    assert_eq!(class(&plan, "photo"), (2.0, OfEach::Position, 0.0, 0.0, None));
    assert_eq!(class(&plan, "paces"), (0.0, OfEach::Length, 3.0, 0.0, None));
    assert_eq!(class(&plan, "eye"), (1.0, OfEach::Length, 10.0, 3.0, Some("common practice")));
    assert_eq!(class(&plan, "deed"), (0.5, OfEach::Length, 0.1, 0.5, Some("from memory")));
}

/// The side of a tie as it is understood.
fn side(written: &str) -> String {
    let text = format!(
        "[site]\nname = \"Wren Corner\"\nunits = \"ft\"\n[points]\na-b = [0, 0]\nc = [9, 0]\n\
         [[tie]]\npoint = \"oak\"\nfrom = {{ a-b = 9, c = 9 }}\nside = \"{written}\"\n"
    );
    let plan = read(&source("plan.toml", &text)).unwrap_or_else(|faults| panic!("{}", render(&faults)));
    match &plan.measurements[0].reading {
        Reading::Tie(tie) => match tie.side.as_ref().map(|side| &side.value) {
            Some(TieSide::Ground(bearing)) => format!("{:.0}", bearing.azimuth().degrees()),
            Some(TieSide::Sheet(side)) => format!("{side:?}"),
            Some(TieSide::LeftOf(along)) => format!("left of {}", wall(along)),
            Some(TieSide::RightOf(along)) => format!("right of {}", wall(along)),
            other => panic!("{other:?}"),
        },
        other => panic!("{other:?}"),
    }
}

#[test]
fn sides_of_ties() {
    for (written, expected) in [
        ("north", "0"),
        ("North-East", "45"),
        ("east", "90"),
        ("south east", "135"),
        ("S", "180"),
        ("southwest", "225"),
        ("west", "270"),
        ("nw", "315"),
        ("up", "Up"),
        ("up of the sheet", "Up"),
        ("down the sheet", "Down"),
        ("left on the sheet", "Left"),
        ("Right of the Sheet", "Right"),
        ("left of a-b-c", "left of a-b>c"),
        (" right of a-b-c ", "right of a-b>c"),
    ] {
        assert_eq!(side(written), expected, "{written}");
    }
}

#[test]
fn spans_of_measurements_point_at_what_was_written() {
    let file = fixtures("valid")
        .into_iter()
        .find(|file| file.name == "every-measurement.toml")
        .expect("the fixture");
    let plan = read(&file).expect("it reads");
    let text = |span: groundrule_plan::Span| &file.text[span.start as usize..span.end as usize];
    assert!(plan.measurements.windows(2).all(|two| two[0].span < two[1].span), "file order");
    assert_eq!(text(plan.measurements[0].span), "[[chain]]");
    let Reading::Chain(chain) = &plan.measurements[0].reading else { panic!("a chain") };
    assert_eq!((text(chain.start.span), text(chain.pieces[1].length.span)), ("\"sw\"", "18"));
    let Reading::Tie(tie) = &plan.measurements[7].reading else { panic!("a tie") };
    assert_eq!((text(tie.from[0].0.span), text(tie.from[0].1.span)), ("ne", "\"36.1 ft\""));
    assert_eq!(tie.side.as_ref().map(|side| text(side.span)), Some("\"north\""));
}
