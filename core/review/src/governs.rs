//! The same requirement from several packs: all are shown, and which governs is noted.

use std::collections::BTreeMap;

use groundrule_packs::{Sense, Weight};
use groundrule_site::FeatureId;
use groundrule_units::Dimension;

use crate::draft::Draft;
use crate::finding::Required;
use crate::words;

/// Notes on each of several limits on the same measurement which one governs: the stricter.
///
/// Only limits of the greatest weight among them are compared, since advice does not govern a requirement.
pub(crate) fn note(drafts: &mut [Draft<'_>]) {
    if drafts.windows(2).all(|pair| pair[0].pack == pair[1].pack) {
        return;
    }
    let mut same: BTreeMap<(&str, &[FeatureId]), Vec<usize>> = BTreeMap::new();
    for (at, draft) in drafts.iter().enumerate().filter(|(_, draft)| strictness(draft).is_some()) {
        same.entry((&draft.row.check, &draft.answered.reading.features)).or_default().push(at);
    }
    let notes: Vec<(usize, String)> =
        same.values().filter(|group| group.len() > 1).flat_map(|group| notes(group, drafts)).collect();
    for (at, sentence) in notes {
        drafts[at].note(&sentence);
    }
}

/// How much a single-sided limit asks for: greater is stricter; only limits of one sort compare.
fn strictness(draft: &Draft<'_>) -> Option<(bool, Dimension, f64)> {
    let Required { sense, value, .. } = draft.answered.judged.required.as_ref()?;
    let value = (*value)?;
    match sense {
        Sense::AtLeast | Sense::MoreThan => Some((true, value.dimension(), value.si())),
        Sense::AtMost | Sense::LessThan => Some((false, value.dimension(), -value.si())),
        Sense::Between | Sense::Holds | Sense::HoldsNot => None,
    }
}

fn notes(group: &[usize], drafts: &[Draft<'_>]) -> Vec<(usize, String)> {
    let heaviest = group.iter().map(|at| drafts[*at].weight).max().unwrap_or(Weight::Noted);
    let mut notes = Vec::new();
    for at in group {
        let rivals: Vec<usize> = group
            .iter()
            .copied()
            .filter(|other| drafts[*other].weight == heaviest && drafts[*at].weight == heaviest)
            .filter(|other| rival(&drafts[*at], &drafts[*other]))
            .collect();
        // The first of equals governs, so that exactly one does.
        let strictest = rivals.iter().copied().reduce(|best, other| {
            if strictness(&drafts[other]) > strictness(&drafts[best]) { other } else { best }
        });
        let Some(strictest) =
            strictest.filter(|_| rivals.iter().any(|o| drafts[*o].pack != drafts[*at].pack))
        else {
            continue;
        };
        let others: Vec<String> = rivals.iter().filter(|o| *o != at).map(|o| name(&drafts[*o])).collect();
        notes.push((
            *at,
            if strictest == *at {
                format!("It governs over {}.", words::list(&others))
            } else {
                format!("{} governs.", name(&drafts[strictest]))
            },
        ));
    }
    notes
}

/// True for two limits on the same measurement, each being its own rival.
fn rival(a: &Draft<'_>, b: &Draft<'_>) -> bool {
    let sort = |draft| strictness(draft).map(|(more, dimension, _)| (more, dimension));
    a.row.with == b.row.with && sort(a) == sort(b)
}

fn name(draft: &Draft<'_>) -> String {
    let limit = draft.answered.judged.required.as_ref().map_or_else(String::new, Required::words);
    format!("{}/{} ({limit})", draft.pack, draft.row.id.0)
}
