//! Names of things, inside them where they fit and beside them where they do not.

use groundrule_site::{Feature, Site};
use groundrule_survey::Shape;

use super::room::{Room, rings, text_width};
use super::sheet::{Sheet, bounds};
use super::svg::{Paper, Svg};

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
const BESIDE: [f64; 4] = [3.0, 5.0, 7.5, 11.0];

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
        let (width, height) = (text_width(&text, size) + 0.8, size + 0.6);
        if let Some(middle) = middle(sheet, &feature.shape) {
            let inside = inside(sheet, &feature.shape, middle, width, height);
            if let Some(at) =
                room.first_free(inside.into_iter().chain(rings(middle, &BESIDE, 8)), width, height)
            {
                svg.text(class, at, 0.0, &text);
            }
        }
    }
}

/// A feature's title, or its id with the hyphens read as spaces.
pub(crate) fn name(feature: &Feature) -> String {
    if feature.title == feature.id.0 { feature.id.0.replace(['-', '_'], " ") } else { feature.title.clone() }
}

/// A place to start from: the middle of an outline's box or of a line, the centre of a disc.
pub(crate) fn middle(sheet: &Sheet, shape: &Shape) -> Option<Paper> {
    match shape {
        Shape::Line { path, .. } => {
            let i = path.len() / 2;
            Some(sheet.place(path.get(i.checked_sub(1)?)?.at).middle(sheet.place(path.get(i)?.at)))
        }
        Shape::Outline { ring, .. } => {
            // The mean of the corners lies inside nearly everything that is drawn in a garden.
            let n = ring.len() as f64;
            let sum =
                ring.iter().map(|p| sheet.place(p.at)).fold(Paper::new(0.0, 0.0), |a, p| a.plus(p.x, p.y));
            Some(Paper::new(sum.x / n, sum.y / n))
        }
        Shape::Disc { centre, .. } => Some(sheet.place(centre.at)),
        Shape::Spot(point) => Some(sheet.place(point.at)),
        Shape::Absent => None,
    }
}

/// Places within the feature's box, from its middle up and down.
fn inside(sheet: &Sheet, shape: &Shape, middle: Paper, width: f64, height: f64) -> Vec<Paper> {
    let Some((low, high)) = bounds(shape) else { return Vec::new() };
    let (wide, tall) = ((high.0 - low.0) * sheet.per_metre, (high.1 - low.1) * sheet.per_metre);
    if matches!(shape, Shape::Spot(_)) || wide < width * 0.9 || tall < height {
        return Vec::new();
    }
    let step = height * 1.1;
    let rows = [0.0, -step, step, -2.0 * step, 2.0 * step];
    rows.into_iter().filter(|y| y.abs() * 2.0 + height <= tall).map(|y| middle.plus(0.0, y)).collect()
}
