//! Names of lots, features and accuracy classes: each used once, and each reference to one that is there.

use std::collections::BTreeMap;

use crate::model::Accuracy;
use crate::reader::{Reader, list, nearest};
use crate::written::Draft;
use crate::written::usual;
use crate::{At, Fault, Name, Span, visit};

pub(super) fn check(draft: &Draft, reader: &mut Reader<'_>) {
    duplicates(&draft.ids, reader);
    classes(draft, reader);
    lots(draft, reader);
}

fn duplicates(ids: &[At<Name>], reader: &mut Reader<'_>) {
    let mut first: BTreeMap<&Name, Span> = BTreeMap::new();
    for id in ids {
        if let Some(first) = first.insert(&id.value, id.span) {
            let message = format!("Two things are named `{}`.", id.value.0);
            let fault = Fault::new("plan::duplicate-id", message, id.span, "again here")
                .with_label(first, "first here");
            reader.tell(fault.with_help("Lots and features share one set of names; rename one of the two."));
        }
    }
}

fn classes(draft: &Draft, reader: &mut Reader<'_>) {
    let usual = || usual::CLASSES.iter().map(|usual| usual.name);
    for accuracy in visit::accuracies(&draft.plan) {
        let Accuracy::Class(class) = accuracy else { continue };
        if draft.classes.contains(&class.value) || usual().any(|usual| usual == class.value.0) {
            continue;
        }
        let name = class.value.0.as_str();
        let known: Vec<&str> = draft.classes.iter().map(|class| class.0.as_str()).collect();
        let message = format!("There is no accuracy class `{name}`.");
        let fault = Fault::new("plan::unknown-class", message, class.span, "not under [accuracy]");
        reader.tell(fault.with_help(match nearest(name, known.iter().copied().chain(usual())) {
            Some(near) => format!("Did you mean `{near}`?"),
            None => format!(
                "Add it under [accuracy], as `{name} = \"1/2 in\"`, or name a usual class: {}.",
                list(usual())
            ),
        }));
    }
}

fn lots(draft: &Draft, reader: &mut Reader<'_>) {
    let lots: Vec<&str> = draft.plan.lots.iter().map(|lot| lot.id.value.0.as_str()).collect();
    let features = || draft.plan.features.iter().map(|feature| &feature.id.value);
    for lot in draft.plan.features.iter().filter_map(|feature| feature.lot.as_ref()) {
        let name = lot.value.0.as_str();
        let unread =
            draft.ids.iter().any(|id| id.value == lot.value) && !features().any(|id| *id == lot.value);
        if lots.contains(&name) || unread {
            continue;
        }
        let fault =
            Fault::new("plan::unknown-lot", format!("There is no lot `{name}`."), lot.span, "not a lot");
        reader.tell(fault.with_help(match nearest(name, lots.iter().copied()) {
            Some(near) => format!("Did you mean `{near}`?"),
            None => format!("The lots are {}.", list(lots.iter().copied())),
        }));
    }
}
