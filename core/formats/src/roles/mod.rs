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
//! 3. *Roles* follow from the sides that face a street as they do on any lot: see [`groundrule_survey::roles`].
//!    Of several frontages the others are street sides, whether or not they meet the front: a line that faces the
//!    middle of a street on a map may well be the back of a lot.
//!
//! A lot with a street's middle running more than 10 m inside it is street land, and has no roles.

mod sides;
mod sight;

#[cfg(test)]
mod tests;

use groundrule_plan::Role;
use groundrule_survey::{Position, roles as survey};
use groundrule_units::Length;
use rayon::prelude::*;

use crate::kernel::{Xy, length, minus, path_length, twice_area, unit};
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
/// A street's middle may run so far inside a lot before the lot is street land.
const THROUGH: f64 = 10.0;
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
    let sides: Vec<survey::Side> = runs
        .iter()
        .zip(&facing)
        .map(|(run, &street)| survey::Side {
            path: run.path(ring).iter().map(position).collect(),
            street,
            stated: None,
        })
        .collect();
    let proposal = survey::propose(&sides, survey::Apart::StreetSide);
    if proposal.front.is_none() {
        return none(Front::Unknown);
    }
    let sides = runs
        .iter()
        .zip(proposal.roles.iter().zip(&facing))
        .map(|(run, (&role, &street))| ProposedSide { from: run.from, until: run.until, role, street })
        .collect();
    Proposal { sides, front: if proposal.frontages.len() > 1 { Front::Corner } else { Front::Plain } }
}

fn position(at: &Xy) -> Position {
    Position { x: Length::from_metres(at[0]), y: Length::from_metres(at[1]) }
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
