//! The way of water: steepest descent over the facets and along the edges.

use std::collections::{BTreeMap, VecDeque};
use std::sync::OnceLock;

use groundrule_units::Length;

use crate::plane::{Xy, cross, distance, dot, lerp, mix, sub};
use crate::sink::{Sink, Sinks};
use crate::tin::rim_of;
use crate::{FacetId, Place, Rim, Tin, VertexId};

/// Places nearer than this to a vertex are at it: a nanometre.
const AT: f64 = 1e-9;
/// A direction that leaves an edge by less than a nanometre a metre runs along it: so far may rounding turn a
/// wall or the ground beside it.
const PARALLEL: f64 = 1e-9;
/// So many steps without falling mean that rounding leads in circles.
const LEVEL_STEPS: usize = 1000;

/// Where a course ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum End {
    /// It leaves the ground over its outer edge.
    Outer,
    /// It reaches the rim of this hole: a building.
    Hole(usize),
    /// It stands at a vertex with no lower ground around it.
    Pit(VertexId),
    /// It stands on a level facet.
    Flat(FacetId),
    /// It is taken up by the sink of this index.
    Sink(usize),
}

/// The way of water from one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Places and the levels of the ground there, which never rise.
    pub places: Vec<(Place, Length)>,
    /// Where it ends.
    pub end: End,
}

impl Tin {
    /// The course of steepest descent from a place; none where there is no ground.
    ///
    /// Water runs straight over a facet, along an edge into which both sides fall, and from a vertex into the
    /// steepest of its facets and edges. Along edges of equal level it goes to the nearest vertex that has lower
    /// ground beside it. On a level facet it stands.
    pub fn trace(&self, start: Place, sinks: &[Sink]) -> Option<Course> {
        let sinks = Sinks::new(self, sinks);
        let mut walker = Walker::new(self, &sinks, None);
        let end = walker.start(start.local(self.mesh.origin))?;
        Some(Course { places: walker.course(), end })
    }
}

/// Where a course is.
enum At {
    /// On a facet, having come in over one of its edges or from nowhere.
    Facet { facet: u32, came: Option<usize> },
    /// Inside a facet's angle at a corner.
    Corner { facet: u32, corner: usize },
    /// On an edge of a facet that falls towards it, at a share of the edge.
    Edge { facet: u32, edge: usize },
    /// At a vertex.
    Vertex(u32),
    /// At its end.
    End(End),
}

/// Where courses from each vertex end, filled in as they are run. What a vertex has is the same whoever
/// comes first.
pub(crate) type Ends = [OnceLock<End>];

/// A course under way.
pub(crate) struct Walker<'a> {
    tin: &'a Tin,
    sinks: &'a Sinks,
    places: Vec<(Xy, f64)>,
    p: Xy,
    z: f64,
    known: Option<&'a Ends>,
    passed: Vec<u32>,
}

impl<'a> Walker<'a> {
    pub(crate) fn new(tin: &'a Tin, sinks: &'a Sinks, known: Option<&'a Ends>) -> Self {
        Self { tin, sinks, places: Vec::new(), p: [0.0; 2], z: f64::INFINITY, known, passed: Vec::new() }
    }

    pub(crate) fn course(&self) -> Vec<(Place, Length)> {
        self.places.iter().map(|&(p, z)| (self.tin.place(p), Length::from_metres(z))).collect()
    }

    /// Runs from a place; none where there is no ground.
    pub(crate) fn start(&mut self, p: Xy) -> Option<End> {
        let facet = self.tin.facet_at_local(p)?;
        let corners = self.tin.mesh.facets[facet as usize];
        let near = corners.into_iter().find(|v| distance(self.tin.mesh.xy[*v as usize], p) < AT);
        self.z = self.tin.level_on(facet, p);
        self.p = p;
        self.places.push((p, self.z));
        if let Some(sink) = self.sinks.around(p) {
            return Some(End::Sink(sink));
        }
        Some(self.run(near.map_or(At::Facet { facet, came: None }, At::Vertex)))
    }

