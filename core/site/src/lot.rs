//! How wide and how deep a lot is, seen from its front line.
//!
//! *Frontage*: the length of the front line. *Depth*: from the middle of its chord, square to it, to the rear line;
//! where that way misses the rear line, to the farthest place of it, and where there is none, to the farthest place
//! of the lot. *Width*: across the lot, parallel to that chord, halfway along the depth. The pole of a flag lot
//! counts for neither: both are taken from its end. A lot with fronts on two streets is seen from the shorter, and
//! the other is where its depth ends.

use geo::Coord;
use groundrule_survey::{Point, Shape};
use groundrule_units::{Dimension, Length};

use crate::shape::rings::edges;
use crate::shape::segments::{at, cross, dot, meeting, norm, place, position, right, unit};
use crate::terms::{Gather, combine};
use crate::{Fact, Feature, FeatureId, Mark, Measured, Need, Site, Terms};

/// Places nearer than this, in metres, are on the front itself.
const AT_FRONT: f64 = 1e-9;

type Edge<'a> = (&'a Point, &'a Point);

impl Site {
    /// The length of a lot's front line.
    pub fn frontage(&self, lot: FeatureId) -> Measured {
        let Some(front) = self.front(lot) else { return self.no_front(lot) };
        let lengths: Vec<Measured> = front.lines.iter().map(|line| self.length(*line)).collect();
        Measured::sum(&lengths).ok().flatten().unwrap_or_else(|| self.no_front(lot))
    }

    /// How far a lot reaches back from its front line.
    pub fn lot_depth(&self, lot: FeatureId) -> Measured {
        let Some((front, near, far)) = self.reach(lot) else { return self.no_front(lot) };
        let marks = vec![Mark::Span(position(front.back(near.value)), position(front.back(far.value)))];
        let terms = combine(&far.terms, 1.0, &near.terms, -1.0);
        Measured::new(Length::from_metres(far.value - near.value).into(), terms).marked(marks)
    }

    /// How wide a lot is halfway along its depth.
    pub fn lot_width(&self, lot: FeatureId) -> Measured {
        let Some((front, near, far)) = self.reach(lot) else { return self.no_front(lot) };
        let half = Back {
            value: f64::midpoint(near.value, far.value),
            terms: combine(&near.terms, 0.5, &far.terms, 0.5),
        };
        let Some((left, right)) = self.ring(lot).and_then(|ring| front.across(ring, half.value)) else {
            return self.no_front(lot);
        };
        let mut gather = Gather::default();
        front.side(left, &half, -1.0, &mut gather);
        front.side(right, &half, 1.0, &mut gather);
        let middle = front.back(half.value);
        let ends = [left, right].map(|(_, off)| position(middle + front.along * off));
        Measured::new(Length::from_metres(right.1 - left.1).into(), gather.finish())
            .marked(vec![Mark::Span(ends[0], ends[1])])
    }

