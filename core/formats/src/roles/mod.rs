//! What each lot line is to its lot, proposed from the middles of the streets.
//!
//! Nothing in a footprint map says which line of a lot is its front. This proposes it, by a definition
//! short enough to check by hand; everything proposed is marked as assumed, and a person's word replaces it.
//!
//! 1. *Sides.* Edges that nearly continue each other are one side: going anticlockwise, a new side starts
//!    where the ring turns by more than 20 degrees, or has come to run more than 45 degrees off the side's
//!    first edge. Sides are counted from the first vertex, going that way, that turns so sharply.
//! 2. *Facing.* From the places a quarter, half and three quarters along a side, the nearest place of each
//!    street is looked at. It is seen if it is within reach, no more than 60 degrees off square to the
//!    side's chord on the outside, and no more than 1/2 m of the way to it crosses this or another lot.
//!    A side faces a street if at least two of the three places see one; its street is the nearest one that
//!    the earliest of them sees.
//! 3. *Frontages.* Facing sides that follow each other around the ring, leaving out sides shorter than 1 m,
//!    and whose chords differ by less than 45 degrees, make one frontage.
//! 4. *Front.* The shortest frontage of at least 6 m is the front (common practice for corner lots: the
//!    narrower street side); if none is so long, the longest is. Every other frontage is a street side.
//! 5. *Rear.* Of the sides that face no street, those turned at least 135 degrees from the front, and lying
//!    at least half as far behind it as the farthest of them, are the rear. The rest are sides.
//! 6. *Short sides.* A side under 1 m is a jog: it takes the role of the longer of its nearest neighbours
//!    that are not short.
//!
//! A lot with a street's middle running more than 10 m inside it is street land, and has no roles.

mod sides;
mod sight;

#[cfg(test)]
mod tests;

use groundrule_plan::Role;
use groundrule_survey::Position;
use groundrule_units::Length;
use rayon::prelude::*;

use crate::kernel::{Xy, along, dot, length, minus, path_length, twice_area, unit};
use sides::Run;
use sight::Sight;

/// The middle of a street.
#[derive(Clone, Debug, PartialEq)]
pub struct Street {
    /// Its name, if the map has one.
    pub name: Option<String>,
    /// Its vertices.
    pub path: Vec<Position>,
}

/// One side of a lot, as proposed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProposedSide {
    /// The index of the ring vertex it starts at.
    pub from: usize,
    /// The index of the ring vertex it ends at.
    pub until: usize,
    /// Its role; none on street land and on a lot that fronts no street.
    pub role: Option<Role>,
    /// The street it faces, by its index.
    pub street: Option<usize>,
}

/// What was proposed for one lot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proposal {
    /// All sides, in ring order from the first that starts a new direction.
    pub sides: Vec<ProposedSide>,
    /// What was found of its front.
    pub front: Front,
}

/// What was found of a lot's front.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Front {
    /// One street side, proposed as front.
    Plain,
    /// Several street sides: the front is the shortest of them.
    Corner,
    /// No side faces a street.
    Unknown,
    /// A street runs through it.
    StreetLand,
}

/// Shorter sides are jogs.
const JOG: f64 = 1.0;
/// Shorter frontages are cut corners.
const LEAST_FRONTAGE: f64 = 6.0;
/// A street's middle may run so far inside a lot before the lot is street land.
const THROUGH: f64 = 10.0;
/// The cosine, and the sine, of 45 degrees.
const DIAGONAL: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// Proposes the sides and roles of lots; `reach` is how far a side may lie from the middle of its street.
///
/// Rings run either way and do not repeat their first vertex. One proposal per lot, in order.
pub fn propose(lots: &[Vec<Position>], streets: &[Street], reach: Length) -> Vec<Proposal> {
    let rings: Vec<Vec<Xy>> = lots.iter().map(|ring| anticlockwise(ring)).collect();
    let streets: Vec<Vec<Xy>> = streets.iter().map(|street| street.path.iter().map(flat).collect()).collect();
    let sight = Sight::new(&rings, &streets, reach.metres());
    rings.par_iter().zip(lots).map(|(ring, lot)| as_written(lot_proposal(&sight, ring), lot)).collect()
}

/// Where a curve is cut into sides depends on the way it is gone along, so all rings are gone one way.
fn anticlockwise(ring: &[Position]) -> Vec<Xy> {
    let mut ring: Vec<Xy> = ring.iter().map(flat).collect();
    if twice_area(&ring) < 0.0 {
        ring.reverse();
    }
    ring
}

/// The same sides, counted and directed as the ring was written.
fn as_written(mut proposal: Proposal, ring: &[Position]) -> Proposal {
    let flat: Vec<Xy> = ring.iter().map(flat).collect();
    if twice_area(&flat) < 0.0 {
        let last = ring.len() - 1;
        for side in &mut proposal.sides {
            (side.from, side.until) = (last - side.until, last - side.from);
        }
        proposal.sides.reverse();
    }
    proposal
}

fn flat(at: &Position) -> Xy {
    [at.x.metres(), at.y.metres()]
}

