//! From the levels of a plan to its surfaces.
//!
//! Buildings and pools are holes. A level within a foot of a wall was taken at it; a corner of a wall without one gets
//! the level that the surface without the building has there, and is told as guessed.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use groundrule_plan::{KindTree, Plan, Remark, Status};
use groundrule_survey::{Ground as Levels, GroundLevel, GroundLine, Layout, Point, Surface};
use groundrule_terrain::{Input, Place, Tin, Vertex};
use groundrule_units::Length;

use super::footprint::{Footprint, Stands};
use super::model::{Corner, Ground, Taken, to_place};
use super::stay;
use super::told::Told;
use super::{Terrain, word};
use crate::shape::segments::{norm, place};
use crate::terms::Gather;
use crate::{Feature, Need, Terms, site};

/// Both surfaces of a plan, and what there is to tell of its levels.
pub(crate) fn terrain(
    plan: &Plan,
    layout: &Layout,
    features: &[Feature],
    kinds: &KindTree,
) -> (Terrain, Vec<Remark>) {
    if layout.ground.levels.is_empty() {
        return (Terrain::default(), Vec::new());
    }
    let mut told = Told::new(plan, layout);
    let corners = corner_names(layout, features);
    let mut made = |which: Surface| {
        let gone = match which {
            Surface::Existing => Status::Proposed,
            Surface::Proposed => Status::Remove,
        };
        let there = features.iter().enumerate().filter(|(_, feature)| feature.status != Some(gone));
        let footprints: Vec<Footprint<'_>> =
            there.filter_map(|(i, feature)| Footprint::of(i, feature, kinds)).collect();
        let kept = stay::levels_of(which, &layout.ground, features);
        let work =
            Work { which, levels: &layout.ground, features, footprints: &footprints, corners: &corners };
        work.surface(&kept, &mut told)
    };
    let (existing, proposed) = (made(Surface::Existing), made(Surface::Proposed));
    (Terrain { existing, proposed }, told.finish())
}

/// The names of corners by their place: `corner ne of house`.
fn corner_names(layout: &Layout, features: &[Feature]) -> BTreeMap<(u64, u64), String> {
    let ids: std::collections::BTreeSet<&str> =
        features.iter().map(|feature| feature.id.0.as_str()).collect();
    let named = layout.named.iter().filter_map(|(name, point)| {
        let (owner, corner) = name.split_once('.')?;
        ids.contains(owner).then(|| (key(point), format!("corner {corner} of {owner}")))
    });
    named.collect()
}

fn key(point: &Point) -> (u64, u64) {
    let at = place(point);
    // Adding zero makes one of the two zeros.
    ((at.x + 0.0).to_bits(), (at.y + 0.0).to_bits())
}

struct Work<'a> {
    which: Surface,
    levels: &'a Levels,
    features: &'a [Feature],
    footprints: &'a [Footprint<'a>],
    corners: &'a BTreeMap<(u64, u64), String>,
}

/// A surface being put together.
#[derive(Default)]
struct Draft {
    input: Input,
    corners: Vec<Corner>,
}

impl Draft {
    fn push(&mut self, level: Length, corner: Corner) -> u32 {
        let index = u32::try_from(self.corners.len()).unwrap_or(u32::MAX);
        self.input.vertices.push(Vertex { at: to_place(place(&corner.at)), level });
        self.corners.push(corner);
        index
    }
}

