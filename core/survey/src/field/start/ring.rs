//! Outlines of which some corners are to be placed, and which way round they run.

use std::collections::BTreeSet;

use crate::curves::Xy;
use crate::field::figure::{Node, Nodes};
use crate::field::names::Rings;

/// The corners of a ring, and which way round it runs where its corners' names say so.
#[derive(Debug)]
pub(crate) struct Ring {
    pub(crate) owner: String,
    pub(super) is_lot: bool,
    pub(crate) corners: Vec<Option<Node>>,
    /// 1 anticlockwise, -1 clockwise; 0 when nothing says.
    pub(crate) sense: f64,
}

impl Ring {
    /// False when all its corners have a place and it runs the other way round than their names say.
    pub(super) fn turns_its_way(&self, at: &[Option<Xy>]) -> bool {
        let corners: Option<Vec<Xy>> =
            self.corners.iter().map(|corner| at.get((*corner)?).copied().flatten()).collect();
        corners.is_none_or(|ring| self.sense * crate::rings::twice_area(&ring) >= 0.0)
    }
}

/// The rings that have a corner among some points.
pub(crate) fn rings(rings: &Rings<'_>, nodes: &Nodes) -> Vec<Ring> {
    let owner = |node| nodes.name(node).split_once('.').map(|(owner, _)| owner);
    let named: BTreeSet<&str> = nodes.by_name().filter_map(owner).collect();
    // A corner without a point of its own has its ring's name before it.
    let may_be = |owner: &&str| named.contains(*owner) || rings.stands_on_points(owner);
    let rings = rings.owners().filter(may_be).filter_map(|owner| ring(owner, rings, nodes));
    rings.filter(|ring| ring.corners.iter().any(Option::is_some)).collect()
}

fn ring(owner: &str, rings: &Rings<'_>, nodes: &Nodes) -> Option<Ring> {
    let names = rings.ring(owner)?;
    let short = |name: &String| name.rsplit('.').next().unwrap_or_default().to_owned();
    let order: Vec<usize> = names
        .iter()
        .map(short)
        .filter_map(|name| ["sw", "se", "ne", "nw"].iter().position(|corner| *corner == name))
        .collect();
    // Of three or four corners named after the compass, two in order tell the way round.
    let sense = match order.as_slice() {
        [a, b, c] | [a, b, c, _] => {
            let step = |from: &usize, to: &usize| (to + 4 - from) % 4;
            if step(a, b) + step(b, c) < 4 { 1.0 } else { -1.0 }
        }
        // A lot goes anticlockwise unless its corners' names say otherwise.
        _ if rings.is_lot(owner) => 1.0,
        _ => 0.0,
    };
    let corners = names.iter().map(|name| nodes.find(name)).collect();
    Some(Ring { owner: owner.to_owned(), is_lot: rings.is_lot(owner), corners, sense })
}
