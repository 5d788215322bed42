//! Names of things: inside them where they fit, along them where they are long, beside them otherwise.

use groundrule_site::{Feature, Site};
use groundrule_survey::{Point, Shape};

use super::features::places;
use super::room::{Place, Room, rings, text_width};
use super::sheet::{Sheet, bounds};
use super::svg::{Paper, Svg};
use super::symbols::{self, upright};
use crate::marking;

/// Kinds that get a name, those that most need one first; the rest are told by their symbols.
const NAMED: [&str; 14] = [
    "dwelling",
    "structure",
    "paving",
    "water",
    "easement",
    "equipment",
    "septic",
    "well",
    "tree",
    "bed",
    "hedge",
    "area",
    "lawn",
    "shrub",
];
/// A name that finds no room inside looks this far around, in millimetres.
const BESIDE: [f64; 5] = [2.6, 4.0, 6.0, 8.5, 12.0];
/// What a place beside a thing costs more than one inside it, in pieces of line crossed.
const OUTSIDE: f64 = 4.0;

/// Writes the names of all features that are on the sheet and find room.
pub(crate) fn draw(svg: &mut Svg, site: &Site, sheet: &Sheet, room: &mut Room) {
    let rank = |feature: &Feature| NAMED.iter().position(|kind| site.kinds().is_a(&feature.kind, kind));
    let mut named: Vec<(usize, &Feature)> = site
        .features()
        .filter(|(_, f)| sheet.shows(f) && f.kind != "lot" && f.kind != "lot-line")
        .filter_map(|(_, f)| Some((rank(f)?, f)))
        .collect();
    named.sort_by_key(|(rank, feature)| (*rank, feature.id.clone()));
    for (rank, feature) in named {
        let text = name(feature);
        let (class, size) = if rank < 3 { ("label", 2.4) } else { ("label small", 2.0) };
        let (width, height) = (text_width(&text, size) + 0.6, size + 0.4);
        if let Some(place) = room.best(candidates(sheet, &feature.shape, width, height), width, height) {
            svg.text(class, place.at, place.turn, &text);
        }
    }
}

/// Writes the letters of wires and pipes on them, moved along where a symbol is in the way.
pub(crate) fn letters(svg: &mut Svg, site: &Site, sheet: &Sheet, room: &mut Room) {
    for (_, feature) in
        site.features().filter(|(_, f)| sheet.shows(f) && site.kinds().is_a(&f.kind, "utility"))
    {
        let Shape::Line { path, .. } = &feature.shape else { continue };
        let letters = marking::letters(site.kinds(), &feature.kind);
        let (width, height) = (text_width(letters, 2.2) + 1.0, 2.6);
        for (at, (ux, uy)) in symbols::letter_places(&places(sheet, path)) {
            let turn = upright(libm::atan2(uy, ux).to_degrees());
            let moved = |by: f64| Place { at: at.plus(ux * by, uy * by), turn, worse: by.abs() };
            if let Some(place) = room.best([0.0, 5.0, -5.0, 10.0, -10.0].map(moved), width, height) {
                svg.text("label letters", place.at, place.turn, letters);
            }
        }
    }
}

/// A feature's title, or its id with the hyphens read as spaces.
pub(crate) fn name(feature: &Feature) -> String {
    if feature.title == feature.id.0 { feature.id.0.replace(['-', '_'], " ") } else { feature.title.clone() }
}

/// Where to start from: the centre of an outline, the middle of a line, the centre of a disc.
pub(crate) fn middle(sheet: &Sheet, shape: &Shape) -> Option<Paper> {
    match shape {
        Shape::Line { path, .. } => longest(&places(sheet, path)).map(|(from, to)| from.middle(to)),
        Shape::Outline { ring, .. } => Some(centre(&places(sheet, ring))),
        Shape::Disc { centre, .. } => Some(sheet.place(centre.at)),
        Shape::Spot(point) => Some(sheet.place(point.at)),
        Shape::Absent => None,
    }
}

/// The places for a name of this size, best first.
fn candidates(sheet: &Sheet, shape: &Shape, width: f64, height: f64) -> Vec<Place> {
    let Some(middle) = middle(sheet, shape) else { return Vec::new() };
    // The name of a point must stay near it, or it would seem to be that of something else.
    let radii = if matches!(shape, Shape::Spot(_)) { &BESIDE[..3] } else { &BESIDE };
    let around =
        || rings(middle, radii, 12, 1.0).into_iter().map(|p| Place { worse: p.worse + OUTSIDE, ..p });
    match shape {
        Shape::Line { path, width: band } => {
            let along = along(sheet, path, sheet.length(*band), width, height);
            along.into_iter().chain(around()).collect()
        }
        Shape::Outline { .. } | Shape::Disc { .. } => {
            inside(sheet, shape, middle, width, height).into_iter().chain(around()).collect()
        }
        Shape::Spot(_) | Shape::Absent => around().collect(),
    }
}

