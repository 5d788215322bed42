//! Rings and lines of vertices, and the names of their corners.

use std::collections::BTreeSet;

use super::place::span_of_place;
use crate::model::{Path, Place, PointRef, Vertex};
use crate::reader::{Read, Reader, Shape, Value, span_of};
use crate::{At, Fault, Name};

/// A closed ring of at least three vertices.
#[derive(Debug)]
pub(crate) struct Ring(pub(crate) Path);

/// A line of at least two vertices.
#[derive(Debug)]
pub(crate) struct Line(pub(crate) Path);

impl Read for Ring {
    fn shape() -> Shape {
        Shape::List { of: Box::new(Vertex::shape()), least: 3, most: None }
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let mut path = read_path::<Self>(value, reader)?;
        // Many close a ring by repeating its first vertex; the model does not.
        let closed = path.vertices.len() > 3
            && path.vertices.first().zip(path.vertices.last()).is_some_and(|(first, last)| same(first, last));
        if closed {
            path.vertices.pop();
        }
        enough(path, 3, "An outline", reader).map(Self)
    }
}

impl Read for Line {
    fn shape() -> Shape {
        Shape::List { of: Box::new(Vertex::shape()), least: 2, most: None }
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let path = read_path::<Self>(value, reader)?;
        enough(path, 2, "A line", reader).map(Self)
    }
}

/// Every vertex, or nothing when one of them could not be read.
fn read_path<T: Read>(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Path> {
    let Some(items) = value.get_ref().as_array() else {
        return reader.wrong_type::<T, _>(value);
    };
    let vertices: Vec<Option<Vertex>> = items.iter().map(|item| Vertex::read(item, reader)).collect();
    let vertices = vertices.into_iter().collect::<Option<Vec<Vertex>>>()?;
    Some(Path { vertices, span: span_of(value) })
}

fn enough(path: Path, least: usize, what: &str, reader: &mut Reader<'_>) -> Option<Path> {
    let count = path.vertices.len();
    if count >= least {
        return Some(path);
    }
    let message = match count {
        0 => format!("{what} needs at least {least} vertices; this one is empty."),
        _ => format!("{what} needs at least {least} vertices; this one has {count}."),
    };
    let help = "Give its vertices in order: `[[0, 0], [40, 0], [40, 30]]`.";
    reader.fault_help("plan::too-few-vertices", message, path.span, "too few", help)
}

fn same(a: &Vertex, b: &Vertex) -> bool {
    match (&a.place, &b.place) {
        (Place::At { x, y, .. }, Place::At { x: x2, y: y2, .. }) => {
            x.value == x2.value && y.value == y2.value
        }
        (Place::Point(a), Place::Point(b)) => (&a.owner, &a.point) == (&b.owner, &b.point),
        _ => false,
    }
}

/// Gives every corner its name: its own, one of `names`, the point it stands on, or `c1`, `c2` and so on.
///
/// `owner` is the thing whose path it is: its own measured point `house.sw` is its corner `sw`.
pub(crate) fn name_corners(
    path: &mut Path,
    names: Option<Vec<At<Name>>>,
    owner: Option<&Name>,
    reader: &mut Reader<'_>,
) {
    if let Some(names) = names {
        take_names(path, &names, reader);
    }
    let mut taken: BTreeSet<Name> = BTreeSet::new();
    for vertex in &path.vertices {
        let Some(corner) = &vertex.corner else { continue };
        if !taken.insert(corner.clone()) {
            let first = path.vertices.iter().find(|other| other.corner.as_ref() == Some(corner));
            let message = format!("Two corners are named `{}`.", corner.0);

            let again = span_of_place(&vertex.place);
            let fault = Fault::new("plan::duplicate-corner", message, again, "again here");
            let fault = fault.with_help("Rename one of the two.");
            reader.tell(match first {
                Some(first) => fault.with_label(span_of_place(&first.place), "first here"),
                None => fault,
            });
        }
    }
    for (i, vertex) in path.vertices.iter_mut().enumerate().filter(|(_, vertex)| vertex.corner.is_none()) {
        let point = match &vertex.place {
            Place::Point(PointRef { owner: of, point, .. })
                if !taken.contains(point) && of.as_ref().is_none_or(|of| Some(of) == owner) =>
            {
                Some(point.clone())
            }
            _ => None,
        };
        let name = point.unwrap_or_else(|| Name(format!("c{}", i + 1)));
        if taken.insert(name.clone()) {
            vertex.corner = Some(name);
        }
    }
}

fn take_names(path: &mut Path, names: &[At<Name>], reader: &mut Reader<'_>) {
    if names.len() != path.vertices.len() {
        let message = format!("There are {} names for {} vertices.", names.len(), path.vertices.len());
        let at = names.first().map_or(path.span, |name| name.span);
        let fault = Fault::new("plan::names-and-vertices", message, at, "the names start here");
        let fault = fault.with_label(path.span, "these vertices");
        reader.tell(fault.with_help("Give one name for each vertex, in the same order."));
        return;
    }
    for (vertex, name) in path.vertices.iter_mut().zip(names) {
        match &vertex.corner {
            Some(corner) if *corner != name.value => {
                let message = format!("This corner is named `{}` and `{}`.", corner.0, name.value.0);
                let fault = Fault::new("plan::two-names", message, name.span, "one name");
                let fault = fault.with_help("Keep one of them.");
                reader.tell(fault.with_label(span_of_place(&vertex.place), "another in this vertex"));
            }
            _ => vertex.corner = Some(name.value.clone()),
        }
    }
}
