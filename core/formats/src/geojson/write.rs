//! A site and what was found on it to GeoJSON.

use std::collections::BTreeMap;

use groundrule_plan::{Plan, Status};
use groundrule_site::{Fact, Feature, Mark, Measured, Site};
use groundrule_survey::{Layout, Point, Position, Shape};
use groundrule_units::{Length, Quantity};
use serde::Serialize;
use serde_json::{Value, json};

use crate::LonLat;
use crate::plane::{Ellipsoid, Plane};

/// Something found, with the marks that show where and what to say of it.
#[derive(Clone, Debug)]
pub struct Marked<'a> {
    /// Its id.
    pub id: String,
    /// What to say of it: verdict, title, shown, required.
    pub properties: BTreeMap<String, String>,
    /// Where.
    pub marks: &'a [Mark],
}

/// What a map made of the file must say beside what is in the ground, as a foreign member at the top.
const CAUTION: &str = "Not a survey. Call the local one-call service before any digging; utilities as drawn are not \
    locations.";

/// Writes every feature that has a shape, then one feature for each mark.
///
/// RFC 7946 section 4 allows nothing but WGS 84 longitude and latitude, so a plan with a latitude, a
/// longitude and a north is written so: its latitude and longitude are those of the sheet's origin (0, 0),
/// and the plane there is the one readers of this crate use. Any other plan is written in metres on the
/// sheet, which section 4 leaves to those who agreed on it beforehand; a foreign member `local_frame` at the
/// top says so, and readers of this crate refuse it.
///
/// Degrees have nine decimals, 0.1 mm; metres have four. A circle is a point with `radius_m`, a line of some
/// width a line with `width_m`. Outer rings run anticlockwise, holes clockwise.
pub fn write(plan: &Plan, layout: &Layout, site: &Site, found: &[Marked<'_>]) -> String {
    let frame = Frame::of(plan, layout);
    let mut lines: Vec<String> =
        site.features().filter_map(|(_, feature)| frame.feature(site, feature)).collect();
    for marked in found {
        lines.extend(marked.marks.iter().filter_map(|mark| frame.mark(marked, mark)));
    }
    let local = if frame.earth.is_none() {
        let note = "metres on the sheet, x to the right and y up; not longitude and latitude";
        format!("\"local_frame\":{{\"unit\":\"metre\",\"note\":{}}},\n", json!(note))
    } else {
        String::new()
    };
    let caution = json!(CAUTION);
    let name = json!(plan.site.name);
    let features = lines.join(",\n");
    format!(
        "{{\"type\":\"FeatureCollection\",\n\"name\":{name},\n\"caution\":{caution},\n{local}\"features\":[\n{features}\n]}}\n"
    )
}

/// One feature, its members in this order whatever else the program is built with.
#[derive(Serialize)]
struct Line<'a> {
    #[serde(rename = "type")]
    kind: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    id: Option<&'a str>,
    properties: BTreeMap<String, Value>,
    geometry: Geometry,
}

#[derive(Serialize)]
struct Geometry {
    #[serde(rename = "type")]
    kind: &'static str,
    coordinates: Value,
}

impl Line<'_> {
    fn text(&self) -> Option<String> {
        serde_json::to_string(self).ok()
    }
}

/// Where positions on the sheet go.
struct Frame {
    shift: Position,
    /// The plane, and the sine and cosine of the turn of north from the top of the sheet.
    earth: Option<(Plane, f64, f64)>,
}

impl Frame {
    fn of(plan: &Plan, layout: &Layout) -> Self {
        let earth = || {
            let centre = LonLat { longitude: plan.site.longitude?, latitude: plan.site.latitude? };
            let turn = plan.site.north.as_ref()?.clockwise_of_up.radians();
            let plane = Plane::at(centre, Ellipsoid::WGS84).ok()?;
            Some((plane, libm::sin(turn), libm::cos(turn)))
        };
        Self { shift: layout.shift, earth: earth() }
    }

    fn place(&self, at: Position) -> Option<Value> {
        let (x, y) = ((at.x + self.shift.x).metres(), (at.y + self.shift.y).metres());
        let Some((plane, sin, cos)) = &self.earth else {
            return Some(json!([round(x, 1e4), round(y, 1e4)]));
        };
        let east = Length::from_metres(x * cos - y * sin);
        let north = Length::from_metres(x * sin + y * cos);
        let at = plane.lon_lat(Position { x: east, y: north }).ok()?;
        Some(json!([round(at.longitude.degrees(), 1e9), round(at.latitude.degrees(), 1e9)]))
    }

