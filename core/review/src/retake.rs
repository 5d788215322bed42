//! What to measure again: the shortest list that settles most of what is too close to call.

use std::collections::{BTreeMap, BTreeSet};

use groundrule_plan::{Plan, Span, Status};
use groundrule_site::{FeatureId, Measured, Site};
use groundrule_survey::{Layout, Owner, SourceId};
use groundrule_units::{Dimension, Length, Quantity};

use crate::draft::Draft;
use crate::finding::{FindingId, Verdict};
use crate::message::HALF_WIDTH;
use crate::words;

/// No list is longer; nobody goes out with more, and it bounds the work on plans with very many findings.
const LONGEST: usize = 40;

/// Something to measure again.
#[derive(Clone, Debug, PartialEq)]
pub struct Retake {
    /// What: a reading as the plan names it, or a distance from one thing to another.
    pub what: String,
    /// How.
    pub how: Remeasure,
    /// The `verify` findings that it settles, together with what stands above it in the list, if the values
    /// hold; for a value at its limit, most likely.
    pub settles: Vec<FindingId>,
    /// Other `verify` findings whose doubt it lessens.
    pub helps: Vec<FindingId>,
    /// Where the plan states it.
    pub span: Span,
}

/// How to measure again.
#[derive(Clone, Debug, PartialEq)]
pub enum Remeasure {
    /// The judged length itself, in the field.
    Directly {
        /// From the first to the others.
        features: Vec<FeatureId>,
        /// The plus-or-minus at 95 % that is enough.
        plus_minus: Length,
    },
    /// The reading that the plan rests on, by a better class than this one.
    Again {
        /// The plus-or-minus at 95 % it was read to: a length, or an angle.
        plus_minus: Quantity,
        /// The plus-or-minus that is enough for what it settles; none when others must follow.
        enough: Option<Quantity>,
    },
}

/// The list, best first: what settles the most findings, then what takes away the most doubt.
///
/// A reading is taken as exact once measured again. A length can be measured itself only where everything
/// it runs between stands already and its limit is exact.
pub(crate) fn list(drafts: &[Draft<'_>], plan: &Plan, site: &Site, layout: &Layout) -> Vec<Retake> {
    let mut open: Vec<Open> = drafts.iter().filter_map(|draft| Open::of(draft, site, layout)).collect();
    let mut taken = BTreeSet::new();
    let mut list = Vec::new();
    while list.len() < LONGEST {
        let Some(Effect { candidate, settles, helps, .. }) = best(&open, &taken) else { break };
        let (what, how, span) = match candidate {
            Candidate::Length(at) => open[at].directly(settles.iter().map(|at| &open[*at])),
            Candidate::Reading(owner) => {
                let Some(source) = layout.sources.get(owner) else { break };
                taken.insert(owner);
                let factor = settles.iter().map(|at| open[*at].tightened(owner, &taken)).reduce(f64::min);
                let enough = factor.map(|factor| scaled(source.plus_minus, factor));
                let how = Remeasure::Again { plus_minus: source.plus_minus, enough };
                (source.describe(plan), how, span(source.owner, plan))
            }
        };
        let ids = |places: &[usize]| places.iter().map(|at| open[*at].id.clone()).collect();
        list.push(Retake { what, how, settles: ids(&settles), helps: ids(&helps), span });
        let settled: BTreeSet<usize> = settles.into_iter().collect();
        let left = open.into_iter().enumerate().filter(|(at, _)| !settled.contains(at));
        open = left.map(|(_, open)| open).collect();
    }
    list
}

/// The readings that most of the doubt in a value comes from, at most two, in words.
pub(crate) fn weightiest(room: &Measured, plan: &Plan, layout: &Layout) -> Vec<String> {
    let from = by_reading(room, layout);
    let all: f64 = from.values().sum();
    let mut parts: Vec<(usize, f64)> = from.into_iter().filter(|(_, part)| *part >= 0.2 * all).collect();
    parts.sort_by(|a, b| b.1.total_cmp(&a.1));
    let named = parts.iter().take(2).filter_map(|(owner, _)| layout.sources.get(*owner));
    named.map(|source| source.describe(plan)).collect()
}

/// Error terms in a form that has an order.
type Errs = Vec<(SourceId, u64)>;

/// A finding that measuring better would settle.
struct Open {
    id: FindingId,
    features: Vec<FeatureId>,
    place: String,
    span: Span,
    /// The value's error terms, bit by bit: two values of the same things that err alike differ by something
    /// exact, as wall and eave do, and are one length to measure.
    errs: Errs,
    /// The variance that is enough.
    enough: f64,
    /// The variance from each reading, by its place in the layout's sources.
    from: BTreeMap<usize, f64>,
    direct: bool,
}

impl Open {
    fn of(draft: &Draft<'_>, site: &Site, layout: &Layout) -> Option<Self> {
        let judged = &draft.answered.judged;
        let open = judged.open.as_ref().filter(|_| judged.verdict == Verdict::Verify)?;
        let enough = open.enough?;
        let reading = &draft.answered.reading;
        let groundrule_sandbox::Answer::Amount(amount) = &reading.answer else { return None };
        let features: Vec<_> = reading.features.iter().filter_map(|id| site.feature(*id)).collect();
        let standing = features.iter().all(|feature| feature.status != Some(Status::Proposed));
        let exact_limit = spread_matches(&open.room, amount);
        Some(Self {
            id: draft.id.clone(),
            features: reading.features.clone(),
            place: words::place(&features),
            span: features.first().map_or(Span::default(), |feature| feature.span),
            errs: amount.terms().iter().map(|(source, term)| (*source, term.to_bits())).collect(),
            enough: enough.spread * enough.spread,
            from: by_reading(&open.room, layout),
            direct: standing && exact_limit && amount.value().dimension() == Dimension::Length,
        })
    }

    /// The length itself, to what is enough for it and for others that ask for the same length.
    fn directly<'a>(&self, same: impl Iterator<Item = &'a Self>) -> (String, Remeasure, Span) {
        let enough = same.map(|other| other.enough).fold(self.enough, f64::min);
        let plus_minus = Length::from_metres(libm::sqrt(enough) * HALF_WIDTH);
        (self.place.clone(), Remeasure::Directly { features: self.features.clone(), plus_minus }, self.span)
    }

    /// The share of its present plus-or-minus that one reading may keep, all in `taken` but itself being exact.
    fn tightened(&self, owner: usize, taken: &BTreeSet<usize>) -> f64 {
        let own = self.from.get(&owner).copied().unwrap_or(0.0);
        if own <= 0.0 { 1.0 } else { libm::sqrt((self.enough - self.left(taken)).max(0.0) / own).min(1.0) }
    }

    /// The variance left once these readings are exact.
    fn left(&self, taken: &BTreeSet<usize>) -> f64 {
        self.from.iter().filter(|(owner, _)| !taken.contains(owner)).map(|(_, variance)| variance).sum()
    }
}

