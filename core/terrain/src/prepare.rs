//! Vertices and lines made fit for triangulating: one vertex a place, lines that meet only at vertices.

use groundrule_units::Length;

use crate::input::{Input, Place, Sparse, Trouble};
use crate::locate::Grid;
use crate::plane::{Frame, SAME, Xy, cross, distance, id, inside, lerp, mix, nearest, side, sub};

/// How often lines are cut anew where the cutting itself has bent them across others.
const ROUNDS: usize = 8;

/// Metres beyond which nothing on Earth is, and double precision no longer tells a millimetre.
const FARTHEST: f64 = 1e9;

/// Levels within a micrometre are one level.
const SAME_LEVEL: f64 = 1e-6;

/// A part of a segment of a line or ring, between two vertices.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Piece {
    /// The segment it is of: the line, then its number in it.
    pub(crate) of: (usize, usize),
    pub(crate) from: u32,
    pub(crate) to: u32,
}

/// What the triangulation starts from.
#[derive(Debug)]
pub(crate) struct Prepared {
    pub(crate) origin: Xy,
    /// Places seen from the origin: those of the input, then those made at crossings.
    pub(crate) xy: Vec<Xy>,
    pub(crate) levels: Vec<f64>,
    /// For each vertex whether it is triangulated.
    pub(crate) kept: Vec<bool>,
    /// For each vertex after those of the input, the ends and the share of the second.
    pub(crate) made_of: Vec<(u32, u32, f64)>,
    pub(crate) pieces: Vec<Piece>,
    pub(crate) troubles: Vec<Trouble>,
}

pub(crate) fn prepare(input: &Input) -> Result<Prepared, Sparse> {
    let usable = |length: Length| length.metres().abs() < FARTHEST;
    for (i, vertex) in input.vertices.iter().enumerate() {
        if !(usable(vertex.at.x) && usable(vertex.at.y) && usable(vertex.level)) {
            return Err(Sparse::NotFinite(id(i)));
        }
    }
    let origin = input.vertices.first().map_or([0.0; 2], |v| [v.at.x.metres(), v.at.y.metres()]);
    let xy: Vec<Xy> = input.vertices.iter().map(|v| v.at.local(origin)).collect();
    let levels: Vec<f64> = input.vertices.iter().map(|v| v.level.metres()).collect();
    let (stands_for, kept) = merge(&xy);
    let mut troubles = Vec::new();
    for (i, &first) in stands_for.iter().enumerate() {
        if (levels[i] - levels[first as usize]).abs() > SAME_LEVEL {
            troubles.push(Trouble::Twice { first, second: id(i) });
        }
    }
    let distinct = kept.iter().filter(|kept| **kept).count();
    if distinct < 3 {
        return Err(Sparse::TooFew(distinct));
    }
    let pieces = pieces(input, &stands_for, &mut troubles);
    let mut prepared = Prepared { origin, xy, levels, kept, made_of: Vec::new(), pieces, troubles };
    if !prepared.pieces.is_empty() {
        prepared.tell_vertices_in_holes(input, &stands_for);
        prepared.untangle(input.lines.len());
    }
    Ok(prepared)
}

/// For each vertex the first kept one within a millimetre (often itself), and whether it is kept.
fn merge(xy: &[Xy]) -> (Vec<u32>, Vec<bool>) {
    #[allow(clippy::cast_possible_truncation, reason = "coordinates are below 1e10 metres")]
    let cell = |v: f64| libm::floor(v / SAME) as i64;
    let mut cells: Vec<(i64, i64, u32)> =
        xy.iter().enumerate().map(|(i, &[x, y])| (cell(x), cell(y), id(i))).collect();
    cells.sort_unstable();
    let mut stands_for: Vec<u32> = (0..id(xy.len())).collect();
    let mut kept = vec![true; xy.len()];
    for i in crowded(&cells) {
        let (column, row) = (cell(xy[i][0]), cell(xy[i][1]));
        let mut first = id(i);
        for (column, row) in (column - 1..=column + 1).flat_map(|c| (row - 1..=row + 1).map(move |r| (c, r)))
        {
            let start = cells.partition_point(|c| (c.0, c.1) < (column, row));
            let near = cells[start..].iter().take_while(|c| (c.0, c.1, c.2) < (column, row, first));
            let same = |j: usize| kept[j] && distance(xy[i], xy[j]) <= SAME;
            first = near.map(|c| c.2).find(|j| same(*j as usize)).unwrap_or(first);
        }
        if first != id(i) {
            stands_for[i] = first;
            kept[i] = false;
        }
    }
    (stands_for, kept)
}

