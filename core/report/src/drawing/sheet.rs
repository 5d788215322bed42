//! Fitting the plan to paper at a standard scale.

use groundrule_site::{Feature, FeatureId, Site};
use groundrule_survey::{Position, Shape};
use groundrule_units::{Length, Style};

use super::clip::Window;
use super::markings;
use super::svg::Paper;

/// Room around the drawing for street names and dimensions, in millimetres.
const AROUND: f64 = 14.0;
/// The same around a sketch, which has no names of streets to spare more for.
const CLOSE: f64 = 8.0;
/// How far the ground is drawn beyond what stands on it.
const FRINGE: f64 = 5.0;
/// The smallest scale at which a garden is readable.
const READABLE: f64 = 250.0;
/// The sheet's edge that stays empty.
pub(crate) const MARGIN: f64 = 8.0;
/// The height of the strip with title, scale and legend, without what explains lines in the ground.
pub(crate) const STRIP: f64 = 40.0;

/// Width and height.
type Size = (f64, f64);

/// Paper sizes, width and height in millimetres, upright, small to large.
const INCH_PAPERS: [Size; 4] = [(215.9, 279.4), (279.4, 431.8), (457.2, 609.6), (609.6, 914.4)];
const METRIC_PAPERS: [Size; 4] = [(210.0, 297.0), (297.0, 420.0), (420.0, 594.0), (594.0, 841.0)];

/// Engineer's and architect's scales, as the ratio and as the trade writes them.
pub(crate) const INCH_SCALES: [(f64, &str); 12] = [
    (48.0, "1/4\" = 1'-0\""),
    (96.0, "1/8\" = 1'-0\""),
    (120.0, "1\" = 10'"),
    (192.0, "1/16\" = 1'-0\""),
    (240.0, "1\" = 20'"),
    (360.0, "1\" = 30'"),
    (480.0, "1\" = 40'"),
    (600.0, "1\" = 50'"),
    (720.0, "1\" = 60'"),
    (1200.0, "1\" = 100'"),
    (2400.0, "1\" = 200'"),
    (6000.0, "1\" = 500'"),
];
pub(crate) const METRIC_SCALES: [(f64, &str); 9] = [
    (50.0, "1:50"),
    (100.0, "1:100"),
    (200.0, "1:200"),
    (250.0, "1:250"),
    (500.0, "1:500"),
    (1000.0, "1:1000"),
    (2000.0, "1:2000"),
    (5000.0, "1:5000"),
    (10000.0, "1:10000"),
];

/// A sheet of paper with the plan on it.
#[derive(Clone, Debug)]
pub(crate) struct Sheet {
    /// Paper width in millimetres.
    pub(crate) width: f64,
    /// Paper height.
    pub(crate) height: f64,
    /// How much of the height the strip with title, scale and legend takes.
    pub(crate) strip: f64,
    /// The scale as the trade writes it.
    pub(crate) scale: String,
    /// Millimetres of paper for a metre of ground.
    pub(crate) per_metre: f64,
    /// The low corner of what is drawn.
    low: (f64, f64),
    high: (f64, f64),
    /// Where that corner lies on the paper.
    origin: Paper,
}

