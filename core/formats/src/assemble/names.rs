//! Ids and coordinates as a plan has them.

use std::collections::BTreeMap;

use groundrule_plan::{At, Name, Path, Place, Span, Vertex};
use groundrule_units::{Length, Mark, Written};

use crate::kernel::Xy;

/// Ids given so far, each with the number to try next; every new one differs from them.
#[derive(Default)]
pub(crate) struct Names {
    taken: BTreeMap<String, usize>,
}

impl Names {
    /// An id of the plan's alphabet close to the text: `lot-12`, or `lot-12-2` if that is taken.
    pub(crate) fn id(&mut self, prefix: &str, text: &str) -> String {
        let mut base = String::from(prefix);
        for c in text.trim().chars() {
            base.push(if c.is_ascii_alphanumeric() || matches!(c, '_' | '-') { c } else { '-' });
        }
        let mut id = base.clone();
        while self.taken.contains_key(&id) {
            let next = self.taken.entry(base.clone()).or_insert(2);
            id = format!("{base}-{next}");
            *next += 1;
        }
        self.taken.insert(id.clone(), 2);
        id
    }
}

/// A length that came out of a conversion, so that no text of it stands in the file.
pub(crate) fn written(metres: f64) -> Written<Length> {
    Written { value: Length::from_metres(metres), text: String::new(), mark: Mark::Plain }
}

pub(super) fn at<T>(value: T, span: Span) -> At<T> {
    At { value, span }
}

pub(super) fn name(text: &str) -> Name {
    Name(text.to_owned())
}

pub(super) fn place([x, y]: Xy, span: Span) -> Place {
    Place::At { x: written(x), y: written(y), span }
}

/// A path of unnamed vertices.
pub(super) fn path(places: &[Xy], span: Span) -> Path {
    let vertex = |&xy: &Xy| Vertex { place: place(xy, span), corner: None, curve: None };
    Path { vertices: places.iter().map(vertex).collect(), span }
}

/// The name of a corner by its index.
pub(crate) fn corner(index: usize) -> String {
    format!("c{}", index + 1)
}
