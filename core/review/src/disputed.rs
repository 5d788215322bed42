//! Verdicts that rest on a measurement in dispute: `verify`, until that is settled.
//!
//! A measurement that contradicts itself or others by so much may have one reading that is off by so much. A
//! verdict rests on it when that would make it another; one that would stand all the same is left as it is.

use std::collections::{BTreeMap, BTreeSet};

use groundrule_plan::{Gravity, Name};
use groundrule_site::Terms as ErrorTerms;
use groundrule_survey::{Dispute, Layout, Owner, Reading, SourceOwner};
use groundrule_units::{Dimension, Quantity};

use crate::conformity::{Level, conformity};
use crate::draft::Draft;
use crate::finding::{DataFinding, Finding, Review, Verdict};
use crate::message::HALF_WIDTH;
use crate::words;

/// An amount that a verdict rests on.
#[derive(Clone, Debug)]
pub(crate) struct Basis {
    /// Its errors.
    pub(crate) terms: ErrorTerms,
    /// Where the verdict would be another.
    pub(crate) turns: Turns,
}

/// Where an amount would make another verdict, in its SI unit.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Turns {
    /// It lies so far on the side of the limit that conforms; negative on the other side.
    Past(f64),
    /// So far away at least, on one side or the other.
    Within(f64),
    /// At no one figure.
    Anywhere,
}

impl From<ErrorTerms> for Basis {
    fn from(terms: ErrorTerms) -> Self {
        Self { terms, turns: Turns::Anywhere }
    }
}

/// A shift below this, in metres or square metres, is the rounding an adjustment leaves in places that a reading
/// does not reach at all.
const NEGLIGIBLE: f64 = 1e-9;