    /// Runs from a vertex at which a hollow spills, to ground that is not under water.
    pub(crate) fn spill(&mut self, vertex: u32, wet: &dyn Fn(u32) -> bool) -> End {
        self.p = self.tin.mesh.xy[vertex as usize];
        self.z = self.tin.z(vertex);
        self.places.push((self.p, self.z));
        if let Some(sink) = self.sinks.at_vertex(vertex).or_else(|| self.sinks.around(self.p)) {
            return End::Sink(sink);
        }
        let at = self.leave(vertex, wet);
        self.run(at)
    }

    fn run(&mut self, mut at: At) -> End {
        let (mut lowest, mut steps) = (self.z, 0);
        loop {
            at = match at {
                At::Facet { facet, came } => {
                    self.over(facet, came.map_or([false; 3], |k| [0, 1, 2].map(|i| i == k)))
                }
                At::Corner { facet, corner } => self.over(facet, [0, 1, 2].map(|i| i != (corner + 1) % 3)),
                At::Edge { facet, edge } => self.across(facet, edge),
                At::Vertex(v) => self.pass(v),
                At::End(end) => {
                    self.remember(end);
                    return end;
                }
            };
            (lowest, steps) = if self.z < lowest { (self.z, 0) } else { (lowest, steps + 1) };
            if steps > LEVEL_STEPS {
                at = At::End(self.stuck());
            }
        }
    }

    /// On from a vertex: to its sink, to where other courses from there have ended, or down.
    fn pass(&mut self, vertex: u32) -> At {
        if let Some(sink) = self.sinks.at_vertex(vertex) {
            return At::End(End::Sink(sink));
        }
        if let Some(known) = self.known {
            if let Some(end) = known.get(vertex as usize).and_then(OnceLock::get) {
                return At::End(*end);
            }
            self.passed.push(vertex);
        }
        self.leave(vertex, &|_| false)
    }

    /// All vertices passed lead to this end.
    fn remember(&self, end: End) {
        for vertex in &self.passed {
            if let Some(slot) = self.known.and_then(|known| known.get(*vertex as usize)) {
                slot.get_or_init(|| end);
            }
        }
    }

    /// Where a course that rounding keeps from falling stands: at the nearest corner.
    fn stuck(&self) -> End {
        let Some(facet) = self.tin.facet_at_local(self.p) else { return End::Outer };
        let far = |v: &u32| distance(self.tin.mesh.xy[*v as usize], self.p);
        let corners = self.tin.mesh.facets[facet as usize];
        let nearest = corners.into_iter().min_by(|a, b| far(a).total_cmp(&far(b)));
        End::Pit(VertexId(nearest.unwrap_or(corners[0])))
    }

    /// Goes to a place that is lower or as high; ends the course where that leads into a ring.
    fn step(&mut self, to: Xy, z: f64, at: At) -> At {
        let z = z.min(self.z);
        if let Some((t, sink)) = self.sinks.entered(self.p, to) {
            self.places.push((lerp(self.p, to, t), mix(self.z, z, t)));
            return At::End(End::Sink(sink));
        }
        if self.places.last().is_none_or(|(p, _)| distance(*p, to) > 0.0) {
            self.places.push((to, z));
        }
        (self.p, self.z) = (to, z);
        at
    }

    fn down_to(&mut self, v: u32) -> At {
        self.step(self.tin.mesh.xy[v as usize], self.tin.z(v), At::Vertex(v))
    }

