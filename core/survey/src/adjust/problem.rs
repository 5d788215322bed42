//! A network made ready for computing: coordinates near zero, plain numbers, parts that hang together.

use groundrule_units::Quantity;

use super::network::{Linear, Network};
use super::{AdjustError, Observed, Part};

/// A network in plain numbers.
#[derive(Clone, Debug)]
pub(super) struct Problem {
    /// What to add to a position to get it as given.
    pub(super) shift: [f64; 2],
    pub(super) spots: Vec<[Linear; 2]>,
    pub(super) benches: Vec<Linear>,
    pub(super) origins: Vec<Linear>,
    pub(super) orientations: Vec<Linear>,
    /// Unknown of each source, by source.
    pub(super) sources: Vec<(crate::SourceId, u32)>,
    pub(super) start: Vec<f64>,
    pub(super) parts: Vec<Part>,
    /// Metres that one unit of each unknown moves things by, about.
    pub(super) metres: Vec<f64>,
    pub(super) observations: Vec<Plain>,
    /// Size of the whole, in metres.
    pub(super) extent: f64,
}

/// An observation in plain numbers.
#[derive(Clone, Copy, Debug)]
pub(super) struct Plain {
    pub(super) what: Observed,
    pub(super) value: f64,
    pub(super) sigma: f64,
}

/// Unknowns that hang together through observations, and those observations.
#[derive(Clone, Debug, Default)]
pub(super) struct Block {
    pub(super) unknowns: Vec<u32>,
    pub(super) observations: Vec<u32>,
}

impl Problem {
    /// Refuses what is no number; everything unfit at once.
    pub(super) fn new(network: &Network) -> Result<Self, Vec<AdjustError>> {
        let unfit = unfit(network);
        if !unfit.is_empty() {
            return Err(unfit);
        }
        let start: Vec<f64> = network.unknowns.iter().map(|(start, _)| *start).collect();
        let count = network.spots.len().max(1) as f64;
        let mut shift = [0.0; 2];
        for spot in &network.spots {
            for (shift, linear) in shift.iter_mut().zip(spot) {
                *shift += linear.at(&start) / count;
            }
        }
        // Whole metres, so that coordinates written in decimals keep their digits.
        let shift = shift.map(f64::round);
        let mut problem = Self {
            shift,
            spots: network.spots.clone(),
            benches: network.benches.clone(),
            origins: network.origins.clone(),
            orientations: network.orientations.clone(),
            sources: network.sources.iter().map(|(id, source)| (*id, source.unknown)).collect(),
            start,
            parts: network.unknowns.iter().map(|(_, part)| *part).collect(),
            metres: vec![1.0; network.unknowns.len()],
            observations: Vec::with_capacity(network.observations.len()),
            extent: 1.0,
        };
        problem.move_near_zero();
        problem.weigh_unknowns();
        problem.observations.extend(network.observations.iter().map(|o| Plain {
            what: o.what,
            value: match o.what {
                Observed::Right(_) => o.value.si() - shift[0],
                Observed::Up(_) => o.value.si() - shift[1],
                _ => o.value.si(),
            },
            sigma: o.sigma.si(),
        }));
        Ok(problem)
    }

    fn move_near_zero(&mut self) {
        for spot in &mut self.spots {
            for (linear, shift) in spot.iter_mut().zip(self.shift) {
                linear.base -= shift;
            }
        }
        // A free coordinate carries its position in the unknown, not in the base.
        for spot in &mut self.spots {
            for (linear, shift) in spot.iter_mut().zip(self.shift) {
                if let [(unknown, _)] = linear.terms[..]
                    && matches!(self.parts.get(unknown as usize), Some(Part::Spot(_)))
                    && let Some(value) = self.start.get_mut(unknown as usize)
                {
                    *value -= shift;
                    linear.base += shift;
                }
            }
        }
    }

    fn weigh_unknowns(&mut self) {
        let places = self.spots.iter().flatten().map(|linear| linear.at(&self.start).abs());
        self.extent = places.fold(1.0, f64::max);
        for (metres, part) in self.metres.iter_mut().zip(&self.parts) {
            *metres = match part {
                Part::Orientation(_) => self.extent,
                Part::Source(_) => 0.0,
                _ => 1.0,
            };
        }
        for linear in self.spots.iter().flatten().chain(&self.benches) {
            for &(unknown, term) in &linear.terms {
                let unknown = unknown as usize;
                if let (Some(Part::Source(_)), Some(metres)) =
                    (self.parts.get(unknown), self.metres.get_mut(unknown))
                {
                    *metres = metres.max(term.abs());
                }
            }
        }
        for metres in &mut self.metres {
            if *metres <= 0.0 {
                *metres = 1.0;
            }
        }
    }

