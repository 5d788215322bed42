//! Which of two places a point stands at: by a third figure, by what is said, by the way round, by good sense.

use std::collections::BTreeMap;

use super::Ring;
use super::loci::{Locus, minus, off};
use crate::curves::Xy;
use crate::field::figure::{Line, Node};
use crate::rings::holds;

/// On which side a point was said to stand.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Side {
    /// In this direction on the sheet, seen from the points it is tied to.
    Toward(Xy),
    /// To the left of a line, or to its right.
    Of(Line, Hand),
    /// Near a place.
    Near(Xy),
}

/// Left or right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Hand {
    Left,
    Right,
}

/// What is said beyond the figures.
#[derive(Debug, Default)]
pub(crate) struct Hints {
    /// Rough positions.
    pub(crate) near: BTreeMap<Node, Xy>,
    /// Sides, in file order.
    pub(crate) sides: Vec<(Node, Side)>,
    /// The buildings whose corners a point is tied to: it stands outside them.
    pub(crate) tied_to: BTreeMap<Node, Vec<String>>,
}

/// The outcome.
#[derive(Debug)]
pub(crate) enum Choice {
    /// This one, because something said so.
    Place(Xy),
    /// This one, because its mirror image would stand inside a building.
    Beside { at: Xy, image: Xy, inside: String },
    /// Nothing tells.
    Open,
}

/// Chooses between two places of a point.
pub(crate) fn choose(
    node: Node,
    (one, two): (Xy, Xy),
    loci: &[(usize, Locus)],
    hints: &Hints,
    rings: &[Ring],
    at: &[Option<Xy>],
) -> Choice {
    let apart = libm::hypot(one.0 - two.0, one.1 - two.1);
    let pick = |first: bool| Choice::Place(if first { one } else { two });
    // A third figure that fits one of them and misses the other clearly.
    let misfit = |place: Xy| -> f64 {
        let each =
            loci.iter().map(|(_, locus)| locus.iter().map(|c| off(*c, place)).fold(f64::INFINITY, f64::min));
        each.sum()
    };
    let (first, second) = (misfit(one), misfit(two));
    if (first - second).abs() > 0.2 * apart {
        return pick(first < second);
    }
    for (_, side) in hints.sides.iter().filter(|(of, _)| *of == node) {
        if let Some(first) = by_side(side, one, two, at) {
            return pick(first);
        }
    }
    if let Some(near) = hints.near.get(&node) {
        return pick(distance(*near, one) <= distance(*near, two));
    }
    let turns = |place: Xy| rings.iter().map(|ring| turns(ring, node, place, at)).sum::<f64>();
    let (first, second) = (turns(one), turns(two));
    if (first - second).abs() > 0.5 {
        return pick(first > second);
    }
    for owner in hints.tied_to.get(&node).into_iter().flatten() {
        let Some(outline) = rings.iter().find(|ring| ring.owner == *owner).and_then(|ring| outline(ring, at))
        else {
            continue;
        };
        match (holds(&outline, one), holds(&outline, two)) {
            (true, false) => return Choice::Beside { at: two, image: one, inside: owner.clone() },
            (false, true) => return Choice::Beside { at: one, image: two, inside: owner.clone() },
            _ => {}
        }
    }
    Choice::Open
}

/// True when a side that was said takes the first place, false when the second.
fn by_side(side: &Side, one: Xy, two: Xy, at: &[Option<Xy>]) -> Option<bool> {
    let (first, second) = match side {
        Side::Toward(along) => (dot(one, *along), dot(two, *along)),
        Side::Near(near) => (-distance(*near, one), -distance(*near, two)),
        Side::Of((from, to), hand) => {
            let (from, to) = (at.get(*from).copied().flatten()?, at.get(*to).copied().flatten()?);
            let sign = if *hand == Hand::Left { 1.0 } else { -1.0 };
            (sign * cross(from, to, one), sign * cross(from, to, two))
        }
    };
    let clear = (first - second).abs() > 1e-6 * distance(one, two);
    clear.then_some(first > second)
}

/// How many corners of a ring turn its way with this corner here, less those that turn against it.
fn turns(ring: &Ring, node: Node, place: Xy, at: &[Option<Xy>]) -> f64 {
    let n = ring.corners.len();
    if ring.sense == 0.0 || !ring.corners.contains(&Some(node)) {
        return 0.0;
    }
    let corner = |i: usize| {
        let corner = ring.corners[i % n]?;
        if corner == node { Some(place) } else { at.get(corner).copied().flatten() }
    };
    let turn = |i: usize| {
        let with_it = (i..i + 3).any(|i| ring.corners[i % n] == Some(node));
        let (a, b, c) = (corner(i)?, corner(i + 1)?, corner(i + 2)?);
        with_it.then(|| ring.sense * cross(a, b, c).signum())
    };
    (0..n).filter_map(turn).sum()
}

fn outline(ring: &Ring, at: &[Option<Xy>]) -> Option<Vec<Xy>> {
    ring.corners.iter().map(|corner| at.get((*corner)?).copied().flatten()).collect()
}

fn cross(a: Xy, b: Xy, c: Xy) -> f64 {
    let (u, v) = (minus(b, a), minus(c, b));
    u.0 * v.1 - u.1 * v.0
}

fn dot(a: Xy, b: Xy) -> f64 {
    a.0 * b.0 + a.1 * b.1
}

fn distance(a: Xy, b: Xy) -> f64 {
    libm::hypot(a.0 - b.0, a.1 - b.1)
}
