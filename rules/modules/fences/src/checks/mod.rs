//! One check, one file.

mod flow_gap;
mod height;
mod height_in_yard;
mod height_on_wall;

pub use flow_gap::FlowGap;
pub use height::Height;
pub use height_in_yard::HeightInYard;
pub use height_on_wall::HeightOnWall;
