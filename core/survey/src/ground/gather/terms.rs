//! Levels that the ground leaves out because of the term they were written with.

use std::collections::BTreeSet;

use groundrule_plan::{Feature, Gravity, GroundMark, Name, Plan, PointRef, Remark, Span};
use groundrule_units::{Length, LevelTerm};

use super::{Gather, carries_water, is_no_ground, says_no_ground};
use crate::field::length;
use crate::ground::stated::{self, BOTTOM, LEVEL, RIM, STATIONS, Stated};

/// A level that is left out.
struct Out {
    term: LevelTerm,
    height: Length,
    /// Where it was taken, in words.
    place: String,
    span: Span,
    /// True where the point has a name that `not_ground` can list.
    has_name: bool,
}

/// Tells of every level whose term says that it is of something else, or that contradicts the list it stands in.
pub(super) fn tell(work: &mut Gather<'_, '_>) {
    let plan = work.plan;
    let no_ground = work.no_ground();
    for feature in &plan.features {
        if !stated::is_levelled(feature) || is_no_ground(&work.kinds, feature) {
            continue;
        }
        let carries_water = carries_water(&work.kinds, feature);
        let all = stated::of(feature);
        let (against, other): (Vec<&Stated<'_>>, Vec<&Stated<'_>>) =
            all.iter().filter(|it| !it.is_ground(carries_water)).partition(|it| it.contradicts());
        let id = &feature.id.value;
        let other = other.into_iter().filter(|it| !is_told(work, feature, it, &no_ground));
        work.remarks.extend(not_of_ground(
            plan,
            id,
            &other.filter_map(|it| out(feature, it)).collect::<Vec<_>>(),
        ));
        work.remarks.extend(contradiction(plan, id, &against));
    }
    marks(work, &no_ground);
}

/// Levels of `[ground]`, those of one point together.
fn marks(work: &mut Gather<'_, '_>, no_ground: &BTreeSet<String>) {
    let plan = work.plan;
    let mut rest = plan.ground.levels.as_slice();
    while let Some(first) = rest.first() {
        let point = first.point.full();
        let same = rest.iter().take_while(|mark| mark.point.full() == point).count();
        let (entry, others) = rest.split_at(same);
        rest = others;
        let name = work.field.rings.name(&first.point);
        if no_ground.contains(&point) || no_ground.contains(&name) || says_no_ground(&point) {
            continue;
        }
        let owner = first.point.owner.as_ref().unwrap_or(&first.point.point);
        let floor = plan.features.iter().any(|feature| feature.id.value == *owner && has_floor(feature));
        let out: Vec<Out> = entry.iter().filter_map(|mark| mark_out(mark, floor)).collect();
        work.remarks.extend(not_of_ground(plan, owner, &out));
    }
}

fn mark_out(mark: &GroundMark, has_floor: bool) -> Option<Out> {
    let level = &mark.level.value.value;
    let term = level.term.filter(|term| !(stated::of_ground(*term) || has_floor && is_floor(*term)))?;
    let place = format!("at `{}`", mark.point.full());
    Some(Out { term, height: level.height, place, span: mark.level.span, has_name: true })
}

fn out(feature: &Feature, stated: &Stated<'_>) -> Option<Out> {
    Some(Out {
        term: stated.term()?,
        height: stated.height(),
        place: format!("the {}", stated::of_feature(feature, stated)),
        span: stated.span,
        has_name: point(feature, stated).is_some(),
    })
}

/// True where the plan itself says what the level is: it lists the point, or states the floor.
fn is_told(
    work: &Gather<'_, '_>,
    feature: &Feature,
    stated: &Stated<'_>,
    no_ground: &BTreeSet<String>,
) -> bool {
    let listed = point(feature, stated).is_some_and(|point| {
        no_ground.contains(&point.full()) || no_ground.contains(&work.field.rings.name(&point))
    });
    listed || (stated.term().is_some_and(is_floor) && has_floor(feature))
}

