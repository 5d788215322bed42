//! The reference page of the plan file, in Markdown.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use crate::KindTree;
use crate::kinds::AttributeKind;
use crate::model::OfEach;
use crate::reader::{Field, Form, Shape, Table as _, TableShape};
use crate::written::PlanFile;
use crate::written::feature::{is_of_features, written_as};
use crate::written::usual::CLASSES;

const INTRODUCTION: &str = "\
# The plan file

A plan is a text file in [TOML](https://toml.io) 1.1. It says where things stand, how that was measured and what is \
stated of them; it holds no rule. Everything may be commented with `#`.

A key marked **needed** must be there. A key that is not listed is an error, answered with the nearest that is.
Editors that understand `#:schema plan.schema.json` on the first line complete and check while one types.

";

/// The reference page of the plan file.
pub fn page() -> String {
    let introduction = format!("{INTRODUCTION}```toml\n{}```\n\n", include_str!("../../docs/example.toml"));
    let mut page = Page::of(&introduction, &PlanFile::table());
    let kinds = KindTree::standard();
    page.usual_classes();
    page.kinds(&kinds);
    page.attributes(&kinds);
    page.subjects(&kinds);
    page.text
}

/// The reference page of any file declared with [`crate::table!`]: an introduction, then every table, key and way
/// of writing.
pub fn page_of(introduction: &str, file: &TableShape) -> String {
    Page::of(introduction, file).text
}

struct Page {
    text: String,
    /// Tables already described.
    tables: Vec<&'static str>,
    /// Ways of writing that were named.
    forms: BTreeMap<&'static str, Form>,
}

impl Page {
    fn of(introduction: &str, file: &TableShape) -> Self {
        let mut page = Self { text: introduction.to_owned(), tables: Vec::new(), forms: BTreeMap::new() };
        for section in &file.fields {
            page.section(section);
        }
        page.line("## Ways of writing");
        // Describing one may name others, which are then described too.
        let mut done: Vec<&str> = Vec::new();
        while let Some(form) = page.forms.values().find(|form| !done.contains(&form.name)).cloned() {
            done.push(form.name);
            page.form(&form);
        }
        page
    }

    fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push_str("\n\n");
    }

    fn section(&mut self, section: &Field) {
        let heading = match &section.shape {
            Shape::List { .. } => format!("## `[[{}]]`", section.key),
            _ => format!("## `[{}]`", section.key),
        };
        let needed = if section.required { " Needed." } else { "" };
        self.line(&heading);
        self.line(&format!("{}{needed}", section.doc));
        if let Shape::Map { keys, of } = &section.shape {
            let words = self.words(of);
            self.line(&format!("One key for each {keys}; each takes {words}."));
        }
        self.tables_in(&section.shape);
    }

    /// Describes every table in a shape that has not been described.
    fn tables_in(&mut self, shape: &Shape) {
        match shape {
            Shape::Table(table) => self.table(table),
            Shape::List { of, .. } | Shape::Map { of, .. } => self.tables_in(of),
            Shape::Any(shapes) => shapes.iter().for_each(|shape| self.tables_in(shape)),
            Shape::Form(form) => drop(self.forms.insert(form.name, form.clone())),
            _ => {}
        }
    }

    fn table(&mut self, table: &TableShape) {
        if self.tables.contains(&table.name) {
            return;
        }
        self.tables.push(table.name);
        self.text.push_str("| Key | Takes | Meaning |\n|---|---|---|\n");
        for field in &table.fields {
            let needed = if field.required { " **needed**" } else { "" };
            let takes = self.words(&field.shape);
            let _ = writeln!(self.text, "| `{}`{needed} | {takes} | {} |", field.key, field.doc);
        }
        self.text.push('\n');
        if table.open {
            self.line(
                "Every other key is an attribute of the feature's kind; see [Attributes](#attributes).",
            );
        }
        for field in &table.fields {
            self.inner_tables(field);
        }
    }

    fn inner_tables(&mut self, field: &Field) {
        let mut inner = Vec::new();
        collect_tables(&field.shape, &mut inner);
        for table in inner {
            if !self.tables.contains(&table.name) {
                self.line(&format!("### In `{}`", field.key));
                self.line(&table.doc);
                self.table(&table);
            }
        }
    }

    fn form(&mut self, form: &Form) {
        let mut title = form.name.to_owned();
        title[..1].make_ascii_uppercase();
        self.line(&format!("### {title}"));
        self.line(form.doc);
        self.line(&format!("For example `{}`.", form.example));
        self.tables_in(&form.of);
    }

    /// What may be written, in words; every way that has a name of its own is remembered for its paragraph.
    fn words(&mut self, shape: &Shape) -> String {
        match shape {
            Shape::Form(form) => {
                self.forms.insert(form.name, form.clone());
                format!("[{}](#{})", form.name, form.name.replace(' ', "-"))
            }

            Shape::Words(words) => {
                let words: Vec<String> =
                    words.iter().map(|word| format!("`{}` ({})", word.word, word.doc)).collect();
                words.join(", ")
            }
            Shape::List { of, least, most } => {
                let many = match (least, most) {
                    (least, Some(most)) if least == most => format!("{least} of"),
                    (0, _) => "a list of".to_owned(),
                    (least, _) => format!("a list of {least} or more of"),
                };
                format!("{many} {}", self.words(of))
            }
            Shape::Any(shapes) => {
                let ways: Vec<String> = shapes.iter().map(|shape| self.words(shape)).collect();
                ways.join(", or ")
            }
            Shape::Map { keys, of } => format!("a table: for each {keys} {}", self.words(of)),
            other => other.in_words(),
        }
    }

    fn usual_classes(&mut self) {
        self.line("## Usual classes");
        self.line(
            "Ways of measuring that can be named in `by` without being written under `[accuracy]`. They are starting \
             figures, each a plus-or-minus that holds about 95 times in a hundred; your own are better. `common \
             practice` is what the trade reckons with, `from memory` a magnitude nobody has printed.",
        );
        self.text.push_str(
            "| Class | Plus or minus | Of each | And of the length | Angle | Standing | What it is |\n",
        );
        self.text.push_str("|---|---|---|---|---|---|---|\n");
        for usual in CLASSES {
            let of_each = match usual.of_each {
                OfEach::Length => "length",
                OfEach::Position => "position",
            };
            let share = if usual.percent > 0.0 { format!("{} %", usual.percent) } else { "-".to_owned() };
            let _ = writeln!(
                self.text,
                "| `{}` | {} | {of_each} | {share} | {} | {} | {} |",
                usual.name, usual.plus_minus, usual.angle, usual.standing, usual.doc
            );
        }
        self.text.push('\n');
    }

    fn kinds(&mut self, kinds: &KindTree) {
        self.line("## Kinds");
        self.line("A kind is a special case of the one it stands under, and rules for that one are for it too. Packs may add kinds.");
        let mut order: Vec<(usize, &str)> = Vec::new();
        let roots =
            kinds.iter().filter(|kind| kind.parent.is_none() && written_as(&kind.name, kinds).is_none());
        let mut waiting: Vec<(usize, &str)> = roots.map(|kind| (0, kind.name.as_str())).collect();
        waiting.reverse();
        while let Some((depth, name)) = waiting.pop() {
            order.push((depth, name));
            let mut below: Vec<&str> = kinds
                .iter()
                .filter(|kind| kind.parent.as_deref() == Some(name))
                .map(|kind| kind.name.as_str())
                .collect();
            below.reverse();
            waiting.extend(below.into_iter().map(|name| (depth + 1, name)));
        }
        for (depth, name) in order {
            let Some(kind) = kinds.get(name) else { continue };
            let own: Vec<String> = kind.attributes.keys().map(|name| format!("`{name}`")).collect();
            let own = if own.is_empty() { String::new() } else { format!(" *{}*", own.join(", ")) };
            let _ = writeln!(self.text, "{}- `{name}`: {}{own}", "  ".repeat(depth), kind.doc);
        }
        self.text.push('\n');
    }

    fn attributes(&mut self, kinds: &KindTree) {
        self.line("## Attributes");
        self.line("What can be stated of a feature. Each kind has its own, listed above, and those of the kinds it stands under.");
        self.text.push_str("| Attribute | Takes | Meaning |\n|---|---|---|\n");
        for (name, attribute) in kinds.attributes().filter(|(name, _)| is_of_features(name, kinds)) {
            let takes = match attribute.kind {
                AttributeKind::Length
                | AttributeKind::Lengths
                | AttributeKind::Level
                | AttributeKind::Levels
                | AttributeKind::Area
                | AttributeKind::Flow
                | AttributeKind::Speed
                | AttributeKind::Time
                | AttributeKind::Ratio => self.words(&crate::written::attributes::shape_of(attribute.kind)),
                other => crate::written::attributes::shape_of(other).in_words(),
            };
            let _ = writeln!(self.text, "| `{name}` | {takes} | {} |", attribute.doc);
        }
        self.text.push('\n');
    }

    fn subjects(&mut self, kinds: &KindTree) {
        self.line("## Subjects of `[declared]`");
        self.text.push_str("| Subject | Meaning | Drawn as |\n|---|---|---|\n");
        for (name, subject) in kinds.subjects() {
            let drawn: Vec<String> = subject.kinds.iter().map(|kind| format!("`{kind}`")).collect();
            let _ = writeln!(self.text, "| `{name}` | {} | {} |", subject.doc, drawn.join(", "));
        }
    }
}

fn collect_tables(shape: &Shape, tables: &mut Vec<TableShape>) {
    match shape {
        Shape::Table(table) => tables.push(table.clone()),
        Shape::List { of, .. } | Shape::Map { of, .. } => collect_tables(of, tables),
        Shape::Any(shapes) => shapes.iter().for_each(|shape| collect_tables(shape, tables)),
        _ => {}
    }
}