impl Sheet {
    /// The smallest paper on which a standard scale shows everything readably, with a strip so much taller.
    pub(crate) fn fit(site: &Site, style: Style, more: f64) -> Self {
        let (low, high) = extent(site);
        let (wide, tall) = ((high.0 - low.0).max(1.0), (high.1 - low.1).max(1.0));
        let (papers, scales): (&[Size], &[(f64, &str)]) = match style {
            Style::Metres => (&METRIC_PAPERS, &METRIC_SCALES),
            Style::FeetInches | Style::DecimalFeet => (&INCH_PAPERS, &INCH_SCALES),
        };
        let strip = STRIP + markings::height(site) + more;
        let room = |(w, h): Size| (w - 2.0 * (MARGIN + AROUND), h - 2.0 * (MARGIN + AROUND) - strip);
        let fits = |paper: Size, scale: f64| {
            let (w, h) = room(paper);
            wide * 1000.0 / scale <= w && tall * 1000.0 / scale <= h
        };
        let best = |(w, h): Size| {
            scales.iter().find_map(|&(ratio, name)| {
                let paper = [(w, h), (h, w)].into_iter().find(|&paper| fits(paper, ratio))?;
                Some((paper, ratio, name.to_owned()))
            })
        };
        // The paper of a home printer where the plan is readable on it, else that of a copy shop.
        let home = best(papers[0]).filter(|(_, ratio, _)| *ratio <= READABLE);
        let found = home.or_else(|| best(papers[1]));
        let ((width, height), ratio, scale) = found.unwrap_or_else(|| {
            // Beyond every standard scale: the largest paper, and a scale that is said to be none.
            let paper = papers[papers.len() - 1];
            let (w, h) = room(paper);
            let ratio = (wide * 1000.0 / w).max(tall * 1000.0 / h).ceil();
            (paper, ratio, "not to scale".to_owned())
        });
        let per_metre = 1000.0 / ratio;
        let (drawn_w, drawn_h) = (wide * per_metre, tall * per_metre);
        let origin = Paper::new((width - drawn_w) / 2.0, f64::midpoint(height - strip, drawn_h));
        Self { width, height, strip, scale, per_metre, low, high, origin }
    }

    /// A sketch on a piece of paper of this size, at the largest standard scale that shows everything above a
    /// strip of this height.
    pub(crate) fn within(site: &Site, style: Style, (width, height): Size, strip: f64) -> Self {
        let (low, high) = extent(site);
        let (wide, tall) = ((high.0 - low.0).max(1.0), (high.1 - low.1).max(1.0));
        let (across, up) = (width - 2.0 * CLOSE, height - strip - 2.0 * CLOSE);
        let least = (wide * 1000.0 / across).max(tall * 1000.0 / up);
        let scales: &[(f64, &str)] = match style {
            Style::Metres => &METRIC_SCALES,
            Style::FeetInches | Style::DecimalFeet => &INCH_SCALES,
        };
        let found = scales.iter().find(|(ratio, _)| *ratio >= least);
        let (ratio, scale) = found.map_or((least.ceil(), "not to scale"), |(ratio, scale)| (*ratio, scale));
        let per_metre = 1000.0 / ratio;
        let origin =
            Paper::new((width - wide * per_metre) / 2.0, f64::midpoint(height - strip, tall * per_metre));
        Self { width, height, strip, scale: scale.to_owned(), per_metre, low, high, origin }
    }

    /// A position on the paper.
    pub(crate) fn place(&self, at: Position) -> Paper {
        Paper::new(
            self.origin.x + (at.x.metres() - self.low.0) * self.per_metre,
            self.origin.y - (at.y.metres() - self.low.1) * self.per_metre,
        )
    }

    /// The position of a place on the paper.
    pub(crate) fn position(&self, at: Paper) -> Position {
        let metres = |low: f64, along: f64| Length::from_metres(low + along / self.per_metre);
        Position { x: metres(self.low.0, at.x - self.origin.x), y: metres(self.low.1, self.origin.y - at.y) }
    }

    /// The part of the paper that is drawn on, with a little around what stands there.
    pub(crate) fn window(&self) -> Window {
        let at = |(x, y): (f64, f64)| Position { x: Length::from_metres(x), y: Length::from_metres(y) };
        let (low, high) = (self.place(at(self.low)), self.place(at(self.high)));
        Window {
            low: Paper::new(low.x - FRINGE, high.y - FRINGE),
            high: Paper::new(high.x + FRINGE, low.y + FRINGE),
        }
    }

    /// A length on the paper, in millimetres.
    pub(crate) fn length(&self, length: Length) -> f64 {
        length.metres() * self.per_metre
    }

    /// True when any part of a feature lies on the sheet.
    pub(crate) fn shows(&self, feature: &Feature) -> bool {
        bounds(&feature.shape).is_some_and(|(low, high)| {
            low.0 <= self.high.0 && high.0 >= self.low.0 && low.1 <= self.high.1 && high.1 >= self.low.1
        })
    }
}

