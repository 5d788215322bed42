//! The gap between two nodes.

use geo::Coord;
use groundrule_survey::Point;

use super::middle::Middle;
use super::node::Node;
use crate::shape::depth::depths;
use crate::shape::gap::{Foot, Gap};
use crate::shape::piece::Piece;
use crate::shape::segments::{cross, distance, dot, norm, place, station, touch, unit};

/// Lines closer to parallel than this, by the sine of the angle, run along each other where they touch: fifteen degrees.
const ALONG: f64 = 0.258_819_045_102_520_7;

/// A way from one node to another.
#[derive(Clone, Debug)]
pub(super) struct Link<'a> {
    /// How wide the gap is; less than anything where one piece simply goes on.
    pub(super) value: f64,
    /// Whether the way from the start of the one to the start of the other passes the ray.
    pub(super) passes: bool,
    /// The gap; none where one piece goes on.
    pub(super) gap: Option<Gap<'a>>,
}

impl<'a> Link<'a> {
    /// The least way from one to another that does not lead through the feature, if it is less than `held`.
    pub(super) fn between(one: &Node<'a>, other: &Node<'a>, middle: &Middle<'_>, held: f64) -> Option<Self> {
        let way = |s: f64, t: f64| {
            let (p, q) = (one.place(s), other.place(t));
            let (start, end) = (one.place(one.from), other.place(other.from));
            middle.passes(start, p) ^ middle.passes(p, q) ^ middle.passes(q, end)
        };
        if let Some((s, t)) = one.joint(other) {
            let value = f64::NEG_INFINITY;
            return (value < held).then(|| Self { value, passes: way(s, t), gap: None });
        }
        let ((a, b), (c, d)) = (one.ends(), other.ends());
        if touch(a, b, c, d) && one.radius + other.radius == 0.0 {
            let (s, t) = crossing(one, other);
            let gap = overlap(one, other, (s, t));
            return (gap.value < held).then(|| Self { value: gap.value, passes: way(s, t), gap: Some(gap) });
        }
        let radii = one.radius + other.radius;
        if distance_at_least(one, other) - radii >= held {
            return None;
        }
        // From each end of either to the nearest place of the other; one of these is the least of all.
        let mut ways: Vec<(f64, f64, f64)> = Vec::with_capacity(8);
        for s in [one.from, one.to] {
            let t = nearest(other, one.place(s));
            ways.push((norm(other.place(t) - one.place(s)), s, t));
        }
        for t in [other.from, other.to] {
            let s = nearest(one, other.place(t));
            ways.push((norm(other.place(t) - one.place(s)), s, t));
        }
        for (s, t) in [(one.from, other.from), (one.from, other.to), (one.to, other.from), (one.to, other.to)]
        {
            ways.push((norm(other.place(t) - one.place(s)), s, t));
        }
        ways.sort_by(|x, y| x.0.total_cmp(&y.0));
        let (_, s, t) = ways
            .into_iter()
            .take_while(|(apart, ..)| apart - radii < held)
            .find(|(_, s, t)| !middle.bars(one.place(*s), other.place(*t)))?;
        let gap = apart(one, other, (s, t));
        (gap.value < held).then(|| Self { value: gap.value, passes: way(s, t), gap: Some(gap) })
    }
}

/// The least that two nodes can be apart, by their boxes.
fn distance_at_least(one: &Node<'_>, other: &Node<'_>) -> f64 {
    use crate::shape::piece::Bounds;
    let bounds = |node: &Node<'_>| {
        let (a, b) = node.ends();
        Bounds::EMPTY.around(a, 0.0).around(b, 0.0)
    };
    bounds(one).apart(&bounds(other))
}

/// The station of a node nearest to a place.
fn nearest(node: &Node<'_>, p: Coord<f64>) -> f64 {
    station(p, place(node.edge.0), place(node.edge.1)).unwrap_or(node.from).clamp(node.from, node.to)
}

fn foot<'a>(node: &Node<'a>, t: f64) -> Foot<'a> {
    if t <= 0.0 {
        Foot::vertex(node.edge.0)
    } else if t >= 1.0 {
        Foot::vertex(node.edge.1)
    } else {
        Foot::edge(node.edge.0, node.edge.1, t)
    }
}

/// The gap between two nodes that stand apart, or discs that overlap.
fn apart<'a>(one: &Node<'a>, other: &Node<'a>, (s, t): (f64, f64)) -> Gap<'a> {
    let way = other.place(t) - one.place(s);
    Gap {
        value: norm(way) - one.radius - other.radius,
        toward: unit(way).unwrap_or(Coord { x: 1.0, y: 0.0 }),
        from: foot(one, s),
        to: foot(other, t),
        radii: (one.radius, other.radius),
    }
}

