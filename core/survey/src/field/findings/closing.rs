//! Measurements looked at by themselves: chains that do not add up, loops that do not close, records that disagree.

use groundrule_plan::{
    At, Chain, Course, Gravity, Lengths, Measurement, OfEach, Plan, PointRef, Reading as Written, TieSide,
    Traverse,
};
use groundrule_units::{Angle, Area, Length, Written as Text, show};

use super::{Told, length, style};
use crate::closing::{self, Candidates, Verdict};
use crate::field::accuracy::Class;
use crate::layout::{Dispute, Reading};

/// What one measurement shows by itself.
#[derive(Default)]
pub(crate) struct Look {
    pub(crate) told: Vec<Told>,
    /// The readings that close it, where it does not close: they take no part in the adjustment.
    pub(crate) kept_out: Vec<Reading>,
    /// By how much it contradicts itself, where it does.
    pub(crate) disputed: Option<Dispute>,
}

/// Looks at one measurement.
pub(crate) fn look(plan: &Plan, measurement: &Measurement) -> Look {
    let asked = Asked { plan, measurement, class: Class::of(plan, measurement) };
    match &measurement.reading {
        Written::Chain(chain) => asked.chain(chain),
        Written::Distance(distance) => {
            asked.record(&distance.length, "distance", [&distance.from, &distance.to])
        }
        Written::Traverse(traverse) => asked.traverse(traverse),
        _ => Look::default(),
    }
}

/// The first measurement that counts from north, by its index, on a plan that says nothing of its north.
pub(crate) fn without_north(plan: &Plan) -> Option<(usize, Told)> {
    if plan.site.north.is_some() {
        return None;
    }
    let by_compass = |measurement: &Measurement| match &measurement.reading {
        Written::Traverse(_) => true,
        Written::Tie(tie) => matches!(tie.side.as_ref().map(|side| &side.value), Some(TieSide::Ground(_))),
        _ => false,
    };
    let (i, first) = plan.measurements.iter().enumerate().find(|(_, measurement)| by_compass(measurement))?;
    let message = format!(
        "`{}` counts from north, and the plan says nothing of it: up the sheet is taken for north.",
        first.id.0
    );
    let help = "Say where north is: `north = \"12 deg clockwise of up\"` under [site], or `north = \"up\"`.";
    Some((i, Told::new("data::north-assumed", Gravity::Noted, message, first).help(help)))
}

struct Asked<'a> {
    plan: &'a Plan,
    measurement: &'a Measurement,
    class: Class<'a>,
}

