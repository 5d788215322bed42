//! A `verify` finding and what would settle it.

use std::collections::{BTreeMap, BTreeSet};

use groundrule_plan::{Span, Status};
use groundrule_sandbox::Answer;
use groundrule_site::{Mark, Measured, Terms};
use groundrule_survey::{Layout, Owner, SourceId};
use groundrule_units::{Dimension, Quantity};

use crate::draft::Draft;
use crate::finding::{FindingId, Verdict};
use crate::judge::Requirement;
use crate::message::Scene;
use crate::words;

/// Spreads near a tie are sampled and good to two percent, which is four of a variance; the rest of the tenth is
/// for what first order leaves out.
const SAFE: f64 = 0.9;
/// Readings with less of a variance than this share are none: the rounding of an adjustment.
const NEGLIGIBLE: f64 = 1e-12;

/// Something that is read again as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Item {
    /// A measurement in dispute, by its index in the plan, with all its readings.
    Measurement(u32),
    /// One reading, by its place in the layout's sources.
    Reading(usize),
}

/// One amount that must be known better.
pub(super) struct Part {
    /// The variance from each item.
    pub(super) from: BTreeMap<Item, f64>,
    /// The variance that may be left.
    pub(super) enough: f64,
    /// The variance to ask for.
    pub(super) asked: f64,
}

impl Part {
    fn of(requirement: &Requirement, layout: &Layout) -> Self {
        let mut from = BTreeMap::new();
        for (source, term) in &requirement.terms {
            if let Some(item) = item(*source, layout) {
                *from.entry(item).or_insert(0.0) += term * term;
            }
        }
        let all: f64 = from.values().sum();
        from.retain(|_, variance| *variance > NEGLIGIBLE * all);
        let square = |spread: f64| spread * spread;
        Self { from, enough: SAFE * square(requirement.holding), asked: square(requirement.asked) }
    }

    /// The variance left once these are exact.
    pub(super) fn left(&self, taken: &BTreeSet<Item>) -> f64 {
        self.from.iter().filter(|(item, _)| !taken.contains(item)).map(|(_, variance)| variance).sum()
    }

    /// The share of its plus-or-minus that each of the items taken may keep, all alike.
    pub(super) fn share(&self, taken: &BTreeSet<Item>) -> f64 {
        let left = self.left(taken);
        let known = self.from.values().sum::<f64>() - left;
        if known <= 0.0 { 1.0 } else { libm::sqrt((self.asked - left).max(0.0) / known).min(1.0) }
    }
}

/// A finding that measuring better would settle.
pub(super) struct Open {
    pub(super) id: FindingId,
    /// Everything that must be known.
    pub(super) parts: Vec<Part>,
    /// Measurements that must be settled first.
    pub(super) disputed: BTreeSet<u32>,
    /// The judged length, where it can be measured by itself.
    pub(super) direct: Option<Direct>,
}

/// A length that can be measured by itself.
pub(super) struct Direct {
    pub(super) what: String,
    pub(super) features: Vec<groundrule_site::FeatureId>,
    pub(super) value: Quantity,
    pub(super) marks: Vec<Mark>,
    pub(super) span: Span,
    /// The standard uncertainty that is enough.
    pub(super) asked: f64,
    /// The value's error terms, bit by bit: two values of the same things that err alike differ by something
    /// exact, as wall and eave do, and are one length to measure.
    errs: Vec<(SourceId, u64)>,
}

impl Direct {
    /// What is the same length has the same key.
    pub(super) fn key(&self) -> (&[groundrule_site::FeatureId], &[(SourceId, u64)]) {
        (&self.features, &self.errs)
    }
}

