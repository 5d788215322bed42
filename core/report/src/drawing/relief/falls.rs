//! Arrows for the way the ground falls, one for each part of the sheet, with the slope in per cent.

use groundrule_site::ground::Ground;

use super::super::clip::Window;
use super::super::room::{Place, Room};
use super::super::sheet::Sheet;
use super::super::svg::{Paper, Svg};
use super::super::symbols::{arrow_head, upright};
use super::Cover;
use super::interval::decimal;

/// A part of the ground is a square of this size on the paper.
const PART: f64 = 32.0;
/// The length of an arrow.
const ARROW: f64 = 8.0;
/// The size of its figure.
const FIGURE: f64 = 1.9;
/// The ground around an arrow whose fall it shows: a square of this size.
const AROUND: f64 = 16.0;
/// Ground that falls less than this lies level: a twentieth of a per cent, less than an inch in a hundred feet.
const LEVEL: f64 = 0.000_5;
/// Where less of the slope than this goes one way, as on a ridge, an arrow would mislead.
const ONE_WAY: f64 = 0.8;

/// Draws the arrows of a surface.
pub(super) fn draw(
    svg: &mut Svg,
    ground: &Ground,
    sheet: &Sheet,
    window: Window,
    cover: &Cover,
    room: &mut Room,
) {
    let parts = |low: f64, high: f64| ((high - low) / PART).ceil().clamp(1.0, 40.0);
    let (across, down) = (parts(window.low.x, window.high.x), parts(window.low.y, window.high.y));
    let step = ((window.high.x - window.low.x) / across, (window.high.y - window.low.y) / down);
    let mut j = 0.0;
    while j < down {
        let mut i = 0.0;
        while i < across {
            let middle = window.low.plus((i + 0.5) * step.0, (j + 0.5) * step.1);
            one(svg, ground, sheet, middle, cover, room);
            i += 1.0;
        }
        j += 1.0;
    }
}

/// The best arrow of a part: with its figure where there is room, by itself otherwise.
fn one(svg: &mut Svg, ground: &Ground, sheet: &Sheet, middle: Paper, cover: &Cover, room: &mut Room) {
    let shifts = [-0.3, -0.15, 0.0, 0.15, 0.3];
    let mut tries: Vec<(f64, f64)> =
        shifts.iter().flat_map(|y| shifts.map(|x| (x * PART, y * PART))).collect();
    tries.sort_by(|a, b| libm::hypot(a.0, a.1).total_cmp(&libm::hypot(b.0, b.1)));
    let arrows: Vec<(Place, Arrow)> = tries
        .into_iter()
        .filter_map(|(x, y)| {
            let at = middle.plus(x, y);
            let arrow = Arrow::at(ground, sheet, at)?;
            let ends = [arrow.end(at, -0.5), at, arrow.end(at, 0.5)];
            if ends.into_iter().any(|end| cover.hides(end) || ground.level_of(sheet.position(end)).is_none())
            {
                return None;
            }
            Some((Place { at, turn: arrow.turn, worse: libm::hypot(x, y) * 0.3 }, arrow))
        })
        .collect();
    for (figured, high) in [(true, 2.0 * FIGURE + 1.4), (false, 1.8)] {
        let places = arrows.iter().map(|(place, _)| *place);
        if let Some(best) = room.best(places, ARROW + 1.0, high)
            && let Some((place, arrow)) = arrows.iter().find(|(place, _)| place.at == best.at)
        {
            arrow.draw(svg, place.at, figured);
            return;
        }
    }
}

struct Arrow {
    /// To the right and down the paper.
    way: (f64, f64),
    /// Of its figure.
    turn: f64,
    figure: String,
}

impl Arrow {
    fn at(ground: &Ground, sheet: &Sheet, at: Paper) -> Option<Self> {
        let half = AROUND / 2.0;
        let ring = [(-half, half), (half, half), (half, -half), (-half, -half)];
        let fall = ground.fall_within(&ring.map(|(x, y)| sheet.position(at.plus(x, y))))?;
        let (right, up) = fall.way?;
        if fall.slope.fraction() < LEVEL || fall.slope.fraction() < ONE_WAY * fall.mean.fraction() {
            return None;
        }
        let percent = fall.slope.percent();
        let figure = format!("{} %", decimal(percent, usize::from(percent < 9.95)));
        Some(Self { way: (right, -up), turn: upright(libm::atan2(-up, right).to_degrees()), figure })
    }

    fn end(&self, at: Paper, share: f64) -> Paper {
        at.plus(self.way.0 * ARROW * share, self.way.1 * ARROW * share)
    }

    fn draw(&self, svg: &mut Svg, at: Paper, figured: bool) {
        let (sin, cos) = libm::sincos(self.turn.to_radians());
        let off = f64::midpoint(FIGURE, 0.4);
        // The figure stands on the arrow, both together around the middle.
        let at = if figured { at.plus(-sin * off, cos * off) } else { at };
        let head = self.end(at, 0.5);
        svg.line("fall", self.end(at, -0.5), head);
        arrow_head(svg, "fall-head", head, self.way, 1.8);
        if figured {
            let up = off * 2.0 - 0.3;
            svg.text("label fall-figure", at.plus(sin * up, -cos * up), self.turn, &self.figure);
        }
    }
}

/// A sample for the legend.
pub(super) fn sample(svg: &mut Svg, at: Paper, width: f64) {
    let arrow = Arrow { way: (1.0, 0.0), turn: 0.0, figure: "2.0 %".to_owned() };
    arrow.draw(svg, at.plus(width / 2.0, 0.0), true);
}
