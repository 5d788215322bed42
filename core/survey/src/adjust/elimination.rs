//! Exact conditions taken out of the equations: every unknown as a sum of fewer, reduced unknowns.

use std::collections::BTreeMap;

use super::equations::{Row, merge};

/// A condition whose slopes nearly vanish once the others hold: it follows from them, or contradicts them.
#[derive(Clone, Debug)]
pub(super) struct Weak {
    /// How far it is from holding, in metres, once the others hold.
    pub(super) rest: f64,
    /// The largest slope left, where a whole one is 1.
    pub(super) slope: f64,
    /// The conditions it is mixed from, by their place; itself included.
    pub(super) from: Vec<usize>,
}

/// What an unknown is in terms of the reduced ones.
#[derive(Clone, Debug)]
enum Image {
    /// One of them.
    Free(u32),
    /// A change and a share of some.
    Bound { change: f64, shares: Vec<(u32, f64)> },
}

/// The unknowns as sums of reduced unknowns, to first order.
#[derive(Clone, Debug, Default)]
pub(super) struct Reduction {
    images: Vec<Image>,
    /// How many reduced unknowns there are.
    pub(super) size: usize,
    /// Conditions left out.
    pub(super) weak: Vec<Weak>,
}

#[derive(Debug)]
struct Condition {
    slopes: BTreeMap<u32, f64>,
    off: f64,
    from: BTreeMap<usize, f64>,
}

/// One unknown expressed by others: `unknown + sum(slopes) + off = 0`.
struct Pivot {
    unknown: u32,
    condition: Condition,
}

impl Condition {
    /// Takes off `factor` times another.
    fn less(&mut self, factor: f64, other: &Condition) {
        for (unknown, slope) in &other.slopes {
            *self.slopes.entry(*unknown).or_insert(0.0) -= factor * slope;
        }
        for (from, share) in &other.from {
            *self.from.entry(*from).or_insert(0.0) -= factor * share;
        }
        self.off -= factor * other.off;
    }

    /// Replaces unknowns that earlier pivots express.
    fn reduce(&mut self, pivots: &[Pivot], pivot_of: &[Option<usize>]) {
        // A pivot brings in only pivots later than itself, so the earliest first comes to an end.
        while let Some(pivot) = self
            .slopes
            .keys()
            .filter_map(|unknown| pivot_of.get(*unknown as usize).copied().flatten())
            .min()
            .and_then(|at| pivots.get(at))
        {
            let factor = self.slopes.remove(&pivot.unknown).unwrap_or(0.0);
            if factor != 0.0 {
                self.less(factor, &pivot.condition);
            }
        }
    }

    /// The unknown with the largest slope and that slope, as metres see it.
    fn largest(&self, metres: &[f64]) -> Option<(u32, f64)> {
        self.slopes
            .iter()
            .map(|(unknown, slope)| (*unknown, slope.abs() / metre(metres, *unknown)))
            .fold(None, |best, next| if best.is_some_and(|(_, b)| b >= next.1) { best } else { Some(next) })
    }
}

fn metre(metres: &[f64], unknown: u32) -> f64 {
    metres.get(unknown as usize).copied().unwrap_or(1.0)
}

impl Reduction {
    /// Every unknown free.
    pub(super) fn none(unknowns: usize) -> Self {
        Self { images: (0..).take(unknowns).map(Image::Free).collect(), size: unknowns, weak: Vec::new() }
    }

    /// Works conditions into the unknowns; those with slopes under `floor` are left out and told.
    pub(super) fn new(conditions: &[Row], metres: &[f64], floor: f64) -> Self {
        if conditions.is_empty() {
            return Self::none(metres.len());
        }
        let mut waiting: Vec<Condition> =
            conditions.iter().enumerate().map(|(i, row)| begin(i, row, metres)).collect();
        let mut pivots: Vec<Pivot> = Vec::new();
        let mut pivot_of: Vec<Option<usize>> = vec![None; metres.len()];
        let mut least: f64 = 0.1;
        loop {
            let mut later = Vec::new();
            for mut condition in waiting {
                condition.reduce(&pivots, &pivot_of);
                match condition.largest(metres).filter(|(_, slope)| *slope >= least) {
                    Some((unknown, _)) => {
                        let slope = condition.slopes.remove(&unknown).unwrap_or(1.0);
                        condition.slopes.values_mut().for_each(|s| *s /= slope);
                        condition.from.values_mut().for_each(|s| *s /= slope);
                        condition.off /= slope;
                        if let Some(slot) = pivot_of.get_mut(unknown as usize) {
                            *slot = Some(pivots.len());
                        }
                        pivots.push(Pivot { unknown, condition });
                    }
                    None => later.push(condition),
                }
            }
            waiting = later;
            if waiting.is_empty() || least <= floor {
                break;
            }
            least = (least / 10.0).max(floor);
        }
        let weak = waiting.iter().map(|condition| left_out(condition, metres)).collect();
        Self::from_pivots(pivots, &pivot_of, weak)
    }

