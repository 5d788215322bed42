//! What each side of a lot is to the lot, proposed from the sides that lie along streets.
//!
//! One definition for lots drawn in a plan and for lots read from a map, short enough to check by hand. What a
//! person states is never changed.
//!
//! 1. *Frontages.* Sides along streets that follow each other around the ring, leaving out sides shorter than
//!    1 m, and whose chords differ by less than 45 degrees, make one frontage.
//! 2. *Front.* The frontage with a side stated as front; else the shortest of at least 6 m (from memory: the
//!    usual rule for corner lots), and if none is so long, the longest. A frontage of which a side is stated to be
//!    something else is not proposed.
//! 3. *Other frontages* are street sides. Where the caller asks for it, one that does not follow the front directly
//!    around the ring is a front too (both street lines of a through lot act as front).
//! 4. *Rear.* Of the sides along no street, those turned at least 135 degrees from the front, and lying at least
//!    half as far behind it as the farthest of them, are the rear, unless one is stated. The rest are sides.
//! 5. *Short sides.* A side under 1 m is a jog: it takes the role of the longer of its nearest neighbours that are
//!    not short.

mod frame;
mod line;
mod lots;
mod pole;
mod rear;

use groundrule_plan::Role;

use crate::Position;
use line::{Line, Xy, dot, minus};
pub(crate) use lots::{no_front, settle};

/// One side of a lot, in ring order with the lot on the left.
#[derive(Clone, Debug, PartialEq)]
pub struct Side {
    /// Its vertices from end to end.
    pub path: Vec<Position>,
    /// The street it lies along, by any number that tells streets apart.
    pub street: Option<usize>,
    /// What somebody said it is.
    pub stated: Option<Role>,
}

/// What becomes of a frontage that does not follow the front directly around the ring.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Apart {
    /// It is a front too.
    Front,
    /// It is a street side.
    StreetSide,
}

/// The roles of a lot's sides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proposal {
    /// One for each side, the stated ones included. Where no front is known there are no others.
    pub roles: Vec<Option<Role>>,
    /// Sides along streets that belong together, each a list of side indexes.
    pub frontages: Vec<Vec<usize>>,
    /// Which of them is the front; of several stated ones, the first.
    pub front: Option<usize>,
}

/// Shorter sides are jogs.
const JOG: f64 = 1.0;
/// Shorter frontages are cut corners.
const LEAST_FRONTAGE: f64 = 6.0;
/// The cosine, and the sine, of 45 degrees.
const DIAGONAL: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// Proposes the roles that nobody stated.
pub fn propose(sides: &[Side], apart: Apart) -> Proposal {
    let lines: Vec<Line> = sides.iter().map(Line::new).collect();
    let frontages = frontages(&lines);
    let stated: Vec<Option<Role>> = sides.iter().map(|side| side.stated).collect();
    let Some(front) = front_of(&lines, &stated, &frontages) else {
        return Proposal { roles: stated, frontages, front: None };
    };
    let also = match apart {
        Apart::Front => fronts_too(&lines, &stated, &frontages, front),
        Apart::StreetSide => Vec::new(),
    };
    let mut roles: Vec<Option<Role>> =
        lines.iter().map(|line| Some(if line.facing { Role::StreetSide } else { Role::Side })).collect();
    for &side in also.iter().chain([&front]).filter_map(|at| frontages.get(*at)).flatten() {
        roles[side] = Some(Role::Front);
    }
    let has_rear = stated.contains(&Some(Role::Rear));
    if also.is_empty() && !has_rear {
        for side in rear(&lines, &frontages[front]) {
            roles[side] = Some(Role::Rear);
        }
    }
    say(&mut roles, &stated);
    settle_jogs(&lines, &mut roles);
    say(&mut roles, &stated);
    Proposal { roles, frontages, front: Some(front) }
}

/// What is stated stands.
fn say(roles: &mut [Option<Role>], stated: &[Option<Role>]) {
    for (role, stated) in roles.iter_mut().zip(stated) {
        *role = stated.or(*role);
    }
}

