//! How the ground falls away from a building.
//!
//! From places along each side of its outline a ray is followed square to the wall, over the distance asked for or to
//! what is nearer: a line of its lot, a barrier, another building. Between the places where a ray's ends cross an edge of
//! the surface its fall is linear, so those places and the middles between them hold the least fall. Where paving lies at
//! the wall, the ray is followed no farther than the paving.

use std::collections::BTreeMap;

use geo::Coord;
use groundrule_survey::{Point, Shape, Surface};
use groundrule_terrain::Stretch;
use groundrule_units::{Dimension, Length, Quantity, Ratio};

use super::axis::on;
use super::model::{Ground, Height, sorted, to_place};
use super::{no_ground, word};
use crate::shape::piece::Piece;
use crate::shape::rings::{Lies, edges};
use crate::shape::segments::{dot, meeting, norm, place, position, right, unit};
use crate::spread::of_least;
use crate::terms::{Gather, combine};
use crate::{FeatureId, Mark, Measured, Need, Site, Terms};

/// What lies so near to a wall, in metres, is at it.
const AT_WALL: f64 = 0.05;
/// No two places looked at are farther apart than this, in metres.
const APART: f64 = 1.0;
/// How far from the end of a wall its last place is, as a share of the wall, so that it belongs to one side.
const INSET: f64 = 1e-9;

/// What the ground beside one side of a building does.
#[derive(Clone, Debug)]
pub struct WallFall {
    /// Which side, by the corner of the outline it starts at.
    pub side: usize,
    /// The fall by how far it was followed.
    pub slope: Measured,
    /// The fall.
    pub fall: Measured,
    /// How far it was followed.
    pub run: Measured,
    /// The paving at the wall there.
    pub hard: Option<FeatureId>,
    /// What it was ended by before the distance asked for.
    pub cut_short: Option<FeatureId>,
}

/// What ends a ray.
struct End<'a> {
    at: f64,
    edge: Option<(&'a Point, &'a Point)>,
    what: Option<FeatureId>,
}

/// A ray followed.
struct Followed {
    slope: f64,
    terms: Terms,
    fall: Measured,
    run: Measured,
    needs: Vec<Need>,
    mark: Mark,
}