impl Work<'_> {
    fn surface(&self, kept: &[bool], told: &mut Told<'_>) -> Option<Ground> {
        let mut draft = Draft::default();
        let mut vertex_of: Vec<Option<u32>> = vec![None; self.levels.levels.len()];
        let mut at_walls: Vec<Vec<(usize, Stands)>> = vec![Vec::new(); self.footprints.len()];
        for (i, level) in self.levels.levels.iter().enumerate().filter(|(i, _)| kept.get(*i) == Some(&true)) {
            let p = place(&level.at);
            let stands = self.footprints.iter().enumerate().find_map(|(k, it)| Some((k, it.stands(p)?)));
            match stands {
                Some((k, Stands::Inside)) => told.inside(level, self.footprints.get(k).map(|it| it.feature)),
                Some((k, stands)) => {
                    if let Some(list) = at_walls.get_mut(k) {
                        list.push((i, stands));
                    }
                }
                None => {
                    let slot = draft.push(level.height, self.taken(i, level, level.at.clone()));
                    if let Some(vertex) = vertex_of.get_mut(i) {
                        *vertex = Some(slot);
                    }
                }
            }
        }
        let open = self.without_buildings(&draft, &at_walls);
        for (footprint, levels) in self.footprints.iter().zip(&at_walls) {
            let ring = self.ring(footprint, levels, open.as_ref(), &mut draft, &mut vertex_of);
            draft.input.holes.push(ring);
        }
        // Far buildings alone are no ground.
        if vertex_of.iter().flatten().count() < 3 {
            return None;
        }
        let lines: Vec<&GroundLine> = self.lines(&vertex_of, &mut draft.input);
        let (tin, troubles) = Tin::build(&draft.input).ok()?;
        told.troubles(&troubles, &lines, &draft.input, self.which);
        let mut corners = draft.corners;
        complete(&tin, &mut corners);
        let buildings = self.footprints.iter().map(|it| site::id(it.feature)).collect();
        Some(Ground { tin, corners, buildings })
    }

    /// The surface with nothing built on it, to guess levels from.
    fn without_buildings(
        &self,
        draft: &Draft,
        at_walls: &[Vec<(usize, Stands)>],
    ) -> Option<(Tin, Vec<Terms>)> {
        let mut input = Input { vertices: draft.input.vertices.clone(), ..Input::default() };
        let mut errors: Vec<Terms> = draft.corners.iter().map(|corner| corner.error.clone()).collect();
        for (i, _) in at_walls.iter().flatten() {
            if let Some(level) = self.levels.levels.get(*i) {
                input.vertices.push(Vertex { at: to_place(place(&level.at)), level: level.height });
                errors.push(self.error(*i));
            }
        }
        Tin::build(&input).ok().map(|(tin, _)| (tin, errors))
    }

    /// A hole's ring: each corner, then the levels taken along the wall after it.
    fn ring(
        &self,
        footprint: &Footprint<'_>,
        levels: &[(usize, Stands)],
        open: Option<&(Tin, Vec<Terms>)>,
        draft: &mut Draft,
        vertex_of: &mut [Option<u32>],
    ) -> Vec<u32> {
        let mut ring = Vec::new();
        for (i, corner) in footprint.ring.iter().enumerate() {
            let mut here: Vec<usize> = levels
                .iter()
                .filter(|(_, stands)| *stands == Stands::Corner(i))
                .map(|(level, _)| *level)
                .collect();
            // Of several, that of this very ground, and of those the nearest.
            here.sort_by(|a, b| {
                self.fitness(*a, corner).partial_cmp(&self.fitness(*b, corner)).unwrap_or(Ordering::Equal)
            });
            let mut here = here.into_iter();
            let taken = here.next();
            let slot = match taken.and_then(|level| Some((level, self.levels.levels.get(level)?))) {
                Some((k, level)) => draft.push(level.height, self.taken(k, level, corner.clone())),
                None => self.guess(footprint, corner, open, draft),
            };
            ring.push(slot);
            for level in taken.into_iter().chain(here) {
                if let Some(vertex) = vertex_of.get_mut(level) {
                    *vertex = Some(slot);
                }
            }
            let mut along: Vec<(f64, usize)> = levels
                .iter()
                .filter_map(|(level, stands)| match stands {
                    Stands::Edge(edge, t) if *edge == i => Some((*t, *level)),
                    _ => None,
                })
                .collect();
            along.sort_by(|a, b| a.0.total_cmp(&b.0));
            along.dedup_by(|a, b| a.0.total_cmp(&b.0).is_eq());
            for (t, k) in along {
                let Some((at, level)) = footprint.on_edge(i, t).zip(self.levels.levels.get(k)) else {
                    continue;
                };
                let slot = draft.push(level.height, self.taken(k, level, at));
                if let Some(vertex) = vertex_of.get_mut(k) {
                    *vertex = Some(slot);
                }
                ring.push(slot);
            }
        }
        ring
    }

    /// A corner without a level: as the open ground has it there, or its nearest level where that does not reach.
    fn guess(
        &self,
        of: &Footprint<'_>,
        corner: &Point,
        open: Option<&(Tin, Vec<Terms>)>,
        draft: &mut Draft,
    ) -> u32 {
        let name = self.features.get(of.feature).map_or("a building", |feature| feature.id.0.as_str());
        let where_ = self.corners.get(&key(corner)).cloned().unwrap_or_else(|| format!("a corner of {name}"));
        let need = Need {
            what: format!("level of the {} ground at {where_}", word(self.which)),
            how: format!("take the level of the ground there, beside the wall of {name}"),
        };
        let p = to_place(place(corner));
        let (level, error) =
            open.and_then(|(tin, errors)| interpolated(tin, errors, p)).unwrap_or_else(|| {
                let apart = |level: &&GroundLevel| norm(place(&level.at) - place(corner));
                let of_it = |level: &&groundrule_survey::GroundLevel| {
                    self.which == Surface::Proposed || level.surface == self.which
                };
                let nearest =
                    self.levels.levels.iter().filter(of_it).min_by(|a, b| apart(a).total_cmp(&apart(b)));
                (nearest.map_or(0.0, |level| level.height.metres()), Terms::new())
            });
        let corner = Corner { at: corner.clone(), error, guessed: Some(need), taken: None };
        draft.push(Length::from_metres(level), corner)
    }

    /// Puts the lines of this surface into the input, as far as their levels are in it.
    fn lines(&self, vertex_of: &[Option<u32>], input: &mut Input) -> Vec<&GroundLine> {
        let mut of = Vec::new();
        for line in &self.levels.lines {
            let closing = line.closed.then(|| line.levels.first()).flatten();
            let path = line.levels.iter().chain(closing);
            let mut run: Vec<u32> = Vec::new();
            let mut runs = Vec::new();
            for level in path {
                match vertex_of.get(*level as usize).copied().flatten() {
                    Some(vertex) if run.last() == Some(&vertex) => {}
                    Some(vertex) => run.push(vertex),
                    None => runs.push(std::mem::take(&mut run)),
                }
            }
            runs.push(run);
            for run in runs.into_iter().filter(|run| run.len() > 1) {
                input.lines.push(run);
                of.push(line);
            }
        }
        of
    }

    /// A corner of the surface with the level of this number, where the surface has it.
    fn taken(&self, i: usize, level: &GroundLevel, at: Point) -> Corner {
        let taken = (!level.derived).then_some(Taken { of: level.surface, term: level.term });
        Corner { at, error: self.error(i), guessed: None, taken }
    }

    /// How little a level says of a corner: whether it is of the other ground, and how far off it was taken.
    fn fitness(&self, level: usize, corner: &Point) -> (bool, f64) {
        self.levels.levels.get(level).map_or((true, f64::INFINITY), |level| {
            (level.surface != self.which, norm(place(&level.at) - place(corner)))
        })
    }

    fn error(&self, level: usize) -> Terms {
        let error = self.levels.levels.get(level).map(|level| level.error.as_slice()).unwrap_or_default();
        error.iter().map(|(source, by)| (*source, by.metres())).collect()
    }
}

