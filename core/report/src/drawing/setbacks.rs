//! Required setback lines and the ground they leave.

use groundrule_review::{Buildable, Review, Setback};
use groundrule_site::{Mark, Site};
use groundrule_survey::{Position, Shape};
use groundrule_units::{Style, show};

use super::room::{Place, Room, text_width};
use super::sheet::Sheet;
use super::svg::{Paper, Svg};
use super::symbols::upright;

/// The size of the letters on a setback line.
const LETTERS: f64 = 2.0;
/// The size of the letters inside what is left.
const NAME: f64 = 2.2;
/// How far the middle of a label stands off its line.
const OFF: f64 = 1.9;

/// The tint of the buildable area, under everything that stands on it.
pub(super) fn ground(svg: &mut Svg, review: &Review, sheet: &Sheet) {
    for ring in review.buildable.iter().flat_map(|lot| &lot.regions).filter_map(region) {
        svg.polygon("buildable", &[&places(sheet, ring)]);
    }
}

/// The setback lines, over what stands there, so that what reaches past one is seen to.
pub(super) fn lines(svg: &mut Svg, review: &Review, sheet: &Sheet, room: &mut Room) {
    for path in review.buildable.iter().flat_map(|lot| &lot.setbacks).flat_map(|setback| &setback.paths) {
        let path = places(sheet, path);
        svg.polyline("setback", &path);
        room.draw_line(&path);
    }
}

/// How deep each setback is and by which rule, along its line, and how large what is left is.
pub(super) fn labels(
    svg: &mut Svg,
    site: &Site,
    review: &Review,
    sheet: &Sheet,
    style: Style,
    room: &mut Room,
) {
    // The area is that of the ground, and would be misread inside a building.
    let buildings: Vec<Vec<Paper>> = site
        .features()
        .filter(|(_, feature)| sheet.shows(feature) && site.kinds().is_a(&feature.kind, "structure"))
        .filter_map(|(_, feature)| match &feature.shape {
            Shape::Outline { ring, .. } => Some(ring.iter().map(|point| sheet.place(point.at)).collect()),
            _ => None,
        })
        .collect();
    for lot in &review.buildable {
        for setback in &lot.setbacks {
            line(svg, setback, sheet, style, room);
        }
        area(svg, lot, &buildings, sheet, style, room);
    }
}

fn line(svg: &mut Svg, setback: &Setback, sheet: &Sheet, style: Style, room: &mut Room) {
    let title = setback.title.to_uppercase();
    let text = format!("{title} {}", show(setback.depth.value, style));
    let width = text_width(&text, LETTERS) + 1.0;
    let edges = setback.paths.iter().flat_map(|path| {
        let path = places(sheet, path);
        path.windows(2).map(|ends| (ends[0], ends[1])).collect::<Vec<_>>()
    });
    let Some((from, to)) = edges.max_by(|a, b| a.0.distance(a.1).total_cmp(&b.0.distance(b.1))) else {
        return;
    };
    if from.distance(to) < width {
        return;
    }
    let turn = upright(libm::atan2(to.y - from.y, to.x - from.x).to_degrees());
    let (sin, cos) = libm::sincos(turn.to_radians());
    let slack = 0.5 * (1.0 - width / from.distance(to));
    let along = [0.0, 0.35, -0.35, 0.7, -0.7, 1.0, -1.0].map(|share| 0.5 + share * slack);
    // Above the line first, as dimensions are written.
    let candidates = along.into_iter().enumerate().flat_map(|(i, share)| {
        let at = from.towards(to, share);
        [OFF, -OFF].map(|off| Place {
            at: at.plus(sin * off, -cos * off),
            turn,
            worse: 0.2 * i as f64 + if off < 0.0 { 0.1 } else { 0.0 },
        })
    });
    if let Some(place) = room.best(candidates.collect::<Vec<_>>(), width, LETTERS) {
        svg.text("label small", place.at, place.turn, &text);
    }
}

fn area(
    svg: &mut Svg,
    lot: &Buildable,
    buildings: &[Vec<Paper>],
    sheet: &Sheet,
    style: Style,
    room: &mut Room,
) {
    let Some(area) = &lot.area else { return };
    let rings = lot.regions.iter().filter_map(region).map(|ring| places(sheet, ring));
    let Some(ring) = rings.max_by(|a, b| size(a).total_cmp(&size(b))) else { return };
    let text = format!("BUILDABLE AREA {}", show(area.value, style));
    let (width, height) = (text_width(&text, NAME) + 1.0, NAME + 0.6);
    let (low, high) = ring.iter().fold((ring[0], ring[0]), |(low, high), p| {
        (Paper::new(low.x.min(p.x), low.y.min(p.y)), Paper::new(high.x.max(p.x), high.y.max(p.y)))
    });
    // Along the lower edge first, and then wherever nothing stands.
    let shares = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8];
    let downs = [0.95, 0.05, 0.9, 0.1, 0.85, 0.15, 0.8, 0.2, 0.7, 0.3, 0.6, 0.4, 0.5];
    let candidates = downs.into_iter().enumerate().flat_map(|(i, down)| {
        shares.into_iter().enumerate().map(move |(k, across)| {
            let at = Paper::new(low.x + (high.x - low.x) * across, low.y + (high.y - low.y) * down);
            Place::level(at, 0.1 * i as f64 + 0.05 * k as f64)
        })
    });
    let fits = |place: &Place| {
        let mut corners = [-0.5, 0.0, 0.5]
            .into_iter()
            .flat_map(|across| [-height, height].map(|up| place.at.plus(across * width, up)));
        corners.all(|at| holds(&ring, at) && !buildings.iter().any(|building| holds(building, at)))
    };
    if let Some(place) = room.best(candidates.filter(fits).collect::<Vec<_>>(), width, height) {
        svg.text("label line-name", place.at, 0.0, &text);
    }
}

fn region(mark: &Mark) -> Option<&[Position]> {
    match mark {
        Mark::Region(ring) if ring.len() > 2 => Some(ring),
        _ => None,
    }
}

fn places(sheet: &Sheet, path: &[Position]) -> Vec<Paper> {
    path.iter().map(|at| sheet.place(*at)).collect()
}

fn edges(ring: &[Paper]) -> impl Iterator<Item = (&Paper, &Paper)> {
    ring.iter().zip(ring.iter().cycle().skip(1))
}

fn size(ring: &[Paper]) -> f64 {
    edges(ring).map(|(a, b)| a.x * b.y - b.x * a.y).sum::<f64>().abs()
}

fn holds(ring: &[Paper], at: Paper) -> bool {
    let crossed = edges(ring)
        .filter(|(a, b)| (a.y > at.y) != (b.y > at.y))
        .filter(|(a, b)| at.x < a.x + (at.y - a.y) / (b.y - a.y) * (b.x - a.x));
    crossed.count() % 2 == 1
}