/// The point that a level stands at, where it has a name.
fn point(feature: &Feature, stated: &Stated<'_>) -> Option<PointRef> {
    let id = feature.id.value.clone();
    let span = stated.span;
    if matches!(stated.attribute, LEVEL | RIM) {
        return Some(PointRef { owner: None, point: id, span });
    }
    if feature.stated(STATIONS).is_some() {
        return None;
    }
    Some(PointRef { owner: Some(id), point: stated::corner(feature, stated.at)?, span })
}

fn has_floor(feature: &Feature) -> bool {
    feature.stated("floor_level").is_some()
}

const fn is_floor(term: LevelTerm) -> bool {
    matches!(term, LevelTerm::FinishedFloor | LevelTerm::FinishedFloorElevation)
}

/// Things in words, each once and in order: `finished floor, top of wall`.
fn each_once<'t>(words: impl Iterator<Item = &'t str>, between: &str) -> String {
    let mut seen: Vec<&str> = Vec::new();
    for word in words {
        if !seen.contains(&word) {
            seen.push(word);
        }
    }
    seen.join(between)
}

fn not_of_ground(plan: &Plan, about: &Name, out: &[Out]) -> Option<Remark> {
    let first = out.first()?;
    let one =
        |out: &Out| format!("{} {} ({})", out.term.short(), length(plan, out.height.metres()), out.place);
    let list: Vec<String> = out.iter().map(one).collect();
    let meanings = each_once(out.iter().map(|out| out.term.meaning()), ", ");
    let these = match out.len() {
        1 => format!("its term, {meanings}, says that it is"),
        _ => format!("their terms ({meanings}) say that they are"),
    };
    let message = format!(
        "The ground leaves out {}, stated of `{}`: {these} of something else.",
        list.join(", "),
        about.0
    );
    let mut help = each_once(out.iter().map(|out| instead(out.term)), " ");
    help.push_str(" Then give the level of the ground there.");
    if out.iter().all(|out| out.has_name) {
        help.push_str(" If the figure shall stay where it is, name the point in `not_ground` of `[ground]`.");
    }
    Some(remark("data::level-not-of-the-ground", Gravity::Noted, message, about, first.span, help))
}

/// Where a level of this term belongs.
const fn instead(term: LevelTerm) -> &'static str {
    match term {
        LevelTerm::FinishedFloor | LevelTerm::FinishedFloorElevation => {
            "State a floor as `floor_level` of its building."
        }
        LevelTerm::TopOfWall | LevelTerm::TopOfCurb => "State the top of a wall or curb in its `top_levels`.",
        LevelTerm::Invert => "State the invert of a pipe as `invert` of its inlet or outlet.",
        LevelTerm::BenchMark => "Draw a bench mark as a feature of kind `benchmark`.",
        _ => "Check what it is the level of.",
    }
}

fn contradiction(plan: &Plan, about: &Name, against: &[&Stated<'_>]) -> Option<Remark> {
    let first = against.first()?;
    let one = |stated: &&Stated<'_>| {
        let term = stated.term()?;
        let height = length(plan, stated.height().metres());
        Some(format!("{} {height} ({}) in `{}`", term.short(), term.meaning(), stated.attribute))
    };
    let list: Vec<String> = against.iter().filter_map(one).collect();
    let message = format!(
        "`{}` states {}: the term contradicts the list, and the ground leaves the level out.",
        about.0,
        list.join(", ")
    );
    let help = if against.iter().all(|stated| stated.attribute == BOTTOM) {
        "Correct the term, or move the level to `top_levels`."
    } else if against.iter().all(|stated| stated.term() == Some(LevelTerm::Invert)) {
        "Correct the term, or move the level to the list or thing whose invert it is."
    } else {
        "Correct the terms, or exchange `top_levels` and `bottom_levels` where they were swapped."
    };
    Some(remark("data::term-contradicts", Gravity::Suspect, message, about, first.span, help.to_owned()))
}

fn remark(
    code: &'static str,
    gravity: Gravity,
    message: String,
    about: &Name,
    span: Span,
    help: String,
) -> Remark {
    Remark { code, gravity, message, about: vec![about.clone()], spots: Vec::new(), span, help: Some(help) }
}