    fn path(&self, places: impl Iterator<Item = Position>) -> Option<Value> {
        places.map(|at| self.place(at)).collect()
    }

    fn ring(&self, places: impl Iterator<Item = Position>) -> Option<Value> {
        let mut ring: Vec<Value> = places.map(|at| self.place(at)).collect::<Option<_>>()?;
        ring.push(ring.first()?.clone());
        Some(Value::Array(ring))
    }

    fn feature(&self, site: &Site, feature: &Feature) -> Option<String> {
        let at = |points: &[Point]| points.iter().map(|point| point.at).collect::<Vec<_>>().into_iter();
        let mut properties = BTreeMap::new();
        let geometry = match &feature.shape {
            Shape::Outline { ring, holes } => {
                let rings: Option<Vec<Value>> =
                    std::iter::once(ring).chain(holes).map(|ring| self.ring(at(ring))).collect();
                Geometry { kind: "Polygon", coordinates: Value::Array(rings?) }
            }
            Shape::Line { path, width } => {
                if *width > Length::ZERO {
                    properties.insert("width_m".to_owned(), json!(round(width.metres(), 1e4)));
                }
                Geometry { kind: "LineString", coordinates: self.path(at(path))? }
            }
            Shape::Spot(point) => Geometry { kind: "Point", coordinates: self.place(point.at)? },
            Shape::Disc { centre, radius } => {
                properties.insert("radius_m".to_owned(), json!(round(radius.metres(), 1e4)));
                Geometry { kind: "Point", coordinates: self.place(centre.at)? }
            }
            Shape::Absent => return None,
        };
        properties.insert("layer".to_owned(), json!(feature.kind));
        properties.insert("title".to_owned(), json!(feature.title));
        if let Some(status) = feature.status {
            properties.insert("status".to_owned(), json!(status_word(status)));
        }
        if let Some(lot) = feature.lot.and_then(|lot| site.feature(lot)) {
            properties.insert("lot".to_owned(), json!(lot.id.0));
        }
        for (name, fact) in &feature.facts {
            properties.entry(name.clone()).or_insert_with(|| fact_value(fact));
        }
        Line { kind: "Feature", id: Some(&feature.id.0), properties, geometry }.text()
    }

    fn mark(&self, marked: &Marked<'_>, mark: &Mark) -> Option<String> {
        let geometry = match mark {
            Mark::Spot(at) => Geometry { kind: "Point", coordinates: self.place(*at)? },
            Mark::Span(from, to) => {
                Geometry { kind: "LineString", coordinates: self.path([*from, *to].into_iter())? }
            }
            Mark::Region(ring) => Geometry {
                kind: "Polygon",
                coordinates: Value::Array(vec![self.ring(ring.iter().copied())?]),
            },
        };
        let mut properties = BTreeMap::new();
        properties.insert("layer".to_owned(), json!("finding"));
        properties.insert("finding".to_owned(), json!(marked.id));
        for (name, text) in &marked.properties {
            properties.entry(name.clone()).or_insert_with(|| json!(text));
        }
        Line { kind: "Feature", id: None, properties, geometry }.text()
    }
}

fn status_word(status: Status) -> &'static str {
    match status {
        Status::Existing => "existing",
        Status::Proposed => "proposed",
        Status::Remove => "remove",
    }
}

/// A stated fact; an amount is its number in SI units: metres, square metres, radians or parts of one.
fn fact_value(fact: &Fact) -> Value {
    match fact {
        Fact::Amount(amount) => number(amount),
        Fact::Amounts(amounts) => amounts.iter().map(number).collect(),
        Fact::Count(count) => json!(count),
        Fact::Flag(flag) => json!(flag),
        Fact::Text(text) => json!(text),
    }
}

fn number(amount: &Measured) -> Value {
    let quantity: Quantity = amount.value();
    json!(round(quantity.si(), 1e6))
}

/// Rounded to one part of `scale`, without a negative zero.
fn round(value: f64, scale: f64) -> f64 {
    (value * scale).round() / scale + 0.0
}
