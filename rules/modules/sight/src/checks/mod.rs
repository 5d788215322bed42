//! One check, one file.

mod corner_area;
mod drive_area;
mod drive_to_corner;

pub use corner_area::CornerArea;
pub use drive_area::DriveArea;
pub use drive_to_corner::DriveToCorner;
