//! Reading a pack: from the written tables to the typed pack, every fault at once.

mod figure;
mod limit;
mod row;
mod selector;
mod within;

use std::collections::BTreeMap;

use groundrule_plan::reader::{Read, Reader, is_name, nearest, quote, read_tree};
use groundrule_plan::{At, Fault, Faults, KindTree, Source, Span};

use crate::formula::Scope;
use crate::written::{ClassTable, PackFile, PackHead, RuleTable};
use crate::{Class, Pack, Provenance, Row};

/// Keys that later versions will read, with what they will be for.
const RESERVED: [(&str, &str); 5] = [
    ("extends", "packs built on other packs"),
    ("locked", "values that may not be overridden"),
    ("effective_from", "rules that begin at a date"),
    ("effective_to", "rules that end at a date"),
    ("average_of", "limits that average the neighbors"),
];

/// Reads one pack from its TOML text: the whole pack, or everything that is wrong with it.
pub fn read_pack(source: &Source, kinds: &KindTree) -> Result<Pack, Faults> {
    let mut reader = Reader::new(kinds);
    let pack = read(source, &mut reader);
    match pack.filter(|_| reader.is_clean()) {
        Some(pack) => Ok(pack),
        None => {
            let faults = reader.into_faults().into_iter().map(|fault| told_as_reserved(fault, source));
            Err(Faults { source: source.clone(), faults: faults.collect() })
        }
    }
}

fn read(source: &Source, reader: &mut Reader<'_>) -> Option<Pack> {
    let help =
        "A pack has a `[pack]` table that says whose rules these are, and a `[[rule]]` table for each rule.";
    let tree = read_tree(source, help, reader)?;
    let file = PackFile::read(&tree, reader)?;
    let classes = file.class.unwrap_or_default();
    let head = file.pack.map(|head| Head::of(head, &classes, reader));
    // Rows are read whatever is wrong with the head, so that their faults are told too.
    let context = Context { source, head: head.unwrap_or_default() };
    let read_classes: Vec<Class> =
        classes.into_iter().filter_map(|class| context.class(class, reader)).collect();
    let tables = file.rule.unwrap_or_default();
    refuse_twins(tables.iter().filter_map(|rule| rule.id.as_ref()), "rule", reader);
    let rows: Vec<Row> = tables.into_iter().filter_map(|rule: RuleTable| context.row(rule, reader)).collect();
    let Head { name, title, version, agency, note, not_encoded, invented, .. } = context.head;
    Some(Pack {
        name,
        title,
        version,
        agency,
        note,
        not_encoded,
        invented,
        classes: read_classes,
        rows,
        source: source.clone(),
    })
}

/// What the rows of a pack need to know of it.
#[derive(Default)]
struct Head {
    name: String,
    title: String,
    version: String,
    agency: String,
    note: Option<String>,
    not_encoded: Vec<String>,
    invented: bool,
    /// The names of its classes.
    classes: Vec<String>,
}

impl Head {
    fn of(head: PackHead, classes: &[ClassTable], reader: &mut Reader<'_>) -> Self {
        if let Some(name) = &head.name {
            slug(name, "pack", reader);
        }
        let names = classes.iter().filter_map(|class| class.name.as_ref());
        refuse_twins(names.clone(), "class", reader);
        Self {
            classes: names.map(|name| name.value.clone()).collect(),
            name: head.name.map(|name| name.value).unwrap_or_default(),
            title: head.title.unwrap_or_default(),
            version: head.version.unwrap_or_default(),
            agency: head.agency.unwrap_or_default(),
            note: head.note,
            not_encoded: head.not_encoded.unwrap_or_default(),
            invented: head.invented.unwrap_or_default(),
        }
    }
}

/// The file and the head of the pack being read.
struct Context<'a> {
    source: &'a Source,
    head: Head,
}

