//! A guest that calls every function of interface 0.1.2 once and reports what each gave.
//!
//! Compiled, it is the fixture that shows that old modules still run. It is written on the bare interface,
//! so that no kit stands between it and the host.

// Its exports have names that only a WebAssembly linker takes.
#![cfg(target_family = "wasm")]

#[allow(
    missing_docs,
    unreachable_pub,
    clippy::pedantic,
    clippy::allow_attributes_without_reason,
    reason = "written by a macro from plugins/wit, where everything is documented"
)]
mod interface {
    wit_bindgen::generate!({ path: "../../../../plugins/wit/0.1.2", world: "rule-module" });
    pub(crate) use exports::groundrule::rules::checks;
    pub(crate) use groundrule::rules::{
        amounts, area, distance, enclosure, flow, region, runoff, site, task, terrain, trouble, types, width,
    };
    export!(Witness with_types_in self);
    use super::Witness;
}

use interface::amounts::Measured;
use interface::checks::{Answer, CheckInfo, Fact, Guest, ParameterInfo, Reading};
use interface::types::{Dimension, Mark, Need, Shape, Value};
use interface::{
    amounts, area, distance, enclosure, flow, region, runoff, site, task, terrain, trouble, width,
};

struct Witness;

impl Guest for Witness {
    fn version() -> String {
        std::panic::set_hook(Box::new(|panic| {
            let place = panic.location().map_or((String::new(), 0), |it| (it.file().to_owned(), it.line()));
            trouble::panicked(&panic.to_string(), &place.0, place.1);
        }));
        env!("CARGO_PKG_VERSION").to_owned()
    }

    fn describe() -> Vec<CheckInfo> {
        vec![
            check("gap", "The gap from each subject to the nearest of the others.", Some(Dimension::Length)),
            check("facts", "What the plan states of each subject.", None),
            check("rain", "What rain does on each subject.", Some(Dimension::Other("flow".to_owned()))),
            check("places", "What can be constructed around each subject.", Some(Dimension::Area)),
            check("ground", "What the ground does at each subject, and water on it.", Some(Dimension::Ratio)),
        ]
    }

    fn run(check: String) -> Result<Vec<Reading>, String> {
        match check.as_str() {
            "gap" => task::subjects().into_iter().map(gap).collect(),
            "facts" => Ok(facts()),
            "rain" => task::subjects().into_iter().map(rain).collect(),
            "places" => task::subjects().into_iter().map(places).collect(),
            "ground" => task::subjects().into_iter().map(ground).collect(),
            other => Err(format!("no check {other}")),
        }
    }
}

fn check(name: &str, summary: &str, dimension: Option<Dimension>) -> CheckInfo {
    let reach = ParameterInfo { name: "reach".to_owned(), summary: "How far to look.".to_owned() };
    CheckInfo {
        name: name.to_owned(),
        summary: summary.to_owned(),
        dimension,
        parameters: vec![reach],
        groups: vec!["others".to_owned()],
    }
}