/// The vertices that have another in their own cell or one beside it, ascending. Cells are in order.
fn crowded(cells: &[(i64, i64, u32)]) -> Vec<usize> {
    let mut has_other = vec![false; cells.len()];
    let mut beside = 0;
    for (n, &(column, row, vertex)) in cells.iter().enumerate() {
        let below = cells.get(n + 1).filter(|c| (c.0, c.1) <= (column, row + 1));
        while cells.get(beside).is_some_and(|c| (c.0, c.1) < (column + 1, row - 1)) {
            beside += 1;
        }
        let right = cells[beside..].iter().take_while(|c| (c.0, c.1) <= (column + 1, row + 1));
        for other in below.into_iter().chain(right) {
            has_other[vertex as usize] = true;
            has_other[other.2 as usize] = true;
        }
    }
    (0..cells.len()).filter(|i| has_other[*i]).collect()
}

/// All segments of lines and rings between kept vertices.
fn pieces(input: &Input, stands_for: &[u32], troubles: &mut Vec<Trouble>) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for (line, indices) in input.lines.iter().chain(&input.holes).enumerate() {
        let mut run: Vec<(usize, u32)> = Vec::with_capacity(indices.len() + 1);
        for (k, &index) in indices.iter().enumerate() {
            match stands_for.get(index as usize) {
                Some(&vertex) => run.push((k, vertex)),
                None => troubles.push(Trouble::Unknown { line, vertex: index }),
            }
        }
        if let Some(hole) = line.checked_sub(input.lines.len()) {
            run.extend(run.first().copied().map(|(_, first)| (indices.len(), first)));
            let mut distinct: Vec<u32> = run.iter().map(|(_, vertex)| *vertex).collect();
            distinct.sort_unstable();
            distinct.dedup();
            if distinct.len() < 3 {
                troubles.push(Trouble::NoRing { hole });
                continue;
            }
        }
        for pair in run.windows(2) {
            if let [(k, from), (_, to)] = *pair
                && from != to
            {
                pieces.push(Piece { of: (line, k), from, to });
            }
        }
    }
    pieces
}

impl Prepared {
    fn ends(&self, piece: &Piece) -> [Xy; 2] {
        [self.xy[piece.from as usize], self.xy[piece.to as usize]]
    }

    fn tell_vertices_in_holes(&mut self, input: &Input, stands_for: &[u32]) {
        for (hole, ring) in input.holes.iter().enumerate() {
            let indices: Vec<u32> =
                ring.iter().filter_map(|i| stands_for.get(*i as usize).copied()).collect();
            let places: Vec<Xy> = indices.iter().map(|i| self.xy[*i as usize]).collect();
            let frame = Frame::of(&places);
            for (i, &p) in self.xy.iter().enumerate() {
                if !frame.meets(&Frame { min: p, max: p }) {
                    continue;
                }
                let clear = || crate::plane::edges(&places).all(|(a, b)| nearest(a, b, p).1 > SAME);
                if self.kept[i] && inside(&places, p) && clear() {
                    self.troubles.push(Trouble::InHole { vertex: id(i), hole });
                }
            }
        }
    }

    /// Cuts pieces at vertices they touch and at each other until they meet only at vertices.
    fn untangle(&mut self, lines: usize) {
        let mut told_rings = Vec::new();
        for _ in 0..ROUNDS {
            let touched = self.cut_at_vertices();
            let crossed = self.cut_at_crossings(lines, &mut told_rings);
            if !touched && !crossed {
                break;
            }
        }
    }

