//! What holds points that nothing else places: a first point, and a side that runs to the right.

use std::collections::BTreeSet;

use super::{Datum, Work};
use crate::field::figure::{Figure, Node, Relation};

impl Work<'_> {
    /// Gives every group of points that nothing places a datum of its own.
    pub(super) fn begin(&mut self, figures: &[Figure]) {
        let groups = self.groups(figures);
        let placed: BTreeSet<usize> = groups
            .iter()
            .enumerate()
            .filter(|(node, _)| self.known(*node))
            .map(|(_, group)| *group)
            .collect();
        let turning = figures.iter().filter_map(|figure| match figure.relation {
            Relation::Azimuth(from, _) => groups.get(from).copied(),
            _ => None,
        });
        let turned: BTreeSet<usize> = turning.collect();
        let mut begun = BTreeSet::new();
        let of_rings: Vec<Node> =
            self.rings.iter().flat_map(|ring| ring.corners.iter().copied().flatten()).collect();
        for origin in of_rings.into_iter().chain(self.nodes.by_name()) {
            let group = groups[origin];
            if self.of[origin].is_empty() || !begun.insert(group) {
                continue;
            }
            if placed.contains(&group) {
                continue;
            }
            self.set(origin, (0.0, 0.0), figures);
            let turned = turned.contains(&group);
            let toward = if turned { None } else { self.first_side(origin, figures) };
            if let Some((node, length)) = toward {
                self.set(node, (length, 0.0), figures);
            }
            self.start.datums.push(Datum { origin, toward: toward.map(|(node, _)| node) });
        }
    }

    /// Which points hang together by figures.
    fn groups(&self, figures: &[Figure]) -> Vec<usize> {
        let mut group: Vec<usize> = (0..self.nodes.len()).collect();
        for figure in figures {
            let mut nodes = figure.relation.nodes().into_iter();
            let Some(first) = nodes.next() else { continue };
            for node in nodes {
                let (a, b) = (root(&mut group, first), root(&mut group, node));
                group[a.max(b)] = a.min(b);
            }
        }
        (0..group.len()).map(|node| root(&mut group, node)).collect()
    }

    /// A point at a known distance from the origin, a neighbour on a ring before any other.
    fn first_side(&self, origin: Node, figures: &[Figure]) -> Option<(Node, f64)> {
        let from = |figure: &Figure| match figure.relation {
            Relation::Distance(a, b) if a == origin => Some((b, figure.value)),
            Relation::Distance(a, b) if b == origin => Some((a, figure.value)),
            _ => None,
        };
        let mut ends: Vec<(Node, f64)> = self.of[origin].iter().filter_map(|i| from(&figures[*i])).collect();
        ends.retain(|(_, length)| *length > 0.0 && length.is_finite());
        let next = |node: Node| {
            self.rings.iter().any(|ring| {
                let n = ring.corners.len();
                (0..n).any(|i| ring.corners[i] == Some(origin) && ring.corners[(i + 1) % n] == Some(node))
            })
        };
        ends.sort_by(|a, b| {
            next(b.0).cmp(&next(a.0)).then_with(|| self.nodes.name(a.0).cmp(self.nodes.name(b.0)))
        });
        ends.first().copied()
    }
}

/// The first of the group of a point, the way there shortened.
fn root(group: &mut [usize], mut node: usize) -> usize {
    while group[node] != node {
        group[node] = group[group[node]];
        node = group[node];
    }
    node
}
