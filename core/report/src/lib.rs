//! Findings and plan to terminal, page, drawing and data. Nothing here is computed, only shown.
//!
//! Every output takes a [`Report`], says the same in its own way, and ends with the same [`CAUTIONS`].

mod cautions;
mod groups;
mod lines;
mod listed;
mod marking;
mod safe;
mod words;

pub mod drawing;
pub mod fieldsheet;
pub mod html;
pub mod json;
pub mod section;
pub mod terminal;

pub use cautions::{CAUTIONS, Caution};

use groundrule_plan::Plan;
use groundrule_review::Review;
use groundrule_site::Site;
use groundrule_survey::Layout;
use groundrule_units::Style;

/// One plan's whole result, as every output receives it.
pub struct Report<'a> {
    /// The plan as written.
    pub plan: &'a Plan,
    /// The plan as resolved: where its local origin lies on the sheet.
    pub layout: &'a Layout,
    /// The plan as a site.
    pub site: &'a Site,
    /// What the review said.
    pub review: &'a Review,
    /// The units to write in.
    pub style: Style,
    /// True to draw how well places and dimensions are known.
    pub error_figures: bool,
}
