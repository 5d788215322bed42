//! GeoJSON to a plan.

use std::borrow::Cow;
use std::collections::BTreeMap;

use ::geojson::feature::Id;
use ::geojson::{Feature, JsonValue};
use groundrule_plan::{Faults, Plan, Source, Span};
use serde::Deserialize;
use serde_json::value::RawValue;

use super::shapes::parts;
use crate::assemble::assemble;
use crate::drawn::{Drawn, Frame};
use crate::gather::{Gather, span};
use crate::plane::System;
use crate::{Layers, Options};

/// The top of a file, each feature kept as text so that one broken feature hides no other.
#[derive(Deserialize)]
struct Document<'a> {
    #[serde(rename = "type", borrow)]
    kind: Option<Cow<'a, str>>,
    #[serde(borrow)]
    features: Option<Vec<&'a RawValue>>,
    crs: Option<JsonValue>,
    /// Written by this crate where a plan is tied to no place on the earth.
    local_frame: Option<JsonValue>,
}

/// Reads a feature collection, or a single feature, of longitudes and latitudes in WGS 84.
///
/// The layer of a feature is its property named by [`Options::layer_property`]. A `crs` member other than
/// WGS 84 (a foreign member since RFC 7946) is refused, and so are coordinates that are no place on the
/// earth, with a word where they look swapped.
pub fn read(source: &Source, options: &Options) -> Result<Plan, Faults> {
    let mut gather = Gather::new(source);
    let Some(raw) = features(&mut gather) else { return Err(gather.into_faults()) };
    let mut layers = LayerCount::default();
    let mut drawn = Vec::new();
    for (index, text) in raw.iter().enumerate() {
        let at = place_of(source, text);
        if !text.starts_with('{') {
            gather.add(
                "geojson::not-a-feature",
                format!("feature {} is no JSON object", index + 1),
                (at, "this one"),
                "export it again, or take it out of the file",
            );
            continue;
        }
        let feature: Feature = match serde_json::from_str(text) {
            Ok(feature) => feature,
            Err(error) => {
                gather.add(
                    "geojson::not-a-feature",
                    format!("feature {} is no GeoJSON feature: {}", index + 1, plain(&error)),
                    (at, "this one"),
                    "export it again, or take it out of the file",
                );
                continue;
            }
        };
        let layer = text_property(&feature, &options.layer_property);
        let Some(role) = layers.role(layer, options) else { continue };
        let id = id_of(&feature, index);
        let name = text_property(&feature, &options.street_property);
        let parts = parts(&mut gather, feature, &id, at);
        drawn.push(Drawn { role, id, name, parts, span: at });
    }
    layers.check(&mut gather, options);
    assemble(gather, &Frame::Earth(System::wgs84()), drawn, &layers.left_out, options)
}

/// The features as text, after everything the top of the file says has been checked.
fn features<'a>(gather: &mut Gather<'a>) -> Option<Vec<&'a str>> {
    let source = gather.source();
    let text: &str = source.text.trim_start_matches('\u{feff}');
    if text.trim().is_empty() {
        gather.add(
            "geojson::empty",
            "the file is empty",
            (Span::default(), "here"),
            "give a GeoJSON feature collection",
        );
        return None;
    }
    let lead = source.text.len() - text.trim_start().len();
    if !text.trim_start().starts_with('{') {
        gather.add(
            "geojson::not-json",
            "the file does not start with `{`, so it is no GeoJSON",
            (span(lead..lead), "here"),
            "give a GeoJSON feature collection: one JSON object, as plain text",
        );
        return None;
    }
    let document: Document<'a> = match serde_json::from_str(text) {
        Ok(document) => document,
        Err(error) => {
            let at = offset_of(text, error.line(), error.column()) + source.text.len() - text.len();
            gather.add(
                "geojson::not-json",
                format!("the file is no GeoJSON: {}", plain(&error)),
                (span(at..at), "here"),
                "check that the export finished; a GeoJSON file is one JSON object",
            );
            return None;
        }
    };
    if let Some(crs) = &document.crs {
        check_crs(gather, crs);
    }
    if document.local_frame.is_some() {
        gather.add(
            "geojson::local-frame",
            "the coordinates are metres in a local frame, not longitude and latitude",
            (Span::default(), "`local_frame` at the top of the file"),
            "read the plan it was written from instead",
        );
    }
    match (document.kind.as_deref(), document.features) {
        (Some("FeatureCollection"), Some(features)) => {
            Some(features.into_iter().map(RawValue::get).collect())
        }
        (Some("FeatureCollection"), None) => {
            gather.add(
                "geojson::no-features",
                "the feature collection has no `features`",
                (Span::default(), "the whole file"),
                "export the layer again",
            );
            None
        }
        (Some("Feature"), _) => Some(vec![text]),
        (kind, _) => {
            gather.add(
                "geojson::not-features",
                format!(
                    "the file is a `{}`, not a collection of features",
                    kind.unwrap_or("nameless object")
                ),
                (Span::default(), "the whole file"),
                "give a `FeatureCollection`, so that each outline can say its layer and name",
            );
            None
        }
    }
}

