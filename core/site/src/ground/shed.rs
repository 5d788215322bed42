//! How much of the ground sheds its water where, and how sure it is that water keeps clear of a thing.
//!
//! Areas are found by quartering: a triangle whose places all shed alike counts whole, any other is quartered, down to
//! edges of [`FINEST`] metres, on large lots a thousandth of their size. An area is good to about that width along the
//! divides between the parts.

use std::collections::BTreeMap;

use geo::Coord;
use groundrule_survey::Surface;
use groundrule_terrain::Tin;
use groundrule_units::{Area, Dimension, Quantity};

use super::chance::{Errors, quantile};
use super::courses::{Outcome, Watched};
use super::model::Ground;
use super::no_ground;
use super::over::{NEARLY_ALL, few_levels};
use crate::shape::piece::{Piece, pieces};
use crate::shape::rings::Lies;
use crate::shape::segments::{cross, norm};
use crate::{FeatureId, Measured, Need, Site, Terms};

/// Triangles with edges no longer than this, in metres, are not quartered further.
const FINEST: f64 = 0.5;
/// Triangles with longer edges than this, in metres, are quartered without looking.
const COARSEST: f64 = 4.0;
/// Surfaces drawn for a chance.
const CHANCES: usize = 64;
/// Surfaces drawn, and places followed on each, for the spread of an area.
const SPREADS: usize = 24;
const PLACES: usize = 96;

impl Site {
    /// How sure it is that water from a feature keeps clear of another, in standard uncertainties: negative where it
    /// runs there.
    pub fn keeps_clear(&self, which: Surface, from: FeatureId, of: FeatureId) -> Measured {
        let lacking = |need: Need| Measured::lacking(Dimension::Ratio, vec![need]);
        let Some(ground) = self.ground(which) else { return lacking(no_ground(which)) };
        let starts = match self.starts(ground, from) {
            Ok(starts) => starts,
            Err(need) => return lacking(need),
        };
        let watched = self.watched(from, &[of]);
        let there = |outcome: Outcome| matches!(outcome, Outcome::At(id) | Outcome::Building(id) | Outcome::Over(id) if id == of);
        let comes = |tin: &Tin, by: Coord<f64>| {
            starts.iter().any(|start| there(watched.follow(ground, tin, *start + by, &[]).0))
        };
        let ways: Vec<(Outcome, Vec<Coord<f64>>)> =
            starts.iter().map(|start| watched.follow(ground, &ground.tin, *start, &[])).collect();
        let best = ways.iter().any(|(outcome, _)| there(*outcome));
        // Where water is lost sight of, it may still come there.
        let lost = |outcome: Outcome| matches!(outcome, Outcome::BeyondLevels | Outcome::Unknown);
        if !best && ways.iter().any(|(outcome, _)| lost(*outcome)) {
            let name = self.feature(from).map_or("it", |feature| feature.id.0.as_str());
            return lacking(few_levels(which, name));
        }
        let crossed = ways.iter().flat_map(|(_, way)| way);
        let needs = ground.needs(crossed.filter_map(|at| ground.tin.facet_at(super::model::to_place(*at))));
        if !needs.is_empty() {
            return Measured::lacking(Dimension::Ratio, needs);
        }
        let point = self.feature(from).and_then(|feature| match &feature.shape {
            groundrule_survey::Shape::Spot(point) => Some(point),
            _ => None,
        });
        let errors = Errors::of(ground, point);
        // With nothing that errs, it is as sure as can be said.
        let sure = Quantity::new(Dimension::Ratio, if best { -4.0 } else { 4.0 });
        if errors.none() {
            return Measured::exact(sure);
        }
        let drawn = errors.draw(ground, CHANCES, point, |tin, by| vec![f64::from(u8::from(!comes(tin, by)))]);
        let clear = drawn.mean(0);
        if clear <= 0.0 || clear >= 1.0 {
            return Measured::exact(Quantity::new(Dimension::Ratio, if clear > 0.5 { 4.0 } else { -4.0 }));
        }
        Measured::new(Quantity::new(Dimension::Ratio, quantile(clear)), drawn.terms(0, Some(1.0)))
    }

    /// The area of a lot from which water leaves over each of its lines, in the order of the lines.
    pub fn leaves_over(&self, which: Surface, lot: FeatureId) -> Result<Vec<(FeatureId, Measured)>, Need> {
        let watched = self.watched(lot, &[]);
        let lines: Vec<FeatureId> = self.lines_of(lot).collect();
        let outcomes: Vec<Outcome> = lines.iter().map(|line| Outcome::Over(*line)).collect();
        Ok(lines.into_iter().zip(self.sheds(which, lot, &watched, &outcomes)?).collect())
    }