fn interpolated(tin: &Tin, errors: &[Terms], p: Place) -> Option<(f64, Terms)> {
    let facet = tin.facet_at(p)?;
    let (mut level, mut gather) = (0.0, Gather::default());
    for (vertex, weight) in tin.corners(facet).into_iter().zip(tin.weights(facet, p)) {
        level += tin.vertices().get(vertex.0 as usize)?.level.metres() * weight;
        if let Some(terms) = errors.get(vertex.0 as usize) {
            gather.terms(terms, weight);
        }
    }
    Some((level, gather.finish()))
}

/// Corners of their own for the places where lines cross, each resting on the ends of the line that stayed whole.
fn complete(tin: &Tin, corners: &mut Vec<Corner>) {
    while let Some(vertex) = tin.vertices().get(corners.len()) {
        let id = groundrule_terrain::VertexId(u32::try_from(corners.len()).unwrap_or(u32::MAX));
        let ends = tin.made_of(id).into_iter().flatten();
        let (mut gather, mut parts, mut guessed) = (Gather::default(), Vec::new(), None);
        for (end, weight) in ends {
            let Some(corner) = corners.get(end.0 as usize) else { continue };
            gather.terms(&corner.error, weight);
            parts.push(([[weight, 0.0], [0.0, weight]], corner.at.error.clone()));
            guessed = guessed.or_else(|| corner.guessed.clone());
        }
        let parts: Vec<_> = parts.iter().map(|(map, error)| (*map, error)).collect();
        let at = groundrule_survey::Position { x: vertex.at.x, y: vertex.at.y };
        let error = groundrule_survey::ErrorTerms::moved_by(&parts);
        corners.push(Corner { at: Point { at, error }, error: gather.finish(), guessed, taken: None });
    }
}