/// The clearance to the nearest neighbour, with every measure and every sum the interface has beside it.
fn gap(subject: u32) -> Result<Reading, String> {
    let Some(Value::Quantity(reach)) = task::parameter("reach") else {
        return Err("the parameter reach is not a length".to_owned());
    };
    let near = distance::near(&[subject], &task::group("others"), reach.si);
    if near.is_empty() {
        return Ok(reading(vec![subject], Answer::NotApplicable("nothing is near".to_owned()), Vec::new()));
    }
    let gaps = distance::clearance(&near);
    let nearest = amounts::least(&gaps.iter().collect::<Vec<_>>()).ok_or("no least")?;
    let farthest = amounts::greatest(&gaps.iter().collect::<Vec<_>>()).ok_or("no greatest")?;
    let total = amounts::sum(&gaps.iter().collect::<Vec<_>>()).ok_or("no sum")?;
    let limit = task::parameter_amount("reach").ok_or("reach is no amount")?;
    let other = near[0].1;

    let mut facts = Vec::new();
    let mut tell = |name: &str, amount: Measured| facts.push((name.to_owned(), Fact::Amount(amount)));
    tell("range", one(amounts::subtract(&[(&farthest, &nearest)]))?);
    tell("twice", one(amounts::add(&[(&nearest, &nearest)]))?);
    tell("half", one(amounts::scale(&[(&nearest, 0.5)]))?);
    tell("share", one(amounts::ratio(&[(&nearest, &limit)]))?.ok_or("no ratio")?);
    tell("total", total);
    tell("distance", one(distance::between(&near[..1]))?);
    tell("yard", one(distance::yard(&near[..1]))?);
    tell("area", one(area::of(&[subject]))?);
    tell("covered", area::covered(&[subject, other], None));
    tell("overlap", one(area::overlap(&near[..1]))?);
    tell("length", one(area::length(&[subject]))?);
    tell("inside", one(area::length_inside(&near[..1]))?);
    tell("width", one(width::drawn(&[subject]))?);
    if amounts::ratio(&[(&nearest, &one(amounts::subtract(&[(&nearest, &nearest)]))?)])[0].is_some() {
        return Err("a ratio over nothing".to_owned());
    }
    if amounts::lacks(&[&nearest])[0] {
        return Err("the gap lacks data".to_owned());
    }
    facts.push(("value".to_owned(), Fact::Text(format!("{:?}", amounts::values(&[&nearest])[0].si))));
    Ok(reading(vec![subject, other], Answer::Amount(nearest), facts))
}

/// What can be looked up, as facts.
fn facts() -> Vec<Reading> {
    let subjects = task::subjects();
    let labels = site::label(&subjects);
    let kinds = site::fact(&subjects, "kind");
    let shapes = site::shapes(&subjects);
    let structures = site::is_a(&subjects, "structure");
    let lots = site::lot_of(&subjects);
    let heights = site::stated(&subjects, "height");
    let facing = distance::facing(&subjects);
    let mut readings = Vec::new();
    for (i, height) in heights.into_iter().enumerate() {
        let outline = site::outline(subjects[i]);
        let sides = u32::try_from(facing[i].iter().flatten().count()).unwrap_or(u32::MAX);
        let mut facts = vec![
            ("label".to_owned(), Fact::Text(labels[i].clone())),
            ("kind".to_owned(), Fact::Text(format!("{:?}", kinds[i]))),
            ("shape".to_owned(), Fact::Text(format!("{:?}", shapes[i]))),
            ("structure".to_owned(), Fact::Flag(structures[i])),
            ("on_a_lot".to_owned(), Fact::Flag(lots[i].is_some())),
            ("facing".to_owned(), Fact::Count(sides)),
        ];
        facts.extend(height.map(|amount| ("height".to_owned(), Fact::Amount(amount))));
        let mut reading = reading(vec![subjects[i]], Answer::Count(length(&outline)), facts);
        if let [x, y, to_x, to_y, ..] = outline[..] {
            reading.marks = vec![Mark::Spot((x, y)), Mark::Span((x, y, to_x, to_y))];
            if shapes[i] == Shape::Outline {
                reading.marks.push(Mark::Region(outline));
            }
        } else if let [x, y] = outline[..] {
            reading.marks = vec![Mark::Spot((x, y))];
        } else {
            let need = Need { what: format!("outline of {}", labels[i]), how: "draw it".to_owned() };
            reading.answer = Answer::Lacking(vec![need]);
        }
        readings.push(reading);
    }
    readings
}

