//! The lots of a plan: stated roles kept, the others proposed, and what was proposed told once.

use std::collections::BTreeMap;

use groundrule_plan::{Gravity, Lot, Name, Plan, Remark, Role, Span};
use groundrule_units::Length;

use super::line::{self, Line, Xy, dot};
use super::{Apart, DIAGONAL, JOG, Proposal, Side, frame::Frame, meet, pole, propose, rear};
use crate::field::length;
use crate::layout::{LotPosition, Point, ResolvedSide};
use crate::places::position;

/// What the roles of a lot's sides say of it, beside the sides themselves.
#[derive(Debug, Default)]
pub(crate) struct Told {
    pub(crate) position: Option<LotPosition>,
    /// Where the pole of a flag lot ends.
    pub(crate) pole: Option<Point>,
    /// The rear line set out inside a lot that comes to a point.
    pub(crate) pointed: Option<ResolvedSide>,
    pub(crate) remarks: Vec<Remark>,
}

/// Gives every side of a lot that lacks one a role, as far as its streets tell; such a role is assumed.
pub(crate) fn settle(plan: &Plan, lot: &Lot, sides: &mut [ResolvedSide]) -> Told {
    let seen = seen(sides);
    let corners = corner_pieces(&seen);
    let kept: Vec<usize> = (0..seen.len()).filter(|side| !corners.contains(side)).collect();
    let whole: Vec<Side> = kept.iter().filter_map(|side| seen.get(*side).cloned()).collect();
    let mut proposal = propose(&whole, Apart::Front);
    if lot.pointed_rear.is_some() {
        // The rear line is the one set out inside.
        for (role, side) in proposal.roles.iter_mut().zip(&whole) {
            if *role == Some(Role::Rear) && side.stated.is_none() {
                *role = Some(Role::Side);
            }
        }
    }
    let mut told = Told::default();
    let Some(front) = proposal.front.and_then(|at| proposal.frontages.get(at)) else {
        told.remarks.push(no_front(lot, sides));
        return told;
    };
    let front: Vec<usize> = front.iter().filter_map(|at| kept.get(*at).copied()).collect();
    let proposed = take_over(&proposal, &kept, &corners, sides);
    let (points, ring, ends) = around(sides, &front);
    if let Some((from, until)) = ends
        && let Some(frame) = Frame::of(&points[from].at, &points[until].at)
    {
        let ring: Vec<Xy> = ring.iter().map(|at| frame.seen(at)).collect();
        if proposal.frontages.len() == 1 {
            told.pole = pole::end(&ring, from, until, frame.chord).map(|at| points[at].clone());
        }
        if let Some(wanted) = &lot.pointed_rear {
            match rear::set_out(&points, &ring, (from, until), wanted.value.value) {
                Ok(path) => told.pointed = Some(pointed(&path, wanted.span)),
                Err(why) => told.remarks.push(not_set_out(plan, lot, why)),
            }
        }
    }
    told.position = Some(standing(&whole, &proposal, told.pole.is_some()));
    told.remarks.extend(roles_told(plan, lot, sides, &whole, &proposal, (&kept, &front, &proposed), &told));
    told
}

fn pointed(path: &[Point], span: Span) -> ResolvedSide {
    ResolvedSide {
        name: Name("pointed-rear".to_owned()),
        path: path.to_vec(),
        role: Some(Role::Rear),
        assumed: false,
        street: None,
        street_width: None,
        inside: true,
        span,
    }
}

/// The sides as the proposal sees them, streets told apart by name.
fn seen(sides: &[ResolvedSide]) -> Vec<Side> {
    let mut streets: BTreeMap<&str, usize> = BTreeMap::new();
    sides
        .iter()
        .map(|side| {
            let count = streets.len();
            Side {
                path: side.path.iter().map(|point| point.at).collect(),
                street: side.street.as_deref().map(|name| *streets.entry(name).or_insert(count)),
                stated: side.role,
            }
        })
        .collect()
}

