//! What hangs on a finding.

use groundrule_packs::{Pack, Row, Standing, Weight};
use groundrule_plan::Status;
use groundrule_site::{FeatureId, Site};

use crate::finding::Verdict;

/// The most a row can carry on its standing: what nobody adopted or published is advice at most, and an
/// illustration binds only in a jurisdiction that does not exist either.
fn cap(standing: Standing, invented: bool) -> Weight {
    match standing {
        Standing::AdoptedLocalText | Standing::PublishedStandard => Weight::Required,
        Standing::CommonPractice | Standing::FromMemory => Weight::Advised,
        Standing::Illustrative if invented => Weight::Required,
        Standing::Illustrative => Weight::Advised,
    }
}

/// The weight of a row in its pack.
pub(crate) fn of_row(row: &Row, pack: &Pack) -> Weight {
    row.weight.min(cap(row.standing, pack.invented))
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
        Verdict::Fails if stands && !row.existing_counts => (Weight::Noted, Some("An existing nonconformity.")),
        Verdict::Verify if stands && !row.existing_counts => {
            (weight, Some("If it does not meet, it is an existing nonconformity."))
        }
        Verdict::Fails | Verdict::Verify if unlabelled(features, site) => {
            (weight, Some("Its status is not stated; it is judged as if proposed."))
        }
        _ => (weight, None),
    }
}

/// True for a subject that could have a status and says none: lots and their lines have none.
fn unlabelled(features: &[FeatureId], site: &Site) -> bool {
    let subject = features.first().and_then(|id| site.feature(*id));
    subject.is_some_and(|feature| feature.status.is_none() && !matches!(feature.kind.as_str(), "lot" | "lot-line"))
}
