//! The features of a plan: buildings on their lots, and whatever else was named.

use std::collections::BTreeMap;

use groundrule_plan::{Feature, Geometry, Gravity, Lot, Name, Remark, Span, Status};

use super::names::{Names, at, path, place};
use crate::Use;
use crate::assign::{Held, Outline, assign};
use crate::drawn::{Drawn, Part};
use crate::remarks::{count, remark};

/// A building with less of it on its lot stands across a line, or the map does not fit.
const MOSTLY: f64 = 0.9;

/// All features in the order of the file.
pub(super) fn features(
    drawn: &[Drawn],
    lots: &[Lot],
    outlines: &[Outline],
    names: &mut Names,
    remarks: &mut Vec<Remark>,
) -> Vec<Feature> {
    let shapes: Vec<Outline> = buildings(drawn).map(|(_, outline)| outline).collect();
    let held = assign(&shapes, outlines);
    let dwellings = dwellings(&shapes, &held);
    let mut features: Vec<Feature> = buildings(drawn)
        .enumerate()
        .map(|(index, (thing, outline))| {
            let kind = if dwellings[index] { "dwelling" } else { "accessory-structure" };
            let geometry = outline_geometry(&outline, thing.span);
            let lot = held[index].map(|held| lots[held.lot].id.value.clone());
            feature(names.id("building-", &thing.id), kind, geometry, lot, thing.span)
        })
        .collect();
    remarks.extend(building_remarks(&features, &held, lots));
    for thing in drawn {
        let Use::Kind(kind) = &thing.role else { continue };
        for part in &thing.parts {
            let id = names.id(&format!("{kind}-"), &thing.id);
            let mut made = feature(id, kind, geometry(part, thing.span), None, thing.span);
            made.title.clone_from(&thing.name);
            features.push(made);
        }
    }
    features
}

fn buildings(drawn: &[Drawn]) -> impl Iterator<Item = (&Drawn, Outline)> {
    let things = drawn.iter().filter(|thing| thing.role == Use::Buildings);
    things.flat_map(|thing| thing.parts.iter().map(move |part| (thing, part))).filter_map(|(thing, part)| {
        match part {
            Part::Area { ring, holes } => Some((thing, Outline { ring: ring.clone(), holes: holes.clone() })),
            _ => None,
        }
    })
}

/// True for each building that is the largest of its lot, the first on a tie; a building on no lot is one.
fn dwellings(shapes: &[Outline], held: &[Option<Held>]) -> Vec<bool> {
    let areas: Vec<f64> = shapes.iter().map(Outline::area).collect();
    let mut largest: BTreeMap<usize, usize> = BTreeMap::new();
    for (building, held) in held.iter().enumerate() {
        if let Some(held) = held {
            let best = largest.entry(held.lot).or_insert(building);
            if areas[building] > areas[*best] {
                *best = building;
            }
        }
    }
    held.iter()
        .enumerate()
        .map(|(building, held)| held.is_none_or(|held| largest.get(&held.lot) == Some(&building)))
        .collect()
}

fn feature(id: String, kind: &str, geometry: Geometry, lot: Option<Name>, span: Span) -> Feature {
    Feature {
        id: at(Name(id), span),
        title: None,
        kind: at(kind.to_owned(), span),
        status: Some(at(Status::Existing, span)),
        lot: lot.map(|lot| at(lot, span)),
        geometry: Some(geometry),
        by: None,
        attributes: BTreeMap::new(),
        span,
    }
}

fn outline_geometry(outline: &Outline, span: Span) -> Geometry {
    Geometry::Outline {
        ring: path(&outline.ring, span),
        holes: outline.holes.iter().map(|hole| path(hole, span)).collect(),
    }
}

fn geometry(part: &Part, span: Span) -> Geometry {
    match part {
        Part::Area { ring, holes } => Geometry::Outline {
            ring: path(ring, span),
            holes: holes.iter().map(|hole| path(hole, span)).collect(),
        },
        Part::Line(line) => Geometry::Line { path: path(line, span), width: None },
        Part::Spot(spot) => Geometry::Spot(place(*spot, span)),
    }
}

fn building_remarks(features: &[Feature], held: &[Option<Held>], lots: &[Lot]) -> Vec<Remark> {
    let named = |wanted: &dyn Fn(&Option<Held>) -> bool| -> Vec<Name> {
        let fits = features.iter().zip(held).filter(|(_, held)| wanted(held));
        fits.map(|(feature, _)| feature.id.value.clone()).collect()
    };
    let mut remarks = Vec::new();
    if !features.is_empty() && !lots.is_empty() {
        remarks.push(remark(
            "data::dwellings-assumed",
            Gravity::Noted,
            "The largest building of each lot is taken as its dwelling, the others as accessory structures."
                .to_owned(),
            Vec::new(),
            Some("State the kind of a building where that is not so."),
        ));
    }
    let homeless = named(&|held| held.is_none());
    if !homeless.is_empty() && !lots.is_empty() {
        remarks.push(remark(
            "data::on-no-lot",
            Gravity::Lacking,
            format!("{} on none of the lots.", stand(homeless.len())),
            homeless,
            Some("Read the lots around them too, or leave these buildings out."),
        ));
    }
    let across = named(&|held| held.is_some_and(|held| held.share < MOSTLY));
    if !across.is_empty() {
        remarks.push(remark(
            "data::across-lots",
            Gravity::Suspect,
            format!("{} less than nine tenths on the lot that holds most of it.", stand(across.len())),
            across,
            Some("Check whether it was built across a lot line or the two layers do not fit each other."),
        ));
    }
    remarks
}

fn stand(number: usize) -> String {
    format!("{} {}", count(number, "building"), if number == 1 { "stands" } else { "stand" })
}
