//! What to take in the field: the shortest useful list that turns what is open or missing into verdicts.
//!
//! Two sorts of doubt come together here. What is too close to call is measured better: a length by itself where
//! everything stands already, else the readings it rests on, or a whole measurement that is in dispute. What is
//! not known is supplied: measured, or stated by whoever knows.

mod choose;
mod lacking;
mod open;
mod place;

use std::collections::{BTreeMap, BTreeSet};

use groundrule_plan::{Plan, Remark, Span};
use groundrule_site::{FeatureId, Mark, Measured};
use groundrule_survey::{Layout, Owner};
use groundrule_units::{Dimension, Length, Quantity, show};

use crate::draft::Draft;
use crate::finding::FindingId;
use crate::message::{HALF_WIDTH, Scene};
use choose::{Chosen, Pick, choose};
use open::{Item, Open};

/// Something to take in the field or to ask for.
#[derive(Clone, Debug, PartialEq)]
pub struct Retake {
    /// What: a reading as the plan names it, a distance from one thing to another, or what is lacking.
    pub what: String,
    /// The point or feature it is measured from, by its full name; none where it runs between no two things.
    pub from: Option<String>,
    /// The point or feature it is measured to.
    pub to: Option<String>,
    /// How.
    pub how: Remeasure,
    /// The `verify` and `missing` findings that it settles, together with what stands above it in the list, if the
    /// values hold; for a value at its limit, most likely.
    pub settles: Vec<FindingId>,
    /// Others whose doubt it lessens.
    pub helps: Vec<FindingId>,
    /// What the plan has there now, in the units of the review; none where that is no one figure.
    pub now: Option<String>,
    /// What to draw.
    pub marks: Vec<Mark>,
    /// Where the plan states it.
    pub span: Span,
}

/// How to take it.
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
        /// The plus-or-minus that is enough for what it settles, the others it takes being read as well in proportion.
        enough: Quantity,
    },
    /// A whole measurement, because it does not add up.
    Disputed {
        /// Its index in the plan.
        measurement: u32,
        /// The plus-or-minus at 95 % that is enough for each of its lengths; none when it has no length.
        enough: Option<Quantity>,
    },
    /// What is not known yet.
    Supply {
        /// What to do, in a sentence.
        how: String,
        /// True when it can be measured, false when somebody must state it.
        measured: bool,
    },
}

impl Retake {
    /// The plus-or-minus at 95 % that is enough, where a figure can be given.
    pub fn plus_minus(&self) -> Option<Quantity> {
        match &self.how {
            Remeasure::Directly { plus_minus, .. } => Some((*plus_minus).into()),
            Remeasure::Again { enough, .. } => Some(*enough),
            Remeasure::Disputed { enough, .. } => *enough,
            Remeasure::Supply { .. } => None,
        }
    }

    /// True for what is measured, false for what somebody states.
    pub fn is_measured(&self) -> bool {
        !matches!(self.how, Remeasure::Supply { measured: false, .. })
    }
}

