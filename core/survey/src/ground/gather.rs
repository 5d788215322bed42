//! Every level of the ground that a plan states or measures, and the lines they make.

mod lines;
mod terms;

use std::collections::{BTreeMap, BTreeSet};

use groundrule_plan::{Feature, Gravity, KindTree, Name, Plan, PointRef, Remark, Span, Status};
use groundrule_units::{Length, LevelTerm};

use self::lines::Along;
use super::run::Run;
use super::stated::{self, Stated};
use super::{Ground, GroundLevel, GroundLine, Surface};
use crate::curves::Xy;
use crate::error::scaled;
use crate::field::Field;
use crate::field::accuracy::Class;
use crate::layout::{Owner, Point, Reading, Shape};
use crate::places::{Placed, position, xy};
use crate::{ErrorTerms, SourceId};

/// Kinds whose `level` or height is of something else than the ground: marks of their own, doors and windows.
const NO_GROUND: [&str; 2] = ["benchmark", "opening"];

/// Kinds that carry water on the ground, whose `levels` are their invert.
const WATER_ON_TOP: [&str; 2] = ["swale", "curb"];

/// Words of names that say the same of a point: benchmarks and floors.
const NO_GROUND_WORDS: [&str; 7] = ["bm", "tbm", "benchmark", "ff", "ffe", "floor", "sill"];

/// Every level of the ground with its place, and remarks on those that cannot be placed.
pub(crate) fn gather(plan: &Plan, field: &Field<'_>, placed: &mut Placed<'_>) -> (Ground, Vec<Remark>) {
    let datum = plan.ground.datum.as_ref().map(|datum| datum.value.clone());
    let ground = Ground { datum: datum.or_else(|| sheet_datum(plan)), ..Ground::default() };
    let kinds = KindTree::standard();
    let mut work = Gather { plan, field, placed, kinds, ground, remarks: Vec::new() };
    for (feature, i) in plan.features.iter().zip(0_u32..) {
        work.feature(i, feature);
    }
    if !(plan.ground.levels.is_empty() && work.placed.heights.is_empty()) {
        let features: BTreeMap<&str, (u32, &Feature)> = plan
            .features
            .iter()
            .zip(0_u32..)
            .map(|(feature, i)| (feature.id.value.0.as_str(), (i, feature)))
            .collect();
        work.marks(&features);
        work.heights(&features);
    }
    terms::tell(&mut work);
    (work.ground, work.remarks)
}

fn sheet_datum(plan: &Plan) -> Option<String> {
    plan.sheet.attributes.iter().find_map(|(name, stated)| match &stated.value {
        groundrule_plan::Attribute::Text(text) if name.0 == "datum" => Some(text.clone()),
        _ => None,
    })
}

struct Gather<'w, 'a> {
    plan: &'w Plan,
    field: &'w Field<'w>,
    placed: &'w mut Placed<'a>,
    kinds: KindTree,
    ground: Ground,
    remarks: Vec<Remark>,
}

/// What a level is, before it has a place.
struct What {
    name: Name,
    height: Length,
    term: Option<LevelTerm>,
    surface: Surface,
    owner: Owner,
    which: u32,
    feature: Option<u32>,
    span: Span,
}

impl Gather<'_, '_> {
    fn feature(&mut self, i: u32, feature: &Feature) {
        if !stated::is_levelled(feature) || is_no_ground(&self.kinds, feature) {
            return;
        }
        let shape = self.placed.shapes.get(i as usize);
        let one = match shape {
            None | Some(Shape::Absent) => return,
            Some(Shape::Spot(point) | Shape::Disc { centre: point, .. }) => Some(point.clone()),
            Some(_) => None,
        };
        let half = match shape {
            Some(Shape::Line { width, .. }) => width.metres() / 2.0,
            _ => 0.0,
        };
        let path = self.placed.levelled.remove(&i);
        let closed = !matches!(shape, Some(Shape::Line { .. }));
        let run = path.map(|path| Run::of(&path, closed));
        let all = stated::of(feature);
        let carries_water = carries_water(&self.kinds, feature);
        match (one, run) {
            (Some(point), _) => {
                for stated in all.iter().filter(|stated| at_a_place(stated, carries_water)) {
                    let name = feature.id.value.clone();
                    self.level(what(i, feature, stated, name), point.clone(), false);
                }
            }
            (None, Some(run)) => Along { i, feature, run: &run, half, carries_water }.take(self, &all),
            (None, None) => {}
        }
    }

