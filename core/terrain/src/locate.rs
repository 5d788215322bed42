//! A grid of cells that finds which parts of the plane are near.

use crate::plane::{Frame, SAME, Xy, id, mix, nearest, side};
use crate::{FacetId, Place, Tin};

/// Cells of equal size over a frame, each with the ascending indices of the items that may reach into it.
#[derive(Debug)]
pub(crate) struct Grid {
    frame: Frame,
    cell: f64,
    columns: usize,
    rows: usize,
    starts: Vec<u32>,
    items: Vec<u32>,
}

impl Grid {
    /// A grid of about one cell an item; an item is a place, a segment or a triangle.
    pub(crate) fn new<const N: usize>(count: usize, item: impl Fn(usize) -> [Xy; N]) -> Self {
        let mut frame = Frame { min: [f64::INFINITY; 2], max: [f64::NEG_INFINITY; 2] };
        for i in 0..count {
            let own = Frame::of(&item(i));
            frame.min = [frame.min[0].min(own.min[0]), frame.min[1].min(own.min[1])];
            frame.max = [frame.max[0].max(own.max[0]), frame.max[1].max(own.max[1])];
        }
        if count == 0 {
            frame = Frame { min: [0.0; 2], max: [0.0; 2] };
        }
        let (width, height) = (frame.max[0] - frame.min[0], frame.max[1] - frame.min[1]);
        let wanted = count.max(1) as f64;
        let cell = libm::sqrt(width * height / wanted).max(width.max(height) / wanted).max(SAME);
        let mut grid = Self { frame, cell, columns: 1, rows: 1, starts: Vec::new(), items: Vec::new() };
        grid.columns = steps(width / cell) + 1;
        grid.rows = steps(height / cell) + 1;
        let mut starts = vec![0_u32; grid.columns * grid.rows + 1];
        for i in 0..count {
            grid.cells(&item(i), |cell| starts[cell + 1] += 1);
        }
        for cell in 1..starts.len() {
            starts[cell] += starts[cell - 1];
        }
        let mut next = starts.clone();
        let mut items = vec![0_u32; starts.last().copied().unwrap_or(0) as usize];
        for i in 0..count {
            grid.cells(&item(i), |cell| {
                items[next[cell] as usize] = id(i);
                next[cell] += 1;
            });
        }
        grid.starts = starts;
        grid.items = items;
        grid
    }

    fn column(&self, x: f64) -> usize {
        steps((x - self.frame.min[0]) / self.cell).min(self.columns - 1)
    }

    fn row(&self, y: f64) -> usize {
        steps((y - self.frame.min[1]) / self.cell).min(self.rows - 1)
    }

    /// The cells that a convex shape may reach into, a little more at its edges.
    pub(crate) fn cells(&self, shape: &[Xy], mut visit: impl FnMut(usize)) {
        let pad = self.cell * 1e-6 + 1e-9;
        let frame = Frame::of(shape).grown(pad);
        if !frame.meets(&self.frame.grown(pad)) {
            return;
        }
        let rows = self.row(frame.min[1])..=self.row(frame.max[1]);
        let columns = self.column(frame.min[0])..=self.column(frame.max[0]);
        if rows.start() == rows.end() || columns.start() == columns.end() || shape.len() == 1 {
            for row in rows {
                columns.clone().for_each(|column| visit(row * self.columns + column));
            }
            return;
        }
        for row in rows {
            // Rounding may put a place into the row beside; the outer rows take all that is beyond them.
            let low = self.frame.min[1] + row as f64 * self.cell - pad;
            let high = low + self.cell + 2.0 * pad;
            let (mut left, mut right) = (f64::INFINITY, f64::NEG_INFINITY);
            for (i, &a) in shape.iter().enumerate() {
                let b = shape[(i + 1) % shape.len()];
                let (a, b) = if a[1] <= b[1] { (a, b) } else { (b, a) };
                if b[1] < low || a[1] > high {
                    continue;
                }
                let rise = b[1] - a[1];
                let at = |y: f64| if rise > 0.0 { mix(a[0], b[0], (y - a[1]) / rise) } else { a[0] };
                let first = if a[1] < low { at(low) } else { a[0] };
                let last = if b[1] > high { at(high) } else { b[0] };
                left = left.min(first.min(last));
                right = right.max(first.max(last));
            }
            if left <= right {
                for column in self.column(left - pad)..=self.column(right + pad) {
                    visit(row * self.columns + column);
                }
            }
        }
    }

    /// The items of one cell.
    pub(crate) fn of(&self, cell: usize) -> &[u32] {
        &self.items[self.starts[cell] as usize..self.starts[cell + 1] as usize]
    }

    /// The number of cells.
    pub(crate) fn len(&self) -> usize {
        self.columns * self.rows
    }

    /// All items that may come near a convex shape, ascending, each once.
    pub(crate) fn near(&self, shape: &[Xy]) -> Vec<u32> {
        let mut found = Vec::new();
        self.cells(shape, |cell| found.extend_from_slice(self.of(cell)));
        found.sort_unstable();
        found.dedup();
        found
    }

    /// All items that may come into a frame.
    pub(crate) fn in_frame(&self, frame: Frame) -> Vec<u32> {
        let Frame { min, max } = frame;
        self.near(&[min, [max[0], min[1]], max, [min[0], max[1]]])
    }
}

/// The whole part of a positive number.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to what a grid can have")]
fn steps(value: f64) -> usize {
    value.clamp(0.0, 1e9) as usize
}

impl Tin {
    /// The facet at a place: of two that share an edge, the one with the lower index.
    /// A place less than a millimetre outside the ground belongs to the nearest facet; farther out is none.
    pub fn facet_at(&self, place: Place) -> Option<FacetId> {
        self.facet_at_local(place.local(self.mesh.origin)).map(FacetId)
    }

    pub(crate) fn facet_at_local(&self, p: Xy) -> Option<u32> {
        if !(p[0].is_finite() && p[1].is_finite()) {
            return None;
        }
        let grid = self.mesh.grid();
        let mut inside_of = None;
        grid.cells(&[p], |cell| {
            for &f in grid.of(cell) {
                let [a, b, c] = self.mesh.triangle(f);
                if side(a, b, p) >= 0.0 && side(b, c, p) >= 0.0 && side(c, a, p) >= 0.0 {
                    inside_of = Some(inside_of.map_or(f, |other: u32| other.min(f)));
                }
            }
        });
        inside_of.or_else(|| self.nearly_at(p))
    }

    /// The nearest facet within a millimetre of a place that is on none.
    fn nearly_at(&self, p: Xy) -> Option<u32> {
        let mut best: Option<(f64, u32)> = None;
        for f in self.mesh.grid().in_frame(Frame::of(&[p]).grown(SAME)) {
            let [a, b, c] = self.mesh.triangle(f);
            let far = nearest(a, b, p).1.min(nearest(b, c, p).1).min(nearest(c, a, p).1);
            if far <= SAME && best.is_none_or(|(other, _)| far < other) {
                best = Some((far, f));
            }
        }
        best.map(|(_, f)| f)
    }
}
