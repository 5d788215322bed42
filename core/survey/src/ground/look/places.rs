//! Where levels were taken: two at one place, too few, too far from the lot.

use std::collections::{BTreeMap, BTreeSet};

use groundrule_plan::{Gravity, Plan, Remark};
use groundrule_units::Length;

use super::{GroundLevel, about, at, ground, height, spot, stated};
use crate::curves::Xy;
use crate::error::HALF_WIDTH_95;
use crate::field::length;
use crate::ground::Surface;
use crate::layout::Layout;
use crate::places::xy;

/// Places nearer than this are one, in metres.
const ONE_PLACE: f64 = 0.005;
/// Levels are read to a hundredth of a foot, common practice: a smaller difference is rounding.
const READ_TO: Length = Length::from_feet(0.01);
/// How many levels of one small place are compared with others there.
const COMPARED: usize = 4;
/// A level farther from the lot than this is told of.
const FAR: Length = Length::from_feet(100.0);
/// Levels that lie within this share of their extent of one line, or within so many metres, do not make a surface.
const ON_A_LINE: (f64, f64) = (0.002, 0.12);
/// How many corners are named where levels are to be taken.
const NAMED: usize = 3;

/// Two levels of one surface at one place, that differ by more than they may err.
pub(super) fn two_at_one_place(plan: &Plan, levels: &[GroundLevel]) -> Vec<Remark> {
    let mut cells: BTreeMap<(Surface, i64, i64), Vec<&GroundLevel>> = BTreeMap::new();
    let mut remarks = Vec::new();
    for level in stated(levels) {
        let (x, y) = xy(&level.at);
        let (column, row) = (cell(x), cell(y));
        let around = (-1..=1).flat_map(|i| (-1..=1).map(move |j| (column + i, row + j)));
        let near = around.filter_map(|(i, j)| cells.get(&(level.surface, i, j))).flatten();
        let here = |other: &&&GroundLevel| {
            let (ox, oy) = xy(&other.at);
            libm::hypot(ox - x, oy - y) <= ONE_PLACE
        };
        if let Some(other) = near.filter(here).find(|other| differ(level, other)) {
            let message = format!(
                "`{}` is at {} and `{}` at {}: one place of the {} ground at two levels.",
                other.name.0,
                height(plan, other),
                level.name.0,
                height(plan, level),
                ground(level.surface)
            );
            let help = "Correct one of them. Where the ground does step, draw the wall or curb that holds it, with its \
                        levels above and below."
                .to_owned();
            let remark = at("data::two-levels-at-one-place", Gravity::Wrong, message, level, help);
            remarks.push(Remark { about: about([*other, level]), ..remark });
        }
        let own = cells.entry((level.surface, column, row)).or_default();
        if own.len() < COMPARED {
            own.push(level);
        }
    }
    remarks
}

/// The column or row that a coordinate falls into.
fn cell(metres: f64) -> i64 {
    #[allow(
        clippy::cast_possible_truncation,
        reason = "coordinates of a plan are far from the ends of the type"
    )]
    let cell = (metres / ONE_PLACE).floor() as i64;
    // Room is left for the neighbours of the outermost.
    cell.clamp(i64::MIN + 1, i64::MAX - 1)
}

fn differ(a: &GroundLevel, b: &GroundLevel) -> bool {
    let mut moves: BTreeMap<_, f64> = BTreeMap::new();
    for (levels, sign) in [(&a.error, 1.0), (&b.error, -1.0)] {
        for (source, by) in levels {
            *moves.entry(*source).or_default() += sign * by.metres();
        }
    }
    let spread = libm::sqrt(moves.values().map(|by| by * by).sum());
    let may = Length::from_metres(HALF_WIDTH_95 * spread).max(READ_TO);
    // Rounding of figures in binary is no difference.
    (a.height - b.height).abs() > may + Length::from_millimetres(0.01)
}

/// Levels far outside the lots: one remark for all.
pub(super) fn far_out(plan: &Plan, layout: &Layout) -> Option<Remark> {
    let corners = layout.lots.iter().flat_map(|lot| &lot.ring).map(xy);
    let (low, high) = corners.map(|p| (p, p)).reduce(|(low, high), (p, _)| {
        ((low.0.min(p.0), low.1.min(p.1)), (high.0.max(p.0), high.1.max(p.1)))
    })?;
    let in_lines: BTreeSet<u32> =
        layout.ground.lines.iter().flat_map(|line| line.levels.iter().copied()).collect();
    let gap = |p: Xy| {
        let along = |low: f64, high: f64, at: f64| (at - high).max(low - at).max(0.0);
        libm::hypot(along(low.0, high.0, p.0), along(low.1, high.1, p.1))
    };
    // Lines run on past the lot as a matter of course.
    let single = layout.ground.levels.iter().zip(0_u32..).filter(|(_, i)| !in_lines.contains(i));
    let far: Vec<(&GroundLevel, f64)> =
        single.map(|(level, _)| (level, gap(xy(&level.at)))).filter(|(_, gap)| *gap > FAR.metres()).collect();
    let (worst, by) = far.iter().copied().reduce(|a, b| if b.1 > a.1 { b } else { a })?;
    let message = match far.len() {
        1 => format!("The level of `{}` was taken {} outside the lot.", worst.name.0, length(plan, by)),
        many => format!(
            "{many} levels were taken more than {} outside the lot, that of `{}` {} out.",
            length(plan, FAR.metres()),
            worst.name.0,
            length(plan, by)
        ),
    };
    let help = "Check their places; far from the lot they say little of the ground on it.".to_owned();
    Some(Remark {
        about: about(far.iter().map(|(level, _)| *level)),
        spots: far.iter().map(|(level, _)| spot(level)).collect(),
        ..at("data::level-far-from-lot", Gravity::Noted, message, worst, help)
    })
}

