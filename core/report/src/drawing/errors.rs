//! Error figures: at each point the ellipse that holds its true place with 95 %.

use groundrule_survey::{ErrorEllipse, ErrorTerms, Layout, Point, Shape};
use groundrule_units::Length;

use super::room::{Block, Room};
use super::sheet::Sheet;
use super::svg::{Paper, Svg};

/// Half the long axis, in millimetres of paper, below which the largest ellipse cannot be read.
const READABLE: f64 = 2.2;
/// Round factors to exaggerate by.
const FACTORS: [f64; 13] =
    [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10_000.0];
/// A shape of more points than this has curves in it.
const CURVED: usize = 12;
/// Ellipses are drawn as so many chords.
const CHORDS: u32 = 36;

/// The error figures of one sheet.
pub(super) struct Errors {
    figures: Vec<(Paper, ErrorEllipse)>,
    /// Millimetres of paper for a metre of error.
    per_metre: f64,
    /// How much larger than true they are drawn.
    factor: f64,
}

impl Errors {
    /// The figures of all named points and corners, exaggerated by a round factor where they are too small to see.
    pub(super) fn of(layout: &Layout, sheet: &Sheet) -> Self {
        let shapes = layout.shapes.iter().map(corners);
        let lots = layout.lots.iter().map(|lot| lot.ring.iter().collect());
        // The many points of a curve move with its ends; what was read by itself has an error of its own.
        let read = shapes.chain(lots).flat_map(|points: Vec<&Point>| {
            let plain = points.len() <= CURVED;
            points.into_iter().filter(move |p| plain || matches!(p.error, ErrorTerms::Own { .. }))
        });
        let mut points: Vec<&Point> = layout.named.values().chain(read).collect();
        points.retain(|point| !matches!(point.error, ErrorTerms::Exact));
        points.sort_by_key(|point| (point.at.x, point.at.y));
        points.dedup_by(|a, b| a.at == b.at);
        let figures: Vec<(Paper, ErrorEllipse)> =
            points.into_iter().map(|point| (sheet.place(point.at), point.error.ellipse())).collect();
        let largest = figures.iter().map(|(_, figure)| figure.major).max().unwrap_or(Length::ZERO);
        let reach = sheet.length(largest);
        let factor = FACTORS.into_iter().find(|factor| reach * factor >= READABLE).unwrap_or(1.0);
        Self { figures, per_metre: sheet.per_metre * factor, factor }
    }

    /// Draws them, and keeps names off their middles.
    pub(super) fn draw(&self, svg: &mut Svg, room: &mut Room) {
        for (at, figure) in self.figures.iter().filter(|(at, _)| room.holds(*at)) {
            let (major, minor) =
                (figure.major.metres() * self.per_metre, figure.minor.metres() * self.per_metre);
            ellipse(svg, *at, major, minor, figure.turn.radians());
        }
        for (at, _) in &self.figures {
            room.take(Block::around(*at, 1.2, 1.2));
        }
    }

    /// A sample with its words, from a place to the right.
    pub(super) fn sample(&self, svg: &mut Svg, at: Paper, width: f64) {
        ellipse(svg, at.plus(width / 2.0, 0.0), 2.6, 1.4, 0.0);
        let words = if self.factor > 1.0 {
            format!("95 % error, drawn {} times", self.factor)
        } else {
            "95 % error, to scale".to_owned()
        };
        svg.text("note", at.plus(width + 2.0, 0.0), 0.0, &words);
    }
}

/// An ellipse with its axes; `turn` is anticlockwise on the ground, so upwards on the paper.
fn ellipse(svg: &mut Svg, at: Paper, major: f64, minor: f64, turn: f64) {
    let (sin, cos) = libm::sincos(turn);
    let place = |along: f64, across: f64| at.plus(along * cos - across * sin, -(along * sin + across * cos));
    let ring: Vec<Paper> = (0..CHORDS)
        .map(|i| {
            let (up, right) = libm::sincos(f64::from(i) * std::f64::consts::TAU / f64::from(CHORDS));
            place(major * right, minor * up)
        })
        .collect();
    svg.polygon("error-figure", &[&ring]);
    svg.line("error-axis", place(-major, 0.0), place(major, 0.0));
    svg.line("error-axis", place(0.0, -minor), place(0.0, minor));
}

fn corners(shape: &Shape) -> Vec<&Point> {
    match shape {
        Shape::Outline { ring, holes } => ring.iter().chain(holes.iter().flatten()).collect(),
        Shape::Line { path, .. } => path.iter().collect(),
        Shape::Spot(point) | Shape::Disc { centre: point, .. } => vec![point],
        Shape::Absent => Vec::new(),
    }
}
