//! The sides of a lot: which run of its edges each name means, and what it is to the lot.

use crate::model::{Path, Role, Side};
use crate::reader::{Map, Reader, Size, list, nearest, quote};
use crate::{At, Fault, Name, Span};

crate::table! {
    /// One side of a lot.
    pub(crate) table SideTable {
        /// What the side is to the lot.
        optional role: At<Role>,
        /// The street along it. Roles that are not said are proposed from the sides that name one.
        optional street: String,
        /// How wide the right-of-way of that street is.
        optional street_width: Size,
    }
}

crate::words! { Role {
    "front" => Self::Front, "the line the lot fronts";
    "side" => Self::Side, "a line between lots, neither front nor rear";
    "street_side" => Self::StreetSide, "a side line along a street";
    "rear" => Self::Rear, "the line opposite the front";
} }

/// A run of edges from one corner of the ring to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Run {
    from: usize,
    until: usize,
}

impl Run {
    /// The edges of the run, each by the index of its first corner, on a ring of so many.
    fn edges(self, corners: usize) -> impl Iterator<Item = usize> {
        let count = (self.until + corners - self.from) % corners;
        (0..count).map(move |step| (self.from + step) % corners)
    }
}

/// The sides as written, and one without a role for every edge that none of them covers.
pub(crate) fn sides(ring: &Path, written: Option<Map<SideTable>>, reader: &mut Reader<'_>) -> Vec<Side> {
    let corners: Vec<&str> = ring
        .vertices
        .iter()
        .map(|vertex| vertex.corner.as_ref().map_or("", |name| name.0.as_str()))
        .collect();
    let mut covered: Vec<Option<(Name, Span)>> = vec![None; corners.len()];
    let mut sides = Vec::new();
    for (name, table) in written.into_iter().flat_map(|map| map.0) {
        let Some(run) = run_of(&name, &corners, reader) else { continue };
        let taken = run.edges(corners.len()).find_map(|edge| covered.get(edge).cloned().flatten());
        if let Some((first, at)) = taken {
            let message = format!("The sides `{}` and `{}` share an edge of the lot.", first.0, name.value.0);
            let fault = Fault::new("plan::sides-overlap", message, name.span, "shares an edge")
                .with_label(at, "with this");
            reader.tell(
                fault.with_help("A side runs from its first corner to its last in the order of `corners`."),
            );
            continue;
        }
        for edge in run.edges(corners.len()) {
            if let Some(covered) = covered.get_mut(edge) {
                *covered = Some((name.value.clone(), name.span));
            }
        }
        let Some(table) = table else { continue };
        sides.push(Side {
            from: run.from,
            until: run.until,
            role: table.role,
            assumed: false,
            street: table.street,
            street_width: table.street_width.map(|width| width.0),
            span: name.span,
            name: name.value,
        });
    }
    let bare = covered.iter().enumerate().filter(|(_, covered)| covered.is_none());
    sides.extend(bare.map(|(from, _)| {
        let until = (from + 1) % corners.len();
        Side {
            name: Name(format!("{}-{}", corners[from], corners[until])),
            from,
            until,
            role: None,
            assumed: false,
            street: None,
            street_width: None,
            span: ring.span,
        }
    }));
    sides.sort_by_key(|side| side.from);
    sides
}

fn run_of(name: &At<Name>, corners: &[&str], reader: &mut Reader<'_>) -> Option<Run> {
    let text = name.value.0.as_str();
    let index = |corner: &str| corners.iter().position(|known| *known == corner);
    let splits: Vec<(&str, &str)> =
        text.match_indices('-').map(|(at, _)| (&text[..at], &text[at + 1..])).collect();
    let runs: Vec<Run> = splits
        .iter()
        .filter_map(|(from, until)| Some(Run { from: index(from)?, until: index(until)? }))
        .collect();
    let fault = match runs.as_slice() {
        [run] if run.from == run.until => {
            let message = format!("The side {} has no edge: it ends where it starts.", quote(text));
            let fault = Fault::new("plan::side-without-edge", message, name.span, "no edge");
            fault.with_help("Name its first and its last corner.")
        }
        [run] if is_backwards(*run, corners.len()) => {
            let message = format!("The side {} runs against the order of `corners`.", quote(text));
            let right = format!("{}-{}", corners[run.until], corners[run.from]);
            Fault::new("plan::side-backwards", message, name.span, "backwards")
                .with_help(format!("Write `{right}`."))
        }
        [run] => return Some(*run),
        [] => unknown_side(name, &splits, corners),
        _ => {
            let message = format!("{} can be read as more than one side.", quote(text));
            let fault = Fault::new("plan::question", message, name.span, "more than one meaning");
            fault.with_help("Rename the corners so that a hyphen stands only between two of them.")
        }
    };
    reader.tell(fault);
    None
}

/// True when the way back is one edge and the way named is all the others: no lot has such a side.
fn is_backwards(run: Run, corners: usize) -> bool {
    corners > 2 && (run.until + 1) % corners == run.from
}

fn unknown_side(name: &At<Name>, splits: &[(&str, &str)], corners: &[&str]) -> Fault {
    let text = name.value.0.as_str();
    let known = list(corners.iter().copied());
    let Some((from, until)) = splits.first() else {
        let message = format!("{} does not name a side.", quote(text));
        let fault = Fault::new("plan::unknown-side", message, name.span, "not two corners");
        let example = format!("{}-{}", corners.first().unwrap_or(&"sw"), corners.get(1).unwrap_or(&"se"));
        return fault.with_help(format!("A side is named by its first and last corner, as `{example}`."));
    };
    let strange = if corners.contains(from) { until } else { from };
    let message = format!("The lot has no corner {}.", quote(strange));
    let fault = Fault::new("plan::unknown-side", message, name.span, "names this side");
    fault.with_help(match nearest(strange, corners.iter().copied()) {
        Some(near) => format!("Did you mean `{near}`? The corners are {known}."),
        None => format!("The corners are {known}."),
    })
}