impl Open {
    /// None for what no measurement settles.
    pub(super) fn of(draft: &Draft<'_>, scene: Scene<'_>) -> Option<Self> {
        let judged = &draft.answered.judged;
        if judged.verdict != Verdict::Verify {
            return None;
        }
        let parts: Vec<Part> = judged.requirements.iter().map(|r| Part::of(r, scene.layout)).collect();
        let disputed: BTreeSet<u32> = judged.disputed.iter().copied().collect();
        if disputed.is_empty() && parts.iter().all(|part| part.from.is_empty()) {
            return None;
        }
        // Measured by itself, the length no longer rests on what is in dispute; what makes its rule apply still does.
        let direct = direct(draft, scene).filter(|_| disputed.is_empty() || judged.basis.len() == 1);
        Some(Self { id: draft.id.clone(), parts, disputed, direct })
    }

    /// Every item that is part of the doubt.
    pub(super) fn items(&self) -> BTreeSet<Item> {
        let readings = self.parts.iter().flat_map(|part| part.from.keys().copied());
        readings.chain(self.disputed.iter().map(|at| Item::Measurement(*at))).collect()
    }

    /// True when nothing is left to know once these are exact.
    pub(super) fn settled(&self, taken: &BTreeSet<Item>) -> bool {
        self.disputed.iter().all(|at| taken.contains(&Item::Measurement(*at)))
            && self.parts.iter().all(|part| part.left(taken) <= part.enough)
    }

    /// The doubt that one more item takes away, as a share of what is left.
    pub(super) fn relief(&self, item: Item, taken: &BTreeSet<Item>) -> f64 {
        let dispute = match item {
            Item::Measurement(at) if self.disputed.contains(&at) => 1.0,
            _ => 0.0,
        };
        let part = |part: &Part| match (part.from.get(&item), part.left(taken)) {
            (Some(own), left) if left > 0.0 => own / left,
            _ => 0.0,
        };
        dispute + self.parts.iter().map(part).sum::<f64>()
    }
}

/// The length itself, where everything it runs between stands already, its limit is exact, and nothing else is open.
fn direct(draft: &Draft<'_>, scene: Scene<'_>) -> Option<Direct> {
    let judged = &draft.answered.judged;
    let [requirement] = judged.requirements.as_slice() else { return None };
    let open = judged.open.as_ref()?;
    let reading = &draft.answered.reading;
    let Answer::Amount(amount) = &reading.answer else { return None };
    let features: Vec<_> = reading.features.iter().filter_map(|id| scene.site.feature(*id)).collect();
    let standing = features.iter().all(|feature| feature.status != Some(Status::Proposed));
    let length = amount.value().dimension() == Dimension::Length;
    (standing && length && spread_matches(&open.room, amount)).then(|| Direct {
        what: match features.as_slice() {
            // What of it is judged; where it runs between two things that is plain.
            [only] => format!("{}: {}", words::called(only), draft.row.title),
            _ => words::place(&features),
        },
        features: reading.features.clone(),
        value: amount.value(),
        marks: amount.marks.clone(),
        span: features.first().map_or(Span::default(), |feature| feature.span),
        asked: requirement.asked,
        errs: amount.terms().iter().map(|(source, term)| (*source, term.to_bits())).collect(),
    })
}

/// True when the limit adds no error of its own to the value's.
fn spread_matches(room: &Measured, amount: &Measured) -> bool {
    let (a, b): (&Terms, &Terms) = (room.terms(), amount.terms());
    a.len() == b.len() && a.iter().zip(b).all(|(x, y)| x.0 == y.0 && x.1.abs().total_cmp(&y.1.abs()).is_eq())
}

/// What is read again for a source: the whole measurement where that is in dispute, else the reading.
fn item(source: SourceId, layout: &Layout) -> Option<Item> {
    let at = reading(source, layout)?;
    match layout.sources.get(at)?.owner {
        Owner::Measurement(measurement) if layout.disputed.contains_key(&measurement) => {
            Some(Item::Measurement(measurement))
        }
        _ => Some(Item::Reading(at)),
    }
}

/// The reading a source belongs to, by its place in the layout: the last that starts at or before it.
pub(super) fn reading(source: SourceId, layout: &Layout) -> Option<usize> {
    layout.sources.partition_point(|owner| owner.first <= source).checked_sub(1)
}