    /// Straight down a facet to the edge where that leads, other than the closed ones.
    fn over(&mut self, facet: u32, closed: [bool; 3]) -> At {
        let [gx, gy] = self.tin.slope_of(facet);
        if gx.abs() + gy.abs() <= 0.0 {
            return At::End(End::Flat(FacetId(facet)));
        }
        let triangle = self.tin.mesh.triangle(facet);
        let corners = self.tin.mesh.facets[facet as usize];
        let (down, fall) = ([-gx, -gy], libm::hypot(gx, gy));
        let mut first: Option<(f64, usize)> = None;
        for k in (0..3).filter(|k| !closed[*k]) {
            let (a, b) = (triangle[k], triangle[(k + 1) % 3]);
            let outward = outward(a, b);
            let rate = dot(down, outward);
            if rate > PARALLEL * distance(a, b) * fall {
                let t = (dot(sub(a, self.p), outward) / rate).max(0.0);
                if first.is_none_or(|(other, _)| t < other) {
                    first = Some((t, k));
                }
            }
        }
        let Some((t, edge)) = first else {
            // Only rounding leads here: along the edge it came over.
            let lowest = corners.into_iter().min_by(|a, b| self.tin.z(*a).total_cmp(&self.tin.z(*b)));
            return self.down_to(lowest.unwrap_or(corners[0]));
        };
        let (from, to) = (edge, (edge + 1) % 3);
        let (a, b) = (triangle[from], triangle[to]);
        let q = [self.p[0] + down[0] * t, self.p[1] + down[1] * t];
        let along = sub(b, a);
        let share = (dot(sub(q, a), along) / dot(along, along)).clamp(0.0, 1.0);
        let long = distance(a, b);
        if share * long < AT {
            return self.down_to(corners[from]);
        }
        if (1.0 - share) * long < AT {
            return self.down_to(corners[to]);
        }
        let z = mix(self.tin.z(corners[from]), self.tin.z(corners[to]), share);
        self.step(lerp(a, b, share), z, At::Edge { facet, edge })
    }

    /// From a facet that falls towards an edge: over it, or along it where the other side falls to it as well.
    fn across(&mut self, facet: u32, edge: usize) -> At {
        let mesh = &self.tin.mesh;
        let beyond = mesh.next[facet as usize][edge];
        if let Some(rim) = rim_of(beyond) {
            return At::End(end_at(rim));
        }
        let [gx, gy] = self.tin.slope_of(beyond);
        if gx.abs() + gy.abs() <= 0.0 {
            return At::End(End::Flat(FacetId(beyond)));
        }
        let triangle = mesh.triangle(facet);
        let (p, q) = (triangle[edge], triangle[(edge + 1) % 3]);
        if dot([-gx, -gy], outward(p, q)) > PARALLEL * distance(p, q) * libm::hypot(gx, gy) {
            return At::Facet { facet: beyond, came: Some(mesh.edge_to(beyond, facet)) };
        }
        let corners = mesh.facets[facet as usize];
        let (a, b) = (corners[edge], corners[(edge + 1) % 3]);
        let lower = self.tin.z(a).total_cmp(&self.tin.z(b)).then(a.cmp(&b)).is_lt();
        self.down_to(if lower { a } else { b })
    }

    /// From a vertex down the steepest of its facets and edges that lead to no blocked vertex.
    fn leave(&mut self, vertex: u32, blocked: &dyn Fn(u32) -> bool) -> At {
        if let Some(best) = self.steepest(vertex, blocked) {
            return best.unwrap_or_else(|u| self.down_to(u));
        }
        if let Some(rim) = self.rim_at(vertex) {
            return At::End(end_at(rim));
        }
        self.level_way(&[vertex], false, blocked)
    }

    /// The steepest way down from a vertex: a place to be, or a vertex to go to; none when nothing is lower.
    fn steepest(&self, vertex: u32, blocked: &dyn Fn(u32) -> bool) -> Option<Result<At, u32>> {
        let mesh = &self.tin.mesh;
        let here = mesh.xy[vertex as usize];
        let mut best: Option<(f64, Result<At, u32>)> = None;
        let mut offer = |slope: f64, way: Result<At, u32>| {
            if slope > 0.0 && best.as_ref().is_none_or(|(other, _)| slope > *other) {
                best = Some((slope, way));
            }
        };
        for &facet in mesh.around(vertex) {
            let i = mesh.corner_of(facet, vertex);
            let (after, before) = ((i + 1) % 3, (i + 2) % 3);
            let corners = mesh.facets[facet as usize];
            let [gx, gy] = self.tin.slope_of(facet);
            let down = [-gx, -gy];
            let ways = [corners[after], corners[before]];
            let [first, second] = ways.map(|v| sub(mesh.xy[v as usize], here));
            let open = ways.map(|v| !blocked(v));
            if open == [true; 2] && cross(first, down) > 0.0 && cross(down, second) > 0.0 {
                offer(libm::hypot(gx, gy), Ok(At::Corner { facet, corner: i }));
            }
            for (way, edge, along) in [(0, i, first), (1, before, second)] {
                let to = ways[way];
                if !open[way] {
                    continue;
                }
                let long = libm::hypot(along[0], along[1]);
                let slope = (self.tin.z(vertex) - self.tin.z(to)) / long;
                // Towards a rim the water goes over it, unless the ground falls along it.
                let beside = if way == 0 { -cross(first, down) } else { cross(second, down) };
                let pressed = beside > PARALLEL * long * libm::hypot(gx, gy);
                match rim_of(mesh.next[facet as usize][edge]) {
                    Some(rim) if pressed => offer(slope, Ok(At::End(end_at(rim)))),
                    _ => offer(slope, Err(to)),
                }
            }
        }
        best.map(|(_, way)| way)
    }

