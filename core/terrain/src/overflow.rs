//! Courses that go on where hollows are full.

use std::sync::OnceLock;

use crate::course::{Course, End, Ends, Walker};
use crate::hollows::Hollow;
use crate::plane::Xy;
use crate::sink::{Sink, Sinks};
use crate::{Place, Tin, VertexId};

/// Hollows of a surface with what is asked of them on the way.
pub(crate) struct Basins<'a> {
    hollows: &'a [Hollow],
    parts: Vec<Vec<usize>>,
    /// The smallest hollow of each vertex, when it is worth a table.
    innermost: Option<Vec<Option<usize>>>,
}

impl<'a> Basins<'a> {
    pub(crate) fn new(hollows: &'a [Hollow]) -> Self {
        let mut parts = vec![Vec::new(); hollows.len()];
        for (i, hollow) in hollows.iter().enumerate() {
            if let Some(own) = hollow.parent.and_then(|parent| parts.get_mut(parent)) {
                own.push(i);
            }
        }
        Self { hollows, parts, innermost: None }
    }

    /// The same with a table for many questions.
    pub(crate) fn with_table(hollows: &'a [Hollow], vertices: usize) -> Self {
        let mut innermost = vec![None; vertices];
        // Parents come after their parts, so the first to claim a vertex is the smallest.
        for (i, hollow) in hollows.iter().enumerate() {
            for vertex in &hollow.vertices {
                if let Some(slot) = innermost.get_mut(vertex.0 as usize) {
                    *slot = slot.or(Some(i));
                }
            }
        }
        Self { innermost: Some(innermost), ..Self::new(hollows) }
    }

    /// The smallest hollow that a vertex is in.
    pub(crate) fn innermost(&self, vertex: u32) -> Option<usize> {
        if let Some(table) = &self.innermost {
            return *table.get(vertex as usize)?;
        }
        let holding = (0..self.hollows.len()).filter(|i| self.holds(*i, vertex));
        holding.min_by_key(|i| self.hollows[*i].vertices.len())
    }

    fn holds(&self, hollow: usize, vertex: u32) -> bool {
        self.hollows.get(hollow).is_some_and(|h| h.vertices.binary_search(&VertexId(vertex)).is_ok())
    }

    fn parent(&self, hollow: usize) -> Option<usize> {
        self.hollows.get(hollow).and_then(|h| h.parent)
    }

    /// Fills the smallest hollow of a vertex that is not full, and each hollow whose parts are all full then.
    /// Gives the vertex over which the water leaves.
    fn fill(&self, vertex: u32, full: &mut Vec<usize>) -> Option<u32> {
        let mut hollow = self.innermost(vertex);
        while let Some(i) = hollow.filter(|i| full.contains(i)) {
            hollow = self.parent(i);
        }
        let mut filled = hollow?;
        full.push(filled);
        while let Some(whole) = self.parent(filled) {
            let parts = self.parts.get(whole).map_or(&[][..], Vec::as_slice);
            if !parts.iter().all(|part| full.contains(part)) {
                break;
            }
            full.push(whole);
            filled = whole;
        }
        self.hollows.get(filled).map(|h| h.spill.0)
    }
}

impl Tin {
    /// The same as [`Tin::trace`], going on where water stands. In one of the `hollows` of this surface it fills
    /// that and overflows at its spill vertex to the far side; one that spills into its full neighbour rises to
    /// where both spill. On level ground it goes to the vertex with a way on that is fewest edges away, which is a
    /// guess: no levels say where level ground sends its water. One course for each stretch between, in order; none where there is no ground.
    pub fn trace_over(&self, start: Place, sinks: &[Sink], hollows: &[Hollow]) -> Option<Vec<Course>> {
        let (sinks, basins) = (Sinks::new(self, sinks), Basins::new(hollows));
        let mut walker = Walker::new(self, &sinks, None);
        let mut end = walker.start(start.local(self.mesh.origin))?;
        let mut courses = vec![Course { places: walker.course(), end }];
        let mut full = Vec::new();
        while let Some((walker, next)) = self.go_on(end, &sinks, &basins, &mut full, None) {
            let mut places = walker.course();
            // Off level ground it goes on from where it stood, when that is on the facet it leaves.
            if let (End::Flat(facet), Some(stood)) = (end, courses.last().and_then(|c| c.places.last()))
                && self.weights(facet, stood.0).iter().all(|w| *w > -1e-9)
                && places.first().is_some_and(|first| first.1 == stood.1 && first.0 != stood.0)
            {
                places.insert(0, *stood);
            }
            courses.push(Course { places, end: next });
            end = next;
        }
        Some(courses)
    }

