//! The tree of kinds a feature may be of, kept as data.

use std::collections::BTreeMap;

/// What an attribute holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AttributeKind {
    /// A length with a unit.
    Length,
    /// An area.
    Area,
    /// A slope or a share.
    Ratio,
    /// A whole number.
    Count,
    /// Yes or no.
    Flag,
    /// Words.
    Text,
}

/// One kind: `shed` under `accessory-structure` under `structure`.
#[derive(Clone, Debug)]
pub struct Kind {
    /// Its name.
    pub name: String,
    /// The kind it is a special case of.
    pub parent: Option<String>,
    /// One line for the format page.
    pub doc: String,
    /// Attributes this kind adds to its parent's.
    pub attributes: BTreeMap<String, AttributeKind>,
}

/// All kinds, by name.
#[derive(Clone, Debug, Default)]
pub struct KindTree {
    kinds: BTreeMap<String, Kind>,
}

impl KindTree {
    /// The kinds every plan may use.
    pub fn standard() -> Self {
        todo!()
    }

    /// The kind of this name.
    pub fn get(&self, name: &str) -> Option<&Kind> {
        self.kinds.get(name)
    }

    /// True when `name` is `ancestor` or stands somewhere below it.
    pub fn is_a(&self, name: &str, ancestor: &str) -> bool {
        self.ancestry(name).any(|kind| kind.name == ancestor)
    }

    /// The kind and its ancestors, nearest first.
    pub fn ancestry<'a>(&'a self, name: &str) -> impl Iterator<Item = &'a Kind> {
        std::iter::successors(self.get(name), |kind| self.get(kind.parent.as_deref()?))
    }

    /// All kinds in name order.
    pub fn iter(&self) -> impl Iterator<Item = &Kind> {
        self.kinds.values()
    }
}
