//! One check, one file.

mod concentration_time;
mod drained_area;
mod emptying_time;
mod garden_area;
mod graphical_peak;
mod peak_flow;
mod peak_increase;
mod pipe_capacity;
mod pit_volume;
mod quality_storage;
mod runoff_depth;
mod soil_rate;
mod swale_capacity;
mod swale_depth;
mod swale_freeboard;
mod swale_length;
mod swale_speed;

pub use concentration_time::ConcentrationTime;
pub use drained_area::DrainedArea;
pub use emptying_time::EmptyingTime;
pub use garden_area::GardenArea;
pub use graphical_peak::GraphicalPeak;
pub use peak_flow::PeakFlow;
pub use peak_increase::PeakIncrease;
pub use pipe_capacity::PipeCapacity;
pub use pit_volume::PitVolume;
pub use quality_storage::QualityStorage;
pub use runoff_depth::RunoffDepth;
pub use soil_rate::SoilRate;
pub use swale_capacity::SwaleCapacity;
pub use swale_depth::SwaleDepth;
pub use swale_freeboard::SwaleFreeboard;
pub use swale_length::SwaleLength;
pub use swale_speed::SwaleSpeed;