    /// Adds a level; its index.
    fn level(&mut self, what: What, at: Point, derived: bool) -> u32 {
        let error = self.error(what.owner, what.which, what.surface);
        self.push(GroundLevel {
            at,
            height: what.height,
            error,
            surface: what.surface,
            term: what.term,
            name: what.name,
            feature: what.feature,
            derived,
            span: what.span,
        })
    }

    fn push(&mut self, level: GroundLevel) -> u32 {
        self.ground.levels.push(level);
        u32::try_from(self.ground.levels.len() - 1).unwrap_or(u32::MAX)
    }

    fn line(&mut self, line: GroundLine) {
        if line.levels.len() > 1 {
            self.ground.lines.push(line);
        }
    }

    /// The error of a level: of its own reading on the ground as it lies, none where it is designed.
    fn error(&mut self, owner: Owner, which: u32, surface: Surface) -> Vec<(SourceId, Length)> {
        let class = match surface {
            Surface::Proposed => Class::EXACT,
            Surface::Existing => Class::of_thing(self.plan, self.plan.ground.by.as_ref(), false),
        };
        let own = [(class.position(), (1.0, 0.0))];
        let terms = self.placed.sources.along(owner, Reading::Level(which), &own);
        terms.into_iter().map(|term| (term.source, term.x)).collect()
    }

    /// Levels of `[ground]`, at points and corners.
    fn marks(&mut self, features: &BTreeMap<&str, (u32, &Feature)>) {
        let plan = self.plan;
        for (mark, at) in plan.ground.levels.iter().zip(0_u32..) {
            let level = &mark.level.value.value;
            if !level.term.is_none_or(stated::of_ground) {
                continue;
            }
            let full = mark.point.full();
            let Some(point) = self.find(&mark.point, &full) else { continue };
            let feature = owner_of(&full, features);
            self.level(
                What {
                    name: Name(full.clone()),
                    height: level.height,
                    term: level.term,
                    surface: stated::surface(
                        level.term,
                        feature.is_some_and(|(_, feature)| is_proposed(feature)),
                    ),
                    owner: Owner::Ground(at),
                    which: 0,
                    feature: feature.map(|(i, _)| i),
                    span: mark.level.span,
                },
                point,
                false,
            );
        }
    }

    fn find(&self, point: &PointRef, full: &str) -> Option<Point> {
        let named = &self.placed.named;
        named.get(full).or_else(|| named.get(&self.field.rings.name(point))).cloned()
    }

    /// Measured heights of points that have a place and are of the ground.
    fn heights(&mut self, features: &BTreeMap<&str, (u32, &Feature)>) {
        let no_ground = self.no_ground();
        // Without a benchmark heights count from a datum of their own, and cannot stand beside levels of the plan's.
        let has_bench = self
            .plan
            .measurements
            .iter()
            .any(|measurement| matches!(measurement.reading, groundrule_plan::Reading::Height(_)));
        if !has_bench && !self.ground.levels.is_empty() {
            return;
        }
        let spans = spans_of_heights(self.plan, self.field);
        let heights: Vec<_> =
            self.placed.heights.iter().map(|(name, height)| (name.clone(), height.clone())).collect();
        for (name, height) in heights {
            let feature = owner_of(&name, features);
            let is_something = feature.is_some_and(|(_, feature)| is_no_ground(&self.kinds, feature));
            if no_ground.contains(&name) || is_something || says_no_ground(&name) {
                continue;
            }
            let Some(at) = self.placed.named.get(&name).cloned() else { continue };
            self.push(GroundLevel {
                at,
                height: height.height,
                error: height.error,
                surface: stated::surface(None, feature.is_some_and(|(_, feature)| is_proposed(feature))),
                term: None,
                span: spans.get(&name).copied().unwrap_or_default(),
                name: Name(name),
                feature: feature.map(|(i, _)| i),
                derived: false,
            });
        }
    }

