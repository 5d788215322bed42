//! The area that sets of shapes cover together, with how it moves as their points move.
//!
//! The sheet is cut into upright strips at every end and every crossing of a boundary. Within a strip no two
//! boundaries cross, so walking up it and counting windings tells what is covered, and the area between two
//! boundaries has a closed form, for circles too. The order of boundaries that all but coincide may come out
//! wrong, which costs no more than the sliver between them: there is no topology to break.

use geo::Coord;

use super::curves::{Curve, Turn, push_curves};
use super::piece::{Bounds, Piece};
use super::segments::place;
use crate::Terms;
use crate::terms::Gather;

/// Boundaries closer than this, in metres, are one: shapes that touch leave no gap between them.
const TOUCHING: f64 = 1e-10;

/// The area covered by any of `union`, within any of `within` where that is given, in square metres,
/// and how each source of error moves it.
///
/// To first order an area changes by each stretch of its boundary times how far that stretch moves outward,
/// so the error comes through the points that bound what is covered and no others.
pub(crate) fn covered(union: &[&Piece], within: Option<&[&Piece]>) -> (f64, Terms) {
    let all = || union.iter().chain(within.into_iter().flatten());
    let Some(origin) = all().find_map(|piece| piece.points().next()).map(place) else {
        return (0.0, Terms::new());
    };
    let turn = Turn::about(origin);
    let mut curves = Vec::new();
    for piece in union {
        push_curves(piece, 0, &turn, &mut curves);
    }
    for piece in within.into_iter().flatten() {
        push_curves(piece, 1, &turn, &mut curves);
    }
    curves.sort_by(|a, b| a.reach.0.total_cmp(&b.reach.0));

    let mut walk = Walk { confined: within.is_some(), ..Walk::default() };
    walk.moves.resize(curves.len(), (Coord { x: 0.0, y: 0.0 }, Coord { x: 0.0, y: 0.0 }));
    let cuts = cuts(&curves);
    let (mut next, mut active) = (0, Vec::new());
    for strip in cuts.windows(2) {
        let &[from, to] = strip else { continue };
        let middle = f64::midpoint(from, to);
        while curves.get(next).is_some_and(|curve| curve.reach.0 <= from) {
            active.push(next);
            next += 1;
        }
        active.retain(|i: &usize| curves.get(*i).is_some_and(|curve| curve.reach.1 >= to));
        walk.up(&curves, &active, (from, middle, to));
    }
    let mut gather = Gather::default();
    for (curve, (first, second)) in curves.iter().zip(&walk.moves) {
        gather.point(curve.points.0, turn.back(*first));
        gather.point(curve.points.1, turn.back(*second));
    }
    (walk.area.max(0.0), gather.finish())
}

/// Every place where a boundary starts, ends or crosses another, in order.
fn cuts(curves: &[Curve]) -> Vec<f64> {
    let mut cuts: Vec<f64> = curves.iter().flat_map(|c| [c.reach.0, c.reach.1]).collect();
    let mut open: Vec<&Curve> = Vec::new();
    for curve in curves {
        open.retain(|other| other.reach.1 > curve.reach.0);
        let (low, high) = curve.heights();
        for other in &open {
            let (bottom, top) = other.heights();
            if bottom > high || low > top {
                continue;
            }
            let (from, to) = (curve.reach.0.max(other.reach.0), curve.reach.1.min(other.reach.1));
            cuts.extend(curve.crossings(other).into_iter().flatten().filter(|x| *x > from && *x < to));
        }
        open.push(curve);
    }
    cuts.sort_by(f64::total_cmp);
    cuts.dedup();
    cuts
}

#[derive(Default)]
struct Walk {
    confined: bool,
    area: f64,
    moves: Vec<(Coord<f64>, Coord<f64>)>,
    order: Vec<(f64, usize)>,
}

impl Walk {
    fn up(&mut self, curves: &[Curve], active: &[usize], (from, middle, to): (f64, f64, f64)) {
        self.order.clear();
        self.order.extend(active.iter().filter_map(|&i| Some((curves.get(i)?.height(middle), i))));
        self.order.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        self.close_gaps(curves);
        let mut windings = [0, 0];
        let mut inside = false;
        for &(_, i) in &self.order {
            let Some(curve) = curves.get(i) else { continue };
            if let Some(winding) = windings.get_mut(curve.set) {
                *winding += curve.winding;
            }
            let now = windings[0] > 0 && (!self.confined || windings[1] > 0);
            if now != inside {
                let sign = if now { -1.0 } else { 1.0 };
                self.area += sign * curve.below(from, to);
                let (first, second) = curve.rise(from, to);
                if let Some(moves) = self.moves.get_mut(i) {
                    moves.0 = moves.0 + first * sign;
                    moves.1 = moves.1 + second * sign;
                }
                inside = now;
            }
        }
    }

    /// Where one shape ends and another of its set begins at the same height, begins the second first.
    fn close_gaps(&mut self, curves: &[Curve]) {
        let key = |i: usize| curves.get(i).map_or((0, 0), |c| (c.set, c.winding));
        for k in 1..self.order.len() {
            let mut k = k;
            while k > 0 {
                let (below, here) = (self.order[k - 1], self.order[k]);
                let ((set, ends), (also, begins)) = (key(below.1), key(here.1));
                if set == also && ends < 0 && begins > 0 && here.0 - below.0 < TOUCHING {
                    self.order.swap(k - 1, k);
                    k -= 1;
                } else {
                    break;
                }
            }
        }
    }
}

/// Groups of pieces whose boxes hang together, each in order: what lies apart need not be swept together.
pub(crate) fn clusters<'a, 'b>(pieces: &'b [Piece<'a>]) -> Vec<Vec<&'b Piece<'a>>> {
    let boxes: Vec<Bounds> = pieces.iter().map(Piece::bounds).collect();
    let mut by_left: Vec<usize> = (0..pieces.len()).collect();
    by_left.sort_by(|a, b| boxes[*a].low.x.total_cmp(&boxes[*b].low.x));
    let mut leader: Vec<usize> = (0..pieces.len()).collect();
    let mut open: Vec<usize> = Vec::new();
    for &i in &by_left {
        open.retain(|&j| boxes[j].high.x >= boxes[i].low.x);
        for &j in &open {
            if boxes[i].apart(&boxes[j]) <= 0.0 {
                let (a, b) = (find(&mut leader, i), find(&mut leader, j));
                let first = a.min(b);
                leader[a] = first;
                leader[b] = first;
            }
        }
        open.push(i);
    }
    let mut groups: Vec<Vec<&Piece>> = vec![Vec::new(); pieces.len()];
    for (i, piece) in pieces.iter().enumerate() {
        let first = find(&mut leader, i);
        groups[first].push(piece);
    }
    groups.retain(|group| !group.is_empty());
    groups
}

fn find(leader: &mut [usize], mut i: usize) -> usize {
    while leader[i] != i {
        leader[i] = leader[leader[i]];
        i = leader[i];
    }
    i
}