/// Level places inside the feature's box, then upright ones where it is tall and narrow.
fn inside(sheet: &Sheet, shape: &Shape, middle: Paper, width: f64, height: f64) -> Vec<Place> {
    let Some((low, high)) = bounds(shape) else { return Vec::new() };
    let (wide, tall) = ((high.0 - low.0) * sheet.per_metre, (high.1 - low.1) * sheet.per_metre);
    let steps = |room: f64, thick: f64| {
        let steps = [0.0, -1.1, 1.1, -2.2, 2.2, -3.3, 3.3, -4.4, 4.4].map(|step: f64| step * thick);
        steps.into_iter().filter(move |step| step.abs() * 2.0 + thick <= room)
    };
    let mut places = Vec::new();
    if wide >= width && tall >= height {
        for down in steps(tall, height) {
            for across in steps(wide, width / 2.0).filter(|across| across.abs() * 2.0 + width <= wide) {
                let worse = (down.abs() / height + across.abs() / width) * 0.2;
                places.push(Place::level(middle.plus(across, down), worse));
            }
        }
    } else if tall >= width && wide >= height * 0.9 {
        for down in steps(tall, width / 2.0).filter(|down| down.abs() * 2.0 + width <= tall) {
            places.push(Place { at: middle.plus(0.0, down), turn: -90.0, worse: 0.5 });
        }
    }
    places
}

/// Places along the longest piece of a line: on it where it is wide enough, else on either side.
fn along(sheet: &Sheet, path: &[Point], band: f64, width: f64, height: f64) -> Vec<Place> {
    let Some((from, to)) = longest(&places(sheet, path)) else { return Vec::new() };
    let reach = from.distance(to);
    if reach < width {
        return Vec::new();
    }
    let turn = upright(libm::atan2(to.y - from.y, to.x - from.x).to_degrees());
    let (sin, cos) = libm::sincos(turn.to_radians());
    let offsets =
        if band >= height { vec![0.0] } else { vec![band / 2.0 + height * 0.8, -band / 2.0 - height * 0.8] };
    let shares = [0.5, 0.35, 0.65, 0.2, 0.8].into_iter();
    let fits = shares.filter(|share: &f64| share.min(1.0 - share) * reach >= width / 2.0);
    let place = |share: f64, off: f64| Place {
        at: from.towards(to, share).plus(sin * off, -cos * off),
        turn,
        worse: (share - 0.5).abs(),
    };
    fits.flat_map(|share| offsets.iter().map(move |off| place(share, *off))).collect()
}

fn longest(path: &[Paper]) -> Option<(Paper, Paper)> {
    let pieces = path.iter().copied().zip(path.iter().skip(1).copied());
    // The first of equals, so that the choice does not hang on the order of comparison.
    pieces.reduce(|a, b| if b.0.distance(b.1) > a.0.distance(a.1) + 1e-9 { b } else { a })
}

/// The centre of the area within a ring; the mean of its corners where it has none.
fn centre(ring: &[Paper]) -> Paper {
    let n = ring.len().max(1) as f64;
    let mean = ring.iter().fold(Paper::new(0.0, 0.0), |sum, p| sum.plus(p.x / n, p.y / n));
    let (mut area, mut x, mut y) = (0.0, 0.0, 0.0);
    for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
        // Relative to the mean, so that nothing is lost far from the corner of the sheet.
        let (ax, ay, bx, by) = (a.x - mean.x, a.y - mean.y, b.x - mean.x, b.y - mean.y);
        let cross = ax * by - bx * ay;
        area += cross;
        x += (ax + bx) * cross;
        y += (ay + by) * cross;
    }
    if area.abs() < 1e-9 { mean } else { mean.plus(x / (3.0 * area), y / (3.0 * area)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn centres() {
        let check = |ring: &[(f64, f64)], expected: (f64, f64)| {
            let ring: Vec<Paper> = ring.iter().map(|(x, y)| Paper::new(*x, *y)).collect();
            let found = centre(&ring);
            assert!((found.x - expected.0).abs() < 1e-9 && (found.y - expected.1).abs() < 1e-9, "{found:?}");
        };
        check(&[(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (0.0, 2.0)], (2.0, 1.0));
        // A triangle's centroid is the mean of its corners (Euclid's medians); a doubled corner changes nothing.
        check(&[(0.0, 0.0), (6.0, 0.0), (0.0, 3.0), (0.0, 3.0)], (2.0, 1.0));
        check(&[(1.0, 1.0), (3.0, 3.0)], (2.0, 2.0));
    }
}
