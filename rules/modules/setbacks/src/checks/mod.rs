//! One check, one file.

mod building_height;
mod cover_share;
mod eave_projection;
mod height_by_line;
mod lot_line_distance;
mod neighbor_yards;
mod overlap;
mod reach_to_line;
mod separation;
mod weighted_share;
mod yard_by_gap;
mod yard_share;
mod yard_sum;

pub use building_height::BuildingHeight;
pub use cover_share::CoverShare;
pub use eave_projection::EaveProjection;
pub use height_by_line::HeightByLine;
pub use lot_line_distance::LotLineDistance;
pub use neighbor_yards::NeighborYards;
pub use overlap::Overlap;
pub use reach_to_line::ReachToLine;
pub use separation::Separation;
pub use weighted_share::WeightedShare;
pub use yard_by_gap::YardByGap;
pub use yard_share::YardShare;
pub use yard_sum::YardSum;
