//! Parcels: closed chains of lines and curves.

use groundrule_plan::{At, Curve, Gravity, Lot, Name, Path, Place, Remark, Side, Span, Vertex};
use groundrule_units::{Area, Mark, Written};
use roxmltree::Node;

use super::read::{Known, Units, head, named, numbers};
use crate::assemble::{Names, corner, written};
use crate::gather::Gather;
use crate::kernel::{Xy, cross, length, minus};
use crate::remarks::{count, remark};

/// Ends of pieces that meet differ by rounding only; ten millimetres is a gap.
const GAP: f64 = 0.01;

/// One piece of a parcel's boundary.
struct Piece {
    from: Xy,
    until: Xy,
    /// A place on the arc between them; a straight line when none.
    through: Option<Xy>,
}

/// What is wrong with a piece: the words after the parcel's name, and what to do.
type Told = (&'static str, &'static str);

/// All parcels that have a boundary, with what is to be said of them together.
pub(super) fn lots(
    gather: &mut Gather<'_>,
    root: Node<'_, '_>,
    units: Units,
    known: &Known,
) -> (Vec<Lot>, Vec<Remark>) {
    let mut names = Names::default();
    let mut lots = Vec::new();
    for parcel in named(root, "Parcel") {
        let own = |name: &'static str| parcel.children().find(move |child| child.tag_name().name() == name);
        let Some(boundary) = own("CoordGeom") else { continue };
        let text = parcel.attribute("name").unwrap_or_default();
        let span = head(parcel);
        match ring(boundary, units, known) {
            Ok(pieces) => {
                let id = names.id("lot-", text);
                let area = parcel.attribute("area").and_then(|area| stated_area(area, units, span));
                lots.push(lot(id, &pieces, area, span));
            }
            Err((what, help)) => {
                gather.add(
                    "landxml::bad-parcel",
                    format!("parcel `{text}` {what}"),
                    (span, "this parcel"),
                    help,
                );
            }
        }
    }
    let remarks = if lots.is_empty() { Vec::new() } else { vec![front_remark(&lots)] };
    (lots, remarks)
}

fn front_remark(lots: &[Lot]) -> Remark {
    remark(
        "data::front-unknown",
        Gravity::Lacking,
        format!("The file does not say which line is the front of {}.", count(lots.len(), "lot")),
        lots.iter().map(|lot| lot.id.value.clone()).collect(),
        Some("State which line is the front; until then no line of these lots has a role."),
    )
}

fn ring(boundary: Node<'_, '_>, units: Units, known: &Known) -> Result<Vec<Piece>, Told> {
    let mut pieces: Vec<Piece> = Vec::new();
    for node in boundary.children().filter(Node::is_element) {
        match node.tag_name().name() {
            "Line" => {
                let (from, until) = (end(node, "Start", units, known)?, end(node, "End", units, known)?);
                pieces.push(Piece { from, until, through: None });
            }
            "Curve" => pieces.push(curve(node, units, known)?),
            "IrregularLine" => irregular(node, units, known, &mut pieces)?,
            "Spiral" | "Chain" => {
                return Err((
                    "has a boundary piece that is neither a line nor a circular curve",
                    "export it as lines and curves",
                ));
            }
            _ => {}
        }
    }
    pieces.retain(|piece| length(minus(piece.until, piece.from)) > 0.0);
    let curved = pieces.iter().any(|piece| piece.through.is_some());
    if pieces.len() < if curved { 2 } else { 3 } {
        return Err(("has too few boundary pieces to enclose anything", "export its whole boundary"));
    }
    let follows = pieces.iter().zip(pieces.iter().cycle().skip(1));
    if follows.into_iter().any(|(piece, next)| length(minus(next.from, piece.until)) > GAP) {
        return Err((
            "has a boundary that does not close: a piece starts where the one before does not end",
            "mend the boundary where it was drawn, and export it again",
        ));
    }
    Ok(pieces)
}

const NO_END: Told = (
    "has a boundary piece without a readable end",
    "give `northing easting`, or the name of a point of the file",
);

/// An end of a piece: two or three numbers, northing first, or the name of a point.
fn end(piece: Node<'_, '_>, which: &str, units: Units, known: &Known) -> Result<Xy, Told> {
    let node = piece.children().find(|child| child.tag_name().name() == which).ok_or(NO_END)?;
    if let Some(name) = node.attribute("pntRef") {
        return known.get(name).copied().ok_or((
            "refers to a point that is not in the file",
            "export the points (`CgPoints`) with the parcels",
        ));
    }
    let one = units.linear.one().metres();
    match numbers(node.text().unwrap_or_default()).as_deref() {
        Some([northing, easting] | [northing, easting, _]) => Ok([easting * one, northing * one]),
        _ => Err(NO_END),
    }
}

