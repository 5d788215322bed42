//! The surface as it might be: drawn again and again within the errors of its corners.
//!
//! Where water runs to is no smooth function of levels, so first order fails. A fixed number of surfaces is drawn in
//! mirrored pairs from a fixed seed; what was counted on them goes back to the sources by how it went with each.

use groundrule_survey::{ErrorTerms, Point, SourceId};
use groundrule_terrain::Tin;
use groundrule_units::Length;

use super::model::Ground;
use crate::Terms;
use crate::spread::Normals;
use crate::terms::Gather;

/// A figure out of drawn surfaces is given back to so many sources at most.
const MOST_SOURCES: usize = 32;

/// The errors of a surface, by corner.
pub(crate) struct Errors {
    sources: Vec<SourceId>,
    /// For each corner, how each source moves its level.
    corners: Vec<Vec<(usize, f64)>>,
}

/// What was found on each drawn surface, and the draws.
pub(crate) struct Drawn {
    sources: Vec<SourceId>,
    /// One row of standard normal numbers for each surface.
    rows: Vec<Vec<f64>>,
    pub(crate) found: Vec<Vec<f64>>,
}

impl Errors {
    /// Sideways errors of a corner count by the mean gradient around it.
    pub(crate) fn of(ground: &Ground, start: Option<&Point>) -> Self {
        let slopes = ground.slopes();
        let all: Vec<Terms> = ground
            .corners
            .iter()
            .zip(slopes)
            .map(|(corner, slope)| {
                let mut gather = Gather::default();
                gather.terms(&corner.error, 1.0);
                gather.point(&corner.at, slope * -1.0);
                gather.finish()
            })
            .collect();
        let own = start.map(|point| &point.error).filter(|error| !matches!(error, ErrorTerms::Exact));
        let own = own.map(ErrorTerms::terms).unwrap_or_default();
        let mut sources: Vec<SourceId> = all.iter().flatten().map(|(source, _)| *source).collect();
        sources.extend(own.iter().map(|term| term.source));
        sources.sort_unstable();
        sources.dedup();
        let placed = |terms: &Terms| {
            terms.iter().filter_map(|(source, by)| Some((sources.binary_search(source).ok()?, *by))).collect()
        };
        let corners = all.iter().map(placed).collect();
        Self { sources, corners }
    }

    /// True when nothing errs.
    pub(crate) fn none(&self) -> bool {
        self.sources.is_empty()
    }

    /// What is found on so many surfaces, an even number. The point, if one is given, is where it would be as well.
    pub(crate) fn draw(
        self,
        ground: &Ground,
        count: usize,
        start: Option<&Point>,
        mut find: impl FnMut(&Tin, geo::Coord<f64>) -> Vec<f64>,
    ) -> Drawn {
        let mut normals = Normals::new();
        let (mut rows, mut found) = (Vec::with_capacity(count), Vec::with_capacity(count));
        for _ in 0..count / 2 {
            let mut row = vec![0.0; self.sources.len()];
            normals.fill(&mut row);
            for sign in [1.0, -1.0] {
                let row: Vec<f64> = row.iter().map(|number| number * sign).collect();
                let levels: Vec<Length> = ground
                    .tin
                    .vertices()
                    .iter()
                    .zip(&self.corners)
                    .map(|(vertex, terms)| {
                        let error: f64 =
                            terms.iter().map(|(i, by)| row.get(*i).map_or(0.0, |n| n * by)).sum();
                        Length::from_metres(vertex.level.metres() + error)
                    })
                    .collect();
                found.push(find(&ground.tin.with_levels(&levels), self.moved(start, &row)));
                rows.push(row);
            }
        }
        Drawn { sources: self.sources, rows, found }
    }

    /// How far a point stands from its best place.
    fn moved(&self, point: Option<&Point>, row: &[f64]) -> geo::Coord<f64> {
        let mut by = geo::Coord { x: 0.0, y: 0.0 };
        for term in point.into_iter().flat_map(|point| point.error.terms()) {
            let drawn = self.sources.binary_search(&term.source).ok().and_then(|i| row.get(i)).copied();
            by.x += term.x.metres() * drawn.unwrap_or(0.0);
            by.y += term.y.metres() * drawn.unwrap_or(0.0);
        }
        by
    }
}

impl Drawn {
    /// The mean of one of the figures found.
    pub(crate) fn mean(&self, figure: usize) -> f64 {
        let values = self.found.iter().filter_map(|found| found.get(figure));
        values.sum::<f64>() / self.found.len().max(1) as f64
    }

    /// The terms of one of the figures found: by how it went with each source, brought to a spread; those of its own
    /// scatter when none is given.
    pub(crate) fn terms(&self, figure: usize, spread: Option<f64>) -> Terms {
        let mean = self.mean(figure);
        let off: Vec<f64> =
            self.found.iter().map(|found| found.get(figure).map_or(0.0, |value| value - mean)).collect();
        let count = off.len().max(1) as f64;
        let scatter = libm::sqrt(off.iter().map(|off| off * off).sum::<f64>() / count);
        let went = |i: usize| {
            let with = self.rows.iter().zip(&off).map(|(row, off)| row.get(i).map_or(0.0, |n| n * off));
            with.sum::<f64>() / count
        };
        let mut went: Vec<(SourceId, f64)> =
            self.sources.iter().enumerate().map(|(i, source)| (*source, went(i))).collect();
        // So few draws leave every source with a little chance agreement; those that matter stand out.
        went.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()).then(a.0.cmp(&b.0)));
        went.truncate(MOST_SOURCES);
        let size = libm::sqrt(went.iter().map(|(_, by)| by * by).sum());
        if size <= 0.0 {
            return Terms::new();
        }
        let factor = spread.unwrap_or(scatter) / size;
        went.sort_by_key(|(source, _)| *source);
        went.into_iter().map(|(source, by)| (source, by * factor)).filter(|(_, by)| *by != 0.0).collect()
    }
}

/// The standard normal number below which lies a share of all, by halving; within four of zero.
pub(crate) fn quantile(share: f64) -> f64 {
    let (mut low, mut high) = (-4.0_f64, 4.0_f64);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        let below = 0.5 * libm::erfc(-middle * std::f64::consts::FRAC_1_SQRT_2);
        if below < share { low = middle } else { high = middle }
    }
    f64::midpoint(low, high)
}
