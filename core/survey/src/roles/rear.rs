//! The rear line of a lot that comes to a point: so long, inside the lot, parallel to the front, and as far back as
//! it goes.

use groundrule_units::Length;

use super::frame::crossings;
use super::line::{Xy, cross, dot, flat, minus, unit};
use crate::error::{ErrorTerms, Map};
use crate::layout::Point;
use crate::places::position;

/// Why no such line can be set out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum NotSetOut {
    /// The lot is nowhere so wide.
    TooWide,
    /// Its back is so many metres wide, which is more.
    WideBehind(f64),
}

/// Widths closer than this, in metres, are the same.
const SAME: f64 = 1e-9;

/// Sets the line out between the two edges of the lot it ends on, running with the lot in front on its left.
///
/// `seen` are the points as seen from the front, whose ends are given by their index.
pub(super) fn set_out(
    points: &[Point],
    seen: &[Xy],
    (from, until): (usize, usize),
    wanted: Length,
) -> Result<[Point; 2], NotSetOut> {
    let wanted = wanted.metres();
    let mut depths: Vec<f64> = seen.iter().map(|p| p.1).collect();
    depths.sort_by(|a, b| b.total_cmp(a));
    depths.dedup();
    for slab in depths.windows(2) {
        let &[back, fore] = slab else { continue };
        // Within a slab no edge ends, so every stretch across widens or narrows evenly.
        let middle = crossings(seen, f64::midpoint(back, fore));
        let best = middle
            .chunks_exact(2)
            .filter_map(|ends| {
                let &[(left, _), (right, _)] = ends else { return None };
                let width = |depth: f64| Some(at_depth(seen, right, depth)? - at_depth(seen, left, depth)?);
                let (behind, before) = (width(back)?, width(fore)?);
                if behind > wanted + SAME {
                    return Some(Err(behind));
                }
                if before < wanted - SAME {
                    return None;
                }
                let share = if before - behind > SAME { (wanted - behind) / (before - behind) } else { 0.0 };
                Some(Ok((back + share.clamp(0.0, 1.0) * (fore - back), left, right)))
            })
            .max_by(|a, b| reach(*a, back).total_cmp(&reach(*b, back)));
        match best {
            Some(Ok((_, left, right))) => {
                return placed(points, (from, until), left, right, wanted).ok_or(NotSetOut::TooWide);
            }
            Some(Err(width)) => return Err(NotSetOut::WideBehind(width)),
            None => {}
        }
    }
    Err(NotSetOut::TooWide)
}

/// How far back a candidate lies.
fn reach(candidate: Result<(f64, usize, usize), f64>, back: f64) -> f64 {
    candidate.map_or(back, |(depth, ..)| depth)
}

/// How far across an edge lies at a depth.
fn at_depth(seen: &[Xy], edge: usize, depth: f64) -> Option<f64> {
    let (a, b) = (*seen.get(edge)?, *seen.get((edge + 1) % seen.len())?);
    let rise = b.1 - a.1;
    (rise != 0.0).then(|| a.0 + (depth - a.1) / rise * (b.0 - a.0))
}

/// The ends of the line on two edges, with their error to first order.
///
/// With the front chord in direction `u`, the ends `P` on the left edge and `Q` on the right one satisfy
/// `Q - P = wanted u`. How far along its edge each end lies follows from that; so do, by differentiating it, their
/// shifts when a point of either edge or of the front moves.
fn placed(
    points: &[Point],
    (from, until): (usize, usize),
    left: usize,
    right: usize,
    wanted: f64,
) -> Option<[Point; 2]> {
    let after = |edge: usize| (edge + 1) % points.len();
    let at = |i: usize| points.get(i).map(|point| flat(&point.at));
    let (p0, p1, q0, q1) = (at(left)?, at(after(left))?, at(right)?, at(after(right))?);
    let chord = minus(at(until)?, at(from)?);
    let u = unit(chord);
    let (along_left, along_right) = (minus(p1, p0), minus(q1, q0));
    let turn = cross(along_left, along_right);
    if turn == 0.0 {
        return None;
    }
    // Solves `b along_right - a along_left = of` for a and b.
    let solve = |of: Xy| (cross(along_right, of) / turn, cross(along_left, of) / turn);
    let whole = minus((wanted * u.0, wanted * u.1), minus(q0, p0));
    let (a, b) = solve(whole);
    let on = |start: Xy, way: Xy, t: f64| (start.0 + t * way.0, start.1 + t * way.1);
    let (p, q) = (on(p0, along_left, a), on(q0, along_right, b));

    // Each part: a point, how far it moves the starts and the ways of both edges, and how far it turns the chord.
    let (square, size) = ((-u.1, u.0), libm::hypot(chord.0, chord.1));
    let parts = [
        (left, 1.0, -1.0, 0.0, 0.0, 0.0),
        (after(left), 0.0, 1.0, 0.0, 0.0, 0.0),
        (right, 0.0, 0.0, 1.0, -1.0, 0.0),
        (after(right), 0.0, 0.0, 0.0, 1.0, 0.0),
        (from, 0.0, 0.0, 0.0, 0.0, -1.0),
        (until, 0.0, 0.0, 0.0, 0.0, 1.0),
    ];
    let mut of_p: Vec<(Map, &ErrorTerms)> = Vec::with_capacity(parts.len());
    let mut of_q: Vec<(Map, &ErrorTerms)> = Vec::with_capacity(parts.len());
    for (i, start_p, way_p, start_q, way_q, turns) in parts {
        let (mut p_map, mut q_map): (Map, Map) = ([[0.0; 2]; 2], [[0.0; 2]; 2]);
        for (column, e) in [(1.0, 0.0), (0.0, 1.0)].into_iter().enumerate() {
            let swing = wanted * turns * dot(square, e) / size;
            let (move_p, move_q) = (start_p + a * way_p, start_q + b * way_q);
            let of = (swing * square.0 - (move_q - move_p) * e.0, swing * square.1 - (move_q - move_p) * e.1);
            let (da, db) = solve(of);
            p_map[0][column] = move_p * e.0 + da * along_left.0;
            p_map[1][column] = move_p * e.1 + da * along_left.1;
            q_map[0][column] = move_q * e.0 + db * along_right.0;
            q_map[1][column] = move_q * e.1 + db * along_right.1;
        }
        let error = &points.get(i)?.error;
        of_p.push((p_map, error));
        of_q.push((q_map, error));
    }
    // The lot lies on the left of its lines: the rear line runs against the front.
    Some([
        Point { at: position(q), error: ErrorTerms::moved_by(&of_q) },
        Point { at: position(p), error: ErrorTerms::moved_by(&of_p) },
    ])
}
