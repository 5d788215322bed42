//! Rule module `setbacks`: yards, separations, overlaps, shares of a lot, and heights that hang on a line.
//!
//! One file in `checks` for each check; the list below is the registration.

mod checks;
mod lines;
mod lots;

pub use checks::{
    BuildingHeight, CoverShare, EaveProjection, HeightByLine, LotLineDistance, NeighborYards, Overlap,
    ReachToLine, Separation, WeightedShare, YardByGap, YardShare, YardSum,
};

groundrule_kit::module! { checks: [
    LotLineDistance, YardByGap, YardSum, NeighborYards, EaveProjection, HeightByLine, ReachToLine,
    BuildingHeight, Separation, Overlap, CoverShare, WeightedShare, YardShare,
] }
