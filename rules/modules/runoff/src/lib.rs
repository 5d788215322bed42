//! Rule module `runoff`: rain, what of it runs off, and what carries or holds it.
//!
//! One file in `checks` for each check; the list below is the registration.

mod channels;
mod checks;
mod figures;
mod ground;
mod numbers;
mod one;
mod parts;

pub use checks::{
    ConcentrationTime, DrainedArea, EmptyingTime, GardenArea, GraphicalPeak, PeakFlow, PeakIncrease,
    PipeCapacity, PitVolume, QualityStorage, RunoffDepth, SoilRate, SwaleCapacity, SwaleDepth,
    SwaleFreeboard, SwaleLength, SwaleSpeed,
};

groundrule_kit::module! { checks: [
    PeakFlow, PeakIncrease, RunoffDepth, GraphicalPeak, ConcentrationTime, PipeCapacity, SwaleCapacity,
    SwaleSpeed, SwaleDepth, SwaleFreeboard, SwaleLength, DrainedArea, GardenArea, PitVolume, SoilRate,
    EmptyingTime, QualityStorage,
] }