    /// The names of all points that the plan lists as something else than the ground.
    fn no_ground(&self) -> BTreeSet<String> {
        let listed = self.plan.ground.not_ground.iter();
        listed.flat_map(|point| [point.full(), self.field.rings.name(point)]).collect()
    }

    fn remark(&mut self, remark: Remark) {
        self.remarks.push(remark);
    }
}

/// True for a level that may stand at one place by itself.
fn at_a_place(stated: &Stated<'_>, carries_water: bool) -> bool {
    matches!(stated.attribute, stated::LEVEL | stated::RIM | stated::LEVELS)
        && stated.is_ground(carries_water)
}

fn is_no_ground(kinds: &KindTree, feature: &Feature) -> bool {
    NO_GROUND.iter().any(|kind| kinds.is_a(&feature.kind.value, kind))
}

fn carries_water(kinds: &KindTree, feature: &Feature) -> bool {
    WATER_ON_TOP.iter().any(|kind| kinds.is_a(&feature.kind.value, kind))
}

/// True for the name of a benchmark or a floor: `bm-2`, `garage_floor`, `house.sill`.
fn says_no_ground(name: &str) -> bool {
    let mut words = name.split(|c: char| !c.is_ascii_alphabetic());
    words.any(|word| NO_GROUND_WORDS.iter().any(|no| word.eq_ignore_ascii_case(no)))
}

fn is_proposed(feature: &Feature) -> bool {
    feature.status.as_ref().is_some_and(|status| status.value == Status::Proposed)
}

fn what(i: u32, feature: &Feature, stated: &Stated<'_>, name: Name) -> What {
    What {
        name,
        height: stated.height(),
        term: stated.term(),
        surface: stated::surface(stated.term(), is_proposed(feature)),
        owner: Owner::Feature(i),
        which: stated.which,
        feature: Some(i),
        span: stated.span,
    }
}

/// The feature that a point belongs to: the one whose corner it is, or that is itself a place.
fn owner_of<'f>(full: &str, features: &BTreeMap<&str, (u32, &'f Feature)>) -> Option<(u32, &'f Feature)> {
    let owner = full.split_once('.').map_or(full, |(owner, _)| owner);
    features.get(owner).copied()
}

/// Where in the file each point was levelled first.
fn spans_of_heights(plan: &Plan, field: &Field<'_>) -> BTreeMap<String, Span> {
    use groundrule_plan::Reading as Read;
    let mut spans = BTreeMap::new();
    for measurement in &plan.measurements {
        let points: Vec<&PointRef> = match &measurement.reading {
            Read::Height(height) => vec![&height.point],
            Read::Fall(fall) => vec![&fall.from, &fall.to],
            Read::LevelRun(run) => run.sights.iter().map(|sight| &sight.point).collect(),
            _ => Vec::new(),
        };
        for point in points {
            spans.entry(field.rings.name(point)).or_insert(point.span);
        }
    }
    spans
}

/// The middle of several points; it moves with all of them.
fn middle(points: &[Point]) -> Option<Point> {
    let count = points.len() as f64;
    let sum = points.iter().map(xy).reduce(|a: Xy, b| (a.0 + b.0, a.1 + b.1))?;
    let parts: Vec<_> = points.iter().map(|point| (scaled(1.0 / count), &point.error)).collect();
    Some(Point { at: position((sum.0 / count, sum.1 / count)), error: ErrorTerms::moved_by(&parts) })
}

/// A remark on a feature whose levels cannot be placed.
fn lacking(feature: &Feature, code: &'static str, message: String, span: Span, help: &str) -> Remark {
    Remark {
        code,
        gravity: Gravity::Wrong,
        message,
        about: vec![feature.id.value.clone()],
        spots: Vec::new(),
        span,
        help: Some(help.to_owned()),
    }
}
