//! Lists that go together: what is stated at each station along a line, or at each vertex.

use crate::model::{Attribute, Feature, Geometry, Plan};
use crate::reader::{Reader, quote};
use crate::{At, Fault, Name};

/// Where along the line.
const STATIONS: &str = "stations";
/// What is stated there, one for each station.
const AT_STATIONS: [&str; 2] = ["heights", "low_heights"];
/// On which side of its line a wall holds ground up.
const HIGH_SIDE: &str = "high_side";

pub(super) fn check(plan: &Plan, reader: &mut Reader<'_>) {
    for feature in &plan.features {
        at_stations(feature, reader);
        levels(feature, reader);
        high_side(feature, reader);
    }
}

fn at_stations(feature: &Feature, reader: &mut Reader<'_>) {
    let stations = lengths(feature, STATIONS);
    for name in AT_STATIONS {
        let Some((list, count)) = lengths(feature, name) else { continue };
        let id = &feature.id.value.0;
        let fault = |message: String| Fault::new("plan::list-length", message, list.span, "this list");
        match stations {
            Some((stations, wanted)) if wanted != count => {
                let message = format!("`{id}` has {wanted} stations and {count} of `{name}`.");
                let fault = fault(message).with_label(stations.span, "the stations");
                reader.tell(
                    fault.with_help(format!("Write one of `{name}` for each station, in the same order.")),
                );
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

/// Levels are one for each station where there are stations, else one for each vertex.
fn levels(feature: &Feature, reader: &mut Reader<'_>) {
    let id = &feature.id.value.0;
    let stations = lengths(feature, STATIONS);
    let vertices = feature.geometry.as_ref().map(vertices);
    for (Name(name), stated) in &feature.attributes {
        let Attribute::Levels(list) = &stated.value else { continue };
        let count = list.len();
        let fault = |message: String| Fault::new("plan::list-length", message, stated.span, "this list");
        match (stations, vertices) {
            (Some((stations, wanted)), _) if wanted != count => {
                let message = format!("`{id}` has {wanted} stations and {count} of `{name}`.");
                let fault = fault(message).with_label(stations.span, "the stations");
                reader.tell(fault.with_help(format!(
                    "Write one of `{name}` for each station, in the same order, and `\"-\"` where none was taken."
                )));
            }
            (None, Some(wanted)) if wanted != count => {
                let message = match wanted {
                    1 => format!("`{id}` is one place, and has {count} of `{name}`."),
                    _ => format!("`{id}` has {wanted} vertices and {count} of `{name}`."),
                };
                reader.tell(fault(message).with_help(format!(
                    "Write one of `{name}` for each vertex, in the order drawn, and `\"-\"` where none was taken; or \
                     add `stations` along its line."
                )));
            }
            (_, None) => {
                let message = format!("`{id}` has `{name}` and is not drawn, so they have no place.");
                reader.tell(fault(message).with_help("Draw it, or take the levels out."));
            }
            _ => {}
        }
    }
}

/// How many vertices a shape has, as drawn.
fn vertices(geometry: &Geometry) -> usize {
    match geometry {
        Geometry::Outline { ring: path, .. } | Geometry::Line { path, .. } => path.vertices.len(),
        Geometry::Box { .. } => 4,
        Geometry::Spot(_) | Geometry::Circle { .. } => 1,
    }
}

fn high_side(feature: &Feature, reader: &mut Reader<'_>) {
    let Some(At { value: Attribute::Text(side), span }) = feature.stated(HIGH_SIDE) else { return };
    if matches!(side.as_str(), "left" | "right") {
        return;
    }
    let message = format!("`{HIGH_SIDE}` of `{}` cannot be {}.", feature.id.value.0, quote(side));
    let fault = Fault::new("plan::unknown-word", message, *span, "not a side of a line");
    reader.tell(fault.with_help(
        "Write `left` or `right`: the side of the higher ground, as one goes along the line from its first point.",
    ));
}

/// A list of lengths that a feature states, with how many it holds.
fn lengths<'a>(feature: &'a Feature, name: &str) -> Option<(&'a At<Attribute>, usize)> {
    let stated = feature.stated(name)?;
    match &stated.value {
        Attribute::Lengths(lengths) => Some((stated, lengths.len())),
        _ => None,
    }
}
