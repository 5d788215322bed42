//! One check, one file.

mod cover_share;
mod lot_line_distance;
mod overlap;
mod separation;

pub use cover_share::CoverShare;
pub use lot_line_distance::LotLineDistance;
pub use overlap::Overlap;
pub use separation::Separation;
