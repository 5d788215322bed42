//! Names of lots, features and accuracy classes: each used once, and each reference to one that is there.

use std::collections::BTreeMap;

use crate::model::{Accuracy, Geometry};
use crate::reader::{Reader, list, nearest};
use crate::written::Draft;
use crate::{At, Fault, Name, Span};

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
    let plan = &draft.plan;
    let sizes = plan.features.iter().filter_map(|feature| match &feature.geometry {
        Some(Geometry::Box { sizes_by, .. }) => sizes_by.as_ref(),
        _ => None,
    });
    let used = plan.site.by.iter();
    let used = used.chain(plan.points.iter().filter_map(|point| point.by.as_ref()));
    let used = used.chain(plan.lots.iter().filter_map(|lot| lot.by.as_ref()));
    let used = used.chain(plan.features.iter().filter_map(|feature| feature.by.as_ref()));
    for accuracy in used.chain(sizes) {
        let Accuracy::Class(class) = accuracy else { continue };
        if draft.classes.contains(&class.value) {
            continue;
        }
        let name = class.value.0.as_str();
        let known: Vec<&str> = draft.classes.iter().map(|class| class.0.as_str()).collect();
        let message = format!("There is no accuracy class `{name}`.");
        let fault = Fault::new("plan::unknown-class", message, class.span, "not under [accuracy]");
        reader.tell(fault.with_help(match nearest(name, known.iter().copied()) {
            Some(near) => format!("Did you mean `{near}`? The classes are {}.", list(known)),
            None => {
                format!("Add it under [accuracy], for example `{name} = \"1/2 in\"`.")
            }
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
