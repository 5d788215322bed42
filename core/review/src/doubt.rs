//! Verdicts that hang on a class too close to call: where the rules of each class differ, `verify`.

use std::collections::BTreeMap;

use groundrule_site::FeatureId;

use crate::disputed::Basis;
use crate::draft::Draft;
use crate::finding::Verdict;

/// Turns verdicts that hang on an open class into `verify` where they differ.
///
/// The rules of each class are those that ask the same check of the same features. One that stands alone
/// differs from no rule at all as soon as it fails.
pub(crate) fn settle(drafts: &mut [Draft<'_>]) {
    let mut groups: BTreeMap<(&str, Vec<FeatureId>), Vec<usize>> = BTreeMap::new();
    for (at, draft) in drafts.iter().enumerate().filter(|(_, draft)| !draft.answered.doubts.is_empty()) {
        if matches!(draft.answered.judged.verdict, Verdict::Meets | Verdict::Fails | Verdict::Verify) {
            let key = (draft.row.check.as_str(), draft.answered.reading.features.clone());
            groups.entry(key).or_default().push(at);
        }
    }
    for group in groups.into_values() {
        let all_same = |same: &dyn Fn(&Draft<'_>, &Draft<'_>) -> bool| {
            group.iter().all(|at| same(&drafts[*at], &drafts[group[0]]))
        };
        let alone = all_same(&|a, b| a.answered.doubts == b.answered.doubts);
        let agree = all_same(&|a, b| a.answered.judged.verdict == b.answered.judged.verdict);
        for at in group {
            let draft = &mut drafts[at];
            let classes = draft.answered.doubts.join(", ");
            let hangs = std::mem::take(&mut draft.answered.hangs);
            let judged = &mut draft.answered.judged;
            judged.basis.extend(hangs.iter().map(|requirement| Basis::from(requirement.terms.clone())));
            let note = if !agree || (alone && judged.verdict == Verdict::Fails) {
                if judged.verdict != Verdict::Verify {
                    judged.verdict = Verdict::Verify;
                    // Measuring the value better would not settle the class.
                    judged.open = None;
                }
                format!("Whether it is `{classes}` is too close to call, and the verdict hangs on it.")
            } else {
                format!("Whether it is `{classes}` is too close to call; the verdict is the same.")
            };
            // Known better, the value itself may part rules that agree now.
            if judged.verdict == Verdict::Verify {
                judged.requirements.extend(hangs);
            }
            draft.note(&note);
        }
    }
}
