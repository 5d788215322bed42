//! The width of a walk or passage.

use groundrule_survey::{Point, Shape};
use groundrule_units::{Dimension, Length};

use crate::distance::measured;
use crate::shape::gap::Gap;
use crate::shape::piece::Piece;
use crate::shape::segments::{dot, place, right, station, unit};
use crate::{FeatureId, Mark, Measured, Need, Site};

/// Edges face each other when they are within fifteen degrees of parallel: this is the cosine. It keeps the
/// chords of a rounded end from counting as the width of the walk they end.
const FACING: f64 = 0.965_925_826_289_068_3;

impl Site {
    /// The narrowest drawn width of a feature: a line's own width, or the least distance between
    /// facing edges of an outline. A disc is as wide as its diameter.
    ///
    /// Edges face each other across the inside when they are within fifteen degrees of parallel; an outline
    /// without such edges counts by any two with the inside between them.
    pub fn drawn_width(&self, feature: FeatureId) -> Measured {
        let pieces = match self.drawn(feature) {
            Ok(pieces) => pieces,
            Err(need) => return Measured::lacking(Dimension::Length, vec![need]),
        };
        let Some(feature) = self.feature(feature) else {
            return Measured::lacking(Dimension::Length, Vec::new());
        };
        match &feature.shape {
            Shape::Outline { .. } => {
                let least = |gaps: &Vec<Gap<'_>>| gaps.first().map_or(f64::INFINITY, |gap| gap.value);
                let widths = |facing| {
                    let each = pieces.iter().map(|piece| narrowest(piece, facing));
                    each.min_by(|a, b| least(a).total_cmp(&least(b))).unwrap_or_default()
                };
                let strict = widths(FACING);
                measured(&if strict.is_empty() { widths(0.0) } else { strict })
            }
            Shape::Line { path, width } if *width > Length::ZERO => {
                Measured::exact(*width).marked(across(path, *width))
            }
            Shape::Disc { radius, .. } => Measured::exact(*radius * 2.0),
            Shape::Line { .. } | Shape::Spot(_) | Shape::Absent => {
                let need = Need {
                    what: format!("the width of {}", feature.id.0),
                    how: "give the line a width, or draw both its edges".to_owned(),
                };
                Measured::lacking(Dimension::Length, vec![need])
            }
        }
    }
}

/// Gaps across the inside of an area from a vertex square to an edge that faces it, the narrowest first.
fn narrowest<'a>(piece: &'a Piece<'_>, facing: f64) -> Vec<Gap<'a>> {
    let mut found: Vec<Gap<'a>> = Vec::new();
    for corner in piece.corners() {
        let sides = [corner.before.map(|p| (p, corner.at)), corner.after.map(|p| (corner.at, p))];
        let ways: Vec<_> =
            sides.into_iter().flatten().filter_map(|(a, b)| unit(place(b) - place(a))).collect();
        for (a, b) in piece.edges() {
            let Some(ahead) = unit(place(b) - place(a)) else { continue };
            let Some(t) = station(place(corner.at), place(a), place(b)) else { continue };
            let opposite = ways.iter().any(|way| dot(*way, ahead) < -facing);
            // The inside is on the left of every edge.
            let within = dot(place(corner.at) - place(a), right(ahead)) < 0.0;
            if (0.0..=1.0).contains(&t) && opposite && within {
                found.push(Gap::beside(corner.at, (a, b), t, (0.0, 0.0)));
            }
        }
    }
    found.sort_by(|x, y| x.value.total_cmp(&y.value));
    let clear = found.iter().position(|gap| !crossed(piece, gap));
    let Some(first) = clear else { return Vec::new() };
    let bound = found[first].value + 12.0 * piece.roughness();
    let rivals = found.split_off(first).into_iter();
    rivals.take_while(|gap| gap.value <= bound).filter(|gap| !crossed(piece, gap)).collect()
}

/// True when an edge of the area lies between the two ends of a gap.
fn crossed(piece: &Piece, gap: &Gap) -> bool {
    let (from, to) = (gap.from.place(), gap.to.place());
    piece.edges().any(|(a, b)| {
        crate::shape::segments::meeting(from, to, place(a), place(b))
            .is_some_and(|(t, s)| t > 1e-9 && t < 1.0 - 1e-9 && (0.0..=1.0).contains(&s))
    })
}

/// The span across a line at the middle of its longest segment.
fn across(path: &[Point], width: Length) -> Vec<Mark> {
    let length = |(a, b): &(&Point, &Point)| crate::shape::segments::norm(place(b) - place(a));
    let longest = path.iter().zip(path.iter().skip(1)).max_by(|x, y| length(x).total_cmp(&length(y)));
    let span = longest.and_then(|(a, b)| {
        let out = right(unit(place(b) - place(a))?) * (width.metres() / 2.0);
        let middle = (place(a) + place(b)) / 2.0;
        let ends =
            (crate::shape::segments::position(middle + out), crate::shape::segments::position(middle - out));
        Some(Mark::Span(ends.0, ends.1))
    });
    span.into_iter().collect()
}
