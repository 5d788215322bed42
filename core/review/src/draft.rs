//! A judged answer on its way to a finding, with the row it answers.

use groundrule_packs::{Row, Weight};

use crate::ask::Answered;
use crate::finding::FindingId;

/// An answer whose verdict other rows, classes and deviations may still change.
pub(crate) struct Draft<'a> {
    pub(crate) id: FindingId,
    pub(crate) row: &'a Row,
    /// The place of its row among all rows asked.
    pub(crate) at: usize,
    /// The weight of the row in its pack, before the status of the subject.
    pub(crate) weight: Weight,
    pub(crate) pack: &'a str,
    pub(crate) answered: Answered,
}

impl Draft<'_> {
    /// Adds a sentence to the note.
    pub(crate) fn note(&mut self, sentence: &str) {
        match &mut self.answered.judged.note {
            Some(note) => {
                note.push(' ');
                note.push_str(sentence);
            }
            None => self.answered.judged.note = Some(sentence.to_owned()),
        }
    }
}
