//! Line types, weights and hatches.
//!
//! Line types follow ISO 128 and ASME Y14.2: continuous for what is seen, long dash and two short for lot
//! lines (phantom), dashes for what is hidden or will go, long and short dashes for centre lines and wires.
//! Widths step by the square root of two, as in ISO 128: 0.18, 0.25, 0.35, 0.5, 0.7 mm. Existing things are
//! thin, proposed ones heavy, and nothing is told by colour alone. The colours that lines are marked in are screen
//! values near the safety colours of ANSI Z535.1, from memory.

use groundrule_plan::{KindTree, Status};

/// The style sheet of the drawing; every class is under `.plan` so that a page around it is not touched.
pub(crate) const STYLE: &str = "
.plan{font-family:'Helvetica Neue',Helvetica,Arial,'Liberation Sans',sans-serif;background:#fff}
.plan path,.plan circle,.plan rect,.plan line{fill:none;stroke:#1b1b1b;stroke-width:.25;stroke-linejoin:round;stroke-linecap:butt;vector-effect:none}
.plan .frame{stroke-width:.5}
.plan .sheet{fill:#fff;stroke:none}
.plan .thin{stroke-width:.18}
.plan .lot{stroke-width:.7;stroke-dasharray:11 1.6 2.6 1.6 2.6 1.6}
.plan .setback{stroke-width:.35;stroke-dasharray:5 1 .7 1 .7 1}
.plan .buildable{fill:#f7f5ee;stroke:none}
.plan .building{fill:#fff;stroke-width:.5}
.plan .building-hatch{fill:url(#hatch-building);stroke:none}
.plan .open-structure{fill:#fff;stroke-width:.35}
.plan .boards{fill:url(#hatch-boards);stroke:none}
.plan .equipment{fill:#fff;stroke-width:.35}
.plan .paving{fill:#f4f2ee;stroke-width:.25}
.plan .paving-hatch{fill:url(#hatch-paving);stroke:none}
.plan .water{fill:#eef4f7;stroke-width:.35}
.plan .water-hatch{fill:url(#hatch-water);stroke:none}
.plan .bed{fill:#f3f5ee;stroke-width:.25}
.plan .lawn{fill:url(#hatch-lawn);stroke-width:.18;stroke-dasharray:.4 1}
.plan .easement{fill:url(#hatch-easement);stroke-width:.25;stroke-dasharray:4 1.4}
.plan .other{fill:#fff;fill-opacity:.6;stroke-width:.25}
.plan .eave{stroke-width:.18;stroke-dasharray:2 1}
.plan .fence{stroke-width:.35}
.plan .hedge{fill:#e9eee0;stroke-width:.25}
.plan .wire{stroke-width:.25;stroke-dasharray:9 1.5 2 1.5}
.plan .pipe{stroke-width:.25;stroke-dasharray:5 1.5}
.plan .marking{stroke-width:1.5;stroke-opacity:.85}
.plan .marking.red{stroke:#c8102e}
.plan .marking.yellow{stroke:#ffd100}
.plan .marking.orange{stroke:#ff8200}
.plan .marking.blue{stroke:#0072ce}
.plan .marking.purple{stroke:#963cbd}
.plan .marking.green{stroke:#00843d}
.plan .letters{font-size:2.2px;font-weight:700}
.plan .strip{stroke-width:.18;stroke-dasharray:1.3 .9;fill:url(#hatch-strip)}
.plan .canopy{fill:#e4ecd9;fill-opacity:.45;stroke-width:.25}
.plan .canopy-full{stroke-width:.18;stroke-dasharray:1 1}
.plan .trunk{fill:#1b1b1b;stroke:none}
.plan .solid{fill:#1b1b1b}
.plan .paper{fill:#fff}
.plan .proposed{stroke-width:.7}
.plan .remove{stroke-dasharray:2 1.2;stroke-width:.25}
.plan .remove-cross{stroke-width:.18;stroke-dasharray:2 1.2}
.plan text{font-size:2.4px;fill:#1b1b1b;text-anchor:middle;dominant-baseline:central;stroke:none}
.plan .label{paint-order:stroke;stroke:#fff;stroke-width:.9;stroke-linejoin:round}
.plan .small{font-size:2px}
.plan .street{font-size:3.6px;letter-spacing:.8px}
.plan .line-name{font-size:2.1px;letter-spacing:.25px}
.plan .left{text-anchor:start}
.plan .title{font-size:4.6px;font-weight:600;text-anchor:start}
.plan .note{font-size:2.3px;text-anchor:start}
.plan .dimension{stroke-width:.18}
.plan .finding-span{stroke-width:.5}
.plan .finding-region{fill:url(#hatch-finding);stroke-width:.35}
.plan .finding-leader{stroke-width:.25}
.plan .bubble{fill:#fff;stroke-width:.6}
.plan .bubble-number{font-size:2.9px;font-weight:700}
.plan .long{font-size:2.2px}
.plan .verdict-fails{stroke:#8c1515}
.plan .verdict-verify{stroke:#7a4a00}
.plan .verdict-missing{stroke:#3d3d7a}
.plan a:focus{outline:none}
.plan a:focus .bubble,.plan a:hover .bubble,.plan a:target .bubble,.plan .current .bubble,.plan .pointed .bubble{stroke-width:1.2;fill:#fff3b0}
";

/// What error figures add to the style sheet.
pub(crate) const ERROR_STYLE: &str = "
.plan .error-figure{fill:#fff;fill-opacity:.5;stroke-width:.25}
.plan .error-axis{stroke-width:.18}
";

/// Hatches, in millimetres of paper.
pub(crate) const PATTERNS: &str = "<defs>\
<pattern id=\"hatch-building\" width=\"2.4\" height=\"2.4\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><path class=\"thin\" d=\"M0 0V2.4\" stroke-opacity=\".6\"/></pattern>\
<pattern id=\"hatch-boards\" width=\"1.4\" height=\"1.4\" patternUnits=\"userSpaceOnUse\"><path class=\"thin\" d=\"M0 0H1.4\" stroke-opacity=\".55\"/></pattern>\
<pattern id=\"hatch-easement\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(-45)\"><path class=\"thin\" d=\"M0 0V5\" stroke-opacity=\".6\"/></pattern>\
<pattern id=\"hatch-paving\" width=\"3.2\" height=\"3.2\" patternUnits=\"userSpaceOnUse\"><path d=\"M.6 .8h.25M2.2 2.3h.25\" stroke-width=\".25\"/></pattern>\
<pattern id=\"hatch-water\" width=\"5\" height=\"2.6\" patternUnits=\"userSpaceOnUse\"><path class=\"thin\" d=\"M.4 1.3h2.2\"/></pattern>\
<pattern id=\"hatch-lawn\" width=\"4\" height=\"4\" patternUnits=\"userSpaceOnUse\"><path class=\"thin\" d=\"M1 1.4v-.7M3 3.4v-.7\"/></pattern>\
<pattern id=\"hatch-strip\" width=\"3.6\" height=\"3.6\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(60)\"><path class=\"thin\" d=\"M0 0V3.6\" stroke-opacity=\".28\"/></pattern>\
<pattern id=\"hatch-finding\" width=\"1.1\" height=\"1.1\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><path d=\"M0 0V1.1\" stroke-width=\".3\"/></pattern>\
</defs>\n";

/// How a kind of area is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct AreaPen {
    /// The class of its outline and fill.
    pub(crate) outline: &'static str,
    /// The class of a hatch laid over it.
    pub(crate) hatch: Option<&'static str>,
}

/// Kinds and how they are drawn; the first that a feature's kind stands under governs.
const AREAS: [(&str, AreaPen); 19] = [
    ("porch", AreaPen { outline: "open-structure", hatch: Some("boards") }),
    ("deck", AreaPen { outline: "open-structure", hatch: Some("boards") }),
    ("stair", AreaPen { outline: "open-structure", hatch: Some("boards") }),
    ("steps", AreaPen { outline: "open-structure", hatch: Some("boards") }),
    ("arbor", AreaPen { outline: "open-structure", hatch: None }),
    ("greenhouse", AreaPen { outline: "open-structure", hatch: None }),
    ("carport", AreaPen { outline: "open-structure", hatch: None }),
    ("hedge", AreaPen { outline: "hedge", hatch: None }),
    ("wall", AreaPen { outline: "hedge", hatch: None }),
    ("structure", AreaPen { outline: "building", hatch: Some("building-hatch") }),
    ("equipment", AreaPen { outline: "equipment", hatch: None }),
    ("paving", AreaPen { outline: "paving", hatch: Some("paving-hatch") }),
    ("rain-garden", AreaPen { outline: "bed", hatch: Some("water-hatch") }),
    ("water", AreaPen { outline: "water", hatch: Some("water-hatch") }),
    ("lawn", AreaPen { outline: "lawn", hatch: None }),
    ("planting", AreaPen { outline: "bed", hatch: None }),
    ("easement", AreaPen { outline: "easement", hatch: None }),
    ("area", AreaPen { outline: "easement", hatch: None }),
    ("lot", AreaPen { outline: "none", hatch: None }),
];

/// How an area of this kind is drawn.
pub(crate) fn area(kinds: &KindTree, kind: &str) -> AreaPen {
    let found = AREAS.iter().find(|(ancestor, _)| kinds.is_a(kind, ancestor));
    found.map_or(AreaPen { outline: "other", hatch: None }, |(_, pen)| *pen)
}

/// Lines that have a pen of their own and no fill.
const BARE: [(&str, &str); 6] = [
    ("contour", "contour"),
    ("breakline", "breakline"),
    ("swale", "swale"),
    ("curb", "curb"),
    ("grading-limit", "grading-limit"),
    ("drainage-area", "drainage-area"),
];

/// The class of a kind that is drawn as a bare line, also where it is an outline.
pub(crate) fn bare(kinds: &KindTree, kind: &str) -> Option<&'static str> {
    BARE.iter().find(|(ancestor, _)| kinds.is_a(kind, ancestor)).map(|(_, pen)| *pen)
}

/// The class a status adds to an outline.
pub(crate) fn status(status: Option<Status>) -> &'static str {
    match status {
        Some(Status::Proposed) => " proposed",
        Some(Status::Remove) => " remove",
        Some(Status::Existing) | None => "",
    }
}