/// Sides that cut or round off a corner between two streets: shorter than both lines they join, which run along
/// two streets and turn by more than 45 and at most 135 degrees.
fn corner_pieces(sides: &[Side]) -> Vec<usize> {
    let lines: Vec<Line> = sides.iter().map(Line::new).collect();
    let count = lines.len();
    let long = |step: &dyn Fn(usize) -> usize| (1..count).map(step).find(|&side| lines[side].length >= JOG);
    let cuts = |&side: &usize| {
        let (Some(before), Some(after)) =
            (long(&|step| (side + count - step) % count), long(&|step| (side + step) % count))
        else {
            return false;
        };
        let turn = dot(lines[before].outward, lines[after].outward);
        let streets = (sides[before].street, sides[after].street);
        sides[side].stated.is_none()
            && before != after
            && lines[before].facing
            && lines[after].facing
            && (streets.0.is_none() || streets.0 != streets.1)
            && lines[side].length < lines[before].length.min(lines[after].length)
            && (-DIAGONAL - 1e-9..=DIAGONAL).contains(&turn)
    };
    (0..count).filter(cuts).collect()
}

/// Writes the proposed roles onto the sides; which sides got one comes back.
fn take_over(
    proposal: &Proposal,
    kept: &[usize],
    corners: &[usize],
    sides: &mut [ResolvedSide],
) -> Vec<usize> {
    let along = kept.iter().copied().zip(proposal.roles.iter().copied());
    let cut = corners.iter().map(|side| (*side, Some(Role::StreetSide)));
    let mut proposed = Vec::new();
    for (at, role) in along.chain(cut) {
        if let Some(side) = sides.get_mut(at).filter(|side| side.role.is_none() && role.is_some()) {
            side.role = role;
            side.assumed = true;
            proposed.push(at);
        }
    }
    proposed.sort_unstable();
    proposed
}

/// The points around a lot, their places, and which of them are the ends of its front.
fn around(
    sides: &[ResolvedSide],
    front: &[usize],
) -> (Vec<Point>, Vec<crate::Position>, Option<(usize, usize)>) {
    let mut points: Vec<Point> = Vec::new();
    let mut starts = Vec::with_capacity(sides.len());
    for side in sides {
        starts.push(points.len());
        points.extend(side.path.iter().take(side.path.len().saturating_sub(1)).cloned());
    }
    let count = points.len();
    let until = |side: usize| starts.get(side + 1).copied().unwrap_or(count) % count.max(1);
    let ends = front.first().zip(front.last()).filter(|_| count > 2);
    let ends = ends.and_then(|(first, last)| Some((*starts.get(*first)?, until(*last))));
    let ring = points.iter().map(|point| point.at).collect();
    (points, ring, ends)
}

fn standing(sides: &[Side], proposal: &Proposal, has_pole: bool) -> LotPosition {
    let lines: Vec<Line> = sides.iter().map(Line::new).collect();
    let frontages = &proposal.frontages;
    let several = frontages.len() > 1;
    let any_meet =
        frontages.iter().enumerate().any(|(i, a)| frontages.iter().skip(i + 1).any(|b| meet(&lines, a, b)));
    match (several, any_meet) {
        (false, _) if has_pole => LotPosition::Flag,
        (false, _) => LotPosition::Interior,
        (true, true) => LotPosition::Corner,
        (true, false) => LotPosition::Through,
    }
}

/// The middle of a side.
fn spot(path: &[Point]) -> Option<(Length, Length)> {
    let after = line::flat(&path.get(path.len() / 2)?.at);
    let before = line::flat(&path.get((path.len() / 2).saturating_sub(1))?.at);
    let at = position((f64::midpoint(before.0, after.0), f64::midpoint(before.1, after.1)));
    Some((at.x, at.y))
}

fn remark(code: &'static str, gravity: Gravity, lot: &Lot, message: String, help: String) -> Remark {
    let about = vec![lot.id.value.clone()];
    Remark { code, gravity, message, about, spots: Vec::new(), span: lot.span, help: Some(help) }
}