/// The list, best first: what is measured before what is stated, and of each what settles the most findings.
///
/// A reading is taken as exact once measured again. A length can be measured itself only where everything
/// it runs between stands already and its limit is exact. If every entry is taken and its value holds, nothing is
/// left to verify.
pub(crate) fn list(drafts: &[Draft<'_>], remarks: &[Remark], scene: Scene<'_>) -> Vec<Retake> {
    let open: Vec<Open> = drafts.iter().filter_map(|draft| Open::of(draft, scene)).collect();
    let chosen = choose(&open);
    let enough = figures(&open, &chosen);
    let again = chosen.iter().filter_map(|chosen| entry(chosen, &open, &enough, remarks, scene));
    let mut list = merged(again.collect(), lacking::needs(drafts, scene));
    let squared: BTreeSet<&str> = assumed_at(scene.layout).collect();
    let squared = &squared & &list.iter().filter_map(|retake| retake.to.as_deref()).collect();
    let more = lacking::remarks(remarks, &squared, scene);
    list.extend(more);
    list
}

/// Two lists in one, measured before stated and then by what each entry settles; the order within each stays, since entries build on those above.
fn merged(first: Vec<Retake>, second: Vec<Retake>) -> Vec<Retake> {
    let mut list = Vec::with_capacity(first.len() + second.len());
    let (mut first, mut second) =
        (ranked(first).into_iter().peekable(), ranked(second).into_iter().peekable());
    while let (Some((a, _)), Some((b, _))) = (first.peek(), second.peek()) {
        let next = if a >= b { first.next() } else { second.next() };
        list.extend(next.map(|(_, retake)| retake));
    }
    list.extend(first.chain(second).map(|(_, retake)| retake));
    list
}

/// Each entry with whether it is measured, and what it leads to: what the next entry settles that settles anything.
fn ranked(list: Vec<Retake>) -> Vec<((bool, usize), Retake)> {
    let mut next = 0;
    let mut ranked: Vec<_> = list
        .into_iter()
        .rev()
        .map(|retake| {
            if !retake.settles.is_empty() {
                next = retake.settles.len();
            }
            ((retake.is_measured(), next), retake)
        })
        .collect();
    ranked.reverse();
    ranked
}

/// For each item the share of its plus-or-minus that it may keep, for all it settles.
fn figures(open: &[Open], chosen: &[Chosen]) -> BTreeMap<Item, f64> {
    let mut shares = BTreeMap::new();
    let mut taken = BTreeSet::new();
    for Chosen { pick, settles, .. } in chosen {
        let Pick::Item(item) = pick else { continue };
        taken.insert(*item);
        for part in settles.iter().flat_map(|at| &open[*at].parts) {
            let share = part.share(&taken);
            for item in part.from.keys().filter(|item| taken.contains(item)) {
                let held = shares.entry(*item).or_insert(1.0);
                *held = share.min(*held);
            }
        }
    }
    shares
}

fn entry(
    chosen: &Chosen,
    open: &[Open],
    shares: &BTreeMap<Item, f64>,
    remarks: &[Remark],
    scene: Scene<'_>,
) -> Option<Retake> {
    let ids = |places: &[usize]| places.iter().map(|at| open[*at].id.clone()).collect();
    let (settles, helps) = (ids(&chosen.settles), ids(&chosen.helps));
    let layout = scene.layout;
    Some(match chosen.pick {
        Pick::Length(at) => {
            let direct = open[at].direct.as_ref()?;
            let asked = |at: &usize| open[*at].direct.as_ref().map(|direct| direct.asked);
            let asked = chosen.settles.iter().filter_map(asked).fold(direct.asked, f64::min);
            let name = |id: &FeatureId| scene.site.feature(*id).map(|feature| feature.id.0.clone());
            let mut names = direct.features.iter().filter_map(name);
            let (from, to) = (names.next(), names.collect::<Vec<_>>().join(", "));
            Retake {
                what: direct.what.clone(),
                from,
                to: (!to.is_empty()).then_some(to),
                how: Remeasure::Directly {
                    features: direct.features.clone(),
                    plus_minus: Length::from_metres(asked * HALF_WIDTH),
                },
                settles,
                helps,
                now: Some(now(direct.value, scene)),
                marks: direct.marks.clone(),
                span: direct.span,
            }
        }
        Pick::Item(item @ Item::Reading(at)) => {
            let source = layout.sources.get(at)?;
            let enough = scaled(source.plus_minus, shares.get(&item).copied().unwrap_or(1.0));
            let place::Place { from, to, now, marks } = place::of_reading(at, scene);
            let mut what = source.describe(scene.plan);
            if let (Owner::Assumption(_), Some(help)) = (source.owner, help_about(to.as_deref(), remarks)) {
                what = format!("{what}: {help}");
            }
            let how = Remeasure::Again { plus_minus: source.plus_minus, enough };
            Retake {
                what,
                from,
                to,
                how,
                settles,
                helps,
                now,
                marks,
                span: place::stated_reading(source, scene),
            }
        }
        Pick::Item(item @ Item::Measurement(at)) => {
            let own = layout.sources.iter().filter(|source| source.owner == Owner::Measurement(at));
            let lengths = own.map(|s| s.plus_minus).filter(|figure| figure.dimension() == Dimension::Length);
            let least = lengths.reduce(|a, b| if b.si() < a.si() { b } else { a });
            let share = shares.get(&item).copied().unwrap_or(1.0);
            let place::Place { from, to, now, marks } = place::of_measurement(at, scene);
            let id = scene.plan.measurements.get(at as usize).map_or("a measurement", |m| m.id.0.as_str());
            Retake {
                what: format!("{id} again: it does not add up"),
                from,
                to,
                how: Remeasure::Disputed { measurement: at, enough: least.map(|least| scaled(least, share)) },
                settles,
                helps,
                now,
                marks,
                span: place::stated(Owner::Measurement(at), scene),
            }
        }
    })
}

/// A length as the plan has it; where things overlap, by how much.
fn now(value: Quantity, scene: Scene<'_>) -> String {
    let size = show(Quantity::new(value.dimension(), value.si().abs()), scene.style);
    if value.si() < 0.0 { format!("{size} inside") } else { size }
}

/// The points at which a right angle is taken for want of a measurement.
fn assumed_at(layout: &Layout) -> impl Iterator<Item = &str> {
    let assumed = layout.sources.iter().filter(|source| matches!(source.owner, Owner::Assumption(_)));
    assumed.filter_map(|source| source.ends.as_deref()).map(|(_, to)| to.0.as_str())
}

/// What a finding on the data that lacks something advises about a point.
fn help_about<'a>(point: Option<&str>, remarks: &'a [Remark]) -> Option<&'a str> {
    let point = point?;
    let lacking = remarks.iter().filter(|remark| remark.gravity == groundrule_plan::Gravity::Lacking);
    lacking.filter(|remark| remark.about.iter().any(|name| name.0 == point)).find_map(|r| r.help.as_deref())
}

/// The readings that most of the doubt in a value comes from, at most two, in words.
pub(crate) fn weightiest(room: &Measured, plan: &Plan, layout: &Layout) -> Vec<String> {
    let mut from = BTreeMap::new();
    for (source, term) in room.terms() {
        if let Some(reading) = open::reading(*source, layout) {
            *from.entry(reading).or_insert(0.0) += term * term;
        }
    }
    let all: f64 = from.values().sum();
    let mut parts: Vec<(usize, f64)> = from.into_iter().filter(|(_, part)| *part >= 0.2 * all).collect();
    parts.sort_by(|a, b| b.1.total_cmp(&a.1));
    let named = parts.iter().take(2).filter_map(|(owner, _)| layout.sources.get(*owner));
    let mut named: Vec<String> = named.map(|source| source.describe(plan)).collect();
    // Two readings of one thing may have one name.
    named.dedup();
    named
}

fn scaled(quantity: Quantity, factor: f64) -> Quantity {
    Quantity::new(quantity.dimension(), quantity.si() * factor)
}