    /// The front line of a lot; none while it is not known.
    fn front(&self, lot: FeatureId) -> Option<Front<'_>> {
        let lines: Vec<FeatureId> = self
            .lines_of(lot)
            .filter(|line| self.feature(*line).is_some_and(|line| !is_inside(line)))
            .collect();
        let is_front = |line: &FeatureId| self.has_role(*line, "front");
        let first = (0..lines.len()).find(|i| {
            let before = (i + lines.len() - 1) % lines.len();
            is_front(&lines[*i]) && !is_front(&lines[before])
        });
        let turned = lines.iter().cycle().skip(first.unwrap_or(0)).take(lines.len());
        let mut groups: Vec<Vec<FeatureId>> = Vec::new();
        let mut open = false;
        for line in turned {
            match (is_front(line), groups.last_mut()) {
                (true, Some(group)) if open => group.push(*line),
                (true, _) => groups.push(vec![*line]),
                (false, _) => {}
            }
            open = is_front(line);
        }
        let size =
            |group: &Vec<FeatureId>| -> f64 { group.iter().map(|l| self.length(*l).value().si()).sum() };
        let shortest = groups.into_iter().min_by(|a, b| size(a).total_cmp(&size(b)))?;
        Front::of(self, shortest)
    }

    /// The front of a lot, where its pole ends (at the front itself for others), and where its depth does.
    fn reach(&self, lot: FeatureId) -> Option<(Front<'_>, Back, Back)> {
        let front = self.front(lot)?;
        let ring = self.ring(lot)?;
        let near = self.pole_of(lot).map_or(Back::default(), |pole| front.to(pole));
        let of_role = |role: &str| -> Vec<Edge<'_>> {
            let lines =
                self.lines_of(lot).filter(|line| self.has_role(*line, role) && !front.lines.contains(line));
            lines
                .filter_map(|line| self.path(line))
                .flat_map(|path| path.iter().zip(path.iter().skip(1)))
                .collect()
        };
        let mut rear = of_role("rear");
        if rear.is_empty() {
            rear = of_role("front");
        }
        let start = near.value.max(AT_FRONT);
        let hit = rear
            .iter()
            .filter_map(|edge| front.hit(*edge))
            .filter(|(depth, _)| *depth > start)
            .min_by(|a, b| a.0.total_cmp(&b.0));
        let far = if let Some((depth, (edge, share))) = hit {
            front.to_edge(depth, edge, share)
        } else {
            let of_rear = rear.iter().flat_map(|(a, b)| [*a, *b]);
            let places: Vec<&Point> = if rear.is_empty() { ring.iter().collect() } else { of_rear.collect() };
            let backs = places.into_iter().map(|point| front.to(point));
            backs.reduce(|far, other| if other.value > far.value { other } else { far })?
        };
        (far.value > start).then_some((front, near, far))
    }

    fn ring(&self, lot: FeatureId) -> Option<&[Point]> {
        match &self.feature(lot)?.shape {
            Shape::Outline { ring, .. } => Some(ring),
            _ => None,
        }
    }

    pub(crate) fn path(&self, line: FeatureId) -> Option<&[Point]> {
        match &self.feature(line)?.shape {
            Shape::Line { path, .. } => Some(path),
            _ => None,
        }
    }

    fn has_role(&self, line: FeatureId, role: &str) -> bool {
        let fact = self.feature(line).and_then(|line| line.facts.get("role"));
        matches!(fact, Some(Fact::Text(text)) if text == role)
    }

    fn no_front(&self, lot: FeatureId) -> Measured {
        Measured::lacking(Dimension::Length, vec![self.front_need(lot)])
    }

    /// What is lacking where a lot has no front.
    pub fn front_need(&self, lot: FeatureId) -> Need {
        let name = self.feature(lot).map_or("the lot", |lot| lot.id.0.as_str());
        Need {
            what: format!("the front line of {name}"),
            how: "Say `role = \"front\"` on a side of the lot, or name the streets along its sides."
                .to_owned(),
        }
    }
}

/// True for a line set out inside its lot, which is no edge of it.
pub(crate) fn is_inside(line: &Feature) -> bool {
    line.facts.get("set_out") == Some(&Fact::Flag(true))
}

/// A distance back from the front.
#[derive(Debug, Default)]
struct Back {
    value: f64,
    terms: Terms,
}

/// A front line with the frame it gives.
struct Front<'a> {
    lines: Vec<FeatureId>,
    from: &'a Point,
    until: &'a Point,
    middle: Coord<f64>,
    /// Along the chord.
    along: Coord<f64>,
    /// Square to it, into the lot.
    inward: Coord<f64>,
    chord: f64,
}

/// A place on an edge: the edge and how far across from the middle of the front.
type Side<'a> = (Edge<'a>, f64);

impl<'a> Front<'a> {
    fn of(site: &'a Site, lines: Vec<FeatureId>) -> Option<Self> {
        let from = lines.first().and_then(|line| site.path(*line))?.first()?;
        let until = lines.last().and_then(|line| site.path(*line))?.last()?;
        let way = place(until) - place(from);
        let along = unit(way)?;
        Some(Self {
            lines,
            from,
            until,
            middle: (place(from) + place(until)) / 2.0,
            along,
            inward: right(along) * -1.0,
            chord: norm(way),
        })
    }

