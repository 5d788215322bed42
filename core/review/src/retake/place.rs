//! Where something is measured: from where to where, what the plan has there now, and what to draw.

use groundrule_plan::{Measurement, Name, Reading as Measured, Span};
use groundrule_site::Mark;
use groundrule_survey::{
    ErrorTerms, GroundLevel, Layout, Owner, Point, Position, Reading, Shape, SourceId, SourceOwner,
};
use groundrule_units::{Dimension, Length, Quantity, show};

use crate::message::Scene;

/// Where a reading is taken.
#[derive(Default)]
pub(super) struct Place {
    pub(super) from: Option<String>,
    pub(super) to: Option<String>,
    pub(super) now: Option<String>,
    pub(super) marks: Vec<Mark>,
}

/// The place of one reading, by its place in the layout's sources.
pub(super) fn of_reading(at: usize, scene: Scene<'_>) -> Place {
    let layout = scene.layout;
    let Some(source) = layout.sources.get(at) else { return Place::default() };
    if let Some((from, to)) = source.ends.as_deref() {
        return between(from, to, source, scene);
    }
    if let Reading::Level(_) = source.reading {
        return level(source, scene);
    }
    let next = layout.sources.get(at + 1).map_or(SourceId(u32::MAX), |next| next.first);
    let points = touched(source, next, layout);
    let now = match (points.as_slice(), source.reading) {
        ([only], Reading::Corner(_)) => Some(coordinates(*only, scene)),
        _ => None,
    };
    Place { marks: mean(&points).map(Mark::Spot).into_iter().collect(), now, ..Place::default() }
}

/// The level of the ground that a reading gave.
fn level_of<'l>(source: &SourceOwner, layout: &'l Layout) -> Option<&'l GroundLevel> {
    let mut levels = layout.ground.levels.iter().filter(|level| !level.derived);
    levels.find(|level| level.error.iter().any(|(own, _)| *own == source.first))
}

/// The place of a level of the ground: where it was taken, and how high it is said to be.
fn level(source: &SourceOwner, scene: Scene<'_>) -> Place {
    let Some(level) = level_of(source, scene.layout) else { return Place::default() };
    Place {
        from: None,
        to: Some(level.name.0.clone()),
        now: Some(show(level.height.into(), scene.style)),
        marks: vec![Mark::Spot(level.at.at)],
    }
}

/// The place of a measurement that is taken again as a whole: from its first point to its last.
pub(super) fn of_measurement(at: u32, scene: Scene<'_>) -> Place {
    let own = scene.layout.sources.iter().filter(|source| source.owner == Owner::Measurement(at));
    let ends: Vec<&(Name, Name)> = own.filter_map(|source| source.ends.as_deref()).collect();
    let whole = ends.first().zip(ends.last()).map(|((from, _), (_, to))| (from, to));
    // What is read abreast of a line is read along it, not from its first mark straight to each that stands off it.
    let marks = if abreast(scene.plan.measurements.get(at as usize)) {
        whole.and_then(|(from, to)| span(from, to, scene.layout)).into_iter().collect()
    } else {
        ends.iter().filter_map(|(from, to)| span(from, to, scene.layout)).collect()
    };
    let (from, to) = whole.map(|(from, to)| (from.0.clone(), to.0.clone())).unzip();
    Place { from, to, now: None, marks }
}

/// A reading from point to point.
fn between(from: &Name, to: &Name, source: &SourceOwner, scene: Scene<'_>) -> Place {
    let layout = scene.layout;
    let measurement = match source.owner {
        Owner::Measurement(at) => scene.plan.measurements.get(at as usize),
        _ => None,
    };
    let levels = measurement.is_some_and(levels);
    let length = source.plus_minus.dimension() == Dimension::Length;
    let now = match (length, levels) {
        (false, _) => None,
        (true, true) => drop_between(from, to, layout),
        (true, false) => distance(from, to, layout).filter(|_| !abreast(measurement)),
    };
    Place {
        from: Some(from.0.clone()).filter(|_| from != to),
        to: Some(to.0.clone()),
        now: now.map(|now| show(now, scene.style)),
        marks: span(from, to, layout).into_iter().collect(),
    }
}

fn levels(measurement: &Measurement) -> bool {
    matches!(measurement.reading, Measured::Height(_) | Measured::Fall(_) | Measured::LevelRun(_))
}

/// True where a figure is read along a line that its points stand off.
fn abreast(measurement: Option<&Measurement>) -> bool {
    match measurement.map(|measurement| &measurement.reading) {
        Some(Measured::Chain(chain)) => chain.abreast,
        Some(Measured::Offsets(_)) => true,
        _ => false,
    }
}

fn distance(from: &Name, to: &Name, layout: &Layout) -> Option<Quantity> {
    let (a, b) = (layout.named.get(&from.0)?.at, layout.named.get(&to.0)?.at);
    let metres = libm::hypot((b.x - a.x).metres(), (b.y - a.y).metres());
    Some(Length::from_metres(metres).into())
}

fn drop_between(from: &Name, to: &Name, layout: &Layout) -> Option<Quantity> {
    let height = |name: &Name| layout.heights.get(&name.0).map(|point| point.height);
    Some(if from == to { height(to)? } else { height(to)? - height(from)? }.into())
}

fn span(from: &Name, to: &Name, layout: &Layout) -> Option<Mark> {
    let (a, b) = (layout.named.get(&from.0)?.at, layout.named.get(&to.0)?.at);
    Some(if from == to { Mark::Spot(b) } else { Mark::Span(a, b) })
}