/// Everything a ray may meet.
struct Around<'a> {
    ground: &'a Ground,
    which: Surface,
    name: &'a str,
    building: FeatureId,
    run: f64,
    hard: Vec<(FeatureId, Vec<Piece<'a>>)>,
    barriers: Vec<(FeatureId, Vec<Piece<'a>>)>,
}

impl Site {
    /// The least fall away from each side of a building over a run, for each ground there is at the side. One that is
    /// lacking stands for sides without levels.
    pub fn falls(
        &self,
        which: Surface,
        building: FeatureId,
        run: Length,
        barriers: &[FeatureId],
        hard: &[FeatureId],
    ) -> Vec<WallFall> {
        let Some(feature) = self.feature(building) else { return Vec::new() };
        let Shape::Outline { ring, .. } = &feature.shape else { return Vec::new() };
        let Some(ground) = self.ground(which) else { return vec![lacking(&no_ground(which))] };
        let drawn =
            |id: &FeatureId| self.drawn(*id).ok().map(|pieces| (*id, pieces.into_iter().collect::<Vec<_>>()));
        let lines = feature.lot.into_iter().flat_map(|lot| self.lines_of(lot));
        // Its own walls as well: a ray from the wall of a court comes to the wall across.
        let buildings = ground.buildings.iter().copied().filter(|other| *other != building).chain([building]);
        let met: Vec<FeatureId> = lines.chain(barriers.iter().copied()).chain(buildings).collect();
        let around = Around {
            ground,
            which,
            name: &feature.id.0,
            building,
            run: run.metres(),
            hard: hard.iter().filter_map(drawn).collect(),
            barriers: met.iter().filter_map(drawn).collect(),
        };
        edges(ring).enumerate().flat_map(|(side, edge)| around.side(side, edge)).collect()
    }
}

fn lacking(need: &Need) -> WallFall {
    let of = |dimension| Measured::lacking(dimension, vec![need.clone()]);
    let (slope, fall, run) = (of(Dimension::Ratio), of(Dimension::Length), of(Dimension::Length));
    WallFall { side: 0, slope, fall, run, hard: None, cut_short: None }
}

impl<'a> Around<'a> {
    fn side(&self, side: usize, (a, b): (&'a Point, &'a Point)) -> Vec<WallFall> {
        let Some(ahead) = unit(place(b) - place(a)) else { return Vec::new() };
        let out = right(ahead);
        let mut found: BTreeMap<(Option<FeatureId>, Option<FeatureId>), Vec<Followed>> = BTreeMap::new();
        for share in self.shares(a, b, out) {
            let foot = on(a, b, share);
            if let Some((hard, cut_short, followed)) = self.follow(&foot, out) {
                found.entry((hard, cut_short)).or_default().push(followed);
            }
        }
        found.into_iter().filter_map(|((hard, cut_short), rays)| least(side, rays, hard, cut_short)).collect()
    }

    /// Where along a wall to look, as shares of it.
    fn shares(&self, a: &Point, b: &Point, out: Coord<f64>) -> Vec<f64> {
        let length = norm(place(b) - place(a));
        let beside = |off: f64| {
            let shift = out * off;
            self.ground.tin.along(to_place(place(a) + shift), to_place(place(b) + shift))
        };
        let ends = |stretch: &Stretch| [stretch.from, stretch.to];
        let mut shares: Vec<f64> =
            [0.0, self.run].iter().flat_map(|off| beside(*off)).flat_map(|s| ends(&s)).collect();
        let steps = libm::ceil(length / APART).clamp(1.0, 1000.0);
        let mut step = 0.0;
        while step <= steps {
            shares.push(step / steps);
            step += 1.0;
        }
        for share in &mut shares {
            *share = share.clamp(INSET, 1.0 - INSET);
        }
        shares.sort_by(f64::total_cmp);
        shares.dedup_by(|later, first| (*later - *first) * length < 1e-6);
        let middles: Vec<f64> =
            shares.iter().zip(shares.iter().skip(1)).map(|(a, b)| f64::midpoint(*a, *b)).collect();
        shares.extend(middles);
        shares
    }

    fn follow(
        &self,
        foot: &Point,
        out: Coord<f64>,
    ) -> Option<(Option<FeatureId>, Option<FeatureId>, Followed)> {
        let at = place(foot);
        let beside = at + out * AT_WALL;
        let holds = |pieces: &[Piece<'_>]| pieces.iter().any(|piece| lies_in(piece, beside));
        // Against another building there is no ground.
        if self.barriers.iter().any(|(_, pieces)| holds(pieces)) {
            return None;
        }
        let hard = self.hard.iter().find(|(_, pieces)| holds(pieces));
        let far = at + out * self.run;
        let mut end = End { at: self.run, edge: None, what: None };
        if let Some((id, pieces)) = hard {
            for (station, edge) in hits(pieces, at, far).filter(|(station, _)| *station > AT_WALL) {
                if station < end.at {
                    end = End { at: station, edge: Some(edge), what: Some(*id) };
                }
            }
        }
        for (id, pieces) in &self.barriers {
            let back = at - out * AT_WALL;
            for (station, edge) in hits(pieces, back, far).map(|(station, edge)| (station - AT_WALL, edge)) {
                if station <= AT_WALL {
                    // On a lot line, or against another wall, there is no ground of its own.
                    if *id != self.building {
                        return None;
                    }
                } else if station < end.at {
                    end = End { at: station, edge: Some(edge), what: Some(*id) };
                }
            }
        }
        let hard = hard.map(|(id, _)| *id);
        // The end of the paving is where its fall is to be taken, and cuts nothing short.
        let cut_short = end.what.filter(|what| Some(*what) != hard);
        let followed = self.ray(foot, out, &end).unwrap_or_else(|| self.unknown(foot, out, &end));
        Some((hard, cut_short, followed))
    }

    fn ray(&self, foot: &Point, out: Coord<f64>, end: &End<'_>) -> Option<Followed> {
        let ground = self.ground;
        let at = place(foot);
        let far = at + out * end.at;
        let stretches = ground.tin.along(to_place(at), to_place(far));
        let (first, last) = (stretches.first()?, stretches.last()?);
        if first.from * end.at > AT_WALL || (1.0 - last.to) * end.at > AT_WALL {
            return None;
        }
        let (high, low) = (ground.height_in(first.facet, at)?, ground.height_in(last.facet, far)?);
        let run = run(foot, out, end);
        let (near, beyond) = (ground.gradient(first.facet), ground.gradient(last.facet));
        let mut gather = Gather::default();
        gather.terms(&high.terms, 1.0);
        gather.terms(&low.terms, -1.0);
        gather.point(foot, near - beyond);
        gather.terms(run.terms(), -dot(beyond, out));
        let fall = high.value - low.value;
        let fall_terms = gather.finish();
        let terms = combine(&fall_terms, 1.0 / end.at, run.terms(), -fall / (end.at * end.at));
        Some(Followed {
            slope: fall / end.at,
            terms,
            fall: Measured::new(Quantity::new(Dimension::Length, fall), fall_terms),
            run,
            needs: needs(high, low),
            mark: Mark::Span(position(at), position(far)),
        })
    }

    /// A ray that the surface does not reach along.
    fn unknown(&self, foot: &Point, out: Coord<f64>, end: &End<'_>) -> Followed {
        let need = Need {
            what: format!("levels of the {} ground beside {}", word(self.which), self.name),
            how: format!(
                "take the level at each corner of {} and some way out from each of its walls",
                self.name
            ),
        };
        let mark = Mark::Span(foot.at, position(place(foot) + out * end.at));
        Followed {
            // Sorts before every other: what is not known could be the least.
            slope: f64::NEG_INFINITY,
            terms: Terms::new(),
            fall: Measured::lacking(Dimension::Length, vec![need.clone()]),
            run: run(foot, out, end),
            needs: vec![need],
            mark,
        }
    }
}

fn needs(high: Height, low: Height) -> Vec<Need> {
    sorted(high.needs.into_iter().chain(low.needs).collect())
}

/// How far a ray was followed: exactly as asked, or to an edge, which errs against the wall.
fn run(foot: &Point, out: Coord<f64>, end: &End<'_>) -> Measured {
    let mut gather = Gather::default();
    if let Some((a, b)) = end.edge
        && let Some(square) = unit(right(place(b) - place(a)))
        && dot(square, out) != 0.0
    {
        let pull = square / dot(square, out);
        let far = place(foot) + out * end.at;
        let share = crate::shape::segments::station(far, place(a), place(b)).unwrap_or(0.5);
        gather.point(a, pull * (1.0 - share));
        gather.point(b, pull * share);
        gather.point(foot, pull * -1.0);
    }
    Measured::new(Quantity::new(Dimension::Length, end.at), gather.finish())
}

/// Where a ray meets the edges of a shape: how far out, and the edge.
fn hits<'p>(
    pieces: &'p [Piece<'_>],
    from: Coord<f64>,
    to: Coord<f64>,
) -> impl Iterator<Item = (f64, (&'p Point, &'p Point))> {
    let length = norm(to - from);
    pieces.iter().flat_map(Piece::edges).filter_map(move |(a, b)| {
        let (station, share) = meeting(from, to, place(a), place(b))?;
        let meets = (0.0..=1.0).contains(&station) && (0.0..=1.0).contains(&share);
        meets.then_some((station * length, (a, b)))
    })
}

