//! The spread of the least of several values that nearly tie.
//!
//! First order follows the one point that decides. Where another could as well decide, the least of them
//! is no longer linear in the errors: two candidates have a closed form, more are sampled with a fixed seed.
//! The spread is the root mean square about the best value, so that it holds both scatter and pull, and the
//! terms are the candidates' own, each by how often it decides, brought to that spread.

use crate::Terms;
use crate::terms::{Gather, combine, covariance, spread};

/// Candidates whose difference is within so many of its own standard uncertainties could decide.
const REACH: f64 = 3.0;
/// Errors drawn, in mirrored pairs: the sampled spread is good to about two percent.
const DRAWS: usize = 1024;
/// At most so many candidates are weighed; the nearest decide.
const MOST: usize = 32;

/// The terms of the least of several values; the first must be the least.
pub(crate) fn of_least(values: impl IntoIterator<Item = (f64, Terms)>) -> Terms {
    let mut values = values.into_iter();
    let Some((least, first)) = values.next() else { return Terms::new() };
    let mut rivals: Vec<(f64, Terms)> = Vec::new();
    for (value, terms) in values {
        let between = |a: &Terms, b: &Terms| spread(&combine(a, 1.0, b, -1.0));
        let doubt = between(&terms, &first);
        // A rival that errs just as one already held adds nothing.
        let news = doubt > 0.0 && rivals.iter().all(|(_, held)| between(&terms, held) > 1e-9 * doubt);
        if news && value - least < REACH * doubt {
            rivals.push((value - least, terms));
        }
        if rivals.len() + 1 >= MOST {
            break;
        }
    }
    match rivals.as_slice() {
        [] => first,
        [(behind, second)] => of_two(&first, *behind, second),
        _ => sampled(&first, &rivals),
    }
}

/// The lesser of two normal variables, the second so far behind: the moments of C. E. Clark, "The greatest
/// of a finite set of random variables", Operations Research 9 (1961), turned about.
fn of_two(first: &Terms, behind: f64, second: &Terms) -> Terms {
    let doubt = spread(&combine(first, 1.0, second, -1.0));
    let ratio = behind / doubt;
    let share = 0.5 * libm::erfc(-ratio * std::f64::consts::FRAC_1_SQRT_2);
    let density = libm::exp(-0.5 * ratio * ratio) / libm::sqrt(2.0 * std::f64::consts::PI);
    let square = covariance(first, first) * share
        + (behind * behind + covariance(second, second)) * (1.0 - share)
        - behind * doubt * density;
    brought_to(combine(first, share, second, 1.0 - share), first, libm::sqrt(square.max(0.0)))
}

fn sampled(first: &Terms, rivals: &[(f64, Terms)]) -> Terms {
    let mut candidates: Vec<(f64, &Terms)> = vec![(0.0, first)];
    candidates.extend(rivals.iter().map(|(behind, terms)| (*behind, terms)));
    let mut sources: Vec<_> =
        candidates.iter().flat_map(|(_, t)| t.iter().map(|(source, _)| *source)).collect();
    sources.sort_unstable();
    sources.dedup();
    // Each candidate's terms by place in the draw.
    let placed: Vec<Vec<(usize, f64)>> = candidates
        .iter()
        .map(|(_, terms)| {
            terms.iter().filter_map(|(s, c)| Some((sources.binary_search(s).ok()?, *c))).collect()
        })
        .collect();
    let mut draw = Draw::new();
    let mut wins = vec![0_u32; candidates.len()];
    let mut square = 0.0;
    let mut errors = vec![0.0; sources.len()];
    for _ in 0..DRAWS / 2 {
        for error in &mut errors {
            *error = draw.normal();
        }
        for mirror in [1.0, -1.0] {
            let moved = |terms: &[(usize, f64)]| -> f64 {
                terms.iter().filter_map(|(i, c)| Some(errors.get(*i)? * c * mirror)).sum()
            };
            let values = candidates.iter().zip(&placed).map(|((behind, _), terms)| behind + moved(terms));
            let least = values.enumerate().min_by(|a, b| a.1.total_cmp(&b.1));
            if let Some((winner, value)) = least {
                wins[winner] += 1;
                square += value * value;
            }
        }
    }
    let mut gather = Gather::default();
    for ((_, terms), won) in candidates.iter().zip(&wins) {
        gather.terms(terms, f64::from(*won) / DRAWS as f64);
    }
    brought_to(gather.finish(), first, libm::sqrt(square / DRAWS as f64))
}

/// Terms scaled to a spread; where they cancel and have no direction left, the first candidate's are.
fn brought_to(terms: Terms, first: &Terms, wanted: f64) -> Terms {
    let base = if spread(&terms) > 1e-3 * wanted { &terms } else { first };
    let size = spread(base);
    if size > 0.0 { combine(base, wanted / size, &Terms::new(), 0.0) } else { terms }
}

/// Standard normal numbers from the splitmix64 generator (Steele, Lea and Flood 2014) with a fixed seed.
struct Draw {
    state: u64,
    kept: Option<f64>,
}

impl Draw {
    fn new() -> Self {
        Self { state: 0x6772_6f75_6e64, kept: None }
    }

    fn uniform(&mut self) -> f64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^= z >> 31;
        // The middle of one of 2^53 steps: never zero, so its logarithm is finite.
        ((z >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0
    }

    /// Two at a time, by the transformation of Box and Muller (1958).
    fn normal(&mut self) -> f64 {
        if let Some(kept) = self.kept.take() {
            return kept;
        }
        let size = libm::sqrt(-2.0 * libm::log(self.uniform()));
        let (sin, cos) = libm::sincos(2.0 * std::f64::consts::PI * self.uniform());
        self.kept = Some(size * sin);
        size * cos
    }
}
