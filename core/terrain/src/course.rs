//! The way of water: steepest descent over the facets and along the edges.

use std::collections::{BTreeMap, VecDeque};

use groundrule_units::Length;

use crate::hollows::Hollow;
use crate::plane::{Frame, Xy, cross, distance, dot, edges, inside, lerp, mix, sub};
use crate::tin::rim_of;
use crate::{FacetId, Place, Rim, Tin, VertexId};

/// Places nearer than this to a vertex are at it: a nanometre.
const AT: f64 = 1e-9;
/// A direction whose share across an edge is less than this runs along it.
const PARALLEL: f64 = 1e-12;
/// So many steps without falling mean that rounding leads in circles.
const LEVEL_STEPS: usize = 1000;

/// Where water is taken up.
#[derive(Clone, Debug, PartialEq)]
pub enum Sink {
    /// At a vertex of the surface.
    At {
        /// The vertex.
        vertex: VertexId,
    },
    /// Wherever a course enters a ring.
    Inside {
        /// The ring, which closes by itself.
        ring: Vec<Place>,
    },
}

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
    /// steepest of its facets and edges. Over vertices of equal level it goes to the nearest that has lower
    /// ground beside it. On a level facet it stands.
    pub fn trace(&self, start: Place, sinks: &[Sink]) -> Option<Course> {
        let sinks = Sinks::new(self, sinks);
        let mut walker = Walker::new(self, &sinks);
        let end = walker.start(start.local(self.mesh.origin))?;
        Some(Course { places: walker.course(), end })
    }

    /// The same, going on where water stands in one of the `hollows` of this surface: it fills and overflows at
    /// its spill vertex to the far side; one that spills into its full neighbour rises to where both spill. One
    /// course for each stretch between hollows, in order; none at all where there is no ground.
    pub fn trace_over(&self, start: Place, sinks: &[Sink], hollows: &[Hollow]) -> Option<Vec<Course>> {
        let sinks = Sinks::new(self, sinks);
        let innermost = |v: u32| {
            let holding = hollows.iter().enumerate();
            let holding = holding.filter(|(_, hollow)| hollow.vertices.binary_search(&VertexId(v)).is_ok());
            holding.min_by_key(|(_, hollow)| hollow.vertices.len()).map(|(i, _)| i)
        };
        let mut courses = Vec::new();
        self.run_over(start.local(self.mesh.origin), &sinks, hollows, &innermost, &mut |walker, end| {
            courses.push(Course { places: walker.course(), end });
        })?;
        Some(courses)
    }

    /// Runs a course over hollows, shows each of its parts and gives its end.
    pub(crate) fn run_over(
        &self,
        start: Xy,
        sinks: &Sinks,
        hollows: &[Hollow],
        innermost: &dyn Fn(u32) -> Option<usize>,
        show: &mut dyn FnMut(&Walker<'_>, End),
    ) -> Option<End> {
        let mut walker = Walker::new(self, sinks);
        let mut end = walker.start(start)?;
        show(&walker, end);
        let mut full: Vec<usize> = Vec::new();
        loop {
            let stands = match end {
                End::Pit(v) => v.0,
                End::Flat(f) => self.mesh.facets[f.0 as usize][0],
                _ => return Some(end),
            };
            // The smallest hollow around that is not full yet.
            let mut hollow = innermost(stands);
            while let Some(i) = hollow.filter(|i| full.contains(i)) {
                hollow = hollows.get(i).and_then(|h| h.parent);
            }
            let Some(mut i) = hollow else { return Some(end) };
            full.push(i);
            // When all parts of a hollow are full, the water rises in the whole.
            while let Some(whole) = hollows.get(i).and_then(|h| h.parent) {
                let part = |(_, h): &(usize, &Hollow)| h.parent == Some(whole);
                if !hollows.iter().enumerate().filter(part).all(|(part, _)| full.contains(&part)) {
                    break;
                }
                full.push(whole);
                i = whole;
            }
            let Some(spill) = hollows.get(i).map(|h| h.spill.0) else { return Some(end) };
            let wet = |v: u32| {
                full.iter()
                    .filter_map(|i| hollows.get(*i))
                    .any(|h| h.vertices.binary_search(&VertexId(v)).is_ok())
            };
            walker = Walker::new(self, sinks);
            end = walker.spill(spill, &wet);
            show(&walker, end);
        }
    }
}

/// Sinks made ready for many courses.
pub(crate) struct Sinks {
    vertices: Vec<(u32, usize)>,
    rings: Vec<(usize, Frame, Vec<Xy>)>,
}

impl Sinks {
    pub(crate) fn new(tin: &Tin, sinks: &[Sink]) -> Self {
        let mut ready = Self { vertices: Vec::new(), rings: Vec::new() };
        for (i, sink) in sinks.iter().enumerate() {
            match sink {
                Sink::At { vertex } => ready.vertices.push((vertex.0, i)),
                Sink::Inside { ring } => {
                    let ring: Vec<Xy> = ring.iter().map(|p| p.local(tin.mesh.origin)).collect();
                    ready.rings.push((i, Frame::of(&ring), ring));
                }
            }
        }
        ready.vertices.sort_unstable();
        ready
    }