/// RFC 7946 dropped the `crs` member; a file that still has one must mean WGS 84 by it.
fn check_crs(gather: &mut Gather<'_>, crs: &JsonValue) {
    let name = crs.pointer("/properties/name").and_then(JsonValue::as_str).unwrap_or("nothing");
    let upper = name.to_ascii_uppercase();
    let wgs84 = upper.ends_with("CRS84") || upper == "EPSG:4326" || upper.ends_with(":EPSG::4326");
    if !wgs84 {
        gather.add(
            "geojson::foreign-crs",
            format!("the file names the coordinate system `{name}`"),
            (Span::default(), "`crs` at the top of the file"),
            "GeoJSON is WGS 84 longitude and latitude (RFC 7946, section 4): export it so, or give a GeoPackage, which can name its system",
        );
    }
}

/// Which layers were met, and what became of them.
#[derive(Default)]
struct LayerCount {
    read: BTreeMap<String, usize>,
    left_out: BTreeMap<String, usize>,
    nameless: usize,
}

impl LayerCount {
    fn role(&mut self, layer: Option<String>, options: &Options) -> Option<crate::Use> {
        if let Layers::Only(role) = &options.layers {
            *self.read.entry(String::new()).or_default() += 1;
            return Some(role.clone());
        }
        let Some(layer) = layer else {
            self.nameless += 1;
            return None;
        };
        let role = options.role_of(&layer).cloned();
        *if role.is_some() { &mut self.read } else { &mut self.left_out }.entry(layer).or_default() += 1;
        role
    }

    fn check(&mut self, gather: &mut Gather<'_>, options: &Options) {
        let property = &options.layer_property;
        let wanted: Vec<&String> = match &options.layers {
            Layers::Named(named) => named.keys().filter(|layer| !self.read.contains_key(*layer)).collect(),
            Layers::Only(_) => Vec::new(),
        };
        for layer in wanted {
            let there: Vec<String> =
                self.read.keys().chain(self.left_out.keys()).map(|l| format!("`{l}`")).collect();
            let help = if there.is_empty() && self.nameless > 0 {
                format!("no feature has a property `{property}`; say which property names the layer")
            } else if there.is_empty() {
                "the file has no features".to_owned()
            } else {
                format!("by the property `{property}` there are: {}", there.join(", "))
            };
            gather.add(
                "formats::no-such-layer",
                format!("there is no layer `{layer}`"),
                (Span::default(), "the whole file"),
                help,
            );
        }
        if self.nameless > 0 {
            self.left_out.insert(String::new(), self.nameless);
        }
        if self.read.is_empty() && gather.is_empty() {
            gather.add(
                "formats::nothing-to-read",
                "no layer was named and the file has no feature to read",
                (Span::default(), "the whole file"),
                "say which layer holds the lots, the buildings and the streets",
            );
        }
    }
}

fn text_property(feature: &Feature, property: &str) -> Option<String> {
    match feature.property(property)? {
        JsonValue::String(text) => Some(text.clone()),
        JsonValue::Number(number) => Some(number.to_string()),
        _ => None,
    }
}

fn id_of(feature: &Feature, index: usize) -> String {
    match &feature.id {
        Some(Id::String(text)) => text.clone(),
        Some(Id::Number(number)) => number.to_string(),
        None => text_property(feature, "id").unwrap_or_else(|| (index + 1).to_string()),
    }
}

/// What went wrong without the line and column, which the label already shows.
fn plain(error: &serde_json::Error) -> String {
    let text = error.to_string();
    text.split(" at line ").next().unwrap_or(&text).to_owned()
}

/// The byte of a line and column, both from 1; the parser counts columns in bytes.
fn offset_of(text: &str, line: usize, column: usize) -> usize {
    let start: usize = text.split_inclusive('\n').take(line.saturating_sub(1)).map(str::len).sum();
    let mut at = (start + column.saturating_sub(1)).min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

/// Where a piece of the file's text stands in it.
fn place_of(source: &Source, piece: &str) -> Span {
    let start = piece.as_ptr().addr().saturating_sub(source.text.as_ptr().addr());
    span(start..start + piece.len())
}
