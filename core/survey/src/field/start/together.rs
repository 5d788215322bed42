//! Points that several figures fix together though no two of them do.

use std::collections::BTreeSet;

use super::loci::{Known, Locus};
use super::{Solve, Start, Work, relax};
use crate::curves::Xy;
use crate::field::figure::{Figure, Node};

impl Work<'_> {
    /// Places points that several figures fix together though no two of them do; one group of them.
    pub(super) fn place_together(&mut self, figures: &[Figure], solve: &Solve<'_>) -> bool {
        for open in self.open_groups(figures) {
            let loci = |node: Node, at: &[Option<Xy>]| -> Vec<Locus> {
                let mark = |zero: usize, but: Node| -> Option<(Node, f64)> {
                    let marks = self.marks.get(&zero)?.iter().copied();
                    marks.into_iter().find(|(node, _)| *node != but && at[*node].is_some())
                };
                let known = Known { at, mark: &mark };
                let counting = self.of[node].iter().map(|i| &figures[*i]).filter(|figure| figure.counts);
                counting.filter_map(|figure| known.locus(figure, node)).collect()
            };
            let at = relax::guess(&open, &self.start.at, &|node| self.beside(node), &loci);
            let trial = Start { at, datums: self.start.datums.clone(), ..Start::default() };
            let solved =
                solve(figures, &trial).filter(|at| self.rings.iter().all(|ring| ring.turns_its_way(at)));
            if let Some(solved) = solved {
                for node in open {
                    if let Some(at) = solved[node] {
                        self.set(node, at, figures);
                    }
                }
                return true;
            }
        }
        false
    }

    /// Which way from the middle of its ring a corner lies: as its name says, or as the ring turns.
    fn beside(&self, node: Node) -> Option<Xy> {
        let name = self.nodes.name(node).rsplit('.').next();
        match name {
            Some("sw") => return Some((-0.7, -0.7)),
            Some("se") => return Some((0.7, -0.7)),
            Some("ne") => return Some((0.7, 0.7)),
            Some("nw") => return Some((-0.7, 0.7)),
            _ => {}
        }
        let ring = self.rings.iter().find(|ring| ring.corners.contains(&Some(node)))?;
        let i = ring.corners.iter().position(|corner| *corner == Some(node))?;
        let turn = std::f64::consts::TAU * i as f64 / ring.corners.len() as f64;
        let (sin, cos) = libm::sincos(if ring.sense < 0.0 { -turn } else { turn });
        Some((cos, sin))
    }

    /// Points without a place that hang together, and have figures enough among them to be worth a guess.
    fn open_groups(&self, figures: &[Figure]) -> Vec<BTreeSet<Node>> {
        let is_open = |node: &Node| !self.known(*node) && self.of[*node].len() > 1;
        let mut left: BTreeSet<Node> = self.nodes.by_name().filter(is_open).collect();
        let mut groups = Vec::new();
        while let Some(first) = left.pop_first() {
            let (mut group, mut next) = (BTreeSet::from([first]), vec![first]);
            while let Some(node) = next.pop() {
                let near = self.of[node].iter().flat_map(|i| figures[*i].relation.nodes());
                for other in near.filter(|other| left.remove(other)).collect::<Vec<_>>() {
                    group.insert(other);
                    next.push(other);
                }
            }
            let counting: BTreeSet<usize> = group
                .iter()
                .flat_map(|node| &self.of[*node])
                .copied()
                .filter(|i| figures[*i].counts)
                .collect();
            // Two figures that do not meet say by themselves that one point cannot be placed.
            if counting.len() >= 2 * group.len() && counting.len() > 2 {
                groups.push(group);
            }
        }
        groups
    }
}
