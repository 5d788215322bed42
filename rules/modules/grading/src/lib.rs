//! Rule module `grading`: the shape of the ground, where water runs on it, and the walls that hold it.
//!
//! One file in `checks` for each check; the list below is the registration.

mod amounts;
mod checks;
mod faces;
mod goes;
mod levels;
mod parameters;
mod surface;
mod walls;

pub use checks::{
    Aspect, ContourSlope, DrainedArea, Earthwork, FaceDistance, FaceSlope, FaceToLine, FallFromWall,
    HollowDepth, KeepsClear, LeavesOverLine, LevelOverGround, LevelOverMark, OutfallGap, SlopeAcross,
    SlopeAlong, SlopeBreak, SlopeOver, Surcharge, WallHeight, WallTiers, WaterCourse,
};

groundrule_kit::module! { checks: [FallFromWall, SlopeOver, SlopeAlong, SlopeAcross, SlopeBreak, ContourSlope, Aspect, LevelOverGround, LevelOverMark, HollowDepth, KeepsClear, WaterCourse, LeavesOverLine, DrainedArea, Earthwork, WallHeight, WallTiers, Surcharge, FaceDistance, FaceToLine, FaceSlope, OutfallGap] }
