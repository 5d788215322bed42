//! What reading the file already shows about the data: nothing that stops the work, all worth telling.

mod accuracy;
mod far;
mod ground;

use crate::model::{Accuracy, Feature, Geometry, Plan, Presence, Status};
use crate::reader::{Reader, list};
use crate::{Gravity, Name, Remark, Span};

/// Adds the remarks of the reader and those on the plan as a whole, in file order.
pub(crate) fn remark(plan: &mut Plan, reader: &mut Reader<'_>) {
    let mut remarks = std::mem::take(&mut reader.remarks);
    remarks.extend(accuracy::unsaid(plan));
    remarks.extend(accuracy::other_kind(plan));
    remarks.extend(plan.features.iter().filter_map(|feature| status(feature, reader)));
    remarks.extend(plan.features.iter().filter_map(|feature| roof(feature, plan, reader)));
    remarks.extend(systems(&reader.other_system));
    remarks.extend(contradictions(plan, reader));
    remarks.extend(far::far_coordinates(plan));
    remarks.extend(ground::remarks(plan, reader));
    remarks.sort_by_key(|remark| (remark.span, remark.code));
    plan.remarks = remarks;
}

fn said(code: &'static str, gravity: Gravity, message: String, span: Span, help: &str) -> Remark {
    Remark { code, gravity, message, about: Vec::new(), spots: Vec::new(), span, help: Some(help.to_owned()) }
}

fn status(feature: &Feature, reader: &Reader<'_>) -> Option<Remark> {
    let needed = reader.kinds.get(&feature.kind.value).is_some_and(|kind| kind.status);
    if feature.status.is_some() || !needed {
        return None;
    }
    let name = feature.id.value.clone();
    let message = format!("`{}` does not say whether it is existing or proposed.", name.0);
    let help = "Add `status = \"existing\"`, `\"proposed\"` or `\"remove\"`.";
    let remark = said("data::no-status", Gravity::Lacking, message, feature.id.span, help);
    Some(Remark { about: vec![name], ..remark })
}

/// The class of what is read off a picture from above.
const FROM_ABOVE: &str = "aerial";

/// A standing building read off a picture from above, which shows its roof.
fn roof(feature: &Feature, plan: &Plan, reader: &Reader<'_>) -> Option<Remark> {
    let by = feature.by.as_ref().or(plan.site.by.as_ref())?;
    let from_above = matches!(by, Accuracy::Class(name) if name.value.0 == FROM_ABOVE);
    let outlined = matches!(feature.geometry, Some(Geometry::Outline { .. } | Geometry::Box { .. }));
    let stands = feature.status.as_ref().is_none_or(|status| status.value != Status::Proposed);
    // Whoever states the eaves has thought of them.
    let eaves =
        ["eave", "drip_line"].iter().any(|eave| feature.attributes.contains_key(&Name((*eave).to_owned())));
    if !(from_above && outlined && stands) || eaves || !reader.kinds.is_a(&feature.kind.value, "dwelling") {
        return None;
    }
    let name = feature.id.value.clone();
    let message = format!(
        "`{}` was read off a picture from above, which shows the edge of its roof; its walls stand in from that by \
         the eaves.",
        name.0
    );
    let help = "Where walls count, as for yards and area, draw the walls and add `eave = \"2 ft\"` with the eaves it has.";
    let remark = said("data::roof-outline", Gravity::Noted, message, feature.id.span, help);
    Some(Remark { about: vec![name], ..remark })
}

fn systems(other: &[Span]) -> Option<Remark> {
    let first = other.first()?;
    let message = match other.len() {
        1 => "One length is written in the other system of units than the sheet.".to_owned(),
        many => format!("{many} lengths are written in the other system of units than the sheet."),
    };
    let help = "Each is read in its own unit; check that none was copied from another sheet by mistake.";
    Some(said("data::mixed-units", Gravity::Noted, message, *first, help))
}

/// Subjects declared to be nowhere on the lot, and drawn all the same.
fn contradictions(plan: &Plan, reader: &Reader<'_>) -> Vec<Remark> {
    let none = plan.declared.iter().filter(|(_, declaration)| declaration.presence == Presence::None);
    none.filter_map(|(subject, declaration)| {
        let kinds = &reader.kinds.subject(&subject.0)?.kinds;
        let gone =
            |feature: &Feature| feature.status.as_ref().is_some_and(|status| status.value == Status::Remove);
        let drawn = plan.features.iter().filter(|feature| {
            !gone(feature) && kinds.iter().any(|kind| reader.kinds.is_a(&feature.kind.value, kind))
        });
        let about: Vec<Name> = drawn.map(|feature| feature.id.value.clone()).collect();
        if about.is_empty() {
            return None;
        }
        let names = list(about.iter().map(|name| name.0.as_str()));
        let message = format!("`{}` are declared to be none, and the plan has {names}.", subject.0);
        let help = "Declare them `\"shown\"`, or take the feature out.";
        Some(Remark { about, ..said("data::declared-none", Gravity::Wrong, message, declaration.span, help) })
    })
    .collect()
}
