//! Kinds as tables of a file: the standard ones, and those a pack adds.

use std::sync::{Arc, LazyLock};

use super::{AttributeDoc, AttributeKind, Kind, KindTree, Subject};
use crate::reader::{Keys, Map, Reader, Table, nearest, quote, read_tree};
use crate::{At, Fault, Source};

crate::table! {
    /// Kinds, their attributes and the subjects of `[declared]`, as a file may add them.
    pub table KindTables {
        /// Attributes that kinds may have.
        optional attribute: Map<AttributeTable>,
        /// Subjects that a plan may declare.
        optional subject: Map<SubjectTable>,
        /// Kinds; one stands below the kind it is under.
        optional kind: Map<KindTable>,
    }
}

crate::table! {
    /// One attribute.
    pub table AttributeTable {
        /// What it holds.
        required holds: AttributeKind,
        /// What it means.
        required doc: String,
    }
}

crate::table! {
    /// One subject of `[declared]`.
    pub table SubjectTable {
        /// The kinds it is drawn as.
        required kinds: Vec<String>,
        /// What it means.
        required doc: String,
    }
}

crate::table! {
    /// One kind.
    pub table KindTable {
        /// The kind it is a special case of.
        optional under: String,
        /// What it is.
        required doc: String,
        /// False when things of this kind need not say whether they are existing or proposed; as its parent when absent.
        optional status: bool,
        /// The attributes it has beyond its parent's.
        optional attributes: Vec<At<String>>,
    }
}

impl AttributeTable {
    fn example() -> &'static str {
        "height = { holds = \"length\", doc = \"Height of its top.\" }"
    }
}

impl KindTree {
    /// Adds what the tables say; what does not fit is told to the reader and left out.
    pub fn extend(&mut self, tables: KindTables, reader: &mut Reader<'_>) {
        for (name, table) in tables.attribute.into_iter().flat_map(|map| map.0) {
            let Some((kind, doc)) = table.and_then(|table| table.holds.zip(table.doc)) else { continue };
            if !self.add_attribute(name.value.0.clone(), AttributeDoc { kind, doc }) {
                let message = format!("The attribute `{}` already holds something else.", name.value.0);
                reader.tell(Fault::new("kinds::attribute", message, name.span, "described again here"));
            }
        }
        for (name, table) in tables.kind.into_iter().flat_map(|map| map.0) {
            let Some(table) = table else { continue };
            let kind = self.kind_of(&name.value.0, table, reader);
            if let Err(message) = self.add(kind) {
                reader.tell(Fault::new("kinds::kind", message, name.span, "this kind"));
            }
        }
        for (name, table) in tables.subject.into_iter().flat_map(|map| map.0) {
            let Some((kinds, doc)) = table.and_then(|table| table.kinds.zip(table.doc)) else { continue };
            for kind in kinds.iter().filter(|kind| self.get(kind).is_none()) {
                let message = format!("{} is not a kind.", quote(kind));
                reader.tell(Fault::new("kinds::subject", message, name.span, "drawn as this"));
            }
            self.add_subject(&name.value.0, Subject { kinds, doc });
        }
    }

    fn kind_of(&self, name: &str, table: KindTable, reader: &mut Reader<'_>) -> Kind {
        let parent = table.under;
        let above = parent.as_deref().and_then(|parent| self.get(parent)).is_none_or(|parent| parent.status);
        let mut kind = Kind {
            name: name.to_owned(),
            doc: table.doc.unwrap_or_default(),
            status: table.status.unwrap_or(above),
            parent,
            attributes: std::collections::BTreeMap::new(),
        };
        for attribute in table.attributes.into_iter().flatten() {
            let Some(known) = self.attribute(&attribute.value) else {
                let message = format!("Nothing describes the attribute {}.", quote(&attribute.value));
                let fault = Fault::new("kinds::attribute", message, attribute.span, "not described");
                let near = nearest(&attribute.value, self.attributes().map(|(name, _)| name));
                reader.tell(match near {
                    Some(near) => fault.with_help(format!("Did you mean `{near}`?")),
                    None => fault.with_help(format!(
                        "Describe it under `[attribute]`: `{}`.",
                        AttributeTable::example()
                    )),
                });
                continue;
            };
            kind.attributes.insert(attribute.value, known.kind);
        }
        kind
    }
}

/// The kinds that come with the program, and what is wrong with their file: nothing, as a test sees to.
static STANDARD: LazyLock<(KindTree, Vec<Fault>)> = LazyLock::new(|| {
    let source =
        Source { name: "kinds.toml".to_owned(), text: Arc::from(include_str!("../../data/kinds.toml")) };
    let nothing = KindTree::default();
    let mut tree = KindTree::default();
    let mut reader = Reader::new(&nothing);
    if let Some(value) = read_tree(&source, "", &mut reader)
        && let Some(mut keys) = Keys::of(&value)
    {
        let tables = KindTables::read_keys(&mut keys, &mut reader);
        keys.refuse_rest::<KindTables>(&mut reader);
        tree.extend(tables, &mut reader);
    }
    (tree, reader.into_faults())
});

pub(super) fn standard() -> KindTree {
    STANDARD.0.clone()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_standard_kinds_read_without_fault() {
        assert_eq!(STANDARD.1, []);
    }

    #[test]
    fn every_attribute_is_used_and_every_subject_is_drawn_as_kinds() {
        let tree = KindTree::standard();
        for (name, _) in tree.attributes() {
            assert!(tree.iter().any(|kind| kind.attributes.contains_key(name)), "`{name}` is on no kind");
        }
    }

    #[test]
    fn attributes_are_inherited() {
        let tree = KindTree::standard();
        assert_eq!(tree.attribute_of("shed", "eave"), Some(AttributeKind::Length));
        assert_eq!(tree.attribute_of("shed", "trunk"), None);
        assert!(tree.is_a("shed", "structure") && !tree.is_a("structure", "shed"));
        assert!(!tree.get("window").is_some_and(|window| window.status), "status follows the parent");
    }
}