/// Runs of sides along streets that belong together.
fn frontages(lines: &[Line]) -> Vec<Vec<usize>> {
    let long: Vec<usize> = (0..lines.len()).filter(|&side| lines[side].length >= JOG).collect();
    let joined = |a: usize, b: usize| {
        lines[a].facing && lines[b].facing && dot(lines[a].outward, lines[b].outward) > DIAGONAL
    };
    // Start after a gap, so that a frontage that runs past the first side stays whole.
    let gap = |&at: &usize| !joined(long[(at + long.len() - 1) % long.len()], long[at]);
    let start = (0..long.len()).find(gap).unwrap_or(0);
    let mut found: Vec<Vec<usize>> = Vec::new();
    let mut before: Option<usize> = None;
    for at in 0..long.len() {
        let side = long[(start + at) % long.len()];
        if lines[side].facing {
            match (before, found.last_mut()) {
                (Some(last), Some(run)) if joined(last, side) => run.push(side),
                _ => found.push(vec![side]),
            }
        }
        before = Some(side);
    }
    found
}

/// The frontage that is the front.
fn front_of(lines: &[Line], stated: &[Option<Role>], frontages: &[Vec<usize>]) -> Option<usize> {
    let said = |role: Role| move |side: &usize| stated[*side] == Some(role);
    if let Some(front) = frontages.iter().position(|frontage| frontage.iter().any(said(Role::Front))) {
        return Some(front);
    }
    let sizes: Vec<f64> =
        frontages.iter().map(|frontage| frontage.iter().map(|&side| lines[side].length).sum()).collect();
    let open: Vec<usize> =
        (0..frontages.len()).filter(|&at| frontages[at].iter().all(|&side| stated[side].is_none())).collect();
    let order = |a: &usize, b: &usize| sizes[*a].total_cmp(&sizes[*b]);
    let wide = open.iter().copied().filter(|&at| sizes[at] >= LEAST_FRONTAGE).min_by(order);
    wide.or_else(|| open.iter().copied().max_by(order))
}

/// Frontages that do not follow a front directly, and of which nobody said anything else.
fn fronts_too(lines: &[Line], stated: &[Option<Role>], frontages: &[Vec<usize>], front: usize) -> Vec<usize> {
    let other = |at: &usize| {
        *at != front
            && !meet(lines, &frontages[front], &frontages[*at])
            && frontages[*at].iter().all(|&side| stated[side].is_none_or(|role| role == Role::Front))
    };
    (0..frontages.len()).filter(other).collect()
}

/// True when one frontage follows the other with nothing but jogs between them.
fn meet(lines: &[Line], a: &[usize], b: &[usize]) -> bool {
    let next = |side: usize| {
        let count = lines.len();
        (1..count).map(|step| (side + step) % count).find(|&next| lines[next].length >= JOG)
    };
    let follows = |first: &[usize], second: &[usize]| {
        first.last().and_then(|last| next(*last)).is_some_and(|next| second.first() == Some(&next))
    };
    follows(a, b) || follows(b, a)
}

/// The sides opposite the front.
fn rear(lines: &[Line], front: &[usize]) -> Vec<usize> {
    let sum = front.iter().fold((0.0, 0.0), |sum: Xy, &side| {
        let line = &lines[side];
        (sum.0 + line.outward.0 * line.length, sum.1 + line.outward.1 * line.length)
    });
    let outward = line::unit(sum);
    let longest = front.iter().copied().max_by(|&a, &b| lines[a].length.total_cmp(&lines[b].length));
    let Some(origin) = longest.map(|side| lines[side].middle) else { return Vec::new() };
    let depth = |side: usize| -dot(minus(lines[side].middle, origin), outward);
    let opposed: Vec<usize> = (0..lines.len())
        .filter(|&side| lines[side].length >= JOG && !lines[side].facing)
        .filter(|&side| dot(lines[side].outward, outward) <= -DIAGONAL)
        .collect();
    let deepest = opposed.iter().map(|&side| depth(side)).fold(0.0, f64::max);
    opposed.into_iter().filter(|&side| depth(side) > 0.0 && depth(side) >= deepest / 2.0).collect()
}

fn settle_jogs(lines: &[Line], roles: &mut [Option<Role>]) {
    let count = lines.len();
    let long = |step: &dyn Fn(usize) -> usize| (1..count).map(step).find(|&side| lines[side].length >= JOG);
    let neighbours: Vec<(usize, usize)> = (0..count)
        .filter(|&side| lines[side].length < JOG)
        .filter_map(|side| {
            let after = long(&|step| (side + step) % count)?;
            let before = long(&|step| (side + count - step) % count)?;
            Some((side, if lines[after].length > lines[before].length { after } else { before }))
        })
        .collect();
    for (side, like) in neighbours {
        roles[side] = roles[like];
    }
}
