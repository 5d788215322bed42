//! Symbols of the trade: plants, fences, gates, wires, small things, the north arrow.

use super::svg::{Paper, Svg};
use crate::marking::Color;

/// A plant: its crown, its crown when grown, and the trunk of a tree.
pub(crate) fn plant(
    svg: &mut Svg,
    status: &str,
    at: Paper,
    crown: f64,
    grown: Option<f64>,
    trunk: Option<f64>,
) {
    svg.circle(&format!("canopy{status}"), at, crown);
    if let Some(grown) = grown.filter(|grown| *grown > crown + 0.3) {
        svg.circle("canopy-full", at, grown);
    }
    if let Some(trunk) = trunk {
        svg.circle("trunk", at, trunk);
    } else {
        svg.line("thin", at.plus(-0.8, 0.0), at.plus(0.8, 0.0));
        svg.line("thin", at.plus(0.0, -0.8), at.plus(0.0, 0.8));
    }
}

/// A cross over something that will go.
pub(crate) fn cross(svg: &mut Svg, at: Paper, reach: f64) {
    svg.line("remove-cross", at.plus(-reach, -reach), at.plus(reach, reach));
    svg.line("remove-cross", at.plus(-reach, reach), at.plus(reach, -reach));
}

/// A fence: a line with a short stroke across it at even steps.
pub(crate) fn fence(svg: &mut Svg, status: &str, path: &[Paper]) {
    svg.polyline(&format!("fence{status}"), path);
    along(path, 6.0, |at, (ux, uy)| {
        svg.line("thin", at.plus(uy * 0.8, -ux * 0.8), at.plus(-uy * 0.8, ux * 0.8));
    });
}

/// A gate: the leaf open at a right angle, its swing, and the two posts.
pub(crate) fn gate(svg: &mut Svg, status: &str, path: &[Paper]) {
    let (Some(&hinge), Some(&latch)) = (path.first(), path.last()) else { return };
    let (dx, dy) = (latch.x - hinge.x, latch.y - hinge.y);
    let open = hinge.plus(dy, -dx);
    svg.line(&format!("fence{status}"), hinge, open);
    let middle =
        hinge.plus((dx + dy) * std::f64::consts::FRAC_1_SQRT_2, (dy - dx) * std::f64::consts::FRAC_1_SQRT_2);
    svg.polyline("thin", &arc(hinge, open, middle, latch));
    for post in [hinge, latch] {
        svg.rect("solid", post.plus(-0.4, -0.4), 0.8, 0.8);
    }
}

/// A quarter turn about a centre as chords.
fn arc(centre: Paper, from: Paper, by: Paper, to: Paper) -> Vec<Paper> {
    let swing = |a: Paper, b: Paper| {
        let middle = a.middle(b);
        let (reach, now) = (centre.distance(a), centre.distance(middle).max(1e-9));
        Paper::new(
            centre.x + (middle.x - centre.x) * reach / now,
            centre.y + (middle.y - centre.y) * reach / now,
        )
    };
    vec![from, swing(from, by), by, swing(by, to), to]
}

/// From one set of letters to the next along a wire or pipe, in millimetres.
const LETTERS: f64 = 42.0;

/// A wire or pipe; its letters are written where there is room for them. The color it is marked in lies under it
/// as a band, so that its own line stays black and prints as such.
pub(crate) fn utility(svg: &mut Svg, status: &str, path: &[Paper], overhead: bool, color: Option<Color>) {
    if let Some(color) = color {
        svg.polyline(&format!("marking {}", color.name()), path);
    }
    let class = if overhead { "wire" } else { "pipe" };
    svg.polyline(&format!("{class}{status}"), path);
}

/// Where the letters of a wire or pipe best stand, and the direction there.
pub(crate) fn letter_places(path: &[Paper]) -> Vec<(Paper, (f64, f64))> {
    let mut places = Vec::new();
    along(path, LETTERS, |at, direction| places.push((at, direction)));
    places
}

/// A small round mark with letters in it.
pub(crate) fn utility_point(svg: &mut Svg, at: Paper, letters: &str) {
    svg.circle("equipment", at, 1.6);
    svg.text("small", at, 0.0, letters);
}

/// A door or window: a small square with its letter.
pub(crate) fn mark(svg: &mut Svg, at: Paper, letter: &str) {
    svg.rect("equipment", at.plus(-1.3, -1.3), 2.6, 2.6);
    svg.text("small", at, 0.0, letter);
}

/// The head of an arrow whose point is at a place, pointing a way of length one.
pub(crate) fn arrow_head(svg: &mut Svg, class: &str, point: Paper, (dx, dy): (f64, f64), long: f64) {
    let foot = point.plus(-dx * long, -dy * long);
    let half = long * 0.32;
    svg.polygon(class, &[&[point, foot.plus(-dy * half, dx * half), foot.plus(dy * half, -dx * half)]]);
}