    /// What ends the ground at a vertex: the outer edge before any hole.
    fn rim_at(&self, vertex: u32) -> Option<Rim> {
        let mesh = &self.tin.mesh;
        let rims = mesh.around(vertex).iter().flat_map(|&facet| {
            let i = mesh.corner_of(facet, vertex);
            [i, (i + 2) % 3].into_iter().filter_map(move |k| rim_of(mesh.next[facet as usize][k]))
        });
        rims.min()
    }

    /// From level ground on, over it to the vertex that is fewest edges away of those that have lower ground
    /// beside them, are sinks or are at a rim; none when there is none.
    pub(crate) fn leave_level(&mut self, facet: u32, wet: &dyn Fn(u32) -> bool) -> Option<End> {
        let mut corners = self.tin.mesh.facets[facet as usize];
        corners.sort_by_key(|v| (self.sinks.at_vertex(*v).is_none(), *v));
        let exit = |at: &At| !matches!(at, At::End(End::Pit(_) | End::Flat(_)));
        let at = Some(self.level_way(&corners, true, wet)).filter(exit)?;
        Some(self.run(at))
    }

    /// Over vertices of the same level to the nearest with a way on, across level facets only if so asked.
    fn level_way(&mut self, starts: &[u32], over_facets: bool, blocked: &dyn Fn(u32) -> bool) -> At {
        let mesh = &self.tin.mesh;
        let mut came = BTreeMap::new();
        let mut queue = VecDeque::new();
        let mut flat = None;
        let mut reach = |queue: &mut VecDeque<u32>, v: u32, from: u32| {
            if !blocked(v) && !came.contains_key(&v) {
                came.insert(v, from);
                queue.push_back(v);
            }
        };
        for v in starts {
            reach(&mut queue, *v, *v);
        }
        let mut exit = None;
        while let Some(v) = queue.pop_front() {
            let sink = self.sinks.at_vertex(v).is_some();
            if sink || self.steepest(v, blocked).is_some() || self.rim_at(v).is_some() {
                exit = Some(v);
                break;
            }
            for &facet in mesh.around(v) {
                let alike = self.tin.levels_of(facet).map(|z| z.total_cmp(&self.tin.z(v)).is_eq());
                if alike == [true; 3] {
                    flat = flat.or(Some(facet));
                    if !over_facets {
                        continue;
                    }
                }
                let corners = mesh.facets[facet as usize].into_iter().zip(alike);
                corners.filter(|(_, alike)| *alike).for_each(|(u, _)| reach(&mut queue, u, v));
            }
        }
        let Some(exit) = exit else {
            let pit = starts.first().map_or(End::Outer, |v| End::Pit(VertexId(*v)));
            return At::End(flat.map_or(pit, |facet| End::Flat(FacetId(facet))));
        };
        let mut path = vec![exit];
        while let Some((last, from)) = path.last().and_then(|last| Some((*last, *came.get(last)?))) {
            if from == last {
                break;
            }
            path.push(from);
        }
        for u in path.into_iter().rev() {
            let at = self.down_to(u);
            if matches!(at, At::End(_)) {
                return at;
            }
        }
        match self.sinks.at_vertex(exit) {
            Some(sink) => At::End(End::Sink(sink)),
            None => self.leave(exit, blocked),
        }
    }
}

/// The normal of an edge of a facet that points out of it, as long as the edge.
fn outward(a: Xy, b: Xy) -> Xy {
    [b[1] - a[1], a[0] - b[0]]
}

fn end_at(rim: Rim) -> End {
    match rim {
        Rim::Outer => End::Outer,
        Rim::Hole(hole) => End::Hole(hole),
    }
}