impl Asked<'_> {
    fn told(&self, code: &'static str, gravity: Gravity, message: String) -> Told {
        Told::new(code, gravity, message, self.measurement)
    }

    fn chain(&self, chain: &Chain) -> Look {
        let end = chain.pieces.last().and_then(|piece| piece.to.as_ref()).unwrap_or(&chain.start);
        let mut look = self.record(&chain.overall, "overall", [&chain.start, end]);
        let Some(overall) = chain.overall.measured.as_ref().or(chain.overall.record.as_ref()) else {
            return look;
        };
        let of_positions = self.class.of_positions();
        let figure = |written: &At<Text<Length>>| closing::Figure {
            written: written.value.clone(),
            half_width: Length::from_metres(if of_positions {
                self.class.of_position()
            } else {
                self.class.of_length(written.value.value)
            }),
        };
        let closed = closing::close_chain(&closing::Chain {
            pieces: chain.pieces.iter().map(|piece| figure(&piece.length)).collect(),
            overall: figure(overall),
            running: chain.running,
            of_each: if of_positions { OfEach::Position } else { OfEach::Length },
            sheet: Some(self.plan.site.units),
        });
        if closed.verdict == Verdict::Closes {
            return look;
        }
        let wrong = closed.verdict == Verdict::DoesNotAddUp;
        let (code, gravity) = if wrong {
            ("data::chain-does-not-add-up", Gravity::Wrong)
        } else {
            ("data::chain-gap", Gravity::Suspect)
        };
        let metres = |length: Length| self::length(self.plan, length.metres());
        let message = format!(
            "`{}` comes to {} and its overall to {}: {} {}. Readings this good leave up to {}, {} at worst.",
            self.measurement.id.0,
            metres(closed.sum),
            metres(overall.value.value),
            metres(closed.gap.abs()),
            if closed.gap < Length::ZERO { "too little" } else { "too much" },
            metres(closed.bounds.expected),
            metres(closed.bounds.worst),
        );
        let ends =
            std::iter::once(&chain.start).chain(chain.pieces.iter().filter_map(|piece| piece.to.as_ref()));
        let told = self
            .told(code, gravity, message)
            .at(ends.map(PointRef::full))
            .help(self.advice(&closed.candidates, wrong));
        look.told.push(told);
        if wrong {
            look.disputed = Some(Dispute::Gap(closed.gap));
            // The last piece closes the chain on its end; the overall still holds the ends apart.
            let last = u32::try_from(chain.pieces.len().saturating_sub(1)).unwrap_or(u32::MAX);
            look.kept_out = vec![Reading::Figure(last), Reading::Mark(last.saturating_add(1))];
        }
        look
    }

    fn traverse(&self, traverse: &Traverse) -> Look {
        let Some(last) = traverse.calls.last() else { return Look::default() };
        let same = |a: &PointRef, b: &PointRef| (&a.owner, &a.point) == (&b.owner, &b.point);
        let calls: Option<Vec<closing::Call>> =
            traverse.calls.iter().map(|call| self.call(&call.course)).collect();
        let (true, Some(calls)) = (same(&last.to, &traverse.start), calls) else { return Look::default() };
        let closed = closing::close_loop(&closing::Loop { calls, sheet: Some(self.plan.site.units) });
        let (code, gravity) = match closed.verdict {
            Verdict::Closes => ("data::closure", Gravity::Noted),
            Verdict::Suspicious => ("data::misclosure", Gravity::Suspect),
            Verdict::DoesNotAddUp => ("data::loop-does-not-close", Gravity::Wrong),
        };
        let wrong = closed.verdict == Verdict::DoesNotAddUp;
        let metres = |length: Length| self::length(self.plan, length.metres());
        let ends = if closed.precision.share().fraction() == 0.0 {
            format!("comes back to where it began, over {}", metres(closed.perimeter))
        } else {
            let (by, precision) = (metres(closed.misclosure), closed.precision);
            format!("ends {by} from where it began, {precision} of its {}", metres(closed.perimeter))
        };
        let message = format!(
            "`{}` {ends}. Readings this good leave up to {}, {} at worst.",
            self.measurement.id.0,
            metres(closed.bounds.expected),
            metres(closed.bounds.worst),
        );
        let at = std::iter::once(&traverse.start)
            .chain(traverse.calls.iter().map(|call| &call.to))
            .map(PointRef::full);
        let told = self.told(code, gravity, message).at(at);
        let told = match closed.verdict {
            Verdict::Closes => told,
            _ => told.help(self.advice(&closed.candidates, wrong)),
        };
        let kept_out = if wrong {
            let last = u32::try_from(traverse.calls.len() - 1).unwrap_or(u32::MAX);
            vec![Reading::Figure(last), Reading::Bearing(last)]
        } else {
            Vec::new()
        };
        Look { told: vec![told], kept_out, disputed: wrong.then_some(Dispute::Off(closed.misclosure.into())) }
    }

    /// A call for the closing; none for a curve that only continues the call before.
    fn call(&self, course: &Course) -> Option<closing::Call> {
        let (bearing, distance, segment) = match course {
            Course::Straight { bearing, distance } => (bearing, distance.value.clone(), Area::ZERO),
            Course::Curve { curve, left, chord_bearing } => {
                let text = show(curve.value.chord.into(), style(self.plan));
                let chord = Text { value: curve.value.chord, text, mark: groundrule_units::Mark::default() };
                (chord_bearing.as_ref()?, chord, closing::segment(&curve.value, *left))
            }
        };
        let length = distance.value;
        Some(closing::Call {
            bearing: bearing.value.clone(),
            bearing_half_width: Angle::from_radians(self.class.of_angle(Some(length.metres()))),
            distance: closing::Figure {
                written: distance,
                half_width: Length::from_metres(self.class.of_length(length)),
            },
            segment,
        })
    }

    /// What was measured against what the record says.
    fn record(&self, lengths: &Lengths, what: &str, ends: [&PointRef; 2]) -> Look {
        let (Some(measured), Some(record)) = (&lengths.measured, &lengths.record) else {
            return Look::default();
        };
        let figure = |written: &At<Text<Length>>| closing::Figure {
            written: written.value.clone(),
            half_width: Length::from_metres(self.class.of_length(written.value.value)),
        };
        let agreed = closing::agree(&figure(measured), &figure(record));
        if agreed.verdict == Verdict::Closes {
            return Look::default();
        }
        let gravity = if agreed.verdict == Verdict::DoesNotAddUp { Gravity::Wrong } else { Gravity::Suspect };
        let metres = |length: Length| self::length(self.plan, length.metres());
        let message = format!(
            "The {what} of `{}` was measured as {} and is {} in the record, {} apart; readings this good differ by up to {}.",
            self.measurement.id.0,
            metres(measured.value.value),
            metres(record.value.value),
            metres(agreed.difference.abs()),
            metres(agreed.bounds.expected),
        );
        let told = self.told("data::record-disagrees", gravity, message).at(ends.map(PointRef::full)).help(
            "The measured figure is used. Look at the record again, and at what was measured to: a street edge or a \
             fence is no lot line. Where it matters, a licensed surveyor says which holds.",
        );
        Look { told: vec![told], ..Look::default() }
    }

    /// Every mistake that would explain it, and what was done until it is settled.
    fn advice(&self, candidates: &Candidates, wrong: bool) -> String {
        let mut lines: Vec<String> =
            candidates.list.iter().map(|candidate| candidate.describe(style(self.plan))).collect();
        if candidates.unlisted > 0 {
            lines.push(format!("{} more of the kind", candidates.unlisted));
        }
        let causes = if lines.is_empty() {
            "No single mistake explains it; measure it again.".to_owned()
        } else {
            format!("Any of these alone would explain it; none is applied: {}.", lines.join("; "))
        };
        if wrong {
            format!(
                "{causes} Until it is settled its closing figure is left out, and what rests on it is open."
            )
        } else {
            causes
        }
    }
}
