//! Ids that stay and numbers that count.

use std::collections::BTreeMap;

use groundrule_plan::{Gravity, Name};

use crate::finding::{FindingId, Review, Verdict};

/// Makes ids unique: the second of the same gets `#2`, in the order they stand.
#[derive(Default)]
pub(crate) struct Ids {
    seen: BTreeMap<String, u32>,
}

impl Ids {
    pub(crate) fn unique(&mut self, id: String) -> FindingId {
        let count = self.seen.entry(id.clone()).or_insert(0);
        *count += 1;
        FindingId(if *count > 1 { format!("{id}#{count}") } else { id })
    }
}

/// What it is about and whom, so that edits elsewhere leave the id alone: `tern-hollow/side-yard:shed:lot.se-ne`.
pub(crate) fn joined<'a>(what: &str, names: impl IntoIterator<Item = &'a Name>) -> String {
    let mut id = what.to_owned();
    for name in names {
        id.push(':');
        id.push_str(&name.0);
    }
    id
}

/// Numbers what asks for something, from 1: rules, then data, then stopped modules.
pub(crate) fn number(review: &mut Review) {
    let mut next = 1..;
    let asks = |verdict| matches!(verdict, Verdict::Fails | Verdict::Verify | Verdict::Missing);
    for finding in review.findings.iter_mut().filter(|finding| asks(finding.verdict)) {
        finding.number = next.next();
    }
    for finding in review.data.iter_mut().filter(|finding| finding.remark.gravity != Gravity::Noted) {
        finding.number = next.next();
    }
    for finding in &mut review.tool {
        finding.number = next.next();
    }
}