/// The ground around a subject, with every other place that can be made, measured, and the ring around it.
fn places(subject: u32) -> Result<Reading, String> {
    let made = |regions: Vec<Option<u32>>| regions.into_iter().flatten().collect::<Vec<u32>>();
    let Some(lot) = one(site::lot_of(&[subject]))? else {
        return Ok(reading(vec![subject], Answer::NotApplicable("it is on no lot".to_owned()), Vec::new()));
    };
    let corners = one(region::lot_corners(&[lot]))?;
    let lines: Vec<u32> = corners.iter().map(|(line, _)| *line).collect();
    let around = one(made(region::around(&[subject], 1.5, true)))?;
    let mut facts = Vec::new();
    let mut tell = |name: &str, amount: Measured| facts.push((name.to_owned(), Fact::Amount(amount)));
    tell("strips", area::covered(&made(region::strip(&lines, 3.0)), None));
    tell("corners", area::covered(&made(region::corner_sight(&corners, 4.0, 6.0, false)), Some(lot)));
    let drives: Vec<(u32, u32)> = lines.iter().map(|line| (subject, *line)).collect();
    tell("drives", area::covered(&region::drive_sight(&drives, 2.0, 2.0).concat(), None));
    let mut pieces = task::group("others");
    pieces.extend(&lines);
    if let Some(ring) = enclosure::widest_opening(subject, &pieces) {
        tell("opening", ring.opening);
        let names = site::label(&ring.pieces).join(", ");
        facts.push(("ring".to_owned(), Fact::Text(names)));
    }
    let centrelines = made(region::corner_sight(&corners, 4.0, 6.0, true));
    facts.push(("centrelines".to_owned(), Fact::Count(u32::try_from(centrelines.len()).unwrap_or(u32::MAX))));
    for (i, each) in one(site::stated_each(&[subject], "heights"))?.into_iter().enumerate() {
        facts.push((format!("height_{i}"), Fact::Amount(each)));
    }
    Ok(reading(vec![subject], Answer::Amount(one(area::of(&[around]))?), facts))
}

/// Every method of runoff on the area of a subject, by the length `reach` and rates and times made from it.
fn rain(subject: u32) -> Result<Reading, String> {
    let area = one(area::of(&[subject]))?;
    let depth = task::parameter_amount("reach").ok_or("reach is no amount")?;
    let speed = task::parameter_amount("rate").ok_or("rate is no amount")?;
    let known = |answers: Vec<Option<Measured>>| one(answers)?.ok_or_else(|| "no answer".to_owned());
    let time = known(runoff::product(&[vec![(&depth, 1), (&speed, -1)]]))?;
    let half = known(runoff::composite(&[vec![(&area, 0.5)]]))?;
    let slope = one(amounts::scale(&[(&half, 0.04)]))?;
    let number = one(runoff::rounded(&[&known(runoff::composite(&[vec![(&area, 74.6)]]))?]))?;

    let mut facts = Vec::new();
    let peak = known(runoff::rational_peak(&[(&area, &half, &speed)], runoff::RationalForm::Customary))?;
    let mut tell = |name: &str, amount: Measured| facts.push((name.to_owned(), Fact::Amount(amount)));
    tell("harder", known(runoff::with_hard_ground(&[(&number, &half, None)]))?);
    tell("apart", known(runoff::with_hard_ground(&[(&number, &slope, Some(&half))]))?);
    tell("depth", known(runoff::runoff_depth(&[(&depth, &number)]))?);
    tell(
        "graphical",
        known(runoff::graphical_peak(&[(&area, &number, &depth, &time)], runoff::Storm::Ii, 0.0))?,
    );
    tell("quality", known(runoff::quality_volume(&[(&area, &depth, &half)]))?);
    tell("sheet", known(runoff::sheet_time(&[(&depth, &slope, &depth, 0.24)]))?);
    tell("shallow", known(runoff::shallow_speed(&[(&slope, true)]))?);
    let constant = runoff::ManningConstant::Us149;
    tell("wetted", known(runoff::wetted_speed(&[(&area, &depth, &slope, 0.05)], constant))?);
    tell("kirpich", known(runoff::kirpich_time(&[(&depth, &slope)]))?);
    let pipe = || runoff::Channel {
        width: Some(&depth),
        side: None,
        slope: &slope,
        roughness: 0.012,
        constant: runoff::ManningConstant::Exact,
    };
    let full = one(runoff::at_depth(&[(pipe(), &depth)]))?.ok_or("no water at that depth")?;
    let share = one(amounts::scale(&[(&full.flow, 0.5)]))?;
    let partly = one(runoff::at_flow(&[(pipe(), &share)]))?.ok_or("no water at that flow")?;
    tell("full", full.speed);
    tell("partly", partly.depth);
    tell("time", time);
    let tabulated = runoff::curve_number("gravel", "C").ok_or("no curve number")?;
    facts.push(("tabulated".to_owned(), Fact::Text(format!("{tabulated}"))));
    facts.push(("covers".to_owned(), Fact::Count(u32::try_from(runoff::covers().len()).unwrap_or(u32::MAX))));
    if one(runoff::shallow_speed(&[(&one(amounts::subtract(&[(&slope, &slope)]))?, false)]))?.is_some() {
        return Err("water runs on level ground".to_owned());
    }
    Ok(reading(vec![subject], Answer::Amount(peak), facts))
}

