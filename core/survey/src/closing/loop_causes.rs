//! Single mistakes that would make a loop close.

use groundrule_units::Length;

use super::bearing_text::{bearing_edits, bearing_half_step};
use super::cause::index;
use super::looped::{Call, Loop, area, reach};
use super::steps::{Step, sum};
use super::text::{edits, half_step, written_like};
use super::{Bounds, Candidate, CandidateKind, Candidates, SAME};
use crate::Reading;

/// A tape survey of a lot comes to this share of its perimeter (common practice).
const TAPE_SURVEY: f64 = 1.0 / 500.0;

/// How much a candidate may leave.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    /// For any kind of mistake but the next.
    pub(super) any: Length,
    /// For one digit misread, which is so free that it must close as well as the figures are written.
    digit: Length,
    /// What the readings' errors make.
    expected: Length,
}

pub(super) fn limits(closed: &Loop, misclosure: Length, perimeter: Length, bounds: Bounds) -> Limits {
    let any = bounds.expected.max((perimeter * TAPE_SURVEY).min(misclosure / 4.0));
    let written = Bounds::of(closed.calls.iter().map(|call| {
        let rounding = half_step(&call.distance.written, closed.sheet).unwrap_or(Length::ZERO);
        reach(call.distance.written.value, rounding, bearing_half_step(&call.bearing))
    }));
    Limits { any, digit: any.min(written.expected * 2.0), expected: bounds.expected }
}

/// Every single mistake that brings the misclosure within the limit.
pub(super) fn causes(closed: &Loop, steps: &[Step], limits: Limits) -> Candidates {
    let gap = sum(steps);
    if !gap.length().is_finite() {
        return Candidates::default();
    }
    let search = Search { closed, steps, gap, limits };
    let mut all = Vec::new();
    for (i, call) in closed.calls.iter().enumerate() {
        search.bearing(i, call, &mut all);
        search.distance(i, call, &mut all);
        search.counted_twice(i, call, &mut all);
    }
    all.extend(search.left_out());
    Candidates::gathered(all)
}

struct Search<'a> {
    closed: &'a Loop,
    steps: &'a [Step],
    gap: Step,
    limits: Limits,
}

impl Search<'_> {
    /// What remains with one step replaced, if it is little enough; the rules are those of chains.
    fn leaves(&self, kind: CandidateKind, was: Step, instead: Step) -> Option<Length> {
        let change = instead.less(was);
        let leaves = self.gap.plus(change).length();
        let limit = match kind {
            CandidateKind::MisreadDigit => self.limits.digit,
            CandidateKind::Dropped(_) | CandidateKind::Added(_) | CandidateKind::WrongUnit
                if change.length() <= self.limits.expected * 2.0 =>
            {
                return None;
            }
            _ => self.limits.any,
        };
        (leaves <= limit + Length::from_metres(SAME)).then_some(leaves)
    }

    /// The steps with one of them replaced, or left away.
    fn changed(&self, at: usize, instead: Option<Step>) -> Vec<Step> {
        let step = |(i, step): (usize, &Step)| if i == at { instead } else { Some(*step) };
        self.steps.iter().enumerate().filter_map(step).collect()
    }

    fn bearing(&self, i: usize, call: &Call, all: &mut Vec<Candidate>) {
        let was = call.step();
        for edit in bearing_edits(&call.bearing) {
            let instead = Step::of(edit.value, call.distance.written.value);
            if let Some(leaves) = self.leaves(edit.kind, was, instead) {
                all.push(Candidate {
                    kind: edit.kind,
                    at: Some(Reading::Bearing(index(i))),
                    was: call.bearing.text.clone(),
                    instead: edit.text,
                    leaves,
                    area: Some(area(&self.changed(i, Some(instead)), &self.closed.calls)),
                });
            }
        }
    }

    fn distance(&self, i: usize, call: &Call, all: &mut Vec<Candidate>) {
        let was = call.step();
        for edit in edits(&call.distance.written, self.closed.sheet) {
            // A unit that makes the call next to nothing only says that the call does not belong here.
            if edit.kind == CandidateKind::WrongUnit && edit.value <= self.limits.any * 2.0 {
                continue;
            }
            let instead = Step::of(call.bearing.value, edit.value);
            if let Some(leaves) = self.leaves(edit.kind, was, instead) {
                all.push(Candidate {
                    kind: edit.kind,
                    at: Some(Reading::Figure(index(i))),
                    was: call.distance.written.text.clone(),
                    instead: edit.text,
                    leaves,
                    area: Some(area(&self.changed(i, Some(instead)), &self.closed.calls)),
                });
            }
        }
    }

    fn counted_twice(&self, i: usize, call: &Call, all: &mut Vec<Candidate>) {
        let kind = CandidateKind::CountedTwice;
        let step = call.step();
        let Some(leaves) = self.leaves(kind, step, Step::default()) else { return };
        if step == Step::default() {
            return;
        }
        let others = self.closed.calls.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, call)| call);
        all.push(Candidate {
            kind,
            at: Some(Reading::Figure(index(i))),
            was: self.words(call),
            instead: String::new(),
            leaves,
            area: Some(area(&self.changed(i, None), others)),
        });
    }

    /// The one call that leads back to the beginning.
    fn left_out(&self) -> Option<Candidate> {
        let back = Step::default().less(self.gap);
        let bearing = back.bearing()?;
        let like = self.closed.calls.first().map_or("", |call| call.distance.written.text.as_str());
        let distance = written_like(like, self.closed.sheet, back.length());
        Some(Candidate {
            kind: CandidateKind::LeftOut,
            at: None,
            was: String::new(),
            instead: format!("{bearing} {distance}"),
            leaves: Length::ZERO,
            area: None,
        })
    }

    fn words(&self, call: &Call) -> String {
        let written = &call.distance.written;
        let bearing = if call.bearing.text.is_empty() {
            call.bearing.value.to_string()
        } else {
            call.bearing.text.clone()
        };
        if written.text.is_empty() {
            format!("{bearing} {}", written_like("", self.closed.sheet, written.value))
        } else {
            format!("{bearing} {}", written.text)
        }
    }
}
