//! The lots of a plan, with their lines and the roles proposed for them.

use groundrule_plan::{Gravity, Lot, Name, Remark, Side};
use groundrule_survey::Position;
use groundrule_units::Length;

use super::names::{Names, at, corner, name, path};
use crate::assign::Outline;
use crate::drawn::{Drawn, Part};
use crate::kernel::Xy;
use crate::remarks::{count, remark};
use crate::roles::{self, Front, Proposal, Street};
use crate::{Options, Use};

/// All lots, and their outlines in the same order.
pub(super) fn lots(
    drawn: &[Drawn],
    options: &Options,
    names: &mut Names,
    remarks: &mut Vec<Remark>,
) -> (Vec<Lot>, Vec<Outline>) {
    let mut outlines = Vec::new();
    let mut found = Vec::new();
    for thing in drawn.iter().filter(|thing| thing.role == Use::Lots) {
        for part in &thing.parts {
            if let Part::Area { ring, holes } = part {
                outlines.push(Outline { ring: ring.clone(), holes: holes.clone() });
                found.push((names.id("lot-", &thing.id), thing.span));
            }
        }
    }
    let streets = streets(drawn);
    let rings: Vec<Vec<Position>> = outlines.iter().map(|outline| positions(&outline.ring)).collect();
    let proposals = roles::propose(&rings, &streets, options.street_reach);
    let lots: Vec<Lot> = found
        .into_iter()
        .zip(outlines.iter().zip(&proposals))
        .map(|((id, span), (outline, proposal))| {
            let mut ring = path(&outline.ring, span);
            for (index, vertex) in ring.vertices.iter_mut().enumerate() {
                vertex.corner = Some(Name(corner(index)));
            }
            let sides = proposal
                .sides
                .iter()
                .map(|side| Side {
                    name: Name(format!("{}-{}", corner(side.from), corner(side.until))),
                    from: side.from,
                    until: side.until,
                    role: side.role.map(|role| at(role, span)),
                    assumed: side.role.is_some(),
                    street: side.street.and_then(|street| streets.get(street)?.name.clone()),
                    street_width: None,
                    span,
                })
                .collect();
            Lot { id: at(Name(id), span), ring, sides, by: None, stated_area: None, pointed_rear: None, span }
        })
        .collect();
    let with_streets = options.wants(&Use::Streets);
    remarks.extend(role_remarks(&lots, &proposals, with_streets));
    remarks.extend(hole_remark(&lots, &outlines));
    (lots, outlines)
}

fn positions(path: &[Xy]) -> Vec<Position> {
    path.iter().map(|&[x, y]| Position { x: Length::from_metres(x), y: Length::from_metres(y) }).collect()
}

fn streets(drawn: &[Drawn]) -> Vec<Street> {
    let streets = drawn.iter().filter(|thing| thing.role == Use::Streets);
    streets
        .flat_map(|thing| thing.parts.iter().map(move |part| (thing, part)))
        .filter_map(|(thing, part)| match part {
            Part::Line(path) => {
                let id = thing.name.clone().unwrap_or_else(|| format!("street {}", thing.id));
                Some(Street { name: Some(id), path: positions(path) })
            }
            _ => None,
        })
        .collect()
}

fn role_remarks(lots: &[Lot], proposals: &[Proposal], with_streets: bool) -> Vec<Remark> {
    let of = |wanted: &[Front]| -> Vec<Name> {
        let fits = lots.iter().zip(proposals).filter(|(_, found)| wanted.contains(&found.front));
        fits.map(|(lot, _)| lot.id.value.clone()).collect()
    };
    let mut remarks = Vec::new();
    let proposed = of(&[Front::Plain, Front::Corner]);
    if !proposed.is_empty() {
        let corners = of(&[Front::Corner]).len();
        remarks.push(remark(
            "data::roles-assumed",
            Gravity::Noted,
            format!(
                "Front, rear and side lines of {} were proposed from the middles of the streets and are assumed{}.",
                count(proposed.len(), "lot"),
                match corners {
                    0 => String::new(),
                    _ => format!(
                        "; {} with several street sides: the shortest was taken as the front",
                        count(corners, "lot")
                    ),
                },
            ),
            proposed,
            Some("State the role of a line where the zoning map or the assessor says otherwise."),
        ));
    }
    let unknown = of(&[Front::Unknown]);
    if !unknown.is_empty() {
        let why = if with_streets { "no street lies in front of" } else { "no street layer was named for" };
        remarks.push(remark(
            "data::front-unknown",
            Gravity::Lacking,
            format!("The front is unknown where {why} a lot: {}.", count(unknown.len(), "lot")),
            unknown,
            Some("State which line is the front; until then no line of these lots has a role."),
        ));
    }
    let land = of(&[Front::StreetLand]);
    if !land.is_empty() {
        remarks.push(remark(
            "data::street-land",
            Gravity::Noted,
            format!(
                "A street runs through {}: taken as street land, its lines have no role.",
                count(land.len(), "outline")
            ),
            land,
            None,
        ));
    }
    remarks
}

fn hole_remark(lots: &[Lot], outlines: &[Outline]) -> Option<Remark> {
    let holed: Vec<Name> = lots
        .iter()
        .zip(outlines)
        .filter(|(_, outline)| !outline.holes.is_empty())
        .map(|(lot, _)| name(&lot.id.value.0))
        .collect();
    (!holed.is_empty()).then(|| {
        remark(
            "data::lot-with-hole",
            Gravity::Lacking,
            format!(
                "{} other land inside: its area counts that land, its lines are the outer ones only.",
                if holed.len() == 1 { "1 lot has".to_owned() } else { format!("{} lots have", holed.len()) }
            ),
            holed,
            Some("Shares of the lot's area come out too small there; state the lot's area."),
        )
    })
}
