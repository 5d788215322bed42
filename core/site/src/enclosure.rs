//! What stands all the way around something: the ring of fences, walls and buildings with the least widest gap.
//!
//! Every edge of every piece is a node. Between any two nodes there is a gap, nothing where they join, and going
//! from one over the gap to the other passes a ray that runs out from inside the feature or does not. A closed way
//! goes around the feature when it passes the ray an odd number of times. Along the tree that joins all nodes by
//! the least gaps, every node has a side of the ray; the least gap between two nodes that disagree with their sides
//! closes a ring, and no other gap of that ring is wider, for the tree would have taken this one instead.

mod link;
mod middle;
mod node;

use crate::spread::of_least;
use crate::terms::combine;
use crate::{FeatureId, Measured, Site, Terms};
use groundrule_units::Length;

use link::Link;
use middle::Middle;
use node::{Node, nodes};

/// A ring of pieces around a feature.
#[derive(Clone, Debug, PartialEq)]
pub struct Ring {
    /// The widest gap, a length with its span as mark; nothing or less where the pieces touch or cross.
    pub opening: Measured,
    /// The pieces in order around the feature, from the first of them in the plan on.
    pub pieces: Vec<FeatureId>,
}

impl Site {
    /// Of all rings that some of the pieces make around a feature, the one whose widest gap is least; none when the
    /// pieces cannot go around it, or when it or every piece is not drawn.
    ///
    /// The whole of the feature lies inside of the ring: what of a piece stands in the feature is no part of it, and
    /// no gap is measured across the feature. Where the least way between two pieces leads across, the next is taken
    /// that starts at an end of either, or where it runs past the feature; so only an opening as wide as the feature
    /// may come out wider than the least. A piece that closes on itself around the feature is a
    /// ring with no opening. The feature itself is no piece.
    pub fn widest_opening(&self, around: FeatureId, pieces: &[FeatureId]) -> Option<Ring> {
        let drawn = self.drawn(around).ok()?;
        let middle = Middle::of(&drawn)?;
        let mut ids: Vec<FeatureId> = pieces.iter().copied().filter(|id| *id != around).collect();
        ids.sort_unstable();
        ids.dedup();
        let shapes: Vec<_> = ids.iter().filter_map(|id| Some((*id, self.drawn(*id).ok()?))).collect();
        let all: Vec<_> = shapes.iter().flat_map(|(id, of)| of.iter().map(|piece| (*id, piece))).collect();
        if let Some((id, _)) = all.iter().find(|(_, piece)| middle.is_in_disc(piece)) {
            return Some(Ring { opening: Measured::exact(Length::ZERO), pieces: vec![*id] });
        }
        let nodes: Vec<Node<'_>> =
            all.iter().enumerate().flat_map(|(of, (id, piece))| nodes((of, *id), piece, &middle)).collect();
        let tree = Tree::of(&nodes, &middle);
        let closing = tree.closing(&nodes, &middle)?;
        Some(tree.ring(&nodes, closing))
    }
}

/// The tree of least gaps, node by node.
struct Tree<'a> {
    /// The node each was joined to and over which gap; the first of a tree was joined to none.
    joined: Vec<Option<(usize, Link<'a>)>>,
    /// Whether the way along the tree from its first node passes the ray an odd number of times.
    side: Vec<bool>,
    /// The first node of its tree: nodes that nothing joins stand in trees of their own.
    root: Vec<usize>,
}

