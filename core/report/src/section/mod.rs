//! A section along a line as a drawing: SVG in millimetres of paper, at a standard scale.
//!
//! Existing ground is dashed and proposed ground solid, as on the plan (common practice). What is cut and what is
//! filled have hatches of their own and letters.

mod scale;
mod standing;
mod strip;
mod surfaces;
mod table;

use groundrule_plan::Plan;
use groundrule_site::Site;
use groundrule_site::ground::Section;
use groundrule_units::{Length, Style};

use crate::drawing::room::{Block, Room, text_width};
use crate::drawing::svg::{Paper, Svg};
use crate::drawing::{STYLE, blank};
use scale::Frame;

/// What a section adds to the style sheet of the drawing.
const SECTION_STYLE: &str = "
.plan .surface{stroke-width:.5;stroke-dasharray:4 1.2}
.plan .surface.new{stroke-width:.7;stroke-dasharray:none}
.plan .cut-ground{fill:url(#hatch-ground);stroke:none}
.plan .earth{stroke:none}
.plan .earth.cut{fill:url(#hatch-cut)}
.plan .earth.fill{fill:url(#hatch-fill)}
.plan .earth-letter{font-size:2.6px;font-weight:700}
.plan .slope{font-size:2.1px;font-style:italic}
.plan .level-line{stroke:#8a8a8a;stroke-width:.13}
.plan .level-figure{font-size:2.1px}
.plan .section-name{font-size:2.2px}
.plan .section-leader{stroke-width:.13}
.plan .section-lot{stroke-width:.35;stroke-dasharray:8 1.4 2 1.4 2 1.4}
.plan .section-bend{stroke-width:.18;stroke-dasharray:1 1}
.plan .section-inside{fill:#fff;stroke:none}
.plan .section-building{stroke-width:.5}
.plan .section-floor{stroke-width:.7}
.plan .section-wall{fill:url(#hatch-wall);stroke-width:.5}
.plan .section-fence{stroke-width:.5}
.plan .section-paving{stroke-width:1.1}
.plan .section-trunk{stroke-width:.7}
.plan .section-crown{fill:#e4ecd9;fill-opacity:.45;stroke-width:.25}
.plan .end-letter{font-size:3.6px;font-weight:700}
";

/// Hatches of a section, in millimetres of paper.
const PATTERNS: &str = "<defs>\
<pattern id=\"hatch-ground\" width=\"4.2\" height=\"4.2\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><path class=\"thin\" d=\"M.4 0V4.2M1.2 0V4.2M2 0V4.2\" stroke-opacity=\".7\"/></pattern>\
<pattern id=\"hatch-cut\" width=\"1.3\" height=\"1.3\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(-45)\"><path class=\"thin\" d=\"M0 0V1.3\"/></pattern>\
<pattern id=\"hatch-fill\" width=\"2\" height=\"2\" patternUnits=\"userSpaceOnUse\"><path d=\"M.4 .6h.4M1.4 1.6h.4\" stroke-width=\".4\"/></pattern>\
<pattern id=\"hatch-wall\" width=\".9\" height=\".9\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><path class=\"thin\" d=\"M0 0V.9\"/></pattern>\
</defs>\n";

/// What a section is drawn from.
pub struct View<'a> {
    /// The plan as written.
    pub plan: &'a Plan,
    /// The plan as a site.
    pub site: &'a Site,
    /// What the line crosses.
    pub section: &'a Section,
    /// What the line is called: `a-a`, `house.ne to lot.se`.
    pub name: &'a str,
    /// What its ends are called.
    pub ends: (&'a str, &'a str),
    /// The units to write in.
    pub style: Style,
}

/// Draws a section.
pub fn svg(view: &View<'_>) -> String {
    let View { plan, site, section, name, ends, style } = view;
    let frame = Frame::fit(*style, section.length, range(view));
    let mut room = Room::new(frame.width, frame.height - scale::STRIP, scale::MARGIN);
    let label = format!("Section {name} of {}", plan.site.name);
    let mut svg = blank(frame.width, frame.height, &label, &format!("{STYLE}{SECTION_STYLE}"));
    svg.raw(PATTERNS);
    table::levels(&mut svg, &frame, &mut room);
    surfaces::ground(&mut svg, section, &frame);
    let mut above = Svg::default();
    surfaces::claim(section, &frame, &mut room);
    surfaces::earth(&mut svg, &mut above, section, &frame, &mut room);
    standing::draw(&mut svg, &mut above, site, (section, name), &frame, &mut room);
    surfaces::lines(&mut svg, section, &frame, &mut room);
    for (end, x, out) in [(ends.0, frame.foot.x, -1.0), (ends.1, frame.end(), 1.0)] {
        // Outside the section, where no lot line stands.
        let half = text_width(end, 3.6) / 2.0;
        let at = Paper::new(x + out * (half + 2.0), frame.top() - 4.0);
        room.take(Block::around(at, 2.0 * half, 4.0));
        above.text("label end-letter", at, 0.0, end);
    }
    surfaces::slopes(&mut above, section, &frame, &mut room);
    table::stations(&mut svg, section, &frame);
    strip::draw(&mut svg, plan, section, &frame, name);
    svg.raw(&above.finish());
    svg.close("svg");
    svg.finish()
}

/// The lowest and the highest level to be drawn: of both surfaces, floors and tops of walls.
fn range(view: &View<'_>) -> (Length, Length) {
    let surfaces = [&view.section.existing, &view.section.proposed].into_iter().flatten();
    let ground = surfaces.flat_map(|profile| profile.pieces.iter().flatten()).map(|(_, level)| *level);
    let floor = |feature: &groundrule_site::Feature| match feature.facts.get("floor_level") {
        Some(groundrule_site::Fact::Amount(amount)) => amount.value().length(),
        _ => None,
    };
    let crossings = &view.section.crossings;
    let floors = crossings.iter().filter_map(|crossing| floor(view.site.feature(crossing.feature)?));
    let tops = crossings.iter().filter_map(|crossing| crossing.top);
    let all = ground.chain(floors).chain(tops).map(|level| (level, level));
    all.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1))).unwrap_or_default()
}
