//! The tree of kinds a feature may be of, kept as data.

mod tables;

use std::collections::BTreeMap;

pub use tables::KindTables;

/// What an attribute holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AttributeKind {
    /// A length with a unit.
    Length,
    /// A list of lengths.
    Lengths,
    /// A level.
    Level,
    /// A level for each vertex or station.
    Levels,
    /// An area.
    Area,
    /// A slope or a share.
    Ratio,
    /// A number without a unit: a coefficient, a curve number.
    Number,
    /// How much water passes in a time.
    Flow,
    /// A speed of water, or a rate of rain or of soaking in.
    Speed,
    /// How long something takes.
    Time,
    /// A whole number.
    Count,
    /// Yes or no.
    Flag,
    /// Words.
    Text,
}

crate::words! { AttributeKind {
    "length" => Self::Length, "a length";
    "lengths" => Self::Lengths, "a list of lengths";
    "level" => Self::Level, "a level as grading plans write it";
    "levels" => Self::Levels, "a list of levels, one for each vertex or station";
    "area" => Self::Area, "an area";
    "ratio" => Self::Ratio, "a slope or a share";
    "number" => Self::Number, "a number";
    "flow" => Self::Flow, "a flow";
    "speed" => Self::Speed, "a speed or a rate of rain";
    "time" => Self::Time, "a time";
    "count" => Self::Count, "a whole number";
    "flag" => Self::Flag, "`true` or `false`";
    "text" => Self::Text, "text";
} }

/// One kind: `shed` under `accessory-structure` under `structure`.
#[derive(Clone, Debug)]
pub struct Kind {
    /// Its name.
    pub name: String,
    /// The kind it is a special case of.
    pub parent: Option<String>,
    /// One line for the format page.
    pub doc: String,
    /// True when a thing of this kind should say whether it is existing, proposed or to be removed.
    pub status: bool,
    /// Attributes this kind adds to its parent's.
    pub attributes: BTreeMap<String, AttributeKind>,
}

/// What one attribute is, on every kind that has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AttributeDoc {
    /// What it holds.
    pub kind: AttributeKind,
    /// One line for the format page.
    pub doc: String,
}

/// Something a plan can declare to be there or not there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Subject {
    /// The kinds it is drawn as; none when it is never drawn.
    pub kinds: Vec<String>,
    /// One line for the format page.
    pub doc: String,
}

/// All kinds, by name, with the attributes and the subjects of `[declared]`.
#[derive(Clone, Debug, Default)]
pub struct KindTree {
    kinds: BTreeMap<String, Kind>,
    attributes: BTreeMap<String, AttributeDoc>,
    subjects: BTreeMap<String, Subject>,
}

impl KindTree {
    /// The kinds every plan may use.
    pub fn standard() -> Self {
        tables::standard()
    }

    /// Adds a kind; what stands in the way is said in one sentence.
    ///
    /// Its name must be new, its parent known, and each of its attributes known and of the same type.
    pub fn add(&mut self, kind: Kind) -> Result<(), String> {
        if self.kinds.contains_key(&kind.name) {
            return Err(format!("There already is a kind `{}`.", kind.name));
        }
        if let Some(parent) = kind.parent.as_deref().filter(|parent| !self.kinds.contains_key(*parent)) {
            return Err(format!("The kind `{}` stands under `{parent}`, which is not a kind.", kind.name));
        }
        for (name, holds) in &kind.attributes {
            if self.attributes.get(name).is_none_or(|attribute| attribute.kind != *holds) {
                return Err(format!(
                    "The kind `{}` has an attribute `{name}` that nothing describes.",
                    kind.name
                ));
            }
        }
        self.kinds.insert(kind.name.clone(), kind);
        Ok(())
    }

    /// Adds an attribute that kinds may then have; false when its name is already taken for something else.
    pub fn add_attribute(&mut self, name: String, attribute: AttributeDoc) -> bool {
        let holds = attribute.kind;
        self.attributes.entry(name).or_insert(attribute).kind == holds
    }

    /// Adds a subject that plans may declare; one of the same name gains the kinds.
    pub fn add_subject(&mut self, name: &str, subject: Subject) {
        match self.subjects.get_mut(name) {
            Some(known) => known.kinds.extend(subject.kinds),
            None => {
                self.subjects.insert(name.to_owned(), subject);
            }
        }
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

    /// What an attribute of a kind holds, its own or an ancestor's.
    pub fn attribute_of(&self, kind: &str, attribute: &str) -> Option<AttributeKind> {
        self.ancestry(kind).find_map(|kind| kind.attributes.get(attribute).copied())
    }

    /// The names of a kind's attributes with those of its ancestors, nearest first.
    pub fn attributes_of<'a>(&'a self, kind: &str) -> impl Iterator<Item = &'a str> {
        self.ancestry(kind).flat_map(|kind| kind.attributes.keys().map(String::as_str))
    }

    /// What an attribute is, whatever kind has it.
    pub fn attribute(&self, name: &str) -> Option<&AttributeDoc> {
        self.attributes.get(name)
    }

    /// All attributes in name order.
    pub fn attributes(&self) -> impl Iterator<Item = (&str, &AttributeDoc)> {
        self.attributes.iter().map(|(name, attribute)| (name.as_str(), attribute))
    }

    /// A subject that can be declared.
    pub fn subject(&self, name: &str) -> Option<&Subject> {
        self.subjects.get(name)
    }

    /// All subjects in name order.
    pub fn subjects(&self) -> impl Iterator<Item = (&str, &Subject)> {
        self.subjects.iter().map(|(name, subject)| (name.as_str(), subject))
    }
}
