//! Hollows: the edge of the water with ticks towards it, its area hatched, its depth at the lowest place, its spill.

use groundrule_site::ground::Pond;

use super::super::clip::Window;
use super::super::features::normal;
use super::super::room::{Block, Room, rings, text_width};
use super::super::sheet::Sheet;
use super::super::svg::{Paper, Svg};
use super::interval::Unit;

/// A shallower hollow than this, in metres, is not drawn: a fiftieth of a foot, which no builder's level tells.
pub(super) const SHALLOW: f64 = 0.006;
/// From one tick to the next along the edge.
const TICKS: f64 = 2.6;
/// The length of a tick.
const TICK: f64 = 0.9;
/// The size of the words.
const WORDS: f64 = 2.0;

/// Draws the areas, under what stands there.
pub(super) fn areas(svg: &mut Svg, ponds: &[Pond], sheet: &Sheet, window: Window) {
    for pond in ponds {
        let rings: Vec<Vec<Paper>> = pond
            .rings
            .iter()
            .map(|ring| window.ring(&ring.iter().map(|at| sheet.place(*at)).collect::<Vec<_>>()))
            .filter(|ring| ring.len() > 2)
            .collect();
        let all: Vec<&[Paper]> = rings.iter().map(Vec::as_slice).collect();
        if all.is_empty() {
            continue;
        }
        svg.polygon("hollow", &all);
        for ring in &rings {
            ticks(svg, ring);
        }
    }
}

/// Short strokes from the edge towards the water.
fn ticks(svg: &mut Svg, ring: &[Paper]) {
    let mut left = TICKS / 2.0;
    for (&a, &b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
        let length = a.distance(b);
        let out = normal(a, b);
        while length > 0.0 && left <= length {
            let foot = a.towards(b, left / length);
            svg.line("hollow-tick", foot, foot.plus(-out.0 * TICK, -out.1 * TICK));
            left += TICKS;
        }
        left -= length;
    }
}

/// Marks the lowest place with the depth, and where the hollow runs over.
pub(super) fn marks(
    svg: &mut Svg,
    ponds: &[Pond],
    sheet: &Sheet,
    unit: Unit,
    window: Window,
    room: &mut Room,
) {
    for pond in ponds {
        let (bottom, spill) = (sheet.place(pond.bottom), sheet.place(pond.spill));
        let depth = format!("{} {} deep", unit.level(pond.depth), unit.word());
        for (at, words, mark) in
            [(bottom, depth.as_str(), lowest as fn(&mut Svg, Paper)), (spill, "spills here", over)]
        {
            if !window.holds(at) {
                continue;
            }
            mark(svg, at);
            room.take(Block::around(at, 2.0, 2.0));
            let (wide, high) = (text_width(words, WORDS) + 0.6, WORDS + 0.4);
            let reach = [wide / 2.0 + 1.8, wide / 2.0 + 4.0];
            let beside = [1.0, -1.0].into_iter().flat_map(|side| {
                reach.map(|out| super::super::room::Place::level(at.plus(side * out, 0.0), 0.0))
            });
            let around = rings(at, &[3.0, 5.0, 8.0], 12, 1.0);
            if let Some(place) = room.best(beside.chain(around), wide, high) {
                svg.text("label hollow-figure", place.at, place.turn, words);
            }
        }
    }
}

/// The lowest place: a solid triangle that points down.
fn lowest(svg: &mut Svg, at: Paper) {
    svg.polygon("hollow-mark", &[&[at.plus(-1.0, -0.9), at.plus(1.0, -0.9), at.plus(0.0, 0.9)]]);
}

/// The spill: an open diamond.
fn over(svg: &mut Svg, at: Paper) {
    svg.polygon(
        "hollow-spill",
        &[&[at.plus(-1.1, 0.0), at.plus(0.0, -1.1), at.plus(1.1, 0.0), at.plus(0.0, 1.1)]],
    );
}

/// A sample for the legend.
pub(super) fn sample(svg: &mut Svg, at: Paper, width: f64) {
    // The way round that has its inside on the side of the ticks.
    let ring = [at.plus(0.0, 1.7), at.plus(width, 1.7), at.plus(width, -1.7), at.plus(0.0, -1.7)];
    svg.polygon("hollow", &[&ring]);
    ticks(svg, &ring);
    lowest(svg, at.plus(width / 2.0, 0.0));
}