/// An arrow as the plan has it, from its tail to its head.
pub(crate) fn drawn_arrow(svg: &mut Svg, path: &[Paper]) {
    svg.polyline("drawn-arrow", path);
    let mut ends = path.iter().rev();
    if let (Some(&head), Some(&before)) = (ends.next(), ends.next())
        && let Some(way) = way(before, head)
    {
        arrow_head(svg, "solid", head, way, 2.6);
    }
}

/// A line along which a section is drawn: a chain line with heavy ends, from each an arrow the way one looks. A section
/// has its start on the left, so one looks to the left of the line.
pub(crate) fn section_line(svg: &mut Svg, path: &[Paper]) {
    svg.polyline("section-mark", path);
    let ends =
        [(path.first(), path.get(1)), (path.last(), path.len().checked_sub(2).and_then(|i| path.get(i)))];
    for ((end, next), turn) in ends.into_iter().zip([1.0, -1.0]) {
        let (Some(&end), Some(&next)) = (end, next) else { continue };
        let Some((dx, dy)) = way(end, next) else { continue };
        svg.line("section-end", end, end.plus(dx * 4.0, dy * 4.0));
        let look = (dy * turn, -dx * turn);
        let point = end.plus(look.0 * 4.0, look.1 * 4.0);
        svg.line("section-end", end, point);
        arrow_head(svg, "solid", point, look, 2.4);
    }
}

fn way(from: Paper, to: Paper) -> Option<(f64, f64)> {
    let length = from.distance(to);
    (length > 0.0).then(|| ((to.x - from.x) / length, (to.y - from.y) / length))
}

/// A grate where water enters a pipe.
pub(crate) fn inlet(svg: &mut Svg, at: Paper) {
    svg.rect("equipment", at.plus(-1.5, -1.5), 3.0, 3.0);
    for x in [-0.75, 0.0, 0.75] {
        svg.line("thin", at.plus(x, -1.5), at.plus(x, 1.5));
    }
}

/// A turn that keeps text readable from the bottom or the right of the sheet.
pub(crate) fn upright(degrees: f64) -> f64 {
    let turn = degrees.rem_euclid(360.0);
    // Upright text runs up the sheet, also where its line leans over by a hair.
    let (up, down) = (90.0 - 0.5, 270.0 - 0.5);
    if turn > up && turn <= down {
        turn - 180.0
    } else if turn > down {
        turn - 360.0
    } else {
        turn
    }
}

/// Calls with places at even steps along a path, half a step from its start, and the direction there.
fn along(path: &[Paper], step: f64, mut place: impl FnMut(Paper, (f64, f64))) {
    let total: f64 = path.windows(2).map(|w| w[0].distance(w[1])).sum();
    let count = (total / step).floor().clamp(1.0, 400.0);
    let gap = total / count;
    let mut next = gap / 2.0;
    let mut run = 0.0;
    for w in path.windows(2) {
        let length = w[0].distance(w[1]);
        if length <= 0.0 {
            continue;
        }
        let direction = ((w[1].x - w[0].x) / length, (w[1].y - w[0].y) / length);
        while next <= run + length {
            place(w[0].towards(w[1], (next - run) / length), direction);
            next += gap;
        }
        run += length;
    }
}

/// The north arrow, turned so many degrees clockwise from the top of the sheet.
pub(crate) fn north(svg: &mut Svg, at: Paper, clockwise: Option<f64>) {
    let Some(turn) = clockwise else {
        svg.circle("thin", at, 9.0);
        svg.text("small", at.plus(0.0, -1.6), 0.0, "north not");
        svg.text("small", at.plus(0.0, 1.6), 0.0, "stated");
        return;
    };
    let (sin, cos) = libm::sincos(turn.to_radians());
    let point = |x: f64, y: f64| at.plus(x * cos - y * sin, x * sin + y * cos);
    svg.circle("thin", at, 7.0);
    svg.polygon("solid", &[&[point(0.0, -9.5), point(-2.3, 5.0), point(0.0, 3.0)]]);
    svg.polygon("paper", &[&[point(0.0, -9.5), point(2.3, 5.0), point(0.0, 3.0)]]);
    svg.text("title-letter", point(0.0, -12.2), 0.0, "N");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_read_from_below_or_from_the_right() {
        let check = |turn: f64, expected: f64| assert!((upright(turn) - expected).abs() < 1e-9, "{turn}");
        check(0.0, 0.0);
        check(45.0, 45.0);
        check(90.0, -90.0);
        check(-90.0, -90.0);
        check(180.0, 0.0);
        check(225.0, 45.0);
        check(300.0, -60.0);
        check(359.0, -1.0);
    }
}