type Bounds = ((f64, f64), (f64, f64));

/// What to draw: the lots with everything near them, or everything when there is no lot.
fn extent(site: &Site) -> Bounds {
    let all = || site.features().map(|(_, feature)| feature);
    let lots = all().filter(|f| f.kind == "lot").filter_map(|f| bounds(&f.shape)).reduce(both);
    let near = |b: &Bounds| match lots {
        None => true,
        Some((low, high)) => {
            let reach = (high.0 - low.0).max(high.1 - low.1) * 0.25;
            b.0.0 >= low.0 - reach
                && b.0.1 >= low.1 - reach
                && b.1.0 <= high.0 + reach
                && b.1.1 <= high.1 + reach
        }
    };
    let drawn = all().filter_map(|f| bounds(&f.shape)).filter(near).reduce(both);
    match (lots, drawn) {
        (Some(a), Some(b)) => both(a, b),
        (one, other) => one.or(other).unwrap_or(((0.0, 0.0), (10.0, 10.0))),
    }
}

fn both(a: Bounds, b: Bounds) -> Bounds {
    ((a.0.0.min(b.0.0), a.0.1.min(b.0.1)), (a.1.0.max(b.1.0), a.1.1.max(b.1.1)))
}

/// The box around a shape, in metres.
pub(crate) fn bounds(shape: &Shape) -> Option<Bounds> {
    let point = |at: Position| ((at.x.metres(), at.y.metres()), (at.x.metres(), at.y.metres()));
    let grown = |(low, high): Bounds, by: f64| ((low.0 - by, low.1 - by), (high.0 + by, high.1 + by));
    match shape {
        Shape::Outline { ring, .. } => ring.iter().map(|p| point(p.at)).reduce(both),
        Shape::Line { path, width } => {
            path.iter().map(|p| point(p.at)).reduce(both).map(|b| grown(b, width.metres() / 2.0))
        }
        Shape::Spot(p) => Some(point(p.at)),
        Shape::Disc { centre, radius } => Some(grown(point(centre.at), radius.metres())),
        Shape::Absent => None,
    }
}

/// Kinds in the order they are drawn.
const ORDER: [&str; 9] =
    ["lawn", "bed", "area", "paving", "water", "septic", "structure", "equipment", "utility"];
/// The first of them that do not lie flat on the ground.
const STANDING: usize = 4;

/// True for what only covers the ground, so that the ground shows on it.
pub(crate) fn lies_flat(site: &Site, feature: &Feature) -> bool {
    let found = ORDER.iter().position(|kind| site.kinds().is_a(&feature.kind, kind));
    found.is_some_and(|place| place < STANDING) && !matches!(feature.shape, Shape::Spot(_))
}

/// Features in the order they are drawn, those that lie under others first.
pub(crate) fn in_drawing_order(site: &Site) -> Vec<(FeatureId, &Feature)> {
    let rank = |feature: &Feature| {
        let is = |kind: &str| site.kinds().is_a(&feature.kind, kind);
        let found = ORDER.iter().position(|kind| is(kind));
        // A deck or porch lies under a roofed building that it touches; fences, trees, lot lines and point symbols come last.
        let point = matches!(feature.shape, Shape::Spot(_)) && !is("planting");
        let by_kind = found.filter(|_| !point).unwrap_or(if point {
            30
        } else if is("boundary") {
            20
        } else if is("planting") {
            15
        } else {
            12
        });
        // Small things over large ones of the same sort.
        let size = bounds(&feature.shape).map_or(0.0, |(low, high)| (high.0 - low.0) * (high.1 - low.1));
        (by_kind, -size)
    };
    let mut features: Vec<_> = site.features().map(|(id, feature)| (rank(feature), id, feature)).collect();
    features
        .sort_by(|(a, id_a, _), (b, id_b, _)| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(id_a.cmp(id_b)));
    features.into_iter().map(|(_, id, feature)| (id, feature)).collect()
}
