//! Still water on the ground: how much of it, and where its edge is.

use std::collections::BTreeSet;

use crate::plane::{Xy, ring_area};
use crate::tin::HOLE;
use crate::{Place, Tin};

/// A piece of the edge of water: across a facet, or along a rim.
type Piece = (u32, usize);

/// The number of the piece of a facet that is not along one of its edges.
const ACROSS: usize = 3;

impl Tin {
    /// Area and volume of water over a facet up to a level.
    pub(crate) fn water_on(&self, facet: u32, level: f64) -> (f64, f64) {
        let mut z = self.levels_of(facet);
        z.sort_unstable_by(f64::total_cmp);
        let [low, middle, high] = z;
        let area = self.mesh.area(facet);
        if high < level {
            (area, area * ((level - low) + (level - middle) + (level - high)) / 3.0)
        } else if middle < level {
            // The wet part is two triangles: both low corners with the edge across the middle one's side,
            // and the low corner with the two places on the edge.
            let from_middle = (level - middle) / (high - middle);
            let from_low = (level - low) / (high - low);
            let first = area * from_middle;
            let second = area * (1.0 - from_middle) * from_low;
            (first + second, (first * ((level - low) + (level - middle)) + second * (level - low)) / 3.0)
        } else if low < level {
            let wet = area * (level - low) / (middle - low) * ((level - low) / (high - low));
            (wet, wet * (level - low) / 3.0)
        } else {
            (0.0, 0.0)
        }
    }

    /// The rings of the edge of water that stands at a level over some facets, which hold all of it: the
    /// outer ones anticlockwise, those round islands and buildings clockwise.
    pub(crate) fn waters_edge(&self, facets: &[u32], level: f64) -> Vec<Vec<Place>> {
        let mut passed: BTreeSet<Piece> = BTreeSet::new();
        let mut rings: Vec<(f64, Vec<Place>)> = Vec::new();
        for start in facets.iter().flat_map(|&facet| (0..=ACROSS).map(move |k| (facet, k))) {
            if passed.contains(&start) || !self.is_edge(start, level) {
                continue;
            }
            let mut ring: Vec<Xy> = Vec::new();
            let mut piece = start;
            while passed.insert(piece) {
                let from = self.begins(piece, level);
                if ring.last() != Some(&from) {
                    ring.push(from);
                }
                piece = self.goes_on(piece, level);
            }
            if ring.len() > 1 && ring.first() == ring.last() {
                ring.pop();
            }
            if ring.len() > 2 {
                rings.push((ring_area(&ring), ring.into_iter().map(|at| self.place(at)).collect()));
            }
        }
        // The outer ring, which is the largest, first; equal ones stay in the order of their facets.
        rings.sort_by(|a, b| b.0.total_cmp(&a.0));
        rings.into_iter().map(|(_, ring)| ring).collect()
    }

    /// Whether the two corners of an edge are below a level.
    fn wet(&self, facet: u32, k: usize, level: f64) -> [bool; 2] {
        let z = self.levels_of(facet);
        [z[k % 3] < level, z[(k + 1) % 3] < level]
    }

    fn is_edge(&self, (facet, k): Piece, level: f64) -> bool {
        if k == ACROSS {
            return self.through(facet, level).is_some();
        }
        self.mesh.next[facet as usize][k] >= HOLE && self.wet(facet, k, level).contains(&true)
    }

    fn begins(&self, (facet, k): Piece, level: f64) -> Xy {
        if k == ACROSS {
            let enter = self.through(facet, level).map_or(0, |(enter, _)| enter);
            return self.crossing(facet, enter, level);
        }
        if self.wet(facet, k, level)[0] {
            return self.mesh.triangle(facet)[k];
        }
        self.crossing(facet, k, level)
    }

    /// The piece that begins where this one ends, with the water on the left of both.
    fn goes_on(&self, (facet, k): Piece, level: f64) -> Piece {
        let next = &self.mesh.next;
        if k == ACROSS {
            let leave = self.through(facet, level).map_or(0, |(_, leave)| leave);
            let beyond = next[facet as usize][leave];
            return if beyond < HOLE { (beyond, ACROSS) } else { (facet, leave) };
        }
        if !self.wet(facet, k, level)[1] {
            return (facet, ACROSS);
        }
        // Round the wet corner to the rim that leaves it.
        let corner = self.mesh.facets[facet as usize][(k + 1) % 3];
        let (mut facet, mut k) = (facet, (k + 1) % 3);
        while next[facet as usize][k] < HOLE {
            facet = next[facet as usize][k];
            k = self.mesh.corner_of(facet, corner);
        }
        (facet, k)
    }
}