/// A circular curve: the side of the chord its middle lies on comes from `rot` and the centre.
fn curve(node: Node<'_, '_>, units: Units, known: &Known) -> Result<Piece, Told> {
    let (from, until) = (end(node, "Start", units, known)?, end(node, "End", units, known)?);
    let centre = end(node, "Center", units, known)?;
    let (out, back) = (minus(from, centre), minus(until, centre));
    let radius = length(out);
    if radius == 0.0 || (length(back) - radius).abs() > GAP {
        return Err((
            "has a curve whose ends lie at different distances from its centre",
            "check the curve's centre where it was drawn",
        ));
    }
    let anticlockwise = match node.attribute("rot") {
        Some("ccw") => true,
        Some("cw") => false,
        _ => {
            return Err((
                "has a curve that does not say which way it turns",
                "give the curve a `rot` of cw or ccw",
            ));
        }
    };
    // Half the swept angle, measured the way the curve turns.
    let sweep = libm::atan2(cross(out, back), out[0] * back[0] + out[1] * back[1]);
    let full = std::f64::consts::TAU;
    let sweep = match (anticlockwise, sweep < 0.0) {
        (true, true) => sweep + full,
        (false, false) => sweep - full,
        _ => sweep,
    };
    let (sin, cos) = libm::sincos(sweep / 2.0);
    let through = [centre[0] + out[0] * cos - out[1] * sin, centre[1] + out[0] * sin + out[1] * cos];
    Ok(Piece { from, until, through: Some(through) })
}

/// A polyline in one element.
fn irregular(node: Node<'_, '_>, units: Units, known: &Known, pieces: &mut Vec<Piece>) -> Result<(), Told> {
    let one = units.linear.one().metres();
    let list = |name: &str, width: usize| -> Option<Vec<Xy>> {
        let text = node.children().find(|child| child.tag_name().name() == name)?.text()?;
        let numbers = numbers(text)?;
        let whole = numbers.len() % width == 0;
        whole.then(|| numbers.chunks(width).map(|at| [at[1] * one, at[0] * one]).collect())
    };
    let mut places = match list("PntList2D", 2).or_else(|| list("PntList3D", 3)) {
        Some(places) if !places.is_empty() => places,
        _ => return Err(NO_END),
    };
    let (from, until) = (end(node, "Start", units, known)?, end(node, "End", units, known)?);
    // The list repeats the ends in some files and not in others.
    if length(minus(places[0], from)) > GAP {
        places.insert(0, from);
    }
    if places.last().is_some_and(|&last| length(minus(last, until)) > GAP) {
        places.push(until);
    }
    pieces.extend(places.windows(2).map(|ends| Piece { from: ends[0], until: ends[1], through: None }));
    Ok(())
}

fn lot(id: String, pieces: &[Piece], stated_area: Option<At<Written<Area>>>, span: Span) -> Lot {
    let place = |[x, y]: Xy| Place::At { x: written(x), y: written(y), span };
    let vertices = pieces
        .iter()
        .enumerate()
        .map(|(index, piece)| Vertex {
            place: place(piece.from),
            corner: Some(Name(corner(index))),
            curve: piece.through.map(|through| Box::new(Curve::Through(place(through)))),
        })
        .collect();
    let sides = (0..pieces.len())
        .map(|from| {
            let until = (from + 1) % pieces.len();
            Side {
                name: Name(format!("{}-{}", corner(from), corner(until))),
                from,
                until,
                role: None,
                assumed: false,
                street: None,
                street_width: None,
                span,
            }
        })
        .collect();
    Lot {
        id: At { value: Name(id), span },
        ring: Path { vertices, span },
        sides,
        by: None,
        stated_area,
        pointed_rear: None,
        span,
    }
}

fn stated_area(text: &str, units: Units, span: Span) -> Option<At<Written<Area>>> {
    let number = text.trim().parse::<f64>().ok().filter(|number| number.is_finite() && *number > 0.0)?;
    let value = units.area? * number;
    Some(At { value: Written { value, text: text.trim().to_owned(), mark: Mark::Record }, span })
}
