//! The strip under a section: title, scales, datum, what its lines mean, bars.

use groundrule_plan::Plan;
use groundrule_site::ground::Section;
use groundrule_units::Length;

use super::scale::{Frame, MARGIN, STRIP};
use crate::drawing::relief::interval::Unit;
use crate::drawing::room::text_width;
use crate::drawing::svg::{Paper, Svg, figure};

/// What every section says of itself.
const WORDS: &str = "Drawn from the plan file as stated, straight between levels. Not a survey. Lines in the ground are \
    not drawn: call the local one-call service before any digging. Walls and banks that hold earth are for a licensed \
    engineer.";
/// The width of a sample.
const SAMPLE: f64 = 12.0;

/// Draws the frame and the strip.
pub(super) fn draw(svg: &mut Svg, plan: &Plan, section: &Section, frame: &Frame, name: &str) {
    let (w, h) = (frame.width, frame.height);
    svg.rect("frame", Paper::new(MARGIN, MARGIN), w - 2.0 * MARGIN, h - 2.0 * MARGIN);
    let top = h - MARGIN - STRIP;
    svg.line("frame", Paper::new(MARGIN, top), Paper::new(w - MARGIN, top));
    let left = Paper::new(MARGIN + 4.0, top);
    let middle = w * 0.6;
    let room = middle - MARGIN - 10.0;
    let title = wrapped(&format!("Section {name}"), room, 4.6);
    svg.text("title", left.plus(0.0, 6.0), 0.0, title.first().map_or("", String::as_str));
    let counted = plan.ground.datum.as_ref().map_or_else(
        || "what they count from is not stated".to_owned(),
        |datum| format!("counted from: {}", datum.value.trim()),
    );
    let unit = if frame.unit == Unit::Feet { "feet" } else { "metres" };
    let times = match frame.times {
        times if times > 1.0 => format!("heights drawn {} times", figure(times)),
        _ => "heights to the same scale".to_owned(),
    };
    let mut notes = vec![plan.site.name.clone(), format!("Scale {} along, {times}", frame.scale)];
    notes.extend(wrapped(&format!("Levels in {unit}, {counted}."), room, 2.3));
    notes.extend(wrapped(WORDS, room, 2.3));
    for (k, note) in notes.iter().take(7).enumerate() {
        svg.text("note", left.plus(0.0, 11.4 + k as f64 * 3.4), 0.0, note);
    }
    legend(svg, section, Paper::new(middle, top + 5.0));
    bar(svg, frame, Paper::new(middle, h - MARGIN - 8.0), w - MARGIN - middle - 8.0);
}

fn wrapped(text: &str, room: f64, size: f64) -> Vec<String> {
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a sheet is some hundred letters wide"
    )]
    let columns = (room / text_width("n", size)).floor().max(20.0) as usize;
    textwrap::wrap(text, columns).into_iter().map(std::borrow::Cow::into_owned).collect()
}

/// What the lines and hatches mean; only what is drawn is explained.
fn legend(svg: &mut Svg, section: &Section, at: Paper) {
    let cut = section.moved.iter().any(|part| part.cut);
    let fill = section.moved.iter().any(|part| !part.cut);
    let rows: [(bool, &str, &str); 5] = [
        (section.existing.is_some(), "surface", "ground, existing"),
        (section.proposed.is_some(), "surface new", "ground, proposed"),
        (true, "cut-ground", "ground cut through"),
        (cut, "earth cut", "C: cut, greatest depth"),
        (fill, "earth fill", "F: fill, greatest depth"),
    ];
    for (i, (_, class, words)) in rows.into_iter().filter(|(drawn, ..)| *drawn).enumerate() {
        let at = at.plus((i % 2) as f64 * 48.0, (i / 2) as f64 * 5.2);
        if class.starts_with("surface") {
            svg.line(class, at, at.plus(SAMPLE, 0.0));
        } else {
            svg.rect(class, at.plus(0.0, -1.7), SAMPLE, 3.4);
        }
        svg.text("note", at.plus(SAMPLE + 2.0, 0.0), 0.0, words);
    }
}

/// A bar of alternating pieces along the line, and an upright one where heights are drawn otherwise.
fn bar(svg: &mut Svg, frame: &Frame, at: Paper, room: f64) {
    let one = frame.unit.length(1.0);
    let piece = |most: f64, scale: f64| {
        let rounds = [500.0, 200.0, 100.0, 50.0, 20.0, 10.0, 5.0, 2.0, 1.0, 0.5];
        rounds.into_iter().find(|round| one.metres() * round * scale <= most).unwrap_or(0.5)
    };
    let along = piece(room / 5.0, frame.per_metre);
    let step = Length::metres(one) * along * frame.per_metre;
    for i in 0..4 {
        let class = if i % 2 == 0 { "solid" } else { "paper" };
        svg.rect(class, at.plus(f64::from(i) * step, 0.0), step, 1.8);
    }
    for i in [0.0, 1.0, 2.0, 4.0] {
        let unit = if i > 3.0 { format!(" {}", frame.unit.word()) } else { String::new() };
        svg.text("small", at.plus(i * step, 4.2), 0.0, &format!("{}{unit}", figure(along * i)));
    }
    if frame.times > 1.0 {
        let up = piece(8.0, frame.per_metre * frame.times);
        let step = Length::metres(one) * up * frame.per_metre * frame.times;
        let foot = at.plus(4.0 * step_width(frame, along) + 14.0, 1.8);
        svg.rect("solid", foot.plus(0.0, -step), 1.8, step);
        svg.text(
            "small",
            foot.plus(0.9, 2.4),
            0.0,
            &format!("{} {} of height", figure(up), frame.unit.word()),
        );
    }
}

fn step_width(frame: &Frame, pieces: f64) -> f64 {
    frame.unit.length(pieces).metres() * frame.per_metre
}