/// That the front of a lot cannot be told.
pub(crate) fn no_front(lot: &Lot, sides: &[ResolvedSide]) -> Remark {
    let name = &lot.id.value.0;
    let streets: Vec<&ResolvedSide> =
        sides.iter().filter(|side| side.street.is_some() || side.role == Some(Role::StreetSide)).collect();
    let first = sides.first().map(|side| &side.name).or(lot.sides.first().map(|side| &side.name));
    let side = streets.first().map(|side| &side.name).or(first).map_or("sw-se", |name| name.0.as_str());
    let message = format!("The lot `{name}` does not say which of its lines is the front.");
    let help = if streets.is_empty() {
        format!(
            "Add `sides = {{ {side} = {{ role = \"front\" }} }}` with the name of the side it fronts, or name the \
             streets along its sides, `{side} = {{ street = \"...\" }}`, and the roles are proposed from them."
        )
    } else {
        let names: Vec<String> = streets.iter().map(|side| format!("`{}`", side.name.0)).collect();
        format!("Say `role = \"front\"` on the street line it fronts: {}.", names.join(" or "))
    };
    let mut remark = remark("data::no-front", Gravity::Lacking, lot, message, help);
    remark.spots = match streets.as_slice() {
        [] => middle(sides).into_iter().collect(),
        streets => streets.iter().filter_map(|side| spot(&side.path)).collect(),
    };
    remark
}

/// A place inside the box around a lot.
fn middle(sides: &[ResolvedSide]) -> Option<(Length, Length)> {
    let places = || sides.iter().flat_map(|side| &side.path).map(|point| line::flat(&point.at));
    let first = places().next()?;
    let (low, high): (Xy, Xy) = places().fold((first, first), |(low, high), p| {
        ((low.0.min(p.0), low.1.min(p.1)), (high.0.max(p.0), high.1.max(p.1)))
    });
    let at = position((f64::midpoint(low.0, high.0), f64::midpoint(low.1, high.1)));
    Some((at.x, at.y))
}

fn not_set_out(plan: &Plan, lot: &Lot, why: rear::NotSetOut) -> Remark {
    let name = &lot.id.value.0;
    let wanted = lot.pointed_rear.as_ref();
    let text = wanted.map_or("", |wanted| wanted.value.text.as_str());
    let (message, help) = match why {
        rear::NotSetOut::TooWide => (
            format!(
                "The lot `{name}` is nowhere as wide as its `pointed_rear` of {text}, across from its front."
            ),
            "Check the length, or take the key out and say `role = \"rear\"` on a side.",
        ),
        rear::NotSetOut::WideBehind(width) => (
            format!(
                "The back of the lot `{name}` is {} wide, so a rear line of {text} inside it has no one place.",
                length(plan, width)
            ),
            "Take `pointed_rear` out, and say `role = \"rear\"` on the side at the back.",
        ),
    };
    let mut remark = remark("data::pointed-rear", Gravity::Suspect, lot, message, help.to_owned());
    remark.span = wanted.map_or(lot.span, |wanted| wanted.span);
    remark
}