    /// The parts that hang together, and the observations between known things only.
    pub(super) fn blocks(&self) -> (Vec<Block>, Vec<u32>) {
        let mut parent: Vec<u32> = (0..).take(self.start.len()).collect();
        let mut loose = Vec::new();
        let mut first: Vec<Option<u32>> = Vec::with_capacity(self.observations.len());
        for (id, observation) in (0..).zip(&self.observations) {
            let mut head = None;
            self.each_unknown(&observation.what, &mut |unknown| {
                let root = root(&mut parent, unknown);
                match head {
                    None => head = Some(root),
                    Some(other) if other != root => {
                        let (low, high) = (other.min(root), other.max(root));
                        if let Some(slot) = parent.get_mut(high as usize) {
                            *slot = low;
                        }
                        head = Some(low);
                    }
                    Some(_) => {}
                }
            });
            if head.is_none() {
                loose.push(id);
            }
            first.push(head);
        }
        // Both coordinates of a point belong together, whatever is observed of it.
        for [x, y] in &self.spots {
            if let ([(x, _)], [(y, _)]) = (&x.terms[..], &y.terms[..]) {
                let (x, y) = (root(&mut parent, *x), root(&mut parent, *y));
                if let Some(slot) = parent.get_mut(x.max(y) as usize) {
                    *slot = x.min(y);
                }
            }
        }
        let mut number = vec![u32::MAX; parent.len()];
        let mut blocks: Vec<Block> = Vec::new();
        for unknown in (0..).take(self.start.len()) {
            let root = root(&mut parent, unknown) as usize;
            if let Some(slot) = number.get_mut(root) {
                if *slot == u32::MAX {
                    *slot = u32::try_from(blocks.len()).unwrap_or(u32::MAX);
                    blocks.push(Block::default());
                }
                if let Some(block) = blocks.get_mut(*slot as usize) {
                    block.unknowns.push(unknown);
                }
            }
        }
        for (id, head) in (0..).zip(first) {
            if let Some(head) = head {
                let root = root(&mut parent, head) as usize;
                let block = number.get(root).and_then(|number| blocks.get_mut(*number as usize));
                if let Some(block) = block {
                    block.observations.push(id);
                }
            }
        }
        (blocks, loose)
    }
}

impl Linear {
    /// Its value where the unknowns have these values.
    pub(super) fn at(&self, values: &[f64]) -> f64 {
        self.terms.iter().fold(self.base, |sum, (unknown, term)| {
            sum + term * values.get(*unknown as usize).copied().unwrap_or(0.0)
        })
    }
}

fn root(parent: &mut [u32], mut node: u32) -> u32 {
    while let Some(&up) = parent.get(node as usize) {
        if up == node {
            break;
        }
        // Halving the path keeps later walks short.
        let above = parent.get(up as usize).copied().unwrap_or(up);
        if let Some(slot) = parent.get_mut(node as usize) {
            *slot = above;
        }
        node = above;
    }
    node
}

fn unfit(network: &Network) -> Vec<AdjustError> {
    let finite = |linear: &Linear| linear.base.is_finite() && linear.terms.iter().all(|(_, t)| t.is_finite());
    let mut unfit = Vec::new();
    let mut add = |part| {
        let error = AdjustError::StartNotFinite { part };
        if !unfit.contains(&error) {
            unfit.push(error);
        }
    };
    for (id, spot) in (0..).zip(&network.spots) {
        if !spot.iter().all(finite) {
            add(Part::Spot(super::Spot(id)));
        }
    }
    for (id, bench) in (0..).zip(&network.benches) {
        if !finite(bench) {
            add(Part::Bench(super::Bench(id)));
        }
    }
    for (start, part) in &network.unknowns {
        if !start.is_finite() {
            add(*part);
        }
    }
    for (id, observation) in (0..).zip(&network.observations) {
        let dimension = observation.what.dimension();
        let fits = |q: Quantity| q.dimension() == dimension && q.si().is_finite();
        let sound = fits(observation.value) && fits(observation.sigma) && observation.sigma.si() >= 0.0;
        if !sound || !network.knows(&observation.what) {
            unfit.push(AdjustError::NotFinite { observation: super::ObservationId(id) });
        }
    }
    unfit
}
