//! What the adjustment shows: readings that together disagree more than their accuracy allows, and which to suspect.

use groundrule_plan::{Gravity, Measurement, Plan};
use groundrule_units::{Quantity, show};

use super::{Told, style};
use crate::adjust::Adjusted;
use crate::field::figure::{Figure, Of};
use crate::field::network::Outcome;

/// A standardised residual beyond this is suspect: exceeded once in a thousand times by good readings (Baarda,
/// A testing procedure for use in geodetic networks, 1968).
pub(crate) const SUSPECT: f64 = 3.290_526_731_492;
/// The level of the global test, two-sided: common practice in adjustment.
const GLOBAL: f64 = 0.95;
/// How many suspects are named, the worst first.
const NAMED: usize = 3;

/// Tells of readings that do not fit; the measurement most suspect, by its index in the plan, and how far it is off.
pub(crate) fn look(
    plan: &Plan,
    figures: &[Figure],
    outcome: &Outcome,
    adjusted: &Adjusted,
    told: &mut Vec<Told>,
) -> Option<(usize, Quantity)> {
    let mut suspects: Vec<(f64, usize)> = outcome
        .observations
        .iter()
        .filter_map(|(i, id)| Some((adjusted.standardised(*id)?.abs(), *i)))
        .filter(|(w, _)| *w > SUSPECT)
        .collect();
    // The worst first; of equals the first written, so that the list is the same every time.
    suspects.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    let failed = adjusted.chi_square(GLOBAL).is_some_and(|test| adjusted.weighted_sum() > test.high);
    let Some((w, worst)) = suspects.first().copied() else {
        if failed
            && let Some((measurement, disagree)) = together(plan, adjusted, figures, outcome)
            && !closes_badly(measurement, told)
        {
            told.push(disagree);
        }
        return None;
    };
    let describe = |(w, i): &(f64, usize)| format!("{} ({w:.1})", describe(plan, &figures[*i]));
    let Of::Measurement(at) = figures[worst].of else { return None };
    let measurement = plan.measurements.get(at)?;
    let residual = adjusted.residual(*outcome.observations.get(&worst)?);
    let by = Quantity::new(residual.dimension(), residual.si().abs());
    let off = match by.angle() {
        Some(angle) => format!("{:.2} degrees", angle.degrees()),
        None => show(by, style(plan)),
    };
    let message = format!(
        "The readings do not fit together as well as their accuracy says; the most suspect is {}, off by {} from where \
         the others put it, {w:.1} times what it should be.",
        self::describe(plan, &figures[worst]),
        off,
    );
    let ends = figures[worst].ends.iter().flat_map(|(from, to)| [from.0.clone(), to.0.clone()]);
    let others: Vec<String> = suspects.iter().skip(1).take(NAMED - 1).map(describe).collect();
    let also = if others.is_empty() { String::new() } else { format!(" Next: {}.", others.join(", ")) };
    let help = format!("Measure it again, or look for a slip in the figure; the others may then fit.{also}");
    if !closes_badly(measurement, told) {
        told.push(
            Told::new("data::suspect-reading", Gravity::Suspect, message, measurement).at(ends).help(help),
        );
    }
    Some((at, by))
}

/// Takes out every right angle taken for granted that the readings contradict; false when there is none.
pub(crate) fn give_way(figures: &mut [Figure], outcome: &Outcome) -> bool {
    let Some(adjusted) = &outcome.adjusted else { return false };
    let mut any = false;
    for (i, id) in &outcome.observations {
        let contradicted = adjusted.standardised(*id).is_some_and(|w| w.abs() > SUSPECT);
        if contradicted && matches!(figures[*i].of, Of::Assumption(_)) {
            figures[*i].counts = false;
            any = true;
        }
    }
    any
}

/// True when a measurement was found by itself not to close: its finding says more than another could.
fn closes_badly(measurement: &Measurement, told: &[Told]) -> bool {
    let closing =
        ["data::chain-gap", "data::chain-does-not-add-up", "data::misclosure", "data::loop-does-not-close"];
    told.iter()
        .any(|told| closing.contains(&told.remark.code) && told.remark.about.first() == Some(&measurement.id))
}

/// Readings that fit one by one and not together, told at the one farthest off.
fn together<'a>(
    plan: &'a Plan,
    adjusted: &Adjusted,
    figures: &[Figure],
    outcome: &Outcome,
) -> Option<(&'a Measurement, Told)> {
    let worst = outcome
        .observations
        .iter()
        .filter_map(|(i, id)| Some((adjusted.standardised(*id)?.abs(), *i)))
        .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)))?;
    let Of::Measurement(at) = figures[worst.1].of else { return None };
    let measurement = plan.measurements.get(at)?;
    let message = format!(
        "All readings together are {:.1} times as far off as their accuracy says, though none stands out.",
        adjusted.s0()?,
    );
    let help = "One of the classes under [accuracy] may be too good to be true; or several readings were made from one \
                wrong beginning.";
    let ends = figures[worst.1].ends.iter().flat_map(|(from, to)| [from.0.clone(), to.0.clone()]);
    let told =
        Told::new("data::readings-disagree", Gravity::Suspect, message, measurement).at(ends).help(help);
    Some((measurement, told))
}

/// A figure that no plot has.
pub(crate) fn wild(plan: &Plan, figure: &Figure) -> Option<Told> {
    let Of::Measurement(at) = figure.of else { return None };
    let measurement = plan.measurements.get(at)?;
    let message = format!(
        "{} is {:.0e} m, longer than any plot; it is left out.",
        describe(plan, figure),
        figure.value
    );
    let ends = figure.ends.iter().flat_map(|(from, to)| [from.0.clone(), to.0.clone()]);
    let told = Told::new("data::unusable-figure", Gravity::Wrong, message, measurement).at(ends);
    Some(told.help("Look for slipped digits, a decimal point left out, or another unit."))
}

/// A figure in words.
pub(crate) fn describe(plan: &Plan, figure: &Figure) -> String {
    let of = match figure.of {
        Of::Measurement(i) => plan.measurements.get(i).map_or("", |measurement| measurement.id.0.as_str()),
        Of::Assumption(_) => return "a right angle taken for granted".to_owned(),
    };
    match &figure.ends {
        Some((from, to)) if from != to => format!("{} to {} in `{of}`", from.0, to.0),
        _ => format!("`{of}`"),
    }
}