fn lies_in(piece: &Piece<'_>, at: Coord<f64>) -> bool {
    match piece {
        Piece::Disc { centre, radius } => norm(place(centre) - at) < *radius,
        Piece::Area { .. } | Piece::Path(_) => piece.lies(at) == Lies::Inside,
    }
}

/// The ray of least slope, its spread with those of the others that could be it.
fn least(
    side: usize,
    mut rays: Vec<Followed>,
    hard: Option<FeatureId>,
    cut_short: Option<FeatureId>,
) -> Option<WallFall> {
    rays.sort_by(|a, b| a.slope.total_cmp(&b.slope));
    let terms = of_least(rays.iter().map(|ray| (ray.slope, ray.terms.clone())));
    // Where one is lacking, it could be the least.
    let needs = sorted(rays.iter().flat_map(|ray| ray.needs.iter().cloned()).collect());
    let first = rays.into_iter().next()?;
    let mut slope = if first.slope.is_finite() {
        Measured::new(Ratio::from_fraction(first.slope).into(), terms)
    } else {
        Measured::lacking(Dimension::Ratio, Vec::new())
    };
    slope.marks = vec![first.mark.clone()];
    slope.needs.clone_from(&needs);
    let (mut fall, run) = (first.fall.marked(vec![first.mark]), first.run);
    fall.needs = needs;
    Some(WallFall { side, slope, fall, run, hard, cut_short })
}
