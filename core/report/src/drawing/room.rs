//! Finding free room for text and numbers, always in the same order, so always with the same result.

use super::svg::Paper;

/// A box on the paper.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Block {
    low: Paper,
    high: Paper,
}

impl Block {
    /// A box around its middle.
    pub(crate) fn around(at: Paper, width: f64, height: f64) -> Self {
        Self { low: at.plus(-width / 2.0, -height / 2.0), high: at.plus(width / 2.0, height / 2.0) }
    }

    fn meets(&self, other: &Self) -> bool {
        self.low.x < other.high.x
            && other.low.x < self.high.x
            && self.low.y < other.high.y
            && other.low.y < self.high.y
    }

    fn within(&self, other: &Self) -> bool {
        self.low.x >= other.low.x
            && self.high.x <= other.high.x
            && self.low.y >= other.low.y
            && self.high.y <= other.high.y
    }
}

/// What is taken, in square cells so that a full sheet is still searched quickly.
pub(crate) struct Room {
    sheet: Block,
    cells: std::collections::BTreeMap<(i64, i64), Vec<Block>>,
}

/// The size of a cell in millimetres.
const CELL: f64 = 12.0;

impl Room {
    /// An empty sheet.
    pub(crate) fn new(width: f64, height: f64) -> Self {
        let sheet = Block { low: Paper::new(0.0, 0.0), high: Paper::new(width, height) };
        Self { sheet, cells: std::collections::BTreeMap::new() }
    }

    /// Marks a box as taken.
    pub(crate) fn take(&mut self, block: Block) {
        for cell in cells(&block) {
            self.cells.entry(cell).or_default().push(block);
        }
    }

    /// Marks the boxes along a line as taken, so that text keeps off it.
    pub(crate) fn take_line(&mut self, from: Paper, to: Paper, thick: f64) {
        let steps = (from.distance(to) / thick.max(0.5)).ceil().clamp(1.0, 2000.0);
        let mut i = 0.0;
        while i <= steps {
            self.take(Block::around(from.towards(to, i / steps), thick, thick));
            i += 1.0;
        }
    }

    /// True when nothing is in the box and it lies on the sheet.
    pub(crate) fn free(&self, block: &Block) -> bool {
        block.within(&self.sheet)
            && cells(block).all(|cell| {
                self.cells.get(&cell).is_none_or(|taken| taken.iter().all(|other| !other.meets(block)))
            })
    }

    /// Takes the first of these places where a box of this size is free.
    pub(crate) fn first_free(
        &mut self,
        candidates: impl IntoIterator<Item = Paper>,
        width: f64,
        height: f64,
    ) -> Option<Paper> {
        let found = candidates.into_iter().find(|at| self.free(&Block::around(*at, width, height)))?;
        self.take(Block::around(found, width, height));
        Some(found)
    }
}

fn cells(block: &Block) -> impl Iterator<Item = (i64, i64)> + use<> {
    #[allow(clippy::cast_possible_truncation, reason = "paper is a few metres wide at most")]
    let cell = |value: f64| (value / CELL).floor().clamp(-1e6, 1e6) as i64;
    let (x0, x1) = (cell(block.low.x), cell(block.high.x));
    let (y0, y1) = (cell(block.low.y), cell(block.high.y));
    (x0..=x1).flat_map(move |x| (y0..=y1).map(move |y| (x, y)))
}

/// Places around a middle, nearest first.
pub(crate) fn rings(at: Paper, radii: &[f64], directions: u32) -> impl Iterator<Item = Paper> {
    let places: Vec<Paper> = radii
        .iter()
        .flat_map(|&radius| {
            (0..directions).map(move |i| {
                // Up and to the right first, where leaders are least in the way.
                let turn = -std::f64::consts::FRAC_PI_4
                    + f64::from(i) * std::f64::consts::TAU / f64::from(directions);
                let (sin, cos) = libm::sincos(turn);
                at.plus(cos * radius, sin * radius)
            })
        })
        .collect();
    places.into_iter()
}

/// The room a text takes at a size, in millimetres; a fair guess for the fonts named in the style sheet.
pub(crate) fn text_width(text: &str, size: f64) -> f64 {
    let wide: f64 =
        text.chars().map(|c| if c.is_uppercase() || c == 'm' || c == 'w' { 0.68 } else { 0.53 }).sum();
    wide * size
}