    /// Cuts every piece at the vertices within a millimetre of it; true when any was.
    fn cut_at_vertices(&mut self) -> bool {
        let used: Vec<u32> = (0..id(self.xy.len())).filter(|i| self.kept[*i as usize]).collect();
        let grid = Grid::new(used.len(), |i| [self.xy[used[i] as usize]]);
        let mut cuts: Vec<Vec<(f64, u32)>> = Vec::with_capacity(self.pieces.len());
        for piece in &self.pieces {
            let [a, b] = self.ends(piece);
            let mut own = Vec::new();
            // A band a millimetre wide to each side of the piece.
            let long = distance(a, b).max(SAME);
            let along = [(b[0] - a[0]) / long * SAME, (b[1] - a[1]) / long * SAME];
            let band = [
                [a[0] - along[0] - along[1], a[1] - along[1] + along[0]],
                [a[0] - along[0] + along[1], a[1] - along[1] - along[0]],
                [b[0] + along[0] + along[1], b[1] + along[1] - along[0]],
                [b[0] + along[0] - along[1], b[1] + along[1] + along[0]],
            ];
            for i in grid.near(&band) {
                let vertex = used[i as usize];
                let (t, far) = nearest(a, b, self.xy[vertex as usize]);
                if vertex != piece.from && vertex != piece.to && far <= SAME && t > 0.0 && t < 1.0 {
                    own.push((t, vertex));
                }
            }
            cuts.push(own);
        }
        self.apply(cuts)
    }

    /// Cuts pieces where they cross and tells so; true when any did.
    fn cut_at_crossings(&mut self, lines: usize, told_rings: &mut Vec<usize>) -> bool {
        let grid = Grid::new(self.pieces.len(), |i| self.ends(&self.pieces[i]));
        let mut pairs = Vec::new();
        for cell in 0..grid.len() {
            let own = grid.of(cell);
            for (n, &i) in own.iter().enumerate() {
                for &j in &own[n + 1..] {
                    if self.cross(&self.pieces[i as usize], &self.pieces[j as usize]) {
                        pairs.push((i as usize, j as usize));
                    }
                }
            }
        }
        pairs.sort_unstable();
        pairs.dedup();
        let mut cuts = vec![Vec::new(); self.pieces.len()];
        let made = self.xy.len();
        for (i, j) in pairs {
            let (first, second) = (self.pieces[i], self.pieces[j]);
            let ([a, b], [c, d]) = (self.ends(&first), self.ends(&second));
            let across = cross(sub(b, a), sub(d, c));
            let t = (cross(sub(c, a), sub(d, c)) / across).clamp(0.0, 1.0);
            let u = (cross(sub(c, a), sub(b, a)) / across).clamp(0.0, 1.0);
            if !(t.is_finite() && u.is_finite()) {
                continue;
            }
            let at = lerp(a, b, t);
            let level = |p: &Piece, t| mix(self.levels[p.from as usize], self.levels[p.to as usize], t);
            let (high, low) = (level(&first, t), level(&second, u));
            let near = (made..self.xy.len()).find(|&k| distance(self.xy[k], at) <= SAME);
            let vertex = id(near.unwrap_or(self.xy.len()));
            if near.is_none() {
                self.xy.push(at);
                self.levels.push(high);
                self.kept.push(true);
                self.made_of.push((first.from, first.to, t));
            }
            cuts[i].push((t, vertex));
            cuts[j].push((u, vertex));
            self.troubles.push(Trouble::Crossing {
                first: first.of,
                second: second.of,
                at: Place::from_local(at, self.origin),
                step: Length::from_metres(low - high),
            });
            if let (line, Some(hole)) = (first.of.0, first.of.0.checked_sub(lines))
                && line == second.of.0
                && !told_rings.contains(&hole)
            {
                told_rings.push(hole);
                self.troubles.push(Trouble::RingCrossesItself { hole });
            }
        }
        self.apply(cuts)
    }

    /// Whether two pieces cross between their ends.
    fn cross(&self, first: &Piece, second: &Piece) -> bool {
        let shares = |v: u32| v == second.from || v == second.to;
        if shares(first.from) || shares(first.to) {
            return false;
        }
        let ([a, b], [c, d]) = (self.ends(first), self.ends(second));
        let opposite = |p: f64, q: f64| (p > 0.0 && q < 0.0) || (p < 0.0 && q > 0.0);
        opposite(side(a, b, c), side(a, b, d)) && opposite(side(c, d, a), side(c, d, b))
    }

    /// Replaces each piece by its parts between the given vertices; true when there are any.
    fn apply(&mut self, cuts: Vec<Vec<(f64, u32)>>) -> bool {
        let mut pieces = Vec::with_capacity(self.pieces.len());
        let mut any = false;
        for (piece, mut own) in self.pieces.iter().copied().zip(cuts) {
            own.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            any |= !own.is_empty();
            let mut from = piece.from;
            for to in own.into_iter().map(|(_, vertex)| vertex).chain([piece.to]) {
                if from != to {
                    pieces.push(Piece { from, to, ..piece });
                    from = to;
                }
            }
        }
        self.pieces = pieces;
        any
    }
}
