//! Where the figures of one point meet.

use super::loci::{self, Curve, Locus, meet};
use crate::curves::Xy;

/// The crossing of two figures that lie nearly along each other says little; below this sine they are not used.
const LEAST_SINE: f64 = 1e-6;

/// How many figures of one point are met with each other.
const MOST_MET: usize = 24;

/// True for loci of which none tells what another does not: lines that run the same way.
pub(super) fn same(loci: &[(usize, Locus)]) -> bool {
    let line = |locus: &Locus| match locus.as_slice() {
        [Curve::Line(_, along) | Curve::Ray(_, along)] => Some(*along),
        _ => None,
    };
    let mut others = loci.iter();
    let Some(first) = others.next().map(|(_, locus)| line(locus)) else { return true };
    let along = |locus: &Locus| {
        let (a, b) = (first?, line(locus)?);
        Some((a.0 * b.1 - a.1 * b.0).abs() < loci::PARALLEL)
    };
    others.all(|(_, locus)| along(locus) == Some(true))
}

/// Where two figures of a point meet, of those two that meet most squarely.
pub(super) fn best_meeting(loci: &[(usize, Locus)]) -> Vec<Xy> {
    // Of very many, a few that are spread over all of them tell as much.
    let step = loci.len().div_ceil(MOST_MET).max(1);
    let loci: Vec<&(usize, Locus)> = loci.iter().step_by(step).collect();
    let mut best: (f64, Vec<Xy>) = (LEAST_SINE, Vec::new());
    for (i, (_, one)) in loci.iter().enumerate() {
        for (_, two) in &loci[i + 1..] {
            let met: Vec<(Xy, f64)> =
                one.iter().flat_map(|a| two.iter().flat_map(move |b| meet(*a, *b))).collect();
            let sine = met.iter().map(|(_, sine)| *sine).fold(f64::INFINITY, f64::min);
            if !met.is_empty() && sine > best.0 {
                best = (sine, distinct(met.into_iter().map(|(at, _)| at)));
            }
        }
    }
    best.1
}

fn distinct(places: impl Iterator<Item = Xy>) -> Vec<Xy> {
    let mut kept: Vec<Xy> = Vec::new();
    for at in places {
        let near = |other: &Xy| libm::hypot(at.0 - other.0, at.1 - other.1) < 1e-6;
        if !kept.iter().any(near) {
            kept.push(at);
        }
    }
    kept
}
