//! Steep ground: short strokes down the slope, closer and longer where it is steeper.

use groundrule_site::ground::{Fall, Ground};

use super::super::clip::Window;
use super::super::sheet::Sheet;
use super::super::svg::{Paper, Svg};

/// Ground at least this steep has strokes: 3 to 1.
pub(super) const STEEP: f64 = 1.0 / 3.0;
/// From here on they are close: 2 to 1.
pub(super) const STEEPER: f64 = 0.5;
/// A steeper face than this is that of a wall or a curb, which has a line of its own.
const FACE: f64 = 3.0;
/// No more strokes than this in one facet.
const MOST: f64 = 4000.0;

/// How strokes stand: how far apart along the slope's contour, how long, and how far from one row to the next.
struct Strokes {
    apart: f64,
    long: f64,
    row: f64,
}

/// True where a facet is a bank.
pub(super) fn is_steep(fall: &Fall) -> bool {
    (STEEP..FACE).contains(&fall.slope.fraction())
}

/// Draws the strokes of a surface.
pub(super) fn draw(svg: &mut Svg, ground: &Ground, sheet: &Sheet, window: Window) {
    for fall in ground.facets() {
        if let Some((right, up)) = fall.way.filter(|_| is_steep(&fall)) {
            let ring = fall.ring.map(|at| sheet.place(at));
            facet(svg, &ring, (right, -up), fall.slope.fraction() >= STEEPER, window);
        }
    }
}

/// The strokes of one facet, on rows along its contours counted from the corner of the sheet.
fn facet(svg: &mut Svg, ring: &[Paper; 3], (dx, dy): (f64, f64), steeper: bool, window: Window) {
    let strokes = strokes(steeper);
    // Along the contour and down the slope.
    let turned = |at: Paper| (at.y * dx - at.x * dy, at.x * dx + at.y * dy);
    let back = |u: f64, v: f64| Paper::new(v * dx - u * dy, v * dy + u * dx);
    let corners = ring.map(turned);
    let least = |pick: fn(&(f64, f64)) -> f64| corners.iter().map(pick).fold(f64::INFINITY, f64::min);
    let most = |pick: fn(&(f64, f64)) -> f64| corners.iter().map(pick).fold(f64::NEG_INFINITY, f64::max);
    let (low, high) = (least(|c| c.0), most(|c| c.0));
    let (top, foot) = (least(|c| c.1), most(|c| c.1));
    if (high - low) / strokes.apart * ((foot - top) / strokes.row + 1.0) > MOST {
        return;
    }
    let mut row = (top / strokes.row).floor();
    while row * strokes.row < foot {
        // Every other row between those of the one before.
        let shift = if row.rem_euclid(2.0) == 0.0 { 0.0 } else { 0.5 };
        let mut column = (low / strokes.apart - shift).ceil();
        while (column + shift) * strokes.apart < high {
            let u = (column + shift) * strokes.apart;
            let from = row * strokes.row;
            if let Some((enter, leave)) = inside(&corners, u, from, from + strokes.long) {
                let (a, b) = (back(u, enter), back(u, leave));
                if leave - enter > 0.5 && window.holds(a) && window.holds(b) {
                    svg.line("hachure", a, b);
                }
            }
            column += 1.0;
        }
        row += 1.0;
    }
}

/// The part of a stroke at `u` from `from` to `to` inside a triangle.
fn inside(corners: &[(f64, f64); 3], u: f64, from: f64, to: f64) -> Option<(f64, f64)> {
    let mut ends: Vec<f64> = Vec::with_capacity(2);
    for k in 0..3 {
        let (a, b) = (corners[k], corners[(k + 1) % 3]);
        if (a.0 <= u) != (b.0 <= u) {
            ends.push(a.1 + (b.1 - a.1) * (u - a.0) / (b.0 - a.0));
        }
    }
    let &[one, other] = ends.as_slice() else { return None };
    let (enter, leave) = (one.min(other).max(from), one.max(other).min(to));
    (enter < leave).then_some((enter, leave))
}

fn strokes(steeper: bool) -> Strokes {
    if steeper {
        Strokes { apart: 1.1, long: 3.0, row: 3.6 }
    } else {
        Strokes { apart: 2.2, long: 2.0, row: 3.4 }
    }
}

/// A sample for the legend, around a middle line.
pub(super) fn sample(svg: &mut Svg, at: Paper, width: f64, steeper: bool) {
    let strokes = strokes(steeper);
    let mut across = strokes.apart / 2.0;
    while across < width {
        let from = at.plus(across, -strokes.long / 2.0);
        svg.line("hachure", from, from.plus(0.0, strokes.long));
        across += strokes.apart;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strokes_stay_inside() {
        let check = |u: f64, expected: Option<(f64, f64)>| {
            let triangle = [(0.0, 0.0), (10.0, 0.0), (0.0, 10.0)];
            assert_eq!(inside(&triangle, u, 1.0, 4.0), expected, "{u}");
        };
        check(2.0, Some((1.0, 4.0)));
        check(7.0, Some((1.0, 3.0)));
        check(9.5, None);
        check(11.0, None);
    }

    /// Steeper ground has more strokes, and all of them run down the slope inside the facet.
    #[test]
    fn steeper_is_denser() {
        let window = Window { low: Paper::new(0.0, 0.0), high: Paper::new(100.0, 100.0) };
        let ring = [Paper::new(10.0, 10.0), Paper::new(50.0, 10.0), Paper::new(10.0, 50.0)];
        let ink = |steeper: bool| {
            let mut svg = Svg::default();
            facet(&mut svg, &ring, (0.0, 1.0), steeper, window);
            svg.finish().lines().count()
        };
        // Rows are as far apart, strokes half as far and half as long again.
        assert!(2 * ink(true) > 3 * ink(false) && ink(false) > 50, "{} {}", ink(true), ink(false));
    }
}
