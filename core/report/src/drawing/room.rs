//! Finding room for text and numbers, always in the same order, so always with the same result.
//!
//! What is *taken* is never written over. What is *crossed* (an outline, a fence) may be, but of several free
//! places the one that crosses least is used.

use std::collections::BTreeMap;

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

    /// The box around text of this size that is turned so many degrees.
    pub(crate) fn turned(at: Paper, width: f64, height: f64, degrees: f64) -> Self {
        let (sin, cos) = libm::sincos(degrees.to_radians());
        let (sin, cos) = (sin.abs(), cos.abs());
        Self::around(at, cos * width + sin * height, sin * width + cos * height)
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

/// A place that text or a number may have.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Place {
    /// Its middle.
    pub(crate) at: Paper,
    /// Turned so many degrees clockwise.
    pub(crate) turn: f64,
    /// How much worse it is than the best, in pieces of line crossed.
    pub(crate) worse: f64,
}

impl Place {
    /// A place for level text.
    pub(crate) fn level(at: Paper, worse: f64) -> Self {
        Self { at, turn: 0.0, worse }
    }
}

/// Boxes by square cells, so that a full sheet is still searched quickly.
type Cells = BTreeMap<(i64, i64), Vec<Block>>;

/// The size of a cell in millimetres.
const CELL: f64 = 12.0;
/// The length of a piece of line that counts as crossed, in millimetres.
const PIECE: f64 = 1.0;

/// A sheet that fills up.
pub(crate) struct Room {
    sheet: Block,
    taken: Cells,
    lines: Cells,
}

impl Room {
    /// An empty sheet; nothing is placed nearer to its edge than `margin`.
    pub(crate) fn new(width: f64, height: f64, margin: f64) -> Self {
        let sheet =
            Block { low: Paper::new(margin, margin), high: Paper::new(width - margin, height - margin) };
        Self { sheet, taken: Cells::new(), lines: Cells::new() }
    }

    /// Marks a box as taken.
    pub(crate) fn take(&mut self, block: Block) {
        put(&mut self.taken, block);
    }

    /// Marks the boxes along a line as taken.
    pub(crate) fn take_line(&mut self, from: Paper, to: Paper, thick: f64) {
        along(from, to, thick.max(0.5), |at| put(&mut self.taken, Block::around(at, thick, thick)));
    }

    /// Marks lines through places as better not crossed.
    pub(crate) fn draw_line(&mut self, path: &[Paper]) {
        for (from, to) in path.iter().zip(path.iter().skip(1)) {
            along(*from, *to, PIECE, |at| put(&mut self.lines, Block::around(at, 0.4, 0.4)));
        }
    }

    /// True for a place on the part of the sheet that can be written on.
    pub(crate) fn holds(&self, at: Paper) -> bool {
        Block::around(at, 0.0, 0.0).within(&self.sheet)
    }

    /// True when nothing is in the box and it lies on the sheet.
    fn free(&self, block: &Block) -> bool {
        block.within(&self.sheet) && found(&self.taken, block).next().is_none()
    }

    /// Takes the place for a box of this size that is free and crosses least, the first of equals.
    pub(crate) fn best(
        &mut self,
        places: impl IntoIterator<Item = Place>,
        width: f64,
        height: f64,
    ) -> Option<Place> {
        let mut best: Option<(f64, Place)> = None;
        for place in places {
            if best.as_ref().is_some_and(|(held, _)| *held <= place.worse) {
                continue;
            }
            let block = Block::turned(place.at, width, height, place.turn);
            if !self.free(&block) {
                continue;
            }
            // A box on the border of cells is found in each, which only makes a crossing there a little worse.
            let cost = place.worse + found(&self.lines, &block).count() as f64;
            if best.as_ref().is_none_or(|(held, _)| cost < *held) {
                best = Some((cost, place));
            }
        }
        let (_, place) = best?;
        self.take(Block::turned(place.at, width, height, place.turn));
        Some(place)
    }
}

