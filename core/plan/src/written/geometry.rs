//! The shape of a feature: exactly one of outline, line, point, circle and box, or none.

use groundrule_units::{Length, Written};

use super::boxes::WrittenBox;
use super::path::{Line, Ring, name_corners};
use crate::model::{Geometry, Path, Place};
use crate::reader::{Keys, Read, Reader, Shape, Size, Table, Value, list};
use crate::{At, Fault, Name};

crate::table! {
    /// The shape of a feature; one of `outline`, `line`, `at`, `circle` and `box`, or none when it is only stated.
    pub(crate) table GeometryTable {
        /// A closed outline by its vertices; the first is not repeated.
        optional outline: Ring,
        /// Outlines cut out of it.
        optional holes: Vec<Ring>,
        /// A line by its vertices: a fence, a wire, the middle of a walk.
        optional line: Line,
        /// The full width of the line, half on each side.
        optional width: Size,
        /// Names of the corners, one for each vertex. A vertex without one is `c1`, `c2` and so on by its number, or
        /// has the name of the point it stands on.
        optional names: Vec<At<Name>>,
        /// A point.
        optional at: Place,
        /// A circle.
        optional circle: Circle,
        /// A rectangle by its sizes.
        optional r#box: WrittenBox,
    }
}

crate::table! {
    /// A circle.
    pub(crate) table CircleTable {
        /// Its centre.
        required centre: Place,
        /// Its radius.
        optional radius: Size,
        /// Its diameter, instead of the radius.
        optional diameter: Size,
    }
}

/// A circle with its radius, however it was given.
#[derive(Debug)]
pub(crate) struct Circle {
    centre: Place,
    radius: Written<Length>,
}

impl Read for Circle {
    fn shape() -> Shape {
        CircleTable::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(mut keys) = Keys::of(value) else {
            return reader.wrong_type::<Self, _>(value);
        };
        let table = CircleTable::read_keys(&mut keys, reader);
        keys.refuse_rest::<CircleTable>(reader);
        let radius = match [keys.key_span("radius"), keys.key_span("diameter")] {
            [Some(_), None] => table.radius?.0,
            [None, Some(_)] => {
                let diameter = table.diameter?.0;
                Written { value: diameter.value * 0.5, ..diameter }
            }
            [Some(radius), Some(diameter)] => {
                let fault =
                    Fault::new("plan::two-sizes", "The size of the circle is given twice.", radius, "here");
                reader.tell(fault.with_label(diameter, "and here").with_help("Keep `radius` or `diameter`."));
                return None;
            }
            [None, None] => {
                let help = "Add `radius = \"6 ft\"` or `diameter = \"12 ft\"`.";
                return reader.fault_help(
                    "plan::missing-key",
                    "A circle lacks its size.",
                    keys.span(),
                    "this circle",
                    help,
                );
            }
        };
        Some(Self { centre: table.centre?, radius })
    }
}

/// The keys that give a shape, each with the keys that go with it.
const SHAPES: [(&str, &[&str]); 5] = [
    ("outline", &["holes", "names"]),
    ("line", &["width", "names"]),
    ("at", &[]),
    ("circle", &[]),
    ("box", &[]),
];

/// Something was wrong, and the reader was told what.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Told;

impl GeometryTable {
    /// The shape, if one is given.
    ///
    /// A `width` that its feature's kind can state was taken out before.
    pub(crate) fn geometry(
        self,
        keys: &Keys<'_, '_>,
        reader: &mut Reader<'_>,
    ) -> Result<Option<Geometry>, Told> {
        let given: Vec<&str> = SHAPES.iter().map(|(key, _)| *key).filter(|key| keys.has(key)).collect();
        if given.len() > 1 {
            tell_several(&given, keys, reader);
            return Err(Told);
        }
        if !self.refuse_strays(given.first().copied(), keys, reader) {
            return Err(Told);
        }
        match given.first() {
            None => Ok(None),
            Some(key) => self.shape(key, keys, reader).map(Some).ok_or(Told),
        }
    }

    /// The shape under this key; nothing when it could not be read.
    fn shape(self, key: &str, keys: &Keys<'_, '_>, reader: &mut Reader<'_>) -> Option<Geometry> {
        let owner = reader.about.clone();
        let named = |mut path: Path| {
            let names = if keys.has("names") { Some(self.names?) } else { None };
            name_corners(&mut path, names, owner.as_ref(), reader);
            Some(path)
        };
        Some(match key {
            "outline" => {
                let ring = named(self.outline?.0)?;
                let holes = self.holes.unwrap_or_default().into_iter().map(|hole| hole.0).collect();
                Geometry::Outline { ring, holes }
            }
            "line" => Geometry::Line { path: named(self.line?.0)?, width: self.width.map(|width| width.0) },
            "at" => Geometry::Spot(self.at?),
            "circle" => {
                let Circle { centre, radius } = self.circle?;
                Geometry::Circle { centre, radius }
            }
            _ => self.r#box?.0,
        })
    }

    /// Keys that go with another shape than the one given are faults; true when there are none.
    fn refuse_strays(&self, given: Option<&str>, keys: &Keys<'_, '_>, reader: &mut Reader<'_>) -> bool {
        let mut fits = true;
        for key in ["holes", "names", "width"] {
            let owners: Vec<&str> = SHAPES
                .iter()
                .filter(|(_, its_keys)| its_keys.contains(&key))
                .map(|(shape, _)| *shape)
                .collect();
            let stated = key == "width" && self.width.is_none();
            let Some(span) = keys
                .key_span(key)
                .filter(|_| !stated)
                .filter(|_| given.is_none_or(|given| !owners.contains(&given)))
            else {
                continue;
            };
            fits = false;
            let message = match given {
                Some(given) => {
                    format!("`{key}` goes with {}, not with `{given}`.", list(owners.iter().copied()))
                }
                None => {
                    format!("`{key}` goes with {}, and this feature has none.", list(owners.iter().copied()))
                }
            };
            let fault = Fault::new("plan::stray-key", message, span, "does not belong here");
            reader.tell(match key {
                "width" => fault
                    .with_help("For a width that is only stated, use an attribute such as `clear_width`."),
                _ => fault.with_help("Take it out, or add the shape it goes with."),
            });
        }
        fits
    }
}

fn tell_several(given: &[&str], keys: &Keys<'_, '_>, reader: &mut Reader<'_>) {
    let names = list(given.iter().copied());
    let message = format!("A feature has one shape; this one has {}: {names}.", given.len());
    let mut spans = given.iter().filter_map(|key| keys.key_span(key));
    let first = spans.next().unwrap_or(keys.span());
    let fault = Fault::new("plan::several-shapes", message, first, "one shape");
    let fault = spans.fold(fault, |fault, span| fault.with_label(span, "another"));
    reader.tell(fault.with_help("Keep one; for a second shape write a second feature."));
}