/// Turns verdicts that rest on a disputed measurement into `verify`, and keeps which.
pub(crate) fn suspend(drafts: &mut [Draft<'_>], layout: &Layout, level: Level) {
    if layout.disputed.is_empty() {
        return;
    }
    let checks = Checks::of(layout);
    for draft in drafts {
        let judged = &mut draft.answered.judged;
        if !matches!(judged.verdict, Verdict::Meets | Verdict::Fails | Verdict::Verify) {
            continue;
        }
        let causes: BTreeSet<u32> =
            judged.basis.iter().flat_map(|basis| overturning(basis, layout, &checks, level)).collect();
        if causes.is_empty() {
            continue;
        }
        judged.disputed = causes.into_iter().collect();
        judged.verdict = Verdict::Verify;
        judged.conformity = None;
    }
}

/// The disputed measurements that could make another verdict of this amount.
fn overturning(basis: &Basis, layout: &Layout, checks: &Checks, level: Level) -> Vec<u32> {
    let spread = basis.terms.iter().map(|(_, term)| term * term).sum::<f64>().sqrt();
    let sure = |room: f64| conformity(room, spread).0 >= level.0;
    let stands = |shift: f64| match basis.turns {
        Turns::Past(room) if room < 0.0 => sure(-(room + shift)),
        Turns::Past(room) => sure(room + shift),
        Turns::Within(room) => sure(room - shift.abs()),
        Turns::Anywhere => false,
    };
    let overturns = |shifts: &Vec<f64>| shifts.iter().any(|by| by.abs() > NEGLIGIBLE && !stands(*by));
    shifts(&basis.terms, layout, checks)
        .into_iter()
        .filter(|(_, by)| overturns(by))
        .map(|(at, _)| at)
        .collect()
}

/// How well the other readings of an adjustment would show each reading to be off.
struct Checks(BTreeMap<(u32, Reading), f64>);

/// A reading whose residual would be beyond this many of its standard deviations is one that the others contradict
/// (Baarda 1968, once in a thousand).
const CONTRADICTED: f64 = 3.290_526_731_492;

impl Checks {
    fn of(layout: &Layout) -> Self {
        let readings = layout.adjustments.iter().flat_map(|adjustment| &adjustment.readings);
        let of_measurements = readings.filter_map(|reading| match reading.owner {
            Owner::Measurement(at) => Some(((at, reading.reading), reading.checked.fraction())),
            _ => None,
        });
        Self(of_measurements.collect())
    }

    /// True when the other readings say that this one is not off by so many of its standard deviations.
    fn contradict(&self, at: u32, reading: Reading, deviations: f64) -> bool {
        let checked = self.0.get(&(at, reading)).copied().unwrap_or(0.0);
        checked.max(0.0).sqrt() * deviations.abs() > CONTRADICTED
    }
}

/// How far each disputed measurement could move an amount, reading by reading, as far as the other readings leave
/// that open.
///
/// A wrong piece of a chain read off a picture moves every mark beyond it, and shows at the marks beside it.
fn shifts(terms: &ErrorTerms, layout: &Layout, checks: &Checks) -> BTreeMap<u32, Vec<f64>> {
    let mut shifts: BTreeMap<u32, Vec<f64>> = BTreeMap::new();
    let mut beyond: BTreeMap<u32, f64> = BTreeMap::new();
    // From the last reading to the first, so that marks gather what lies beyond them.
    for (source, term) in terms.iter().rev() {
        let Some(source) = layout.owner(*source) else { continue };
        let Owner::Measurement(at) = source.owner else { continue };
        let Some(dispute) = layout.disputed.get(&at) else { continue };
        let sigma = source.plus_minus.si().abs() / HALF_WIDTH;
        if sigma <= 0.0 {
            continue;
        }
        let off = match dispute {
            Dispute::Gap(gap) => gap.metres(),
            Dispute::Off(off) => off_by(source, *off, layout),
        };
        let mut by = term / sigma * off;
        let contradicted = |reading: Reading| checks.contradict(at, reading, off / sigma);
        let settled = if let Reading::Mark(mark) = source.reading {
            let all = beyond.entry(at).or_insert(0.0);
            *all += by;
            by = *all;
            let before = mark.checked_sub(1).map(Reading::Mark);
            before.is_none_or(contradicted) && contradicted(source.reading)
        } else {
            contradicted(source.reading)
        };
        if settled {
            continue;
        }
        let held = shifts.entry(at).or_default();
        match dispute {
            // Set right, the overall comes to the sum of the pieces, or one piece gives way to the overall.
            Dispute::Gap(_) if source.reading == Reading::Overall => held.push(by),
            Dispute::Gap(_) => held.push(-by),
            Dispute::Off(_) => held.extend([by, -by]),
        }
    }
    shifts
}

/// How far one reading may be off: by as much as is in dispute. A direction is off by the angle that moves its far
/// end by as much.
fn off_by(source: &SourceOwner, by: Quantity, layout: &Layout) -> f64 {
    let angle = source.plus_minus.dimension() == Dimension::Angle;
    if !angle || by.dimension() == Dimension::Angle {
        return by.si().abs();
    }
    let place = |name: &Name| layout.named.get(&name.0).map(|point| point.at);
    let arm = source.ends.as_deref().and_then(|(from, to)| {
        let (from, to) = (place(from)?, place(to)?);
        Some(libm::hypot((to.x - from.x).metres(), (to.y - from.y).metres()))
    });
    // Without an arm the angle is taken as a radius of one metre would have it.
    by.si().abs() / arm.filter(|arm| *arm > 0.0).unwrap_or(1.0)
}

/// Says in the note of each finding so turned which finding on the data it waits for; findings have their numbers.
pub(crate) fn name_causes(review: &mut Review) {
    let Review { findings, data, .. } = review;
    for finding in findings.iter_mut().filter(|finding| !finding.in_dispute.is_empty()) {
        let sentence = cause(finding, data);
        finding.note = Some(match finding.note.take() {
            Some(note) => format!("{sentence} {note}"),
            None => sentence,
        });
    }
}

fn cause(finding: &Finding, data: &[DataFinding]) -> String {
    let names: Vec<String> = finding.in_dispute.iter().map(|name| name.0.clone()).collect();
    let numbers: Vec<String> = data
        .iter()
        .filter(|data| matches!(data.remark.gravity, Gravity::Wrong | Gravity::Suspect))
        .filter(|data| data.remark.about.iter().any(|name: &Name| finding.in_dispute.contains(name)))
        .filter_map(|data| Some(data.number?.to_string()))
        .collect();
    let see = match numbers.as_slice() {
        [] => String::new(),
        [one] => format!(" (finding {one})"),
        several => format!(" (findings {})", words::list(several)),
    };
    let (is, those) = if names.len() == 1 { ("is", "that is") } else { ("are", "those are") };
    format!(
        "It rests on {}, which {is} in dispute{see}: no verdict until {those} settled.",
        words::list(&names)
    )
}