/// What was proposed for a lot, once; nothing when every role is stated.
fn roles_told(
    plan: &Plan,
    lot: &Lot,
    sides: &[ResolvedSide],
    whole: &[Side],
    proposal: &Proposal,
    (kept, front, proposed): (&[usize], &[usize], &[usize]),
    told: &Told,
) -> Option<Remark> {
    if proposed.is_empty() {
        return None;
    }
    let name = &lot.id.value.0;
    let listed = [Role::Front, Role::StreetSide, Role::Rear, Role::Side]
        .into_iter()
        .filter_map(|role| {
            let of: Vec<String> = proposed
                .iter()
                .filter_map(|at| sides.get(*at).filter(|side| side.role == Some(role)))
                .map(|side| format!("`{}`", side.name.0))
                .collect();
            (!of.is_empty()).then(|| format!("{} {}", word(role), of.join(", ")))
        })
        .collect::<Vec<_>>()
        .join("; ");
    let frontage = |at: usize| -> Vec<usize> {
        let sides = proposal.frontages.get(at).into_iter().flatten();
        sides.filter_map(|side| kept.get(*side).copied()).collect()
    };
    let size = |frontage: &[usize]| -> f64 {
        let whole: BTreeMap<usize, &Side> = kept.iter().copied().zip(whole).collect();
        frontage.iter().filter_map(|side| whole.get(side)).map(|side| Line::new(side).length).sum()
    };
    let called = |frontage: &[usize]| {
        let of: Vec<&ResolvedSide> = frontage.iter().filter_map(|at| sides.get(*at)).collect();
        let names: Vec<String> = of.iter().map(|side| format!("`{}`", side.name.0)).collect();
        let street = of.iter().find_map(|side| side.street.as_ref());
        let street = street.map_or(String::new(), |street| format!(" along {street}"));
        format!("{}{street} ({})", names.join(" and "), length(plan, size(frontage)))
    };
    let others: Vec<Vec<usize>> =
        (0..proposal.frontages.len()).filter(|at| Some(*at) != proposal.front).map(frontage).collect();
    let rivals: Vec<&Vec<usize>> = others
        .iter()
        .filter(|other| other.iter().any(|at| proposed.contains(at)))
        .filter(|other| {
            other.iter().any(|at| sides.get(*at).is_some_and(|s| s.role == Some(Role::StreetSide)))
        })
        .collect();
    let asks = front.iter().all(|at| proposed.contains(at)) && !rivals.is_empty();
    let mut remark = if asks {
        let equal = rivals.iter().any(|rival| (size(rival) - size(front)).abs() < 0.01);
        let why = if equal {
            "no street line is shorter, and of equals the first is taken"
        } else {
            "the shortest of its street lines, which is the usual rule (from memory)"
        };
        let others: Vec<String> = rivals.iter().map(|rival| called(rival)).collect();
        let to_change: Vec<String> = rivals
            .iter()
            .filter_map(|rival| rival.first().and_then(|at| sides.get(*at)))
            .map(|side| format!("`{}`", side.name.0))
            .collect();
        let own = front.first().and_then(|at| sides.get(*at)).map_or("", |side| side.name.0.as_str());
        let message = format!(
            "The corner lot `{name}` does not say which of its lines is the front. Proposed is {}: {why}. The other \
             is {}. Proposed with it: {listed}.",
            called(front),
            others.join(" and ")
        );
        let help = format!(
            "Say `role = \"front\"` on `{own}` to confirm it, or on {} to change it. Until then yards are judged by \
             what is proposed.",
            to_change.join(" or ")
        );
        remark("data::front-proposed", Gravity::Lacking, lot, message, help)
    } else {
        let kind = match told.position {
            Some(LotPosition::Flag) => {
                " It is a flag lot: the front is the street line of its pole, whose long lines are sides."
            }
            Some(LotPosition::Through) => {
                " It is a through lot: its street lines do not meet, and each acts as a front."
            }
            _ => "",
        };
        let message =
            format!("Roles of the lines of `{name}` were proposed from its streets: {listed}.{kind}");
        let help = "State `role` on a side to confirm it, or where the local text says otherwise.".to_owned();
        remark("data::roles-proposed", Gravity::Noted, lot, message, help)
    };
    let street_lines = std::iter::once(front).chain(rivals.iter().map(|rival| rival.as_slice()));
    remark.spots = street_lines.filter_map(|of| spot(&sides.get(*of.first()?)?.path)).collect();
    Some(remark)
}

fn word(role: Role) -> &'static str {
    match role {
        Role::Front => "front",
        Role::StreetSide => "street side",
        Role::Rear => "rear",
        Role::Side => "side",
    }
}