fn coordinates(at: Position, scene: Scene<'_>) -> String {
    let on_sheet = |here: Length, shift: Length| show((here + shift).into(), scene.style);
    let shift = scene.layout.shift;
    format!("x {}, y {}", on_sheet(at.x, shift.x), on_sheet(at.y, shift.y))
}

/// The points of the owner that move with a reading.
fn touched(source: &SourceOwner, next: SourceId, layout: &Layout) -> Vec<Position> {
    let moves = |point: &&Point| match &point.error {
        ErrorTerms::Exact => false,
        ErrorTerms::Own { source: own, .. } => source.first <= *own && *own < next,
        sum => sum.terms().iter().any(|t| source.first <= t.source && t.source < next),
    };
    let points: Vec<&Point> = match source.owner {
        Owner::Lot(at) => layout.lots.get(at as usize).map_or(Vec::new(), |lot| lot.ring.iter().collect()),
        Owner::Feature(at) => layout.shapes.get(at as usize).map_or(Vec::new(), points),
        Owner::Point(_) => layout.named.values().collect(),
        Owner::Measurement(_) | Owner::Assumption(_) | Owner::Sheet | Owner::Ground(_) => Vec::new(),
    };
    points.into_iter().filter(moves).map(|point| point.at).collect()
}

fn points(shape: &Shape) -> Vec<&Point> {
    match shape {
        Shape::Outline { ring, holes } => ring.iter().chain(holes.iter().flatten()).collect(),
        Shape::Line { path, .. } => path.iter().collect(),
        Shape::Spot(point) | Shape::Disc { centre: point, .. } => vec![point],
        Shape::Absent => Vec::new(),
    }
}

fn mean(points: &[Position]) -> Option<Position> {
    let n = points.len() as f64;
    let sum = points.iter().copied().reduce(|a, b| Position { x: a.x + b.x, y: a.y + b.y })?;
    Some(Position { x: sum.x / n, y: sum.y / n })
}

/// The middle of a feature's corners, to draw what is asked about it.
pub(super) fn middle(shape: &Shape) -> Option<Position> {
    mean(&points(shape).iter().map(|point| point.at).collect::<Vec<_>>())
}

/// Where the plan states a reading: a level by itself, else what it belongs to.
pub(super) fn stated_reading(source: &SourceOwner, scene: Scene<'_>) -> Span {
    let own = match source.reading {
        Reading::Level(_) => level_of(source, scene.layout).map(|level| level.span),
        _ => None,
    };
    own.unwrap_or_else(|| stated(source.owner, scene))
}

/// Where the plan states what a reading belongs to.
pub(super) fn stated(owner: Owner, scene: Scene<'_>) -> Span {
    let plan = scene.plan;
    let found = match owner {
        Owner::Point(at) => plan.points.get(at as usize).map(|point| point.name.span),
        Owner::Lot(at) => plan.lots.get(at as usize).map(|lot| lot.span),
        Owner::Feature(at) => plan.features.get(at as usize).map(|feature| feature.span),
        Owner::Measurement(at) => plan.measurements.get(at as usize).map(|measurement| measurement.span),
        Owner::Sheet => plan.sheet.checked.as_ref().map(|checked| checked.span),
        Owner::Ground(at) => plan.ground.levels.get(at as usize).map(|mark| mark.level.span),
        Owner::Assumption(_) => None,
    };
    found.unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use groundrule_plan::{KindTree, Source, read_plan};
    use groundrule_site::Site;
    use groundrule_survey::resolve;
    use groundrule_units::Style;

    use super::*;

    #[test]
    fn a_level_is_asked_for_where_it_was_taken() {
        let text = "[site]\nname = 'Plot 5, Tern Hollow'\nunits = 'ft'\nby = 'tape'\n\n[points]\noak = [5, 9]\n\n\
                    [ground]\nby = 'string_level'\nlevels = { oak = 'EG 99.8' }\n\n[[feature]]\nid = 'patio'\n\
                    kind = 'patio'\nstatus = 'existing'\noutline = [[0, 0], [10, 0], [10, 10]]\nlevels = [100, '-', 100.5]\n";
        let source = Source { name: "plot-5.toml".to_owned(), text: text.into() };
        let plan = read_plan(&source).expect("a plan");
        let (layout, _) = resolve(&plan).expect("a layout");
        let (site, _) = Site::build(&plan, &layout, KindTree::standard());
        let scene = Scene { plan: &plan, layout: &layout, site: &site, style: Style::DecimalFeet };
        let levels = layout.sources.iter().enumerate();
        let levels = levels.filter(|(_, source)| matches!(source.reading, Reading::Level(_)));
        let asked: Vec<String> = levels
            .map(|(at, source)| {
                let place = of_reading(at, scene);
                let stated = stated_reading(source, scene);
                let stated = text.get(stated.start as usize..stated.end as usize).unwrap_or_default();
                format!(
                    "{} at {}: {}, {} marks, {}",
                    source.describe(&plan),
                    place.to.unwrap_or_default(),
                    place.now.unwrap_or_default(),
                    place.marks.len(),
                    stated.lines().next().unwrap_or_default()
                )
            })
            .collect();
        assert_eq!(
            asked,
            [
                "level of corner c1 of patio at patio.c1: 100.00 ft, 1 marks, 100",
                "level of corner c3 of patio at patio.c3: 100.50 ft, 1 marks, 100.5",
                "level of oak at oak: 99.80 ft, 1 marks, 'EG 99.8'",
            ]
        );
    }
}
