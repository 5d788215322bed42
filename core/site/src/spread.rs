//! The spread of the least of several values that nearly tie.
//!
//! First order follows the one point that decides. Where another could as well decide, the least of them
//! is no longer linear in the errors: two candidates have a closed form, more are sampled with a fixed seed.
//! The spread is the root mean square about the best value, so that it holds both scatter and pull, and the
//! terms are the candidates' own, each by how often it decides, brought to that spread.

use std::sync::OnceLock;

use crate::Terms;
use crate::terms::{Gather, apart, combine, covariance, spread};

/// Candidates whose difference is within so many of its own standard uncertainties could decide.
const REACH: f64 = 3.0;
/// Errors drawn, in mirrored pairs: the sampled spread is good to about two percent.
const DRAWS: usize = 1024;
/// So many draws are followed side by side, which a processor does at once.
const LANES: usize = 8;
/// At most so many candidates are weighed; the nearest decide.
const MOST: usize = 32;

/// The terms of the least of several values; the first must be the least.
pub(crate) fn of_least(values: impl IntoIterator<Item = (f64, Terms)>) -> Terms {
    let mut values = values.into_iter();
    let Some((least, first)) = values.next() else { return Terms::new() };
    let mut rivals: Vec<(f64, Terms)> = Vec::new();
    for (value, terms) in values {
        let doubt = apart(&terms, &first);
        let near = doubt > 0.0 && value - least < REACH * doubt;
        // A rival that errs just as one already held adds nothing.
        if near && rivals.iter().all(|(_, held)| apart(&terms, held) > 1e-9 * doubt) {
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
    let mut normals = Normals::new();
    let mut wins = vec![0_u32; candidates.len()];
    let mut square = 0.0;
    let mut row = vec![0.0; sources.len()];
    let mut errors = vec![[0.0; LANES]; sources.len()];
    for _ in 0..DRAWS / 2 / LANES {
        for lane in 0..LANES {
            normals.fill(&mut row);
            for (error, drawn) in errors.iter_mut().zip(&row) {
                error[lane] = *drawn;
            }
        }
        // The least in each lane and who it is, for the errors drawn and for their mirror image.
        let (mut drawn, mut mirrored) = ([(f64::INFINITY, 0); LANES], [(f64::INFINITY, 0); LANES]);
        for (at, ((behind, _), terms)) in candidates.iter().zip(&placed).enumerate() {
            let moved = moved(&errors, terms);
            for lane in 0..LANES {
                let (value, other) = (behind + moved[lane], behind - moved[lane]);
                if value < drawn[lane].0 {
                    drawn[lane] = (value, at);
                }
                if other < mirrored[lane].0 {
                    mirrored[lane] = (other, at);
                }
            }
        }
        for (value, winner) in drawn.into_iter().zip(mirrored).flat_map(|(one, other)| [one, other]) {
            wins[winner] += 1;
            square += value * value;
        }
    }
    let mut gather = Gather::default();
    for ((_, terms), won) in candidates.iter().zip(&wins) {
        gather.terms(terms, f64::from(*won) / DRAWS as f64);
    }
    brought_to(gather.finish(), first, libm::sqrt(square / DRAWS as f64))
}

/// How far each of several draws of the errors moves a value.
fn moved(errors: &[[f64; LANES]], terms: &[(usize, f64)]) -> [f64; LANES] {
    let mut sum = [0.0; LANES];
    for (source, by) in terms {
        let Some(errors) = errors.get(*source) else { continue };
        for (sum, error) in sum.iter_mut().zip(errors) {
            *sum += error * by;
        }
    }
    sum
}

/// Terms scaled to a spread; where they cancel and have no direction left, the first candidate's are.
fn brought_to(terms: Terms, first: &Terms, wanted: f64) -> Terms {
    let base = if spread(&terms) > 1e-3 * wanted { &terms } else { first };
    let size = spread(base);
    if size > 0.0 { combine(base, wanted / size, &Terms::new(), 0.0) } else { terms }
}

/// The draws, always the same ones from the first on. Most samples take no more than a table holds.
pub(crate) struct Normals {
    next: usize,
    beyond: Draw,
}

/// Numbers in one part of the table, which is drawn when first asked for.
const PART: usize = 4096;
static TABLE: [OnceLock<Vec<f64>>; 16] = [const { OnceLock::new() }; 16];

impl Normals {
    pub(crate) fn new() -> Self {
        Self { next: 0, beyond: Draw::after(PART * TABLE.len()) }
    }

    pub(crate) fn fill(&mut self, row: &mut [f64]) {
        for number in row {
            *number = match TABLE.get(self.next / PART) {
                Some(part) => part.get_or_init(|| part_from(self.next / PART * PART))[self.next % PART],
                None => self.beyond.normal(),
            };
            self.next += 1;
        }
    }
}

fn part_from(start: usize) -> Vec<f64> {
    let mut draw = Draw::after(start);
    (0..PART).map(|_| draw.normal()).collect()
}

/// What one step adds to the generator's state.
const STEP: u64 = 0x9e37_79b9_7f4a_7c15;

/// Standard normal numbers from the splitmix64 generator (Steele, Lea and Flood 2014) with a fixed seed.
struct Draw {
    state: u64,
    kept: Option<f64>,
}

impl Draw {
    /// From after so many numbers on, an even count: each takes one step of the generator.
    fn after(count: usize) -> Self {
        let steps = (count as u64).wrapping_mul(STEP);
        Self { state: 0x6772_6f75_6e64_u64.wrapping_add(steps), kept: None }
    }

    fn uniform(&mut self) -> f64 {
        self.state = self.state.wrapping_add(STEP);
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