/// Where two nodes that touch do so.
fn crossing(one: &Node<'_>, other: &Node<'_>) -> (f64, f64) {
    let ((a, b), (c, d)) = (one.ends(), other.ends());
    let within = |node: &Node<'_>, share: f64| node.from + (node.to - node.from) * share.clamp(0.0, 1.0);
    // An end that lies on the other, by the least distance, else the crossing itself.
    let on = |p: Coord<f64>, node: &Node<'_>| {
        let (start, end) = node.ends();
        distance(p, start, end)
    };
    match crate::shape::segments::meeting(a, b, c, d) {
        Some((s, t)) if (-1e-9..=1.0 + 1e-9).contains(&s) && (-1e-9..=1.0 + 1e-9).contains(&t) => {
            (within(one, s), within(other, t))
        }
        _ => {
            let ends = [
                (on(a, other), one.from, nearest(other, a)),
                (on(b, other), one.to, nearest(other, b)),
                (on(c, one), nearest(one, c), other.from),
                (on(d, one), nearest(one, d), other.to),
            ];
            let least = ends.into_iter().min_by(|x, y| x.0.total_cmp(&y.0));
            least.map_or((one.from, other.from), |(_, s, t)| (s, t))
        }
    }
}

/// The gap of two nodes that touch or cross: nothing, or less by how far one reaches past the other.
///
/// A line reaches past what it crosses by how far its end is beyond; two lines that run along each other, by how far
/// they lie beside each other. Areas reach into each other as for a clearance.
fn overlap<'a>(one: &Node<'a>, other: &Node<'a>, (s, t): (f64, f64)) -> Gap<'a> {
    if one.free.is_none()
        && other.free.is_none()
        && one.of != other.of
        && !matches!((one.piece, other.piece), (Piece::Path(_), _) | (_, Piece::Path(_)))
        && let Some(deepest) = depths(one.piece, other.piece, 0.0).into_iter().next()
    {
        return deepest;
    }
    let mut past: Vec<Gap<'a>> =
        free_ends(one).into_iter().filter_map(|end| beyond(end, one, other, t)).collect();
    past.extend(free_ends(other).into_iter().filter_map(|end| beyond(end, other, one, s)).map(Gap::turned));
    past.into_iter().max_by(|x, y| x.value.total_cmp(&y.value)).unwrap_or_else(|| {
        // Neither ends anywhere near: it takes more than a length of either to part them.
        let length = |node: &Node<'_>| norm(place(node.edge.1) - place(node.edge.0));
        let deep = length(one).min(length(other));
        Gap { value: -deep, ..apart(one, other, (s, t)) }
    })
}

fn free_ends<'a>(node: &Node<'a>) -> Vec<&'a Point> {
    node.free.map(|(first, last)| vec![first, last]).unwrap_or_default()
}

/// How far the end of a line is past what the line crosses.
fn beyond<'a>(end: &'a Point, own: &Node<'a>, crossed: &Node<'a>, t: f64) -> Option<Gap<'a>> {
    let here = [own.edge.0, own.edge.1].into_iter().any(|p| std::ptr::eq(p, end));
    let met = crossed.place(t);
    if !here {
        // The line bends on its way to its end; the straight way back from there is what it has to spare.
        let back = met - place(end);
        let toward = unit(back).map_or(Coord { x: 1.0, y: 0.0 }, |back| back * -1.0);
        return Some(gap(-norm(back), toward, end, foot(crossed, t)));
    }
    let other_end = if std::ptr::eq(own.edge.0, end) { own.edge.1 } else { own.edge.0 };
    let out = unit(place(end) - place(other_end))?;
    let ahead = unit(place(crossed.edge.1) - place(crossed.edge.0))?;
    if cross(out, ahead).abs() < ALONG {
        // Along each other: past the nearest end of the other, if that has one here.
        let ends = free_ends(crossed)
            .into_iter()
            .filter(|p| [crossed.edge.0, crossed.edge.1].into_iter().any(|q| std::ptr::eq(*p, q)));
        let past = ends.map(|p| (dot(place(end) - place(p), out), p)).filter(|(past, _)| *past >= -1e-9);
        let (past, p) = past.min_by(|x, y| x.0.total_cmp(&y.0))?;
        return Some(gap(-past.max(0.0), out, end, Foot::vertex(p)));
    }
    // Square to what is crossed, from the end back to its line.
    let square = Coord { x: ahead.y, y: -ahead.x };
    let square = if dot(square, out) < 0.0 { square * -1.0 } else { square };
    let past = dot(place(end) - met, square).max(0.0);
    Some(gap(-past, square, end, foot(crossed, t)))
}

/// A gap, nothing or less, that widens as what is crossed moves `toward` and the end stays behind.
fn gap<'a>(value: f64, toward: Coord<f64>, end: &'a Point, to: Foot<'a>) -> Gap<'a> {
    Gap { value, toward, from: Foot::vertex(end), to, radii: (0.0, 0.0) }
}