fn lot_proposal(sight: &Sight<'_>, ring: &[Xy]) -> Proposal {
    let runs = sides::runs(ring);
    let bare = |run: &Run| ProposedSide { from: run.from, until: run.until, role: None, street: None };
    let none = |front| Proposal { sides: runs.iter().map(bare).collect(), front };
    if sight.street_inside(ring) > THROUGH {
        return none(Front::StreetLand);
    }
    let facing: Vec<Option<usize>> = runs
        .iter()
        .map(|run| if run.length < JOG { None } else { sight.faces(&run.path(ring), run.outward) })
        .collect();
    let fronts = frontages(&runs, &facing);
    let Some(front) = front_of(&runs, &fronts) else { return none(Front::Unknown) };
    let mut roles: Vec<Option<Role>> = facing
        .iter()
        .map(|street| Some(if street.is_some() { Role::StreetSide } else { Role::Side }))
        .collect();
    for &side in &fronts[front] {
        roles[side] = Some(Role::Front);
    }
    for side in rear(ring, &runs, &facing, &fronts[front]) {
        roles[side] = Some(Role::Rear);
    }
    settle_jogs(&runs, &mut roles);
    let sides = runs
        .iter()
        .zip(roles.iter().zip(&facing))
        .map(|(run, (&role, &street))| ProposedSide { from: run.from, until: run.until, role, street })
        .collect();
    Proposal { sides, front: if fronts.len() > 1 { Front::Corner } else { Front::Plain } }
}

/// Runs of facing sides that belong together, each a list of side indexes.
fn frontages(runs: &[Run], facing: &[Option<usize>]) -> Vec<Vec<usize>> {
    let long: Vec<usize> = (0..runs.len()).filter(|&side| runs[side].length >= JOG).collect();
    let joined = |a: usize, b: usize| {
        facing[a].is_some() && facing[b].is_some() && dot(runs[a].outward, runs[b].outward) > DIAGONAL
    };
    // Start after a gap, so that a frontage that runs past the first side stays whole.
    let gap = |&at: &usize| !joined(long[(at + long.len() - 1) % long.len()], long[at]);
    let start = (0..long.len()).find(gap).unwrap_or(0);
    let mut found: Vec<Vec<usize>> = Vec::new();
    let mut before: Option<usize> = None;
    for at in 0..long.len() {
        let side = long[(start + at) % long.len()];
        if facing[side].is_some() {
            match (before, found.last_mut()) {
                (Some(last), Some(run)) if joined(last, side) => run.push(side),
                _ => found.push(vec![side]),
            }
        }
        before = Some(side);
    }
    found
}

/// The frontage that is the front.
fn front_of(runs: &[Run], frontages: &[Vec<usize>]) -> Option<usize> {
    let size = |frontage: &Vec<usize>| frontage.iter().map(|&side| runs[side].length).sum::<f64>();
    let sizes: Vec<f64> = frontages.iter().map(size).collect();
    let order = |a: &usize, b: &usize| sizes[*a].total_cmp(&sizes[*b]);
    let wide = (0..sizes.len()).filter(|&at| sizes[at] >= LEAST_FRONTAGE).min_by(order);
    wide.or_else(|| (0..sizes.len()).max_by(order))
}

/// The sides opposite the front.
fn rear(ring: &[Xy], runs: &[Run], facing: &[Option<usize>], front: &[usize]) -> Vec<usize> {
    let sum = front.iter().fold([0.0, 0.0], |sum: Xy, &side| {
        let run = &runs[side];
        [sum[0] + run.outward[0] * run.length, sum[1] + run.outward[1] * run.length]
    });
    let outward = unit(sum);
    let middle = |side: usize| along(&runs[side].path(ring), 0.5).unwrap_or_default();
    let longest = front.iter().copied().max_by(|&a, &b| runs[a].length.total_cmp(&runs[b].length));
    let Some(origin) = longest.map(middle) else { return Vec::new() };
    let depth = |side: usize| -dot(minus(middle(side), origin), outward);
    let opposed: Vec<usize> = (0..runs.len())
        .filter(|&side| runs[side].length >= JOG && facing[side].is_none())
        .filter(|&side| dot(runs[side].outward, outward) <= -DIAGONAL)
        .collect();
    let deepest = opposed.iter().map(|&side| depth(side)).fold(0.0, f64::max);
    opposed.into_iter().filter(|&side| depth(side) > 0.0 && depth(side) >= deepest / 2.0).collect()
}

fn settle_jogs(runs: &[Run], roles: &mut [Option<Role>]) {
    let count = runs.len();
    let long = |step: &dyn Fn(usize) -> usize| (1..count).map(step).find(|&side| runs[side].length >= JOG);
    let neighbours: Vec<(usize, usize)> = (0..count)
        .filter(|&side| runs[side].length < JOG)
        .filter_map(|side| {
            let after = long(&|step| (side + step) % count)?;
            let before = long(&|step| (side + count - step) % count)?;
            Some((side, if runs[after].length > runs[before].length { after } else { before }))
        })
        .collect();
    for (side, like) in neighbours {
        roles[side] = roles[like];
    }
}

impl Run {
    /// The places of the side from end to end.
    fn path(&self, ring: &[Xy]) -> Vec<Xy> {
        let steps = (self.until + ring.len() - self.from - 1) % ring.len() + 1;
        (0..=steps).map(|step| ring[(self.from + step) % ring.len()]).collect()
    }

    fn new(ring: &[Xy], from: usize, until: usize) -> Self {
        let mut run = Self { from, until, length: 0.0, outward: [0.0, 0.0] };
        let path = run.path(ring);
        run.length = path_length(&path);
        let chord = match (path.first(), path.last()) {
            (Some(&first), Some(&last)) => minus(last, first),
            _ => [0.0, 0.0],
        };
        // A ring of one side has no chord; its first edge stands in.
        let chord = if length(chord) > 0.0 { chord } else { minus(path[1], path[0]) };
        let chord = unit(chord);
        run.outward = [chord[1], -chord[0]];
        run
    }
}