    fn from_pivots(mut pivots: Vec<Pivot>, pivot_of: &[Option<usize>], weak: Vec<Weak>) -> Self {
        let mut size = 0;
        let mut images: Vec<Image> = pivot_of
            .iter()
            .map(|pivot| {
                if pivot.is_some() {
                    return Image::Bound { change: 0.0, shares: Vec::new() };
                }
                size += 1;
                Image::Free(size - 1)
            })
            .collect();
        // The last pivot holds free unknowns only, the one before it those and the last, and so on.
        while let Some(Pivot { unknown, condition }) = pivots.pop() {
            let (mut change, mut shares) = (-condition.off, Vec::new());
            for (other, slope) in condition.slopes {
                match images.get(other as usize) {
                    Some(Image::Free(z)) => shares.push((*z, -slope)),
                    Some(Image::Bound { change: c, shares: s }) => {
                        change -= slope * c;
                        shares.extend(s.iter().map(|(z, share)| (*z, -slope * share)));
                    }
                    None => {}
                }
            }
            merge(&mut shares);
            if let Some(image) = images.get_mut(unknown as usize) {
                *image = Image::Bound { change, shares };
            }
        }
        Self { images, size: size as usize, weak }
    }

    /// A sum over the unknowns as one over the reduced unknowns, and its change when those stay.
    pub(super) fn reduced(&self, slopes: &[(u32, f64)]) -> (Vec<(u32, f64)>, f64) {
        let (mut sum, mut change) = (Vec::with_capacity(slopes.len()), 0.0);
        for &(unknown, slope) in slopes {
            match self.images.get(unknown as usize) {
                Some(Image::Free(z)) => sum.push((*z, slope)),
                Some(Image::Bound { change: c, shares }) => {
                    change += slope * c;
                    sum.extend(shares.iter().map(|(z, share)| (*z, slope * share)));
                }
                None => {}
            }
        }
        merge(&mut sum);
        (sum, change)
    }

    /// Steps of the unknowns from steps of the reduced ones, with what the conditions themselves ask for or not.
    pub(super) fn steps(&self, reduced: &[f64], with_change: bool) -> Vec<f64> {
        let at = |z: u32| reduced.get(z as usize).copied().unwrap_or(0.0);
        self.images
            .iter()
            .map(|image| match image {
                Image::Free(z) => at(*z),
                Image::Bound { change, shares } => {
                    let own = if with_change { *change } else { 0.0 };
                    shares.iter().fold(own, |sum, (z, share)| sum + share * at(*z))
                }
            })
            .collect()
    }
}

/// A condition scaled so that its largest slope is one metre per metre.
fn begin(place: usize, row: &Row, metres: &[f64]) -> Condition {
    let whole = slope_of(row, metres);
    let whole = if whole > 0.0 { whole } else { 1.0 };
    Condition {
        slopes: row.slopes.iter().map(|(unknown, slope)| (*unknown, slope / whole)).collect(),
        off: row.off / whole,
        from: BTreeMap::from([(place, 1.0)]),
    }
}

/// The largest slope of a row, per metre.
pub(super) fn slope_of(row: &Row, metres: &[f64]) -> f64 {
    row.slopes.iter().map(|(unknown, slope)| slope.abs() / metre(metres, *unknown)).fold(0.0, f64::max)
}

fn left_out(condition: &Condition, metres: &[f64]) -> Weak {
    Weak {
        rest: condition.off.abs(),
        slope: condition.largest(metres).map_or(0.0, |(_, slope)| slope),
        from: condition
            .from
            .iter()
            .filter(|(_, share)| share.abs() > 1e-6)
            .map(|(place, _)| *place)
            .collect(),
    }
}
