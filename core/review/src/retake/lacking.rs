//! What is not known at all: needs of `missing` verdicts, and findings on the data that lack something.

use std::collections::{BTreeMap, BTreeSet};

use groundrule_plan::{Gravity, Remark};
use groundrule_site::{Mark, Need};
use groundrule_survey::Position;

use super::{Remeasure, Retake, place};
use crate::draft::Draft;
use crate::finding::Verdict;
use crate::message::Scene;

/// Words of what a tape, a staff or an eye gives; what has none of them is for the owner or a paper to state.
const MEASURABLE: [&str; 20] = [
    "angle", "area", "clear", "depth", "diagonal", "diameter", "distance", "eave", "fall", "height",
    "length", "level", "measure", "opening", "radius", "shape", "slope", "spread", "trunk", "width",
];

/// One entry for each distinct need, that of most findings first, measurable ones before stated ones.
pub(super) fn needs(drafts: &[Draft<'_>], scene: Scene<'_>) -> Vec<Retake> {
    let mut by_need: BTreeMap<&Need, Vec<usize>> = BTreeMap::new();
    let missing = |draft: &&Draft<'_>| draft.answered.judged.verdict == Verdict::Missing;
    let drafts: Vec<&Draft<'_>> = drafts.iter().filter(missing).collect();
    for (at, draft) in drafts.iter().enumerate() {
        let needs: BTreeSet<&Need> = draft.answered.judged.needs.iter().collect();
        for need in needs {
            by_need.entry(need).or_default().push(at);
        }
    }
    let mut asked: Vec<(&Need, Vec<usize>)> = by_need.into_iter().collect();
    asked.sort_by_key(|(need, of)| (std::cmp::Reverse(of.len()), !measurable(need), of.first().copied()));
    let mut left: Vec<BTreeSet<&Need>> =
        drafts.iter().map(|draft| draft.answered.judged.needs.iter().collect()).collect();
    let mut list = Vec::with_capacity(asked.len());
    for (need, of) in asked {
        for at in &of {
            left[*at].remove(need);
        }
        let (settles, helps): (Vec<usize>, Vec<usize>) = of.iter().partition(|at| left[**at].is_empty());
        let ids = |of: Vec<usize>| of.into_iter().map(|at| drafts[at].id.clone()).collect();
        let first = of.first().map(|at| drafts[*at]);
        let subject = first.and_then(|draft| scene.site.feature(*draft.answered.reading.features.first()?));
        list.push(Retake {
            what: need.what.clone(),
            from: None,
            to: None,
            how: Remeasure::Supply { how: need.how.clone(), measured: measurable(need) },
            settles: ids(settles),
            helps: ids(helps),
            now: None,
            marks: subject.and_then(|s| place::middle(&s.shape)).map(Mark::Spot).into_iter().collect(),
            span: subject.map(|subject| subject.span).unwrap_or_default(),
        });
    }
    list
}

/// Findings on the data that lack something, but for those about points that another entry is about already.
pub(super) fn remarks(remarks: &[Remark], done: &BTreeSet<&str>, scene: Scene<'_>) -> Vec<Retake> {
    let shift = scene.layout.shift;
    let lacking = remarks.iter().filter(|remark| remark.gravity == Gravity::Lacking);
    let new = lacking.filter(|remark| !remark.about.iter().any(|name| done.contains(name.0.as_str())));
    new.map(|remark| {
        let spot = |(x, y): &(_, _)| Mark::Spot(Position { x: *x - shift.x, y: *y - shift.y });
        let how = remark.help.clone().unwrap_or_default();
        Retake {
            what: remark.message.trim_end_matches('.').to_owned(),
            from: None,
            to: None,
            how: Remeasure::Supply { measured: in_field(&how) || in_field(&remark.message), how },
            settles: Vec::new(),
            helps: Vec::new(),
            now: None,
            marks: remark.spots.iter().map(spot).collect(),
            span: remark.span,
        }
    })
    .collect()
}

fn measurable(need: &Need) -> bool {
    in_field(&need.what)
}

/// True for what somebody with a tape and a level can find out.
fn in_field(text: &str) -> bool {
    let words = text.split(|c: char| !c.is_alphabetic()).map(str::to_lowercase);
    words.into_iter().any(|word| MEASURABLE.contains(&word.trim_end_matches('s')))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn measured_or_stated() {
        let check = |text: &str, expected: bool| assert_eq!(in_field(text), expected, "{text}");
        check("clear opening of gate-1", true);
        check("the eave of garage", true);
        check("levels of patio", true);
        check("A diagonal of lot is not measured", true);
        check("the permit of the site", false);
        check("the zoning district", false);
        check("the status of shed", false);
        check("the presence of any fence", false);
        check("role of lot.nw-sw", false);
    }
}