    fn at_vertex(&self, vertex: u32) -> Option<usize> {
        let first = self.vertices.partition_point(|(v, _)| *v < vertex);
        self.vertices.get(first).filter(|(v, _)| *v == vertex).map(|(_, i)| *i)
    }

    fn around(&self, p: Xy) -> Option<usize> {
        let own = Frame::of(&[p]);
        self.rings.iter().find(|(_, frame, ring)| frame.meets(&own) && inside(ring, p)).map(|(i, ..)| *i)
    }

    /// The first ring that a segment from outside enters, and where on it.
    fn entered(&self, a: Xy, b: Xy) -> Option<(f64, usize)> {
        let own = Frame::of(&[a, b]);
        let mut first: Option<(f64, usize)> = None;
        for (i, _, ring) in self.rings.iter().filter(|(_, frame, _)| frame.meets(&own)) {
            for (p, q) in edges(ring) {
                let (along, edge) = (sub(b, a), sub(q, p));
                let across = cross(along, edge);
                let t = cross(sub(p, a), edge) / across;
                let u = cross(sub(p, a), along) / across;
                let hit = (0.0..=1.0).contains(&t) && (0.0..=1.0).contains(&u);
                if hit && first.is_none_or(|(other, _)| t < other) {
                    first = Some((t, *i));
                }
            }
        }
        first
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

/// A course under way.
pub(crate) struct Walker<'a> {
    tin: &'a Tin,
    sinks: &'a Sinks,
    places: Vec<(Xy, f64)>,
    p: Xy,
    z: f64,
}

impl<'a> Walker<'a> {
    fn new(tin: &'a Tin, sinks: &'a Sinks) -> Self {
        Self { tin, sinks, places: Vec::new(), p: [0.0; 2], z: f64::INFINITY }
    }

    fn course(&self) -> Vec<(Place, Length)> {
        self.places.iter().map(|&(p, z)| (self.tin.place(p), Length::from_metres(z))).collect()
    }

    /// Runs from a place; none where there is no ground.
    fn start(&mut self, p: Xy) -> Option<End> {
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
    fn spill(&mut self, vertex: u32, wet: &dyn Fn(u32) -> bool) -> End {
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
                At::Vertex(v) => match self.sinks.at_vertex(v) {
                    Some(sink) => At::End(End::Sink(sink)),
                    None => self.leave(v, &|_| false),
                },
                At::End(end) => return end,
            };
            (lowest, steps) = if self.z < lowest { (self.z, 0) } else { (lowest, steps + 1) };
            if steps > LEVEL_STEPS {
                at = At::End(self.stuck());
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
        let down = [-gx, -gy];
        let mut first: Option<(f64, usize)> = None;
        for k in (0..3).filter(|k| !closed[*k]) {
            let (a, b) = (triangle[k], triangle[(k + 1) % 3]);
            let outward = outward(a, b);
            let rate = dot(down, outward);
            if rate > 0.0 {
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
        if dot([-gx, -gy], outward(triangle[edge], triangle[(edge + 1) % 3])) > 0.0 {
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
        self.level_way(vertex, blocked)
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

    /// Over vertices of the same level to the nearest with lower ground beside it, or to the outer edge.
    fn level_way(&mut self, vertex: u32, blocked: &dyn Fn(u32) -> bool) -> At {
        let mesh = &self.tin.mesh;
        let level = self.tin.z(vertex);
        let mut came = BTreeMap::from([(vertex, vertex)]);
        let mut queue = VecDeque::from([vertex]);
        let mut flat = None;
        while let Some(v) = queue.pop_front() {
            if v != vertex && (self.steepest(v, blocked).is_some() || self.rim_at(v).is_some()) {
                let mut path = vec![v];
                while let Some(&from) = path.last().and_then(|last| came.get(last)) {
                    if from == vertex {
                        break;
                    }
                    path.push(from);
                }
                let mut at = At::Vertex(vertex);
                for u in path.into_iter().rev() {
                    at = self.down_to(u);
                    if matches!(at, At::End(_)) {
                        return at;
                    }
                }
                return if matches!(at, At::Vertex(_)) { self.leave(v, blocked) } else { at };
            }
            for &facet in mesh.around(v) {
                let levels = self.tin.levels_of(facet);
                if levels.iter().all(|z| z.total_cmp(&level).is_eq()) {
                    flat = flat.or(Some(facet));
                    continue;
                }
                for (u, z) in mesh.facets[facet as usize].into_iter().zip(levels) {
                    if z.total_cmp(&level).is_eq() && !blocked(u) && !came.contains_key(&u) {
                        came.insert(u, v);
                        queue.push_back(u);
                    }
                }
            }
        }
        At::End(flat.map_or(End::Pit(VertexId(vertex)), |facet| End::Flat(FacetId(facet))))
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