    fn back(&self, depth: f64) -> Coord<f64> {
        self.middle + self.inward * depth
    }

    /// How a value moves with the ends of the front: by `shift` for each metre its middle moves, and by `swing` for
    /// each radian it turns.
    fn moves(&self, shift: Coord<f64>, swing: f64, gather: &mut Gather) {
        let turn = self.inward * (swing / self.chord);
        gather.point(self.from, shift / 2.0 - turn);
        gather.point(self.until, shift / 2.0 + turn);
    }

    /// How far back a point lies.
    fn to(&self, point: &Point) -> Back {
        let off = place(point) - self.middle;
        let mut gather = Gather::default();
        gather.point(point, self.inward);
        self.moves(self.inward * -1.0, -dot(off, self.along), &mut gather);
        Back { value: dot(off, self.inward), terms: gather.finish() }
    }

    /// Where the way back from the middle meets an edge: how far back, and how far along the edge.
    fn hit(&self, edge: Edge<'a>) -> Option<(f64, (Edge<'a>, f64))> {
        let (depth, share) = meeting(self.middle, self.middle + self.inward, place(edge.0), place(edge.1))?;
        (0.0..=1.0).contains(&share).then_some((depth, (edge, share)))
    }

    fn to_edge(&self, depth: f64, (a, b): Edge<'a>, share: f64) -> Back {
        let mut gather = Gather::default();
        if let Some(square) = unit(right(place(b) - place(a))) {
            // The foot stays on the edge: only what moves square to it counts.
            let steep = dot(square, self.inward);
            let pull = square / steep;
            gather.point(a, pull * (1.0 - share));
            gather.point(b, pull * share);
            self.moves(pull * -1.0, depth * dot(square, self.along) / steep, &mut gather);
        }
        Back { value: depth, terms: gather.finish() }
    }

    /// The stretch across a ring at a depth that holds the way back, else the longest.
    fn across<'b>(&self, ring: &'b [Point], depth: f64) -> Option<(Side<'b>, Side<'b>)> {
        let back = |p: &Point| dot(place(p) - self.middle, self.inward);
        let mut found: Vec<Side<'b>> = edges(ring)
            .filter(|(a, b)| (back(a) < depth) != (back(b) < depth))
            .map(|(a, b)| {
                let share = (depth - back(a)) / (back(b) - back(a));
                ((a, b), dot(at(place(a), place(b), share) - self.middle, self.along))
            })
            .collect();
        found.sort_by(|a, b| a.1.total_cmp(&b.1));
        let stretches = || found.chunks_exact(2).map(|ends| (ends[0], ends[1]));
        let holding = stretches().find(|(left, right)| left.1 <= 0.0 && 0.0 <= right.1);
        let longer = |a: (Side<'b>, Side<'b>), b: (Side<'b>, Side<'b>)| {
            if b.1.1 - b.0.1 > a.1.1 - a.0.1 { b } else { a }
        };
        holding.or_else(|| stretches().reduce(longer))
    }

    /// How one end of the width moves, times a sign.
    fn side(&self, ((a, b), off): Side<'_>, half: &Back, sign: f64, gather: &mut Gather) {
        let along = place(b) - place(a);
        let Some(square) = unit(right(along)) else { return };
        let (steep, askew) = (dot(square, self.along), dot(square, self.inward));
        if steep == 0.0 {
            return;
        }
        let pull = square * (sign / steep);
        let foot = self.back(half.value) + self.along * off;
        let share = cross(foot - place(a), self.inward) / cross(along, self.inward);
        let share = if share.is_finite() { share } else { 0.5 };
        gather.point(a, pull * (1.0 - share));
        gather.point(b, pull * share);
        gather.terms(&half.terms, -sign * askew / steep);
        self.moves(pull * -1.0, sign * (half.value * steep - off * askew) / steep, gather);
    }
}