/// True when the limit adds no error of its own to the value's.
fn spread_matches(room: &Measured, amount: &Measured) -> bool {
    let (a, b) = (room.terms(), amount.terms());
    a.len() == b.len() && a.iter().zip(b).all(|(x, y)| x.0 == y.0 && x.1.abs().total_cmp(&y.1.abs()).is_eq())
}

/// The variance each reading contributes.
fn by_reading(room: &Measured, layout: &Layout) -> BTreeMap<usize, f64> {
    let mut from = BTreeMap::new();
    for (source, term) in room.terms() {
        if let Some(owner) = owner(*source, layout) {
            *from.entry(owner).or_insert(0.0) += term * term;
        }
    }
    from
}

/// The reading a source belongs to, by its place in the layout: the last that starts at or before it.
fn owner(source: SourceId, layout: &Layout) -> Option<usize> {
    layout.sources.partition_point(|owner| owner.first <= source).checked_sub(1)
}

fn scaled(quantity: Quantity, factor: f64) -> Quantity {
    Quantity::new(quantity.dimension(), quantity.si() * factor)
}

/// Where the plan states what a reading belongs to.
fn span(owner: Owner, plan: &Plan) -> Span {
    let found = match owner {
        Owner::Point(at) => plan.points.get(at as usize).map(|point| point.name.span),
        Owner::Lot(at) => plan.lots.get(at as usize).map(|lot| lot.span),
        Owner::Feature(at) => plan.features.get(at as usize).map(|feature| feature.span),
        Owner::Measurement(at) => plan.measurements.get(at as usize).map(|measurement| measurement.span),
        Owner::Assumption(_) => None,
    };
    found.unwrap_or_default()
}

/// Something that could be measured again.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Candidate {
    /// The length of this open finding.
    Length(usize),
    /// The reading at this place in the layout's sources.
    Reading(usize),
}

/// What one more measurement would do.
struct Effect {
    candidate: Candidate,
    /// The places of the open findings it settles.
    settles: Vec<usize>,
    /// The places of others it helps.
    helps: Vec<usize>,
    /// The doubt it takes away, as shares of what is left of each.
    doubt: f64,
}

impl Effect {
    /// What settles more is better; then a length before a reading, then what takes away more doubt.
    fn beats(&self, other: &Self) -> bool {
        let rank = |effect: &Self| (effect.settles.len(), matches!(effect.candidate, Candidate::Length(_)));
        rank(self).cmp(&rank(other)).then(self.doubt.total_cmp(&other.doubt)).is_gt()
    }
}

/// The best next measurement; the first of equals.
fn best(open: &[Open], taken: &BTreeSet<usize>) -> Option<Effect> {
    let mut lengths: BTreeMap<(&[FeatureId], &Errs), Vec<usize>> = BTreeMap::new();
    let mut readings: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (at, finding) in open.iter().enumerate() {
        if finding.direct {
            lengths.entry((&finding.features, &finding.errs)).or_default().push(at);
        }
        for owner in finding.from.keys().filter(|owner| !taken.contains(owner)) {
            readings.entry(*owner).or_default().push(at);
        }
    }
    let lengths = lengths.into_values().filter_map(|settles| {
        let candidate = Candidate::Length(*settles.first()?);
        let doubt = settles.len() as f64;
        Some(Effect { candidate, settles, helps: Vec::new(), doubt })
    });
    let readings = readings.into_iter().map(|(owner, concerned)| {
        let mut with = taken.clone();
        with.insert(owner);
        let part = |at: &usize| open[*at].from.get(&owner).map_or(0.0, |part| part / open[*at].left(taken));
        let doubt = concerned.iter().map(part).sum();
        let (settles, helps) =
            concerned.into_iter().partition(|at| open[*at].left(&with) <= open[*at].enough);
        Effect { candidate: Candidate::Reading(owner), settles, helps, doubt }
    });
    lengths.chain(readings).reduce(|best, next| if next.beats(&best) { next } else { best })
}
