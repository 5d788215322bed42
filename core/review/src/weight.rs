//! What hangs on a finding.

use groundrule_packs::{Pack, Row, Weight};
use groundrule_plan::Status;
use groundrule_site::{FeatureId, Site};

use crate::finding::Verdict;

/// The weight of a row in its pack: its own, but no more than its standing bears.
pub(crate) fn of_row(row: &Row, pack: &Pack) -> Weight {
    row.weight.min(row.standing.heaviest(pack.invented))
}

/// The weight of one finding, and a note where its status decides it.
///
/// What stands and fails is noted as an existing nonconformity, unless the row counts what exists or work is
/// proposed on it or on what it was measured to. A status nobody stated is judged like a proposed one.
pub(crate) fn of_finding(
    row: &Row,
    weight: Weight,
    verdict: Verdict,
    features: &[FeatureId],
    site: &Site,
) -> (Weight, Option<&'static str>) {
    let mut statuses = features.iter().filter_map(|id| site.feature(*id)).map(|feature| feature.status);
    let subject = statuses.next().flatten();
    let touched = statuses.any(|status| status == Some(Status::Proposed));
    let stands = matches!(subject, Some(Status::Existing | Status::Remove)) && !touched;
    match verdict {
        Verdict::Fails if stands && !row.existing_counts => {
            (Weight::Noted, Some("An existing nonconformity."))
        }
        Verdict::Verify if stands && !row.existing_counts => {
            (weight, Some("If it does not meet, it is an existing nonconformity."))
        }
        Verdict::Fails | Verdict::Verify if unlabelled(features, site) => {
            (weight, Some("Its status is not stated; it is judged as if proposed."))
        }
        _ => (weight, None),
    }
}

/// True for a subject of a kind that should say its status and does not.
fn unlabelled(features: &[FeatureId], site: &Site) -> bool {
    let subject = features.first().and_then(|id| site.feature(*id));
    subject.is_some_and(|subject| subject.status.is_none() && should_say(&subject.kind, site))
}

/// Whether things of a kind are existing, proposed or to be removed; a lot line is none of them.
pub(crate) fn should_say(kind: &str, site: &Site) -> bool {
    site.kinds().get(kind).is_some_and(|kind| kind.status)
}
