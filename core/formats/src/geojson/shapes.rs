//! A feature's geometry to shapes.

use ::geojson::{Feature, GeometryValue, Position};
use groundrule_plan::Span;

use crate::drawn::{Part, line, ring};
use crate::gather::Gather;
use crate::kernel::Xy;

/// The connected pieces of a feature; none, and a fault, where its geometry cannot be used.
pub(super) fn parts(gather: &mut Gather<'_>, feature: Feature, id: &str, at: Span) -> Vec<Part> {
    let mut parts = Vec::new();
    let value = feature.geometry.map(|geometry| geometry.value);
    let whole = match value {
        Some(GeometryValue::Polygon { coordinates }) => area(coordinates, &mut parts),
        Some(GeometryValue::MultiPolygon { coordinates }) => {
            coordinates.into_iter().try_for_each(|polygon| area(polygon, &mut parts))
        }
        Some(GeometryValue::LineString { coordinates }) => path(&coordinates, &mut parts),
        Some(GeometryValue::MultiLineString { coordinates }) => {
            coordinates.iter().try_for_each(|one| path(one, &mut parts))
        }
        Some(GeometryValue::Point { coordinates }) => spot(&coordinates, &mut parts),
        Some(GeometryValue::MultiPoint { coordinates }) => {
            coordinates.iter().try_for_each(|one| spot(one, &mut parts))
        }
        Some(GeometryValue::GeometryCollection { .. }) => {
            Err(("is a collection of shapes", "give each shape a feature of its own"))
        }
        None => Ok(()),
    };
    let whole = match whole {
        Ok(()) if parts.is_empty() => Err(("has no shape", "give it a shape, or take it out of the file")),
        other => other,
    };
    if let Err((what, help)) = whole {
        gather.add("formats::bad-shape", format!("`{id}` {what}"), (at, "this one"), help);
    }
    parts
}

/// What is wrong with a geometry and what to do.
type Told = Result<(), (&'static str, &'static str)>;

fn area(rings: Vec<Vec<Position>>, parts: &mut Vec<Part>) -> Told {
    let mut rings = rings.into_iter().map(|places| ring(numbers(&places)?).map_err(|broken| broken.words()));
    let Some(outer) = rings.next() else { return Ok(()) };
    let (ring, holes) = (outer?, rings.collect::<Result<_, _>>()?);
    parts.push(Part::Area { ring, holes });
    Ok(())
}

fn path(places: &[Position], parts: &mut Vec<Part>) -> Told {
    parts.push(Part::Line(line(numbers(places)?).map_err(|broken| broken.words())?));
    Ok(())
}

fn spot(place: &Position, parts: &mut Vec<Part>) -> Told {
    parts.extend(numbers(std::slice::from_ref(place))?.into_iter().map(Part::Spot));
    Ok(())
}

/// Longitude and latitude of each position; a height after them is dropped.
fn numbers(places: &[Position]) -> Result<Vec<Xy>, (&'static str, &'static str)> {
    let pair = |place: &Position| match *place.as_slice() {
        [x, y, ..] => Some([x, y]),
        _ => None,
    };
    places.iter().map(pair).collect::<Option<_>>().ok_or((
        "has a position of fewer than two numbers",
        "a position is a longitude and a latitude; export it again",
    ))
}
