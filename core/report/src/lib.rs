//! Findings and plan to terminal, page, drawing and data. Nothing here is computed, only shown.

pub mod drawing;

use groundrule_plan::Plan;
use groundrule_review::Review;
use groundrule_site::Site;
use groundrule_units::Style;

/// One plan's whole result, as every output receives it.
pub struct Report<'a> {
    /// The plan as written.
    pub plan: &'a Plan,
    /// The plan as resolved.
    pub site: &'a Site,
    /// What the review said.
    pub review: &'a Review,
    /// The units to write in.
    pub style: Style,
}
