//! Reading a pack: from the written tables to the typed pack, every fault at once.

mod figure;
mod limit;
mod row;
mod selector;
mod within;

use std::collections::BTreeMap;

use groundrule_plan::reader::{Read, Reader, nearest, quote, read_tree};
use groundrule_plan::{At, Fault, Faults, KindTree, Source, Span};

use crate::formula::{Scope, Sort};
use crate::written::{ClassTable, PackFile, PackHead, Phrase, Slug};
use crate::{Bound, Class, Pack, Provenance};

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
        None => Err(Faults { source: source.clone(), faults: sifted(reader.into_faults(), source) }),
    }
}

fn read(source: &Source, reader: &mut Reader<'_>) -> Option<Pack> {
    let help =
        "A pack has a `[pack]` table that says whose rules these are, and a `[[rule]]` table for each rule.";
    let tree = read_tree(source, help, reader)?;
    let file = PackFile::read(&tree, reader)?;
    let (classes, rules) = (file.class.unwrap_or_default(), file.rule.unwrap_or_default());
    refuse_twins(classes.iter().filter_map(|class| class.name.as_ref()), "class", reader);
    refuse_twins(rules.iter().filter_map(|rule| rule.id.as_ref()), "rule", reader);

    // Rows are read whatever is wrong with the head, so that their faults are told too.
    let pack = file.pack.map(|head| empty(head, source));
    let context = Context {
        source,
        name: pack.as_ref().map(|pack| pack.name.clone()).unwrap_or_default(),
        version: pack.as_ref().map(|pack| pack.version.clone()).unwrap_or_default(),
        invented: pack.as_ref().is_some_and(|pack| pack.invented),
        classes: classes.iter().filter_map(|class| Some(class.name.as_ref()?.value.0.clone())).collect(),
    };
    let classes = classes.into_iter().filter_map(|class| context.class(class, reader)).collect();
    let rows = rules.into_iter().filter_map(|rule| context.row(rule, reader)).collect();
    Some(Pack { classes, rows, ..pack? })
}

/// A pack with its head and no rows yet.
fn empty(head: PackHead, source: &Source) -> Pack {
    let words = |phrase: Option<Phrase>| phrase.map(|phrase| phrase.0);
    Pack {
        name: head.name.map(|name| name.value.0).unwrap_or_default(),
        title: words(head.title).unwrap_or_default(),
        version: head.version.map(|version| version.0).unwrap_or_default(),
        agency: words(head.agency).unwrap_or_default(),
        note: words(head.note),
        not_encoded: head.not_encoded.into_iter().flatten().map(|part| part.0).collect(),
        invented: head.invented.unwrap_or_default(),
        classes: Vec::new(),
        rows: Vec::new(),
        source: source.clone(),
    }
}

/// What the rows of a pack need to know of it.
struct Context<'a> {
    source: &'a Source,
    name: String,
    version: String,
    invented: bool,
    /// The names of its classes.
    classes: Vec<String>,
}

impl Context<'_> {
    fn class(&self, class: ClassTable, reader: &mut Reader<'_>) -> Option<Class> {
        let of_class = class.subject.as_ref().and_then(|subject| subject.class.as_ref()?.0.first());
        if let Some(other) = of_class.map(|class| class.span) {
            let help = "Choose by kind, status and facts, which are known before any class is.";
            reader.fault_help::<()>(
                "pack::class",
                "A class cannot choose by a class.",
                other,
                "a class",
                help,
            );
        }
        let subject = class.subject.map(|subject| self.selector(subject, reader));
        let kinds = subject.as_ref().map(|subject| subject.kinds.clone()).unwrap_or_default();
        let nothing = BTreeMap::new();
        let scope = Scope { kinds: reader.kinds, subject: &kinds, other: &[], reading: &nothing };
        let sort = class.fact.as_ref().and_then(|fact| known("subject", fact, &scope, reader));
        let place = class.limit.as_ref().map(|limit| limit.span);
        let limit = class.limit.and_then(|limit| self.limit(limit, &scope, reader));
        let (limit, place, sort) = (limit?, place?, sort?);
        if limit.dimension() != sort.dimension() && !matches!(limit.bound, Bound::Count(_)) {
            let message = format!("The fact is {}, and the limit is for something else.", sort.words());
            return reader.fault_help(
                "pack::class",
                message,
                place,
                "of another sort",
                "Compare like with like.",
            );
        }
        let provenance = self.provenance(place);
        Some(Class {
            name: class.name?.value.0,
            subject: subject?,
            fact: class.fact?.value.0,
            limit,
            provenance,
        })
    }

    /// Where a limit that stands at `span` was set.
    fn provenance(&self, span: Span) -> Provenance {
        let (line, _) = self.source.position(span.start);
        Provenance {
            pack: self.name.clone(),
            version: self.version.clone(),
            file: self.source.name.clone(),
            line: u32::try_from(line).unwrap_or(u32::MAX),
            span,
            overrides: Vec::new(),
        }
    }
}

/// The sort of a fact of `root`; a name that is not known is told.
fn known(root: &str, name: &At<impl AsRef<str>>, scope: &Scope<'_>, reader: &mut Reader<'_>) -> Option<Sort> {
    match scope.sort_of(root, name.value.as_ref()) {
        Ok(sort) => Some(sort),
        // Nothing can be known of a fact when its kind was not.
        Err(_) if root == "subject" && scope.subject.is_empty() => None,
        Err((message, help)) => {
            let fault = Fault::new("pack::unknown-name", sentence(&message), name.span, "not known");
            reader.tell(Fault { help: help.as_deref().map(sentence), ..fault });
            None
        }
    }
}

/// Refuses a name that was given before.
fn refuse_twins<'a>(names: impl Iterator<Item = &'a At<Slug>>, what: &str, reader: &mut Reader<'_>) {
    let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
    for name in names {
        if let Some(first) = seen.get(name.value.0.as_str()) {
            let message = format!("Two of these are the {what} {}.", quote(&name.value.0));
            let fault = Fault::new("pack::duplicate-id", message, name.span, "again here");
            reader.tell(fault.with_label(*first, "first here").with_help("Give one of them another name."));
        } else {
            seen.insert(&name.value.0, name.span);
        }
    }
}

/// A phrase as a sentence.
fn sentence(phrase: &str) -> String {
    let mut letters = phrase.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string()).unwrap_or_default();
    let end = if phrase.ends_with(['.', '?', '!']) { "" } else { "." };
    format!("{first}{}{end}", letters.as_str())
}

/// The code of a limit in which no comparison was found.
const NO_COMPARISON: &str = "pack::no-comparison";

/// The faults as they are told: a limit without a comparison is none of its own where something in it is wrong
/// already, and keys that a later version will know are told as such.
fn sifted(faults: Vec<Fault>, source: &Source) -> Vec<Fault> {
    let at = |fault: &Fault| fault.labels.first().map(|(span, _)| *span);
    let places: Vec<Span> = faults.iter().filter_map(at).collect();
    let explained = |fault: &Fault| {
        let within =
            |outer: Span| places.iter().any(|p| *p != outer && outer.start <= p.start && p.end <= outer.end);
        fault.code == NO_COMPARISON && at(fault).is_some_and(within)
    };
    faults
        .into_iter()
        .filter(|fault| !explained(fault))
        .map(|fault| told_as_reserved(fault, source))
        .collect()
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