/// Fewer levels than make a surface, or all on one line, and where to take more.
///
/// Heights that were only measured from point to point are no attempt at the ground, and are not asked to be one.
pub(super) fn too_few(plan: &Plan, layout: &Layout) -> Option<Remark> {
    let levels = &layout.ground.levels;
    let of = |surface: Surface| levels.iter().filter(move |level| level.surface == surface);
    // What is proposed lies on what is there; by itself it must make a surface only where nothing else does.
    let surface = of(Surface::Existing).next().map_or(Surface::Proposed, |level| level.surface);
    let first = of(surface).find(|level| !level.derived)?;
    let is_stated = |level: &&GroundLevel| !layout.heights.contains_key(&level.name.0);
    if !of(surface).any(|level| is_stated(&level)) && plan.ground.levels.is_empty() {
        return None;
    }
    let places: Vec<Xy> = of(surface).map(|level| xy(&level.at)).collect();
    if !on_one_line(&places) {
        return None;
    }
    let count = of(surface).filter(|level| !level.derived).count();
    let message = match count {
        1 => format!("The {} ground has one level, and a surface takes three.", ground(surface)),
        2 => format!("The {} ground has two levels, and a surface takes three.", ground(surface)),
        _ => format!(
            "The {count} levels of the {} ground lie on one line, which makes no surface.",
            ground(surface)
        ),
    };
    let corners = farthest(plan, layout, &places);
    let help = match corners.iter().map(|(name, _)| format!("`{name}`")).collect::<Vec<_>>().as_slice() {
        [] => "Take more levels off that line, where nothing is known yet.".to_owned(),
        names => format!("Take the level of the ground at {}, farthest from those known.", names.join(", ")),
    };
    Some(Remark {
        about: about(of(surface)),
        spots: corners.iter().map(|(_, (x, y))| (Length::from_metres(*x), Length::from_metres(*y))).collect(),
        ..at("data::too-few-levels", Gravity::Lacking, message, first, help)
    })
}

/// True for places that lie on one line, or at one place.
fn on_one_line(places: &[Xy]) -> bool {
    let Some(first) = places.first() else { return true };
    let far = |from: Xy| {
        let gap = |p: &&Xy| libm::hypot(p.0 - from.0, p.1 - from.1);
        places.iter().max_by(|a, b| gap(a).total_cmp(&gap(b))).copied().unwrap_or(from)
    };
    let a = far(*first);
    let b = far(a);
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let extent = libm::hypot(dx, dy);
    if extent <= ONE_PLACE {
        return true;
    }
    let off = |p: &Xy| ((p.0 - a.0) * dy - (p.1 - a.1) * dx).abs() / extent;
    let most = places.iter().map(off).fold(0.0, f64::max);
    most <= (ON_A_LINE.0 * extent).max(ON_A_LINE.1)
}

/// The corners of the first lot farthest from all places known, each far from those named before it.
fn farthest(plan: &Plan, layout: &Layout, places: &[Xy]) -> Vec<(String, Xy)> {
    let Some(lot) = plan.lots.first() else { return Vec::new() };
    let names = lot.ring.vertices.iter().filter_map(|vertex| vertex.corner.as_ref());
    let mut corners: Vec<(String, Xy)> = names
        .filter_map(|corner| {
            let full = format!("{}.{}", lot.id.value.0, corner.0);
            let at = xy(layout.named.get(&full)?);
            Some((full, at))
        })
        .collect();
    let mut known = places.to_vec();
    let mut chosen = Vec::new();
    while chosen.len() < NAMED {
        let gap =
            |at: Xy| known.iter().map(|p| libm::hypot(p.0 - at.0, p.1 - at.1)).fold(f64::INFINITY, f64::min);
        let far = corners.iter().enumerate().map(|(i, (_, at))| (i, gap(*at)));
        let Some((i, by)) = far.reduce(|a, b| if b.1 > a.1 { b } else { a }) else { break };
        if by <= ONE_PLACE || !on_one_line(&known) {
            break;
        }
        let corner = corners.swap_remove(i);
        known.push(corner.1);
        chosen.push(corner);
    }
    chosen
}
