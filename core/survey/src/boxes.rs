//! Rectangles by their sizes, set out from a corner or along a wall.

use groundrule_plan::{Anchor, Place, Span};
use groundrule_units::Length;

use crate::ErrorTerm;
use crate::curves::Xy;
use crate::field::accuracy::Class;
use crate::layout::{Point, Reading};
use crate::places::{Placed, Reader, position, xy};

/// The corners' names, in the order they are returned.
pub(crate) const CORNERS: [&str; 4] = ["sw", "se", "ne", "nw"];
/// The same corners as shares of the width and of the depth.
const SHARES: [Xy; 4] = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];

/// A box as written.
pub(crate) struct Written<'a> {
    pub(crate) anchor: &'a Anchor,
    pub(crate) width: Length,
    pub(crate) depth: Length,
    /// How well its sizes are known, when the plan says so of them by themselves.
    pub(crate) sizes: Option<Class<'a>>,
    pub(crate) span: Span,
}

/// The four corners `sw`, `se`, `ne`, `nw`.
pub(crate) fn corners(
    placed: &mut Placed<'_>,
    written: &Written<'_>,
    reader: Reader<'_>,
) -> Option<[Point; 4]> {
    match written.anchor {
        Anchor::Corner { corner, place, turn } => {
            let (sin, cos) = libm::sincos(turn.radians());
            let (right, up) = ((cos, sin), (-sin, cos));
            let held = CORNERS.iter().position(|name| *name == corner.0).map_or(SHARES[0], |i| SHARES[i]);
            // Read as positions, each of the four edges errs by itself; otherwise the sizes err.
            let by_edges = matches!(place, Place::At { .. }) && written.sizes.is_none();
            let of_corner = if by_edges { Reader { class: Class::EXACT, ..reader } } else { reader };
            let at = placed.place(place, of_corner, Reading::Corner(0))?;
            let base = SHARES.map(|(along, out)| {
                let w = written.width.metres() * (along - held.0);
                let d = written.depth.metres() * (out - held.1);
                let (x, y) = xy(&at);
                let moved = (x + right.0 * w + up.0 * d, y + right.1 * w + up.1 * d);
                Point { at: position(moved), error: at.error.clone() }
            });
            Some(if by_edges {
                with_edges(placed, base, reader, right, up)
            } else {
                with_sizes(placed, base, written, reader, held, right, up)
            })
        }
        Anchor::Wall { wall, station, offset, left } => {
            let wall = placed.wall(wall, written.span)?;
            let side = if *left { 1.0 } else { -1.0 };
            let away = (wall.left().0 * side, wall.left().1 * side);
            let set_out = placed.setting_out(reader, &[(station.value, wall.unit()), (offset.value, away)]);
            let base = SHARES.map(|(along, out)| {
                // Each corner swings with the wall by its own distance along and off it.
                let off = (offset.value + written.depth * out) * side;
                let point = wall.point(station.value + written.width * along, off);
                Point { at: point.at, error: point.error.with(set_out.iter().copied()) }
            });
            Some(with_sizes(placed, base, written, reader, SHARES[0], wall.unit(), away))
        }
    }
}

/// Adds the errors of four edges, each read as a position.
fn with_edges(
    placed: &mut Placed<'_>,
    base: [Point; 4],
    reader: Reader<'_>,
    right: Xy,
    up: Xy,
) -> [Point; 4] {
    let each = reader.class.position();
    let edges = [right, right, up, up].map(|away| (each, away));
    let terms = placed.sources.along(reader.owner, Reading::Edges, &edges);
    add(base, |along, out| {
        let (near, far) = (usize::from(along > 0.5), 2 + usize::from(out > 0.5));
        [terms.get(near).copied(), terms.get(far).copied()].into_iter().flatten().collect()
    })
}

/// Adds the errors of a width and a depth measured from the held corner.
fn with_sizes(
    placed: &mut Placed<'_>,
    base: [Point; 4],
    written: &Written<'_>,
    reader: Reader<'_>,
    held: Xy,
    right: Xy,
    up: Xy,
) -> [Point; 4] {
    let class = written.sizes.unwrap_or(reader.class);
    let sizes = [(class.length(written.width), right), (class.length(written.depth), up)];
    let terms = placed.sources.along(reader.owner, Reading::Sizes, &sizes);
    add(base, |along, out| {
        let factors = [along - held.0, out - held.1];
        let scaled = terms.iter().zip(factors);
        scaled.map(|(t, f)| ErrorTerm { source: t.source, x: t.x * f, y: t.y * f }).collect()
    })
}

fn add(base: [Point; 4], own: impl Fn(f64, f64) -> Vec<ErrorTerm>) -> [Point; 4] {
    let mut shares = SHARES.into_iter();
    base.map(|point| {
        let (along, out) = shares.next().unwrap_or_default();
        Point { at: point.at, error: point.error.with(own(along, out)) }
    })
}
