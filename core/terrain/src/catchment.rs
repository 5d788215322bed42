//! How much ground drains where.

use std::collections::BTreeMap;

use groundrule_units::Area;
use rayon::prelude::*;

use crate::clip::{anticlockwise, in_triangle};
use crate::course::End;
use crate::overflow::Outlets;
use crate::plane::{Frame, Xy, id, lerp, ring_area};
use crate::sink::Sink;
use crate::{Place, Tin, VertexId};

/// How often a facet is quartered where its water parts.
const DEPTH: u32 = 6;
/// How far from a corner towards the centre its water is followed: corners themselves belong to several facets.
const DRAWN_IN: f64 = 1e-3;

impl Tin {
    /// The area of ground, in a ring if one is given, by where its water ends over full hollows and level ground; sinks
    /// at vertices are drains of hollows. In the order of the ends.
    ///
    /// A triangle whose corners and centre drain to one end counts as a whole for it, any other is quartered,
    /// six times at most; what is left then counts for the end of its centre. A line on which the water parts
    /// passes at most 190 of the 4096 smallest parts of a facet, of which each is off by its own area at most: a
    /// twentieth of the area of the facets on the parting line, and mostly far less, since parts on both sides
    /// make up for each other. A tongue that reaches into a triangle between its four places is not seen.
    pub fn catchments(&self, sinks: &[Sink], within: Option<&[Place]>) -> Vec<(End, Area)> {
        let drains: Vec<VertexId> = sinks
            .iter()
            .filter_map(|sink| if let Sink::At { vertex } = sink { Some(*vertex) } else { None })
            .collect();
        let hollows = self.hollows(&drains);
        let outlets = Outlets::new(self, sinks, &hollows);
        let ring = within.map(|ring| anticlockwise(ring, self.mesh.origin));
        let facets = match &ring {
            Some(ring) if ring.len() < 3 => Vec::new(),
            Some(ring) => self.mesh.grid().in_frame(Frame::of(ring)),
            None => (0..id(self.facets())).collect(),
        };
        let shares: Vec<Vec<(End, f64)>> = facets
            .par_iter()
            .map(|facet| {
                let mut shares = Vec::new();
                part(&outlets, self.mesh.triangle(*facet), ring.as_deref(), DEPTH, &mut shares);
                shares
            })
            .collect();
        let mut areas: BTreeMap<End, f64> = BTreeMap::new();
        for (end, area) in shares.into_iter().flatten() {
            *areas.entry(end).or_default() += area;
        }
        areas.into_iter().map(|(end, area)| (end, Area::from_square_metres(area))).collect()
    }
}

/// Adds the shares of a triangle to the list.
fn part(
    outlets: &Outlets<'_>,
    triangle: [Xy; 3],
    ring: Option<&[Xy]>,
    depth: u32,
    shares: &mut Vec<(End, f64)>,
) {
    let area = ring.map_or_else(|| ring_area(&triangle), |ring| ring_area(&in_triangle(ring, triangle)));
    if area <= 0.0 {
        return;
    }
    let [a, b, c] = triangle;
    let centre = [(a[0] + b[0] + c[0]) / 3.0, (a[1] + b[1] + c[1]) / 3.0];
    let Some(end) = outlets.of(centre) else { return };
    let alike = || triangle.iter().all(|corner| outlets.of(lerp(*corner, centre, DRAWN_IN)) == Some(end));
    if depth == 0 || alike() {
        shares.push((end, area));
        return;
    }
    let [ab, bc, ca] = [lerp(a, b, 0.5), lerp(b, c, 0.5), lerp(c, a, 0.5)];
    for quarter in [[a, ab, ca], [ab, b, bc], [ca, bc, c], [ab, bc, ca]] {
        part(outlets, quarter, ring, depth - 1, shares);
    }
}
