//! Rings of lengths of which one is longer than all others together.

use std::collections::BTreeMap;

use groundrule_plan::{Gravity, Plan};
use groundrule_units::{Length, Mark, Written, show};

use super::adjusted::describe;
use super::{Told, length, style};
use crate::closing::{self, Verdict};
use crate::field::figure::{Figure, Node, Nodes, Of, Relation};
use crate::field::start::Ring;

/// A side that is too long for the others to reach its ends.
pub(crate) struct TooLong {
    pub(crate) told: Told,
    /// Its figure, by its index.
    pub(crate) figure: usize,
    /// Whose figure it is, by its index in the plan.
    pub(crate) measurement: usize,
    pub(crate) excess: Length,
}

/// Looks at every ring with a length on each side.
pub(crate) fn look(plan: &Plan, nodes: &Nodes, rings: &[Ring], figures: &[Figure]) -> Vec<TooLong> {
    let mut lengths: BTreeMap<(Node, Node), usize> = BTreeMap::new();
    for (i, figure) in figures.iter().enumerate().filter(|(_, figure)| figure.counts) {
        if let Relation::Distance(a, b) = figure.relation {
            lengths.entry((a.min(b), a.max(b))).or_insert(i);
        }
    }
    rings.iter().filter_map(|ring| of_ring(plan, nodes, ring, figures, &lengths)).collect()
}

fn of_ring(
    plan: &Plan,
    nodes: &Nodes,
    ring: &Ring,
    figures: &[Figure],
    lengths: &BTreeMap<(Node, Node), usize>,
) -> Option<TooLong> {
    let next = ring.corners.iter().cycle().skip(1);
    let sides: Option<Vec<usize>> = ring
        .corners
        .iter()
        .zip(next)
        .map(|(a, b)| {
            let (a, b) = ((*a)?, (*b)?);
            lengths.get(&(a.min(b), a.max(b))).copied()
        })
        .collect();
    let sides = sides?;
    let side = |i: &usize| {
        let figure = figures.get(*i)?;
        let value = Length::from_metres(figure.value);
        let written = Written { value, text: show(value.into(), style(plan)), mark: Mark::default() };
        Some(closing::Figure { written, half_width: Length::from_metres(figure.half_width) })
    };
    let all: Vec<closing::Figure> = sides.iter().filter_map(side).collect();
    let looked = closing::side_lengths(&all)?;
    if looked.verdict == Verdict::Closes {
        return None;
    }
    let longest = *sides.get(looked.longest)?;
    let figure = figures.get(longest)?;
    let Of::Measurement(at) = figure.of else { return None };
    let measurement = plan.measurements.get(at)?;
    let message = format!(
        "The sides of `{}` cannot meet: {} is {} longer than all others together; readings this good could lack {}.",
        ring.owner,
        describe(plan, figure),
        length(plan, looked.excess.metres()),
        length(plan, looked.bounds.worst.metres()),
    );
    let help = "Look for a slip in it, or in a side that is too short: a dropped digit, or another unit. Until it is \
                settled the longest is left out, and what rests on it is open.";
    let gravity = if looked.verdict == Verdict::DoesNotAddUp { Gravity::Wrong } else { Gravity::Suspect };
    let corners = ring.corners.iter().flatten().map(|node| nodes.name(*node).to_owned());
    let told = Told::new("data::sides-do-not-meet", gravity, message, measurement)
        .at(corners)
        .about([groundrule_plan::Name(ring.owner.clone())])
        .help(help);
    Some(TooLong { told, figure: longest, measurement: at, excess: looked.excess })
}
