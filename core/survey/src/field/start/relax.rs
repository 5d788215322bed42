//! Starting places for points that only several figures together fix: a first guess, brought nearer round by round.

use std::collections::BTreeSet;

use super::loci::{Curve, Locus, minus, norm, off, plus, unit};
use crate::curves::Xy;
use crate::field::figure::Node;

/// Rounds of bringing every guess nearer to its figures. The adjustment does the rest.
const ROUNDS: usize = 400;

/// The loci of a point with all points at the places handed over.
pub(crate) type LociOf<'a> = dyn Fn(Node, &[Option<Xy>]) -> Vec<Locus> + 'a;

/// Guesses for every open point from the loci that the others, guessed or known, leave it.
///
/// `beside` says which way from the middle of its ring a corner lies; `loci` gives the loci of a point with all points at the places handed to it.
pub(crate) fn guess(
    open: &BTreeSet<Node>,
    at: &[Option<Xy>],
    beside: &dyn Fn(Node) -> Option<Xy>,
    loci: &LociOf<'_>,
) -> Vec<Option<Xy>> {
    let known: Vec<Xy> = at.iter().copied().flatten().collect();
    let n = known.len().max(1) as f64;
    let middle = known.iter().fold((0.0, 0.0), |sum, p| (sum.0 + p.0 / n, sum.1 + p.1 / n));
    let size = known.iter().map(|p| norm(minus(*p, middle))).fold(1.0, f64::max);
    let mut guessed = at.to_vec();
    for (node, i) in open.iter().zip(0_u32..) {
        // No two guesses in one place, and none on a line with two others.
        let by = beside(*node).unwrap_or_else(|| {
            let (sin, cos) = libm::sincos(2.4 * f64::from(i));
            (0.7 * cos, 0.7 * sin)
        });
        guessed[*node] = Some((middle.0 + 0.1 * size * by.0, middle.1 + 0.1 * size * by.1));
    }
    move_whole(open, at, &mut guessed, loci);
    for _ in 0..ROUNDS {
        let mut moved: f64 = 0.0;
        for node in open {
            let Some(here) = guessed[*node] else { continue };
            let nearest: Vec<Xy> =
                loci(*node, &guessed).iter().filter_map(|locus| nearest(locus, here)).collect();
            if nearest.is_empty() {
                continue;
            }
            let share = nearest.len() as f64;
            let there = nearest.iter().fold((0.0, 0.0), |sum, p| (sum.0 + p.0 / share, sum.1 + p.1 / share));
            if there.0.is_finite() && there.1.is_finite() {
                moved = moved.max(norm(minus(there, here)));
                guessed[*node] = Some(there);
            }
        }
        if moved < 1e-9 * size {
            break;
        }
    }
    guessed
}

/// Moves all guesses together, without turning them, to where figures with known points would have them.
fn move_whole(open: &BTreeSet<Node>, at: &[Option<Xy>], guessed: &mut [Option<Xy>], loci: &LociOf<'_>) {
    // Only figures whose other points are known count, and these do not change.
    let held: Vec<(Node, Vec<Locus>)> = open.iter().map(|node| (*node, loci(*node, at))).collect();
    for _ in 0..ROUNDS {
        let pulls = held.iter().flat_map(|(node, loci)| {
            let here = guessed[*node];
            loci.iter().filter_map(move |locus| Some(minus(nearest(locus, here?)?, here?)))
        });
        let pulls: Vec<Xy> = pulls.filter(|pull| pull.0.is_finite() && pull.1.is_finite()).collect();
        let share = pulls.len() as f64;
        if pulls.is_empty() {
            return;
        }
        let by = pulls.iter().fold((0.0, 0.0), |sum, p| (sum.0 + p.0 / share, sum.1 + p.1 / share));
        for node in open {
            guessed[*node] = guessed[*node].map(|here| (here.0 + by.0, here.1 + by.1));
        }
    }
}

/// The nearest place on the curve of a locus that comes nearest.
fn nearest(locus: &Locus, here: Xy) -> Option<Xy> {
    let curve = locus.iter().copied().min_by(|a, b| off(*a, here).total_cmp(&off(*b, here)))?;
    match curve {
        Curve::Circle(centre, radius) => {
            Some(plus(centre, unit(minus(here, centre)).unwrap_or((1.0, 0.0)), radius))
        }
        Curve::Line(from, along) | Curve::Ray(from, along) => {
            let away = minus(here, from);
            let station = away.0 * along.0 + away.1 * along.1;
            let station = if matches!(curve, Curve::Ray(..)) { station.max(0.0) } else { station };
            Some(plus(from, along, station))
        }
    }
}
