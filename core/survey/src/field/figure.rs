//! One figure of a measurement as a relation between points, before anything is worked out.

use std::collections::{BTreeMap, BTreeSet};

use groundrule_plan::Name;
use groundrule_units::{Dimension, Quantity};

use crate::layout::Reading;

/// A point of the network, by its place among the names.
pub(crate) type Node = usize;

/// The points that measurements mention, by name, in the order they are first named.
#[derive(Debug, Default)]
pub(crate) struct Nodes {
    names: Vec<String>,
    index: BTreeMap<String, Node>,
}

impl Nodes {
    /// The point of this name, newly counted if it is new.
    pub(crate) fn of(&mut self, name: String) -> Node {
        if let Some(node) = self.index.get(&name) {
            return *node;
        }
        self.names.push(name.clone());
        self.index.insert(name, self.names.len() - 1);
        self.names.len() - 1
    }

    pub(crate) fn find(&self, name: &str) -> Option<Node> {
        self.index.get(name).copied()
    }

    pub(crate) fn name(&self, node: Node) -> &str {
        self.names.get(node).map_or("", String::as_str)
    }

    pub(crate) fn len(&self) -> usize {
        self.names.len()
    }

    /// The nodes in the order of their names: the same however the file is arranged.
    pub(crate) fn by_name(&self) -> impl Iterator<Item = Node> {
        self.index.values().copied()
    }
}

/// A directed line between two points.
pub(crate) type Line = (Node, Node);

/// What a figure relates; lengths in metres, angles in radians, directions clockwise from the top of the sheet.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Relation {
    /// The distance between two points.
    Distance(Node, Node),
    /// The direction from the first to the second.
    Azimuth(Node, Node),
    /// Clockwise at the first from the second to the third.
    Angle(Node, Node, Node),
    /// The same, with its sense as the starting positions have it.
    Between(Node, Node, Node),
    /// How far along a line the second lies beyond the first.
    Piece(Line, Node, Node),
    /// How far along a line a mark was read, from a zero of the chain's own.
    Mark(Line, Node, Zero),
    /// How far left of a line a point lies.
    Offset(Line, Node),
    /// The angle between two lines, whichever way each runs: none.
    Parallel(Line, Line),
    /// How much longer the first is than the second: nothing.
    Equal(Line, Line),
}

/// The unknown zero of a chain read off a picture, by the index of the measurement.
pub(crate) type Zero = usize;

impl Relation {
    /// Every point it relates.
    pub(crate) fn nodes(&self) -> BTreeSet<Node> {
        match *self {
            Self::Distance(a, b) | Self::Azimuth(a, b) => [a, b].into(),
            Self::Angle(a, b, c) | Self::Between(a, b, c) => [a, b, c].into(),
            Self::Piece((f, t), a, b) => [f, t, a, b].into(),
            Self::Mark((f, t), a, _) | Self::Offset((f, t), a) => [f, t, a].into(),
            Self::Parallel((a, b), (c, d)) | Self::Equal((a, b), (c, d)) => [a, b, c, d].into(),
        }
    }

    /// True when it is an angle, in radians.
    pub(crate) fn is_angle(&self) -> bool {
        matches!(self, Self::Azimuth(..) | Self::Angle(..) | Self::Between(..) | Self::Parallel(..))
    }
}

/// Whose figure it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Of {
    /// A measurement, by its index in the plan.
    Measurement(usize),
    /// A right angle taken for granted, by its index among the layout's assumptions.
    Assumption(usize),
}

/// One figure.
#[derive(Clone, Debug)]
pub(crate) struct Figure {
    pub(crate) of: Of,
    pub(crate) reading: Reading,
    pub(crate) relation: Relation,
    pub(crate) value: f64,
    /// The plus-or-minus at 95 %; zero is exact.
    pub(crate) half_width: f64,
    /// From where to where, for saying what to measure again.
    pub(crate) ends: Option<(Name, Name)>,
    /// False for what shows only where to start: it is told twice, or was kept out.
    pub(crate) counts: bool,
}

impl Figure {
    /// What it is a quantity of.
    pub(crate) fn dimension(&self) -> Dimension {
        if self.relation.is_angle() { Dimension::Angle } else { Dimension::Length }
    }

    /// What was read.
    pub(crate) fn quantity(&self) -> Quantity {
        Quantity::new(self.dimension(), self.value)
    }
}

/// The figures that mention each point, by their index.
pub(crate) fn of_nodes(figures: &[Figure], nodes: usize) -> Vec<Vec<usize>> {
    let mut of = vec![Vec::new(); nodes];
    for (i, figure) in figures.iter().enumerate() {
        for node in figure.relation.nodes() {
            if let Some(of) = of.get_mut(node) {
                of.push(i);
            }
        }
    }
    of
}
