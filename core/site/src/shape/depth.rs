//! How far two pieces that meet reach into each other.
//!
//! For two convex parts it is the least shift that parts them, which is exact: it runs square to an edge of
//! one of them, or through a disc's centre. A piece that is not convex is cut into convex parts, and the
//! greatest of their least shifts counts, or the way to the edge if one piece lies wholly inside the other.
//! That is never more than the shift that frees the whole, and it is zero exactly where the two only touch.
//! Deep inside, where a hair can change how a piece is cut, it may step; its sign and its passage through
//! zero do not depend on the cut.

use groundrule_survey::Point;

use super::convex::{Part, parts};
use super::gap::{Gap, gaps};
use super::piece::Piece;
use super::rings::Lies;
use super::segments::{cross, distance, norm, place, right, station};

/// Depths closer than this, in metres, are the same depth.
const TIE: f64 = 1e-9;

/// The deepest gaps of two pieces that meet, the deciding one first, and others within `slack` of it.
/// Their values are zero or negative.
pub(crate) fn depths<'a>(a: &'a Piece<'_>, b: &'a Piece<'_>, slack: f64) -> Vec<Gap<'a>> {
    let (of_a, of_b) = (parts(a), parts(b));
    let mut deepest: Vec<Gap<'a>> = Vec::new();
    for p in &of_a {
        for q in &of_b {
            let found = parting(p, q, slack);
            let value = |gaps: &[Gap]| gaps.first().map_or(f64::INFINITY, |gap| gap.value);
            if value(&found) < value(&deepest) {
                deepest = found;
            }
        }
    }
    if of_a.len() + of_b.len() > 2
        && let Some(held) = held(a, b).filter(|h| deepest.first().is_none_or(|d| h.value < d.value))
    {
        deepest = vec![held];
    }
    // Pieces known to touch are not apart by what rounding leaves between them.
    for gap in &mut deepest {
        gap.value = gap.value.min(0.0);
    }
    deepest
}

/// The least shift that parts two convex parts, as the gaps of its deciding edge.
fn parting<'a>(p: &Part<'a>, q: &Part<'a>, slack: f64) -> Vec<Gap<'a>> {
    match (p.points.as_slice(), q.points.as_slice()) {
        ([a], [b]) => vec![Gap::between(a, b, (p.radius, q.radius))],
        (_, [centre]) => vec![off_centre(centre, q.radius, p).turned()],
        ([centre], _) => vec![off_centre(centre, p.radius, q)],
        _ => {
            let here = widest(p, q, slack);
            let there: Vec<Gap<'a>> = widest(q, p, slack).into_iter().map(Gap::turned).collect();
            let value = |gaps: &[Gap]| gaps.first().map_or(f64::NEG_INFINITY, |gap| gap.value);
            let ahead = value(&there) - value(&here);
            if ahead.abs() < TIE {
                face_to_face(here, there)
            } else if ahead > 0.0 {
                there
            } else {
                here
            }
        }
    }
}

/// Of all edges of `p`, the one beyond which `q` stays most nearly: its gaps to the vertices of `q`, least first.
fn widest<'a>(p: &Part<'a>, q: &Part<'a>, slack: f64) -> Vec<Gap<'a>> {
    let mut best: Vec<Gap<'a>> = Vec::new();
    let mut most = f64::NEG_INFINITY;
    for edge in p.edges() {
        let mut beyond: Vec<Gap<'a>> = q.points.iter().filter_map(|v| beyond(edge, v, 0.0)).collect();
        beyond.sort_by(|x, y| x.value.total_cmp(&y.value));
        let Some(least) = beyond.first().map(|gap| gap.value) else { continue };
        if least > most {
            most = least;
            let mut first = true;
            beyond.retain(|gap| std::mem::take(&mut first) || (gap.value <= least + slack && gap.on_edge()));
            best = beyond;
        }
    }
    best
}

/// Two edges that lie face to face part the same way, and meet where they run beside each other: the places
/// that decide are ends of either that lie on the other, not ends out along its line.
fn face_to_face<'a>(here: Vec<Gap<'a>>, there: Vec<Gap<'a>>) -> Vec<Gap<'a>> {
    let first = here.first().copied();
    let mut both: Vec<Gap<'a>> = here.into_iter().chain(there).filter(Gap::on_edge).collect();
    both.sort_by(|x, y| x.value.total_cmp(&y.value));
    if both.is_empty() { first.into_iter().collect() } else { both }
}

/// How far a vertex lies beyond an edge, on its right; negative on its left.
pub(crate) fn beyond<'a>((a, b): (&'a Point, &'a Point), v: &'a Point, radius: f64) -> Option<Gap<'a>> {
    let (start, end, at) = (place(a), place(b), place(v));
    let t = station(at, start, end)?;
    let mut gap = Gap::beside(v, (a, b), t, (radius, 0.0)).turned();
    let along = end - start;
    gap.value = -cross(along, at - start) / norm(along) - radius;
    gap.toward = right(along / norm(along));
    Some(gap)
}

/// The shift that frees a disc from a part: through the nearest edge if its centre is inside, else straight away.
fn off_centre<'a>(centre: &'a Point, radius: f64, part: &Part<'a>) -> Gap<'a> {
    let out = part.edges().filter_map(|edge| beyond(edge, centre, radius));
    let deepest = out.max_by(|x, y| x.value.total_cmp(&y.value)).map(Gap::turned);
    match deepest {
        Some(gap) if part.points.len() > 2 && gap.value <= -radius => gap,
        _ => nearest_edge(centre, radius, part),
    }
}

fn nearest_edge<'a>(centre: &'a Point, radius: f64, part: &Part<'a>) -> Gap<'a> {
    let at = place(centre);
    let near = part
        .edges()
        .min_by(|x, y| distance(at, place(x.0), place(x.1)).total_cmp(&distance(at, place(y.0), place(y.1))));
    let Some((a, b)) = near else { return Gap::between(centre, centre, (radius, 0.0)) };
    match station(at, place(a), place(b)) {
        Some(t) if t > 0.0 && t < 1.0 => Gap::beside(centre, (a, b), t, (radius, 0.0)),
        Some(t) if t >= 1.0 => Gap::between(centre, b, (radius, 0.0)),
        _ => Gap::between(centre, a, (radius, 0.0)),
    }
}

/// Where one piece lies wholly inside the other, clear of its edges: the way to the nearest of them.
fn held<'a>(a: &'a Piece<'_>, b: &'a Piece<'_>) -> Option<Gap<'a>> {
    let inside = |piece: &Piece, area: &Piece| {
        let mut points = piece.points();
        points.all(|p| area.lies(place(p)) == Lies::Inside)
            && !piece.edges().any(|(p, q)| {
                area.edges().any(|(r, s)| super::segments::touch(place(p), place(q), place(r), place(s)))
            })
    };
    if !inside(a, b) && !inside(b, a) {
        return None;
    }
    let nearest = gaps(a, b, 0.0).into_iter().next()?;
    // To come free it must cross that gap and then its own depth; the first is certain.
    let sum = nearest.value + nearest.radii.0 + nearest.radii.1;
    (sum > 0.0).then(|| Gap {
        value: -sum - nearest.radii.0 - nearest.radii.1,
        toward: nearest.toward * -1.0,
        ..nearest
    })
}