    /// The area within a feature whose water ends at each of some others.
    pub fn drained_area(
        &self,
        which: Surface,
        within: FeatureId,
        ends: &[FeatureId],
    ) -> Result<Vec<Measured>, Need> {
        let mut watched = self.watched(within, ends);
        watched.leave_lots();
        let outcomes: Vec<Outcome> = ends.iter().map(|end| Outcome::At(*end)).collect();
        self.sheds(which, within, &watched, &outcomes)
    }

    fn sheds(
        &self,
        which: Surface,
        within: FeatureId,
        watched: &Watched<'_>,
        outcomes: &[Outcome],
    ) -> Result<Vec<Measured>, Need> {
        let ground = self.ground(which).ok_or_else(|| no_ground(which))?;
        let feature = self.feature(within).ok_or_else(|| no_ground(which))?;
        let pieces = pieces(&feature.shape);
        let parts = self.covered_by(ground, which, within, NEARLY_ALL)?;
        let key =
            |tin: &Tin, at: Coord<f64>| holds(&pieces, at).then(|| watched.follow(ground, tin, at, &[]).0);
        // On a large lot the parts grow with it, so that none takes longer than another.
        let across = libm::sqrt(parts.iter().map(|(_, part)| part).sum());
        let sizes = Sizes { coarsest: COARSEST.max(across / 100.0), finest: FINEST.max(across / 1000.0) };
        let mut areas: BTreeMap<Outcome, f64> = BTreeMap::new();
        let mut middles = Vec::new();
        for (facet, _) in &parts {
            let mut add = |middle: Coord<f64>, outcome: Option<Outcome>, area: f64| {
                if let Some(outcome) = outcome {
                    *areas.entry(outcome).or_default() += area;
                    middles.push((middle, area));
                }
            };
            quarter(ground.places_of(*facet), sizes, &|at| key(&ground.tin, at), &mut add);
        }
        let spread = spreads(ground, &middles, &key, outcomes);
        let measured = outcomes.iter().zip(spread).map(|(outcome, terms)| {
            let area = areas.get(outcome).copied().unwrap_or(0.0);
            Measured::new(Area::from_square_metres(area).into(), terms)
        });
        Ok(measured.collect())
    }
}

fn holds(pieces: &[Piece<'_>], at: Coord<f64>) -> bool {
    pieces.iter().any(|piece| piece.lies(at) != Lies::Outside)
}

/// The edges of the triangles looked at, in metres.
#[derive(Clone, Copy)]
struct Sizes {
    coarsest: f64,
    finest: f64,
}

/// Calls `add` with the middle, the outcome and the area of each part that sheds alike.
fn quarter(
    triangle: [Coord<f64>; 3],
    sizes: Sizes,
    key: &impl Fn(Coord<f64>) -> Option<Outcome>,
    add: &mut impl FnMut(Coord<f64>, Option<Outcome>, f64),
) {
    let [a, b, c] = triangle;
    let longest = [(a, b), (b, c), (c, a)].iter().map(|(p, q)| norm(*q - *p)).fold(0.0, f64::max);
    let middle = (a + b + c) / 3.0;
    if longest <= sizes.coarsest {
        let outcome = key(middle);
        let alike = || triangle.iter().all(|corner| key(middle + (*corner - middle) * 0.9) == outcome);
        if longest <= sizes.finest || alike() {
            add(middle, outcome, cross(b - a, c - a).abs() / 2.0);
            return;
        }
    }
    let (ab, bc, ca) = ((a + b) / 2.0, (b + c) / 2.0, (c + a) / 2.0);
    for part in [[a, ab, ca], [ab, b, bc], [ca, bc, c], [bc, ca, ab]] {
        quarter(part, sizes, key, add);
    }
}

/// How the area of each outcome errs: from a fixed choice of places followed on surfaces that might be.
fn spreads(
    ground: &Ground,
    middles: &[(Coord<f64>, f64)],
    key: &impl Fn(&Tin, Coord<f64>) -> Option<Outcome>,
    outcomes: &[Outcome],
) -> Vec<Terms> {
    let errors = Errors::of(ground, None);
    if errors.none() || middles.is_empty() {
        return vec![Terms::new(); outcomes.len()];
    }
    let total: f64 = middles.iter().map(|(_, area)| area).sum();
    let each = total / PLACES as f64;
    // One place for each equal part of the area, in the order the parts were found.
    let (mut passed, mut chosen) = (each / 2.0, Vec::new());
    for (middle, area) in middles {
        passed += area;
        while passed >= each {
            passed -= each;
            chosen.push(*middle);
        }
    }
    let drawn = errors.draw(ground, SPREADS, None, |tin, _| {
        let found: Vec<Option<Outcome>> = chosen.iter().map(|at| key(tin, *at)).collect();
        let area = |outcome: &Outcome| each * found.iter().filter(|it| **it == Some(*outcome)).count() as f64;
        outcomes.iter().map(area).collect()
    });
    (0..outcomes.len()).map(|i| drawn.terms(i, None)).collect()
}
