//! What is stated of one feature, by name.

use std::collections::BTreeMap;
use std::fmt;

use crate::Fact;

/// Facts in name order.
///
/// It reads like a map. A map's node would hold eleven facts even where there is one, some two
/// kilobytes for each feature of the plan; this holds what there is.
#[derive(Clone, Default, PartialEq)]
pub struct Facts(Vec<(String, Fact)>);

impl Facts {
    /// No facts.
    pub const fn new() -> Self {
        Self(Vec::new())
    }

    /// The fact of this name.
    pub fn get(&self, name: &str) -> Option<&Fact> {
        self.place(name).ok().and_then(|i| self.0.get(i)).map(|(_, fact)| fact)
    }

    /// True when there is a fact of this name.
    pub fn contains_key(&self, name: &str) -> bool {
        self.place(name).is_ok()
    }

    /// States a fact; the one it replaces comes back.
    pub fn insert(&mut self, name: String, fact: Fact) -> Option<Fact> {
        match self.place(&name) {
            Ok(i) => self.0.get_mut(i).map(|slot| std::mem::replace(&mut slot.1, fact)),
            Err(i) => {
                self.0.reserve_exact(1);
                self.0.insert(i, (name, fact));
                None
            }
        }
    }

    /// All facts in name order.
    pub fn iter(&self) -> impl ExactSizeIterator<Item = (&String, &Fact)> {
        self.0.iter().map(|(name, fact)| (name, fact))
    }

    /// All names in order.
    pub fn keys(&self) -> impl ExactSizeIterator<Item = &String> {
        self.0.iter().map(|(name, _)| name)
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// True when nothing is stated.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    fn place(&self, name: &str) -> Result<usize, usize> {
        self.0.binary_search_by(|(other, _)| other.as_str().cmp(name))
    }
}

impl fmt::Debug for Facts {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_map().entries(self).finish()
    }
}

impl<'a> IntoIterator for &'a Facts {
    type Item = (&'a String, &'a Fact);
    type IntoIter = std::iter::Map<
        std::slice::Iter<'a, (String, Fact)>,
        fn(&'a (String, Fact)) -> (&'a String, &'a Fact),
    >;

    fn into_iter(self) -> Self::IntoIter {
        self.0.iter().map(|(name, fact)| (name, fact))
    }
}

impl FromIterator<(String, Fact)> for Facts {
    fn from_iter<I: IntoIterator<Item = (String, Fact)>>(items: I) -> Self {
        items.into_iter().collect::<BTreeMap<_, _>>().into()
    }
}

impl From<BTreeMap<String, Fact>> for Facts {
    fn from(map: BTreeMap<String, Fact>) -> Self {
        Self(map.into_iter().collect())
    }
}
