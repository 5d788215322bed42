//! A surface, what its corners rest on, and how a figure errs with them.
//!
//! Within a facet of gradient `g`, moving a corner sideways by `d` does to the surface what raising it by `-g . d` does.
//! So each corner counts by its level less `g` times its place, and first order needs nothing else.

use geo::Coord;
use groundrule_survey::{Point, Surface};
use groundrule_terrain::{FacetId, Place, Tin};
use groundrule_units::{Length, LevelTerm};

use crate::shape::segments::place;
use crate::terms::Gather;
use crate::{FeatureId, Need, Terms};

/// A corner of a surface.
#[derive(Clone, Debug)]
pub(crate) struct Corner {
    /// Where it is.
    pub(crate) at: Point,
    /// How its level errs.
    pub(crate) error: Terms,
    /// What to take in the field where its level is guessed; none where it was taken.
    pub(crate) guessed: Option<Need>,
    /// Where its level is stated itself; none where it is guessed or follows from others.
    pub(crate) taken: Option<Taken>,
}

/// A level as it was stated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Taken {
    /// Of which ground. What stays is of the existing one on both surfaces.
    pub(crate) of: Surface,
    /// What it was said to be the level of.
    pub(crate) term: Option<LevelTerm>,
}

/// A surface of the ground.
#[derive(Debug)]
pub struct Ground {
    pub(crate) tin: Tin,
    /// By vertex of the surface.
    pub(crate) corners: Vec<Corner>,
    /// Which building each hole is.
    pub(crate) buildings: Vec<FeatureId>,
}

/// A level somewhere on a surface.
#[derive(Clone, Debug)]
pub(crate) struct Height {
    /// In metres.
    pub(crate) value: f64,
    pub(crate) terms: Terms,
    pub(crate) needs: Vec<Need>,
}

pub(crate) fn to_place(at: Coord<f64>) -> Place {
    Place { x: Length::from_metres(at.x), y: Length::from_metres(at.y) }
}

pub(crate) fn to_coord(at: Place) -> Coord<f64> {
    Coord { x: at.x.metres(), y: at.y.metres() }
}

/// In order and each once.
pub(crate) fn sorted(mut needs: Vec<Need>) -> Vec<Need> {
    needs.sort();
    needs.dedup();
    needs
}

impl Ground {
    /// The triangles of the surface.
    pub fn tin(&self) -> &Tin {
        &self.tin
    }

    /// True where the level of a vertex was guessed, for want of one that was taken.
    pub fn is_guessed(&self, vertex: groundrule_terrain::VertexId) -> bool {
        self.corners.get(vertex.0 as usize).is_none_or(|corner| corner.guessed.is_some())
    }

    pub(crate) fn corners_of(&self, facet: FacetId) -> [Option<&Corner>; 3] {
        self.tin.corners(facet).map(|vertex| self.corners.get(vertex.0 as usize))
    }

    pub(crate) fn places_of(&self, facet: FacetId) -> [Coord<f64>; 3] {
        let at = |vertex: groundrule_terrain::VertexId| {
            self.tin.vertices().get(vertex.0 as usize).map_or(Coord { x: 0.0, y: 0.0 }, |v| to_coord(v.at))
        };
        self.tin.corners(facet).map(at)
    }

    /// The rise by distance to the right and up the sheet.
    pub(crate) fn gradient(&self, facet: FacetId) -> Coord<f64> {
        let gradient = self.tin.gradient(facet);
        Coord { x: gradient.x.fraction(), y: gradient.y.fraction() }
    }

    /// How much the gradient of a facet changes for each metre that one of its corners rises.
    pub(crate) fn tilts(&self, facet: FacetId) -> [Coord<f64>; 3] {
        let [a, b, c] = self.places_of(facet);
        let twice = (b - a).x * (c - a).y - (b - a).y * (c - a).x;
        // The rise across a facet from one side to the corner over against it.
        let over = |from: Coord<f64>, to: Coord<f64>| Coord {
            x: (from.y - to.y) / twice,
            y: (to.x - from.x) / twice,
        };
        if twice == 0.0 { [Coord { x: 0.0, y: 0.0 }; 3] } else { [over(b, c), over(c, a), over(a, b)] }
    }

    /// Adds how a figure errs that changes by these factors for each metre that a corner of the facet rises.
    pub(crate) fn gather(&self, facet: FacetId, factors: [f64; 3], gather: &mut Gather) {
        let slope = self.gradient(facet);
        for (corner, factor) in self.corners_of(facet).into_iter().zip(factors) {
            let Some(corner) = corner.filter(|_| factor != 0.0) else { continue };
            gather.terms(&corner.error, factor);
            gather.point(&corner.at, slope * -factor);
        }
    }

    /// What has to be taken before a figure that rests on these facets is known.
    pub(crate) fn needs(&self, facets: impl IntoIterator<Item = FacetId>) -> Vec<Need> {
        let corners = facets.into_iter().flat_map(|facet| self.corners_of(facet)).flatten();
        sorted(corners.filter_map(|corner| corner.guessed.clone()).collect())
    }

    /// The level at a point, and how it errs: with the surface, and with the point where it may slide.
    pub(crate) fn height(&self, point: &Point) -> Option<Height> {
        let facet = self.tin.facet_at(to_place(place(point)))?;
        let mut height = self.height_in(facet, place(point))?;
        let mut gather = Gather::default();
        gather.terms(&height.terms, 1.0);
        gather.point(point, self.gradient(facet));
        height.terms = gather.finish();
        Some(height)
    }

    /// The level at a place of a facet that is exactly there.
    pub(crate) fn height_in(&self, facet: FacetId, at: Coord<f64>) -> Option<Height> {
        let weights = self.tin.weights(facet, to_place(at));
        let mut value = 0.0;
        for (vertex, weight) in self.tin.corners(facet).into_iter().zip(weights) {
            value += self.tin.vertices().get(vertex.0 as usize)?.level.metres() * weight;
        }
        let mut gather = Gather::default();
        self.gather(facet, weights, &mut gather);
        // A corner that carries nothing of the place does not matter.
        let carrying =
            self.corners_of(facet).into_iter().zip(weights).filter(|(_, weight)| weight.abs() > 1e-6);
        let needs = carrying.filter_map(|(corner, _)| corner?.guessed.clone()).collect();
        Some(Height { value, terms: gather.finish(), needs: sorted(needs) })
    }

    /// The mean gradient around each corner, by the area of the facets at it.
    pub(crate) fn slopes(&self) -> Vec<Coord<f64>> {
        let zero = Coord { x: 0.0, y: 0.0 };
        let mut sums = vec![(zero, 0.0); self.corners.len()];
        for facet in self.tin.facet_ids() {
            let (slope, area) = (self.gradient(facet), self.tin.area(facet).square_metres());
            for vertex in self.tin.corners(facet) {
                if let Some((sum, total)) = sums.get_mut(vertex.0 as usize) {
                    *sum = *sum + slope * area;
                    *total += area;
                }
            }
        }
        sums.into_iter().map(|(sum, total)| if total > 0.0 { sum / total } else { zero }).collect()
    }
}