impl Context<'_> {
    fn class(&self, class: ClassTable, reader: &mut Reader<'_>) -> Option<Class> {
        let subject = self.selector(class.subject?, reader);
        let nothing = BTreeMap::new();
        let scope = Scope { kinds: reader.kinds, subject: &subject.kinds, other: &[], reading: &nothing };
        let fact = class.fact?;
        if let Err((message, help)) = scope.sort_of("subject", &fact.value) {
            reader.tell(named(&message, &fact, help));
        }
        let limit = class.limit?;
        let provenance = self.provenance(limit.span);
        let limit = self.limit(limit, &scope, reader);
        Some(Class { name: class.name?.value, subject, fact: fact.value, limit: limit?, provenance })
    }

    /// Where a limit that stands at `span` was set.
    fn provenance(&self, span: Span) -> Provenance {
        let (line, _) = self.source.position(span.start);
        Provenance {
            pack: self.head.name.clone(),
            version: self.head.version.clone(),
            file: self.source.name.clone(),
            line: u32::try_from(line).unwrap_or(u32::MAX),
            span,
            overrides: Vec::new(),
        }
    }
}

/// Refuses a name that is not lower-case words joined by hyphens, for it becomes part of a finding's id.
fn slug(name: &At<String>, what: &str, reader: &mut Reader<'_>) {
    let lower = |byte: u8| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-';
    if !is_name(&name.value) || !name.value.bytes().all(lower) {
        let message = format!("{} cannot be the name of a {what}.", quote(&name.value));
        let near: String = name
            .value
            .trim()
            .to_ascii_lowercase()
            .chars()
            .map(|c| if lower(u8::try_from(c).unwrap_or(b' ')) { c } else { '-' })
            .collect();
        let help = match near.trim_matches('-') {
            "" => "It is made of lower-case letters, digits and hyphens.".to_owned(),
            near => format!("It is made of lower-case letters, digits and hyphens; `{near}` would do."),
        };
        reader.fault_help::<()>("pack::bad-name", message, name.span, "not a name", help);
    }
}

/// Refuses a name that was given before.
fn refuse_twins<'a>(names: impl Iterator<Item = &'a At<String>>, what: &str, reader: &mut Reader<'_>) {
    let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
    for name in names {
        slug(name, what, reader);
        if let Some(first) = seen.get(name.value.as_str()) {
            let message = format!("Two of these are the {what} {}.", quote(&name.value));
            let fault = Fault::new("pack::duplicate-id", message, name.span, "again here");
            reader.tell(fault.with_label(*first, "first here").with_help("Give one of them another name."));
        } else {
            seen.insert(&name.value, name.span);
        }
    }
}

/// A fault about a name, from a lookup's message and help.
fn named(message: &str, name: &At<String>, help: Option<String>) -> Fault {
    let fault = Fault::new("pack::unknown-name", sentence(message), name.span, "not known");
    match help {
        Some(help) => fault.with_help(sentence(&help)),
        None => fault,
    }
}

/// A phrase as a sentence.
fn sentence(phrase: &str) -> String {
    let mut letters = phrase.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string()).unwrap_or_default();
    let end = if phrase.ends_with(['.', '?', '!']) { "" } else { "." };
    format!("{first}{}{end}", letters.as_str())
}

/// An unknown key that a later version will know gets told as such.
fn told_as_reserved(fault: Fault, source: &Source) -> Fault {
    let Some((span, _)) = fault.labels.first().filter(|_| fault.code == "plan::unknown-key") else {
        return fault;
    };
    let key = source.text.get(span.start as usize..span.end as usize).unwrap_or_default();
    match RESERVED.iter().find(|(reserved, _)| *reserved == key) {
        Some((_, purpose)) => Fault::new(
            "pack::reserved",
            format!("{} is not read by this version.", quote(key)),
            *span,
            &format!("kept for {purpose}"),
        )
        .with_help("Take it out: the pack would be read as if it were not there."),
        None => fault,
    }
}

/// The help for a name that is not among those known.
fn did_you_mean<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    nearest(name, known).map(|near| format!("Did you mean `{near}`?"))
}
