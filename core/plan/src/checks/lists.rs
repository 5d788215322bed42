//! Lists that go together: what is stated at each station along a line.

use crate::model::{Attribute, Feature, Plan};
use crate::reader::Reader;
use crate::{At, Fault, Name};

/// Where along the line.
const STATIONS: &str = "stations";
/// What is stated there, one for each station.
const AT_STATIONS: [&str; 2] = ["heights", "low_heights"];

pub(super) fn check(plan: &Plan, reader: &mut Reader<'_>) {
    for feature in &plan.features {
        let stations = lengths(feature, STATIONS);
        for name in AT_STATIONS {
            let Some((list, count)) = lengths(feature, name) else { continue };
            let id = &feature.id.value.0;
            let fault = |message: String| Fault::new("plan::list-length", message, list.span, "this list");
            match stations {
                Some((stations, wanted)) if wanted != count => {
                    let message = format!("`{id}` has {wanted} stations and {count} of `{name}`.");
                    let fault = fault(message).with_label(stations.span, "the stations");
                    reader
                        .tell(fault.with_help(format!(
                            "Write one of `{name}` for each station, in the same order."
                        )));
                }
                Some(_) => {}
                None => {
                    let message = format!("`{id}` has `{name}`, but no `{STATIONS}` that say where.");
                    reader.tell(fault(message).with_help(
                        "Add `stations`: the distance along the line from its first point to each place, as `[\"0 ft\", \"24 ft\"]`.",
                    ));
                }
            }
        }
    }
}

/// A list of lengths that a feature states, with how many it holds.
fn lengths<'a>(feature: &'a Feature, name: &str) -> Option<(&'a At<Attribute>, usize)> {
    let stated = feature.attributes.get(&Name(name.to_owned()))?;
    match &stated.value {
        Attribute::Lengths(lengths) => Some((stated, lengths.len())),
        _ => None,
    }
}
