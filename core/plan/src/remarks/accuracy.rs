//! Figures with nothing to say how good they are.

use groundrule_units::{Angle, Length, Ratio};

use super::said;
use crate::model::{Accuracy, AccuracyClass, Fact, Measurement, Plan, Reading, Status};
use crate::reader::list;
use crate::{Gravity, Name, Remark, Span, visit};

/// Drawn things that stand, or may stand, and measurements, with nothing to say how well they were measured.
pub(super) fn unsaid(plan: &Plan) -> Option<Remark> {
    if plan.site.by.is_some() {
        return None;
    }
    let points = plan.points.iter().filter(|point| point.by.is_none() && visit::has_figures(&point.place));
    let lots = plan.lots.iter().filter(|lot| lot.by.is_none() && visit::path_has_figures(&lot.ring));
    let features = plan.features.iter().filter(|feature| {
        let proposed = feature.status.as_ref().is_some_and(|status| status.value == Status::Proposed);
        let figures = feature.geometry.as_ref().is_some_and(visit::shape_has_figures);
        feature.by.is_none() && figures && !proposed
    });
    // A fact without an accuracy is meant as exact.
    let is_fact = |measurement: &Measurement| matches!(measurement.reading, Reading::Fact(_));
    let measured = plan.measurements.iter().filter(|it| it.by.is_none() && !is_fact(it));
    let points = points.map(|point| (&point.name.value, point.name.span));
    let lots = lots.map(|lot| (&lot.id.value, lot.id.span));
    let features = features.map(|feature| (&feature.id.value, feature.id.span));
    let placed: Vec<(&Name, Span)> = points.chain(lots).chain(features).collect();
    let measured: Vec<(&Name, Span)> = measured.map(|it| (&it.id, it.span)).collect();
    let figures = if measured.is_empty() { "coordinates" } else { "figures" };
    let bare: Vec<(&Name, Span)> = placed.into_iter().chain(measured).collect();
    let first = bare.first()?;
    let help = "Add `by = \"tape\"` under [site] and `tape = \"1/2 in\"` under [accuracy], with the figures of your measuring.";
    let message = if visit::accuracies(plan).next().is_some() {
        let names = list(bare.iter().map(|(name, _)| name.0.as_str()));
        format!("Nothing says how well these were measured, so their {figures} are taken as exact: {names}.")
    } else {
        format!("Nothing says how well anything was measured, so all {figures} are taken as exact.")
    };
    let about = bare.iter().map(|(name, _)| (*name).clone()).collect();
    Some(Remark { about, ..said("data::no-accuracy", Gravity::Lacking, message, first.1, help) })
}

/// Measurements by a class that has figures, and none for what was read: angles by a class of lengths.
pub(super) fn other_kind(plan: &Plan) -> impl Iterator<Item = Remark> {
    plan.measurements.iter().filter_map(|measurement| {
        let is_fact = matches!(measurement.reading, Reading::Fact(_));
        let by = measurement.by.as_ref().or(plan.site.by.as_ref().filter(|_| !is_fact))?;
        let (class, name) = match by {
            Accuracy::Own(class) => (&**class, "its accuracy".to_owned()),
            Accuracy::Class(name) => (plan.accuracy.get(&name.value)?, format!("`{}`", name.value.0)),
        };
        let (lengths, angles) = needs(&measurement.reading);
        let (what, key) = match (has_length(class), class.angle > Angle::ZERO) {
            (true, false) if angles => ("angles", "angle = \"1 deg\""),
            (false, true) if lengths => ("lengths", "plus_minus = \"1/2 in\""),
            _ => return None,
        };
        let id = measurement.id.clone();
        let message =
            format!("`{}` has {what}, and {name} has no figure for them, so they are taken as exact.", id.0);
        let help = format!("Add `{key}` to it: `{{ plus_minus = \"1/2 in\", angle = \"1 deg\" }}`.");
        let remark = said("data::no-accuracy", Gravity::Lacking, message, measurement.span, &help);
        Some(Remark { about: vec![id], ..remark })
    })
}

fn has_length(class: &AccuracyClass) -> bool {
    class.plus_minus.value > Length::ZERO || class.of_length > Ratio::ZERO
}

/// Whether a reading rests on lengths, and whether on angles.
fn needs(reading: &Reading) -> (bool, bool) {
    match reading {
        Reading::Traverse(_) => (true, true),
        Reading::Angle(_) | Reading::Fact(Fact::Square(_) | Fact::RightAngle { .. } | Fact::Parallel(..)) => {
            (false, true)
        }
        _ => (true, false),
    }
}
