//! The geometry of upright rectangles, in metres.

use groundrule_units::Length;

use crate::Place;

/// An upright rectangle; a line or a spot when it has no width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rect {
    x: [f64; 2],
    y: [f64; 2],
}

impl Rect {
    /// From its lower left and its upper right corner, in metres.
    pub const fn metres(left: f64, bottom: f64, right: f64, top: f64) -> Self {
        Self { x: [left, right], y: [bottom, top] }
    }

    /// The same in feet.
    pub const fn feet(left: f64, bottom: f64, right: f64, top: f64) -> Self {
        Self::metres(
            Length::from_feet(left).metres(),
            Length::from_feet(bottom).metres(),
            Length::from_feet(right).metres(),
            Length::from_feet(top).metres(),
        )
    }

    pub(super) fn width(self) -> f64 {
        self.x[1] - self.x[0]
    }

    pub(super) fn height(self) -> f64 {
        self.y[1] - self.y[0]
    }

    pub(super) fn area(self) -> f64 {
        self.width() * self.height()
    }

    pub(super) fn is_line(self) -> bool {
        (self.width() > 0.0) != (self.height() > 0.0)
    }

    pub(super) fn is_spot(self) -> bool {
        self.width() <= 0.0 && self.height() <= 0.0
    }

    /// The length of a line, or the length around.
    pub(super) fn length(self) -> f64 {
        let once = self.width() + self.height();
        if self.area() > 0.0 { 2.0 * once } else { once }
    }

    pub(super) fn ring(self) -> Vec<Place> {
        let place = |x, y| Place { x: Length::from_metres(x), y: Length::from_metres(y) };
        let mut ring = vec![
            place(self.x[0], self.y[0]),
            place(self.x[1], self.y[0]),
            place(self.x[1], self.y[1]),
            place(self.x[0], self.y[1]),
        ];
        ring.dedup();
        if self.is_line() {
            ring.truncate(2);
        }
        ring
    }

    /// Its sides as lines, with a name and a lot line's role for each.
    pub(super) fn sides(self) -> [(&'static str, &'static str, Self); 4] {
        let ([left, right], [bottom, top]) = (self.x, self.y);
        [
            ("s", "front", Self::metres(left, bottom, right, bottom)),
            ("e", "side", Self::metres(right, bottom, right, top)),
            ("n", "rear", Self::metres(left, top, right, top)),
            ("w", "side", Self::metres(left, bottom, left, top)),
        ]
    }

    /// It with so much more on every side.
    pub(super) fn grown(self, by: f64) -> Self {
        Self::metres(self.x[0] - by, self.y[0] - by, self.x[1] + by, self.y[1] + by)
    }

    /// What two share; none when they do not even touch.
    pub(super) fn common(self, other: Self) -> Option<Self> {
        let span = |a: [f64; 2], b: [f64; 2]| [a[0].max(b[0]), a[1].min(b[1])];
        let (x, y) = (span(self.x, other.x), span(self.y, other.y));
        (x[0] <= x[1] && y[0] <= y[1]).then_some(Self { x, y })
    }

    pub(super) fn distance(self, other: Self) -> f64 {
        let gap = |a: [f64; 2], b: [f64; 2]| (b[0] - a[1]).max(a[0] - b[1]).max(0.0);
        let (dx, dy) = (gap(self.x, other.x), gap(self.y, other.y));
        (dx * dx + dy * dy).sqrt()
    }

    /// The gap, or less than zero by the shortest way out of one another.
    pub(super) fn clearance(self, other: Self) -> f64 {
        if self.common(other).is_none() {
            return self.distance(other);
        }
        let out = |a: [f64; 2], b: [f64; 2]| (a[1] - b[0]).min(b[1] - a[0]);
        -out(self.x, other.x).min(out(self.y, other.y))
    }

    /// The distance to a side of a lot, or less than zero by how far it reaches across that side.
    pub(super) fn yard(self, line: Self, lot: Option<Self>) -> f64 {
        let beyond = lot.and_then(|lot| {
            let facing = lot.sides().into_iter().find(|(.., side)| *side == line)?.0;
            let alongside = match facing {
                "s" | "n" => self.x[0] <= line.x[1] && line.x[0] <= self.x[1],
                _ => self.y[0] <= line.y[1] && line.y[0] <= self.y[1],
            };
            alongside.then_some(match facing {
                "s" => line.y[0] - self.y[0],
                "n" => self.y[1] - line.y[0],
                "e" => self.x[1] - line.x[0],
                _ => line.x[0] - self.x[0],
            })
        });
        match beyond {
            Some(depth) if depth > 0.0 => -depth,
            _ => self.distance(line),
        }
    }

    /// The area that rectangles cover together, each place once.
    pub(super) fn covered(all: &[Self]) -> f64 {
        let cuts = |axis: fn(&Self) -> [f64; 2]| {
            let mut cuts: Vec<f64> = all.iter().flat_map(axis).collect();
            cuts.sort_by(f64::total_cmp);
            cuts.dedup();
            cuts
        };
        let (xs, ys) = (cuts(|rect| rect.x), cuts(|rect| rect.y));
        let cells =
            xs.windows(2).flat_map(|x| ys.windows(2).map(move |y| Self::metres(x[0], y[0], x[1], y[1])));
        let holds = |rect: &Self, cell: &Self| {
            rect.x[0] <= cell.x[0]
                && cell.x[1] <= rect.x[1]
                && rect.y[0] <= cell.y[0]
                && cell.y[1] <= rect.y[1]
        };
        cells
            .filter(|cell| all.iter().any(|rect| holds(rect, cell)))
            .map(Self::area)
            .fold(0.0, |sum, area| sum + area)
    }

    /// Whether a line lies in front of the side of this rectangle that looks `s`, `e`, `n` or `w`, and how far.
    pub(super) fn ahead(self, side: &str, line: Self) -> Option<f64> {
        let level = matches!(side, "s" | "n");
        let (is_level, is_upright) = (line.height() <= 0.0, line.width() <= 0.0);
        let beside = if level {
            is_level && self.x[0] < line.x[1] && line.x[0] < self.x[1]
        } else {
            is_upright && self.y[0] < line.y[1] && line.y[0] < self.y[1]
        };
        let gap = match side {
            "s" => self.y[0] - line.y[0],
            "n" => line.y[0] - self.y[1],
            "e" => line.x[0] - self.x[1],
            _ => self.x[0] - line.x[0],
        };
        (beside && gap >= 0.0).then_some(gap)
    }
}