    /// The course on from where water stands: out of a hollow that is not full yet, or off level ground.
    fn go_on<'a>(
        &'a self,
        end: End,
        sinks: &'a Sinks,
        basins: &Basins<'_>,
        full: &mut Vec<usize>,
        known: Option<&'a Ends>,
    ) -> Option<(Walker<'a>, End)> {
        let spill = basins.fill(self.stands_at(end)?, full);
        let wet = |v: u32| full.iter().any(|hollow| basins.holds(*hollow, v));
        let mut walker = Walker::new(self, sinks, known);
        let end = match (spill, end) {
            // Hollows of another surface lead nowhere.
            (Some(spill), _) => self.vertices().get(spill as usize).map(|_| walker.spill(spill, &wet)),
            (None, End::Flat(facet)) => walker.leave_level(facet.0, &wet),
            _ => None,
        };
        Some((walker, end?))
    }

    /// A vertex of the water that stands where a course ends.
    fn stands_at(&self, end: End) -> Option<u32> {
        match end {
            End::Pit(vertex) => Some(vertex.0),
            End::Flat(facet) => self.mesh.facets.get(facet.0 as usize).map(|corners| corners[0]),
            _ => None,
        }
    }
}

/// Where water ends from any place, over hollows; for asking often.
pub(crate) struct Outlets<'a> {
    tin: &'a Tin,
    sinks: Sinks,
    basins: Basins<'a>,
    /// The end from each vertex, up to the first hollow.
    from_vertex: Vec<OnceLock<End>>,
    /// The last end of what stands in each hollow.
    from_hollow: Vec<OnceLock<End>>,
    /// The last end of what stands on each level facet.
    from_facet: Vec<OnceLock<End>>,
}

impl<'a> Outlets<'a> {
    pub(crate) fn new(tin: &'a Tin, sinks: &[Sink], hollows: &'a [Hollow]) -> Self {
        Self {
            tin,
            sinks: Sinks::new(tin, sinks),
            basins: Basins::with_table(hollows, tin.vertices().len()),
            from_vertex: tin.vertices().iter().map(|_| OnceLock::new()).collect(),
            from_hollow: hollows.iter().map(|_| OnceLock::new()).collect(),
            from_facet: tin.facet_ids().map(|_| OnceLock::new()).collect(),
        }
    }

    /// The last end of the water from a place; none where there is no ground.
    pub(crate) fn of(&self, p: Xy) -> Option<End> {
        let end = Walker::new(self.tin, &self.sinks, Some(&self.from_vertex)).start(p)?;
        let hollow = self.tin.stands_at(end).and_then(|vertex| self.basins.innermost(vertex));
        let slot = match (hollow, end) {
            (Some(hollow), _) => self.from_hollow.get(hollow),
            (None, End::Flat(facet)) => self.from_facet.get(facet.0 as usize),
            _ => None,
        };
        let Some(slot) = slot else { return Some(end) };
        // All water of a hollow or of a level facet goes the same way on, so it is followed once.
        Some(*slot.get_or_init(|| {
            let (mut end, mut full) = (end, Vec::new());
            let (sinks, known) = (&self.sinks, Some(self.from_vertex.as_slice()));
            while let Some((_, next)) = self.tin.go_on(end, sinks, &self.basins, &mut full, known) {
                end = next;
            }
            end
        }))
    }
}
