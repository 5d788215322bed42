//! What a review adds up to.

use groundrule_packs::Weight;
use groundrule_plan::Gravity;

use crate::finding::{Counts, Review, Verdict};

impl Review {
    /// How many findings of each sort.
    pub fn counts(&self) -> Counts {
        let mut counts = Counts { data: self.data.len(), tool: self.tool.len(), ..Counts::default() };
        for finding in &self.findings {
            let count = match finding.verdict {
                Verdict::Meets => &mut counts.meets,
                Verdict::Fails if finding.weight == Weight::Required => &mut counts.fails,
                Verdict::Fails => &mut counts.advice,
                Verdict::Verify => &mut counts.verify,
                Verdict::Missing => &mut counts.missing,
                Verdict::NotApplicable => &mut counts.not_applicable,
                Verdict::Accepted => &mut counts.accepted,
            };
            *count += 1;
        }
        counts
    }

    /// The exit code of the program: 3 when a module or the tool failed, 1 when anything required fails or
    /// is open or the data is wrong, 0 otherwise. An unreadable plan, 2, never gets as far as a review.
    pub fn exit_code(&self) -> u8 {
        let open = |verdict| matches!(verdict, Verdict::Fails | Verdict::Verify | Verdict::Missing);
        let required = self.findings.iter().any(|f| f.weight == Weight::Required && open(f.verdict));
        let wrong = self.data.iter().any(|finding| finding.remark.gravity == Gravity::Wrong);
        if self.tool.is_empty() { u8::from(required || wrong) } else { 3 }
    }
}
