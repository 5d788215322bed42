//! The stretches of a segment that run inside areas.

use geo::Coord;
use groundrule_survey::Point;

use super::piece::Piece;
use super::rings::Lies;
use super::segments::{at, cross, dot, norm, place, right, unit};
use crate::terms::Gather;

/// One stretch of a segment.
#[derive(Debug)]
pub(crate) struct Stretch<'a> {
    pub(crate) from: Coord<f64>,
    pub(crate) to: Coord<f64>,
    pub(crate) length: f64,
    segment: (&'a Point, &'a Point),
    ends: [Cut<'a>; 2],
}

/// Where a stretch starts or ends, and what it moves with.
#[derive(Clone, Copy, Debug)]
struct Cut<'a> {
    t: f64,
    edge: Bound<'a>,
}

#[derive(Clone, Copy, Debug)]
enum Bound<'a> {
    /// An end of the segment itself.
    End,
    /// An edge of the area, at a station along it.
    Edge(&'a Point, &'a Point, f64),
    /// A circle.
    Circle(&'a Point),
}

impl Stretch<'_> {
    /// Adds how the length moves with the points of the segment and of the edges that cut it.
    pub(crate) fn gather(&self, gather: &mut Gather) {
        let (a, b) = self.segment;
        let Some(ahead) = unit(place(b) - place(a)) else { return };
        for (cut, sign) in self.ends.iter().zip([-1.0, 1.0]) {
            let here = at(place(a), place(b), cut.t);
            // The way out of the edge that cuts; a cut slides along the segment by how far the edge moves
            // that way against the segment, over how squarely they cross.
            let across = match cut.edge {
                Bound::End => None,
                Bound::Edge(p, q, _) => unit(right(place(q) - place(p))),
                Bound::Circle(centre) => unit(here - place(centre)),
            };
            let slide = across.filter(|n| dot(*n, ahead).abs() > 1e-9).map(|n| n / dot(n, ahead) * sign);
            let own = ahead * sign - slide.unwrap_or_default();
            gather.point(a, own * (1.0 - cut.t));
            gather.point(b, own * cut.t);
            if let Some(slide) = slide {
                match cut.edge {
                    Bound::End => {}
                    Bound::Edge(p, q, t) => {
                        gather.point(p, slide * (1.0 - t));
                        gather.point(q, slide * t);
                    }
                    Bound::Circle(centre) => gather.point(centre, slide),
                }
            }
        }
    }
}

/// The stretches of a segment inside any of the areas.
pub(crate) fn stretches<'a>(a: &'a Point, b: &'a Point, areas: &'a [Piece<'_>]) -> Vec<Stretch<'a>> {
    let (start, end) = (place(a), place(b));
    let mut cuts = vec![Cut { t: 0.0, edge: Bound::End }, Cut { t: 1.0, edge: Bound::End }];
    for area in areas {
        if let Piece::Disc { centre, radius } = area {
            let stations = circle_stations(start, end, place(centre), *radius);
            cuts.extend(stations.into_iter().flatten().map(|t| Cut { t, edge: Bound::Circle(centre) }));
        }
        for (p, q) in area.edges() {
            let met = super::segments::meeting(start, end, place(p), place(q));
            let met = met.filter(|(_, s)| (0.0..=1.0).contains(s));
            cuts.extend(met.map(|(t, s)| Cut { t, edge: Bound::Edge(p, q, s) }));
        }
    }
    cuts.retain(|cut| (0.0..=1.0).contains(&cut.t));
    cuts.sort_by(|x, y| x.t.total_cmp(&y.t));
    let length = norm(end - start);
    let mut found: Vec<Stretch<'a>> = Vec::new();
    for pair in cuts.windows(2) {
        let &[from, to] = pair else { continue };
        let middle = at(start, end, f64::midpoint(from.t, to.t));
        if to.t <= from.t || !areas.iter().any(|area| inside(area, middle)) {
            continue;
        }
        let stretch = Stretch {
            from: at(start, end, from.t),
            to: at(start, end, to.t),
            length: (to.t - from.t) * length,
            segment: (a, b),
            ends: [from, to],
        };
        match found.last_mut() {
            // Areas that lie over each other cut a stretch where neither ends it.
            Some(last) if last.ends[1].t >= from.t => {
                last.length += stretch.length;
                last.to = stretch.to;
                last.ends[1] = to;
            }
            _ => found.push(stretch),
        }
    }
    found
}

fn inside(area: &Piece, p: Coord<f64>) -> bool {
    match area {
        Piece::Disc { centre, radius } => norm(p - place(centre)) < *radius,
        Piece::Area { .. } | Piece::Path(_) => area.lies(p) == Lies::Inside,
    }
}

pub(crate) fn circle_stations(
    a: Coord<f64>,
    b: Coord<f64>,
    centre: Coord<f64>,
    radius: f64,
) -> [Option<f64>; 2] {
    let along = b - a;
    let square = dot(along, along);
    let off = cross(along, centre - a);
    let half = radius * radius * square - off * off;
    if square <= 0.0 || half <= 0.0 {
        return [None, None];
    }
    let middle = dot(centre - a, along);
    [-1.0, 1.0].map(|sign| Some((middle + sign * libm::sqrt(half)) / square))
}
