//! Places along a line, to choose stations by and to draw; nothing is judged by them.

use groundrule_kit::{Length, Place};

/// The place so far along a line from its first point; the line's end beyond it, none of a line without points.
pub(crate) fn place_at(line: &[Place], station: Length) -> Option<Place> {
    let mut left = station.metres();
    for (a, b) in line.iter().zip(line.iter().skip(1)) {
        let (dx, dy) = (b.x.metres() - a.x.metres(), b.y.metres() - a.y.metres());
        let length = (dx * dx + dy * dy).sqrt();
        if left <= length && length > 0.0 {
            let share = (left / length).max(0.0);
            return Some(Place {
                x: a.x + Length::from_metres(dx * share),
                y: a.y + Length::from_metres(dy * share),
            });
        }
        left -= length;
    }
    line.last().copied()
}

/// How far a place is from the nearest segment of a line.
pub(crate) fn distance(from: Place, line: &[Place]) -> f64 {
    let to = |(a, b): (&Place, &Place)| {
        let (dx, dy) = (b.x.metres() - a.x.metres(), b.y.metres() - a.y.metres());
        let (px, py) = (from.x.metres() - a.x.metres(), from.y.metres() - a.y.metres());
        let length = dx * dx + dy * dy;
        let share = if length > 0.0 { ((px * dx + py * dy) / length).clamp(0.0, 1.0) } else { 0.0 };
        let (x, y) = (px - share * dx, py - share * dy);
        (x * x + y * y).sqrt()
    };
    line.iter().zip(line.iter().skip(1)).map(to).fold(f64::INFINITY, f64::min)
}