fn length(flat: &[f64]) -> u32 {
    u32::try_from(flat.len() / 2).unwrap_or(u32::MAX)
}

fn one<T>(list: Vec<T>) -> Result<T, String> {
    list.into_iter().next().ok_or_else(|| "an empty answer".to_owned())
}

fn reading(features: Vec<u32>, answer: Answer, facts: Vec<(String, Fact)>) -> Reading {
    Reading { features, answer, marks: Vec::new(), facts }
}

/// The slope of the ground at a subject, with everything else that can be asked of the ground and of water on it.
fn ground(subject: u32) -> Result<Reading, String> {
    use interface::terrain::{Figure, Ground};
    let Some(lot) = one(site::lot_of(&[subject]))? else {
        return Ok(reading(vec![subject], Answer::NotApplicable("it is on no lot".to_owned()), Vec::new()));
    };
    let (now, then) = (Ground::Existing, Ground::Proposed);
    let others = task::group("others");
    let mut facts = vec![("known".to_owned(), Fact::Flag(terrain::known(now) && terrain::known(then)))];
    let mut tell = |name: &str, amount: Measured| facts.push((name.to_owned(), Fact::Amount(amount)));
    tell("level", one(terrain::level(now, &[subject], Figure::Least))?);
    tell("along", one(terrain::slope_along(now, &[subject], Figure::Steepest, 0.0, 0.0))?);
    tell("across", one(terrain::slope_across(now, &[subject], Figure::Mean))?);
    tell("break", one(terrain::slope_break(now, &[subject], 1.0))?);
    if let Some(aspect) = one(terrain::aspect(now, &[lot]))? {
        tell("aspect", aspect);
    }
    tell("contours", one(terrain::contour_length(now, &[lot], 0.25))?);
    let moved = one(terrain::earthwork(&[lot]))?;
    tell("cut", moved.cut);
    tell("fill", moved.fill);
    for (i, fall) in terrain::falls(then, subject, 3.0, &others, &others).into_iter().enumerate() {
        tell(&format!("fall_{i}"), fall.slope);
        tell(&format!("drop_{i}"), fall.fall);
        tell(&format!("run_{i}"), fall.run);
    }
    for (i, face) in terrain::faces(now, lot, 0.2).into_iter().enumerate() {
        tell(&format!("face_{i}"), one(distance::between(&[(subject, face.toe)]))?);
        tell(&format!("crest_{i}"), one(distance::between(&[(subject, face.crest)]))?);
        tell(&format!("high_{i}"), face.height);
        tell(&format!("steep_{i}"), face.slope);
    }
    for (i, hollow) in flow::hollows(now, lot, &others).into_iter().enumerate() {
        tell(&format!("hollow_{i}"), hollow.depth);
        tell(&format!("pond_{i}"), hollow.area);
        tell(&format!("water_{i}"), hollow.volume);
    }
    tell("deepest", one(flow::deepest(now, &[lot], &others))?);
    let pairs: Vec<(u32, u32)> = others.iter().map(|other| (subject, *other)).collect();
    for (i, margin) in flow::keeps_clear(now, &pairs).into_iter().enumerate() {
        tell(&format!("clear_{i}"), margin);
    }
    for (line, area) in flow::leaves_over(now, lot) {
        tell(&format!("over_{line}"), area);
    }
    for (i, area) in flow::drained_area(now, lot, &others).into_iter().enumerate() {
        tell(&format!("to_{i}"), area);
    }
    for (i, course) in one(flow::courses(now, &[subject], &others, &others, true))?.into_iter().enumerate() {
        tell(&format!("way_{i}"), course.length);
        tell(&format!("down_{i}"), course.fall);
    }
    Ok(reading(vec![subject], Answer::Amount(one(terrain::slope_over(now, &[lot], Figure::Mean))?), facts))
}