impl<'a> Tree<'a> {
    fn of(nodes: &[Node<'a>], middle: &Middle<'_>) -> Self {
        let count = nodes.len();
        let mut grown =
            Self { joined: vec![None; count], side: vec![false; count], root: vec![usize::MAX; count] };
        let mut nearest: Vec<Option<(usize, Link<'a>)>> = vec![None; count];
        for start in 0..count {
            if grown.root.get(start).is_none_or(|root| *root != usize::MAX) {
                continue;
            }
            let mut next = Some(start);
            while let Some(at) = next {
                grown.add(at, start, nearest.get(at).cloned().flatten());
                next = None;
                let mut least = f64::INFINITY;
                for (i, node) in nodes.iter().enumerate() {
                    if grown.root.get(i).is_none_or(|root| *root != usize::MAX) {
                        continue;
                    }
                    let (Some(here), Some(slot)) = (nodes.get(at), nearest.get_mut(i)) else { continue };
                    let held = slot.as_ref().map_or(f64::INFINITY, |(_, link)| link.value);
                    if let Some(link) = Link::between(here, node, middle, held) {
                        *slot = Some((at, link));
                    }
                    if let Some((_, link)) = slot
                        && link.value < least
                    {
                        least = link.value;
                        next = Some(i);
                    }
                }
            }
        }
        grown
    }

    fn add(&mut self, at: usize, root: usize, joined: Option<(usize, Link<'a>)>) {
        let side = joined.as_ref().is_some_and(|(to, link)| self.passes(*to) ^ link.passes);
        if let (Some(own), Some(own_side), Some(slot)) =
            (self.root.get_mut(at), self.side.get_mut(at), self.joined.get_mut(at))
        {
            (*own, *own_side, *slot) = (root, side, joined);
        }
    }

    fn passes(&self, node: usize) -> bool {
        self.side.get(node).copied().unwrap_or_default()
    }

    /// The least gap that closes a way around, the first of equals.
    fn closing(&self, nodes: &[Node<'a>], middle: &Middle<'_>) -> Option<(usize, usize, Link<'a>)> {
        let mut best: Option<(usize, usize, Link<'a>)> = None;
        for (i, one) in nodes.iter().enumerate() {
            for (j, other) in nodes.iter().enumerate().skip(i + 1) {
                if self.root.get(i) != self.root.get(j) {
                    continue;
                }
                let held = best.as_ref().map_or(f64::INFINITY, |(.., link)| link.value);
                if let Some(link) = Link::between(one, other, middle, held)
                    && (self.passes(i) ^ self.passes(j)) != link.passes
                {
                    best = Some((i, j, link));
                }
            }
        }
        best
    }

    fn ring(&self, nodes: &[Node<'a>], (from, to, closing): (usize, usize, Link<'a>)) -> Ring {
        let up = |mut at: usize| {
            let mut way = vec![at];
            while let Some(Some((above, _))) = self.joined.get(at) {
                at = *above;
                way.push(at);
            }
            way
        };
        let (mut out, mut back) = (up(from), up(to));
        // Both ways lead to the first node; what they share at its end is not part of the ring.
        while out.len() > 1 && back.len() > 1 && out.iter().rev().nth(1) == back.iter().rev().nth(1) {
            out.pop();
            back.pop();
        }
        back.pop();
        let below = out.iter().take(out.len().saturating_sub(1)).chain(&back);
        let mut links: Vec<&Link<'a>> =
            below.filter_map(|at| self.joined.get(*at)?.as_ref().map(|(_, link)| link)).collect();
        links.push(&closing);
        let mut pieces: Vec<FeatureId> = Vec::new();
        for id in out.iter().chain(back.iter().rev()).filter_map(|at| nodes.get(*at)).map(|node| node.feature)
        {
            if !pieces.contains(&id) {
                pieces.push(id);
            }
        }
        Ring { opening: widest(links), pieces: in_order(pieces) }
    }
}

/// Pieces around a ring, from the first of them in the plan on towards the earlier of its two neighbours.
fn in_order(mut pieces: Vec<FeatureId>) -> Vec<FeatureId> {
    let first = pieces.iter().enumerate().min_by_key(|(_, id)| **id).map_or(0, |(i, _)| i);
    pieces.rotate_left(first);
    if let [_, second, .., last] = pieces.as_slice()
        && second > last
        && let Some((_, rest)) = pieces.split_first_mut()
    {
        rest.reverse();
    }
    pieces
}

/// The widest of the gaps of a ring. Where others could as well be the widest, its spread holds that too.
fn widest(links: Vec<&Link<'_>>) -> Measured {
    let mut gaps: Vec<_> = links.into_iter().filter_map(|link| link.gap.as_ref()).collect();
    gaps.sort_by(|a, b| b.value.total_cmp(&a.value));
    let Some(first) = gaps.first() else { return Measured::exact(Length::ZERO) };
    let turned = |terms: &Terms| combine(terms, -1.0, &Terms::new(), 0.0);
    let terms = turned(&of_least(gaps.iter().map(|gap| (-gap.value, turned(&gap.terms())))));
    let opening = Length::from_metres(first.value + 0.0);
    Measured::new(opening.into(), terms).marked(vec![first.mark()])
}
