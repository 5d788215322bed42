//! Line types and hatches of the ground. Existing contours are dashed and proposed ones solid, as is usual on grading
//! plans (common practice); nothing is told by colour alone.

/// The style sheet of the ground, and of lines that only plans of the ground have.
pub(super) const STYLE: &str = "
.plan .contour{stroke:#7d6f58;stroke-width:.18;stroke-dasharray:2.6 1.1}
.plan .contour.heavy{stroke-width:.35;stroke-dasharray:4.2 1.2}
.plan .contour.new{stroke:#4a3f2c;stroke-width:.25;stroke-dasharray:none}
.plan .contour.new.heavy{stroke-width:.5}
.plan .contour-figure{font-size:1.9px;fill:#5e5340}
.plan .contour-figure.new{font-weight:700;fill:#3a3122}
.plan .spot-cross{stroke-width:.18}
.plan .spot-box{fill:#fff;stroke-width:.18}
.plan .spot-figure{font-size:1.8px}
.plan .spot-figure.new{font-weight:700}
.plan .fall{stroke:#33506b;stroke-width:.25}
.plan .fall-head{fill:#33506b;stroke:none}
.plan .fall-figure{font-size:1.9px;fill:#33506b;font-style:italic}
.plan .hachure{stroke:#7d6f58;stroke-width:.18}
.plan .hollow{fill:url(#hatch-hollow);stroke:#33506b;stroke-width:.35}
.plan .hollow-tick{stroke:#33506b;stroke-width:.25}
.plan .hollow-mark{fill:#33506b;stroke:none}
.plan .hollow-spill{fill:#fff;stroke:#33506b;stroke-width:.35}
.plan .hollow-figure{font-size:2px;fill:#33506b}
.plan .breakline{stroke-width:.18;stroke-dasharray:6 1 1 1}
.plan .swale{stroke:#33506b;stroke-width:.35;stroke-dasharray:4 1 .6 1 .6 1}
.plan .curb{stroke-width:.5}
.plan .grading-limit{stroke-width:.35;stroke-dasharray:7 2}
.plan .drainage-area{stroke-width:.35;stroke-dasharray:1.4 1 5 1}
.plan .section-mark{stroke-width:.35;stroke-dasharray:10 1.5 2 1.5}
.plan .section-end{stroke-width:.7}
.plan .drawn-arrow{stroke-width:.35}
";

/// Hatches, in millimetres of paper.
pub(super) const PATTERNS: &str = "<defs>\
<pattern id=\"hatch-hollow\" width=\"3\" height=\"3\" patternUnits=\"userSpaceOnUse\"><path d=\"M.2 .8h1.4M1.7 2.3h1.2\" stroke=\"#33506b\" stroke-width=\".18\"/></pattern>\
</defs>\n";