fn put(cells: &mut Cells, block: Block) {
    for cell in cells_of(&block) {
        cells.entry(cell).or_default().push(block);
    }
}

fn found<'a>(cells: &'a Cells, block: &'a Block) -> impl Iterator<Item = &'a Block> {
    cells_of(block).filter_map(|cell| cells.get(&cell)).flatten().filter(|other| other.meets(block))
}

fn along(from: Paper, to: Paper, step: f64, mut place: impl FnMut(Paper)) {
    let steps = (from.distance(to) / step).ceil().clamp(1.0, 2000.0);
    let mut i = 0.0;
    while i <= steps {
        place(from.towards(to, i / steps));
        i += 1.0;
    }
}

fn cells_of(block: &Block) -> impl Iterator<Item = (i64, i64)> + use<> {
    #[allow(clippy::cast_possible_truncation, reason = "paper is a few metres wide at most")]
    let cell = |value: f64| (value / CELL).floor().clamp(-1e4, 1e4) as i64;
    let (x0, x1) = (cell(block.low.x), cell(block.high.x));
    let (y0, y1) = (cell(block.low.y), cell(block.high.y));
    (x0..=x1).flat_map(move |x| (y0..=y1).map(move |y| (x, y)))
}

/// Places around a middle, nearest first; each ring is worse by `step` than the one inside it.
pub(crate) fn rings(at: Paper, radii: &[f64], directions: u32, step: f64) -> Vec<Place> {
    let ring = |(i, &radius): (usize, &f64)| {
        (0..directions).map(move |k| {
            // Up and to the right first, where leaders are least in the way.
            let turn =
                f64::from(k) * std::f64::consts::TAU / f64::from(directions) - std::f64::consts::FRAC_PI_4;
            let (sin, cos) = libm::sincos(turn);
            Place::level(at.plus(cos * radius, sin * radius), i as f64 * step)
        })
    };
    radii.iter().enumerate().flat_map(ring).collect()
}

/// The room a text takes at a size, in millimetres; a fair guess for the fonts named in the style sheet.
pub(crate) fn text_width(text: &str, size: f64) -> f64 {
    let wide: f64 =
        text.chars().map(|c| if c.is_uppercase() || c == 'm' || c == 'w' { 0.68 } else { 0.53 }).sum();
    wide * size
}

#[cfg(test)]
mod tests {
    use super::*;

    fn best(room: &mut Room, places: &[(f64, f64)]) -> Option<(f64, f64)> {
        let places = places.iter().map(|(x, y)| Place::level(Paper::new(*x, *y), 0.0));
        room.best(places, 10.0, 4.0).map(|place| (place.at.x, place.at.y))
    }

    #[test]
    fn taken_places_are_left_alone() {
        let mut room = Room::new(100.0, 50.0, 5.0);
        let places = [(20.0, 20.0), (24.0, 20.0), (50.0, 20.0)];
        assert_eq!(best(&mut room, &places), Some((20.0, 20.0)));
        assert_eq!(best(&mut room, &places), Some((50.0, 20.0)));
        assert_eq!(best(&mut room, &places), None);
    }

    #[test]
    fn nothing_leaves_the_sheet() {
        let mut room = Room::new(100.0, 50.0, 5.0);
        assert_eq!(best(&mut room, &[(9.9, 20.0), (20.0, 44.0), (90.1, 20.0)]), None);
        assert!(room.holds(Paper::new(5.0, 45.0)) && !room.holds(Paper::new(4.9, 20.0)));
    }

    #[test]
    fn lines_are_crossed_only_where_nothing_else_is_free() {
        let mut room = Room::new(100.0, 50.0, 5.0);
        room.draw_line(&[Paper::new(20.0, 5.0), Paper::new(20.0, 45.0)]);
        assert_eq!(best(&mut room, &[(20.0, 20.0), (60.0, 20.0)]), Some((60.0, 20.0)));
        assert_eq!(best(&mut room, &[(20.0, 20.0), (60.0, 20.0)]), Some((20.0, 20.0)));
    }
}
