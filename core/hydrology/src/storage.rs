//! What holds water back and lets it soak away: rain gardens, dry wells, basins.

use groundrule_units::{Area, Length, Ratio, Speed, Time, Volume};

use crate::{positive, sensible};

/// The void ratio of clean stone that a regional guide puts into its formulas for the greatest depths: `f T 0.4`.
pub const VOID_RATIO: f64 = 0.4;

/// The area a rain garden needs so that `rain` on the drained area stands `depth` deep in it: `A P / d`.
pub fn garden_by_depth(drained: Area, rain: Length, depth: Length) -> Option<Area> {
    let area = drained.square_metres() * rain.metres() / positive(depth.metres())?;
    Some(Area::from_square_metres(sensible(area)?))
}

/// The area that takes a rain of some intensity and duration and soaks at `rate` meanwhile: `i D A / (d + f D)`, with
/// `d` the depth of water it may hold.
pub fn garden_by_volume(
    drained: Area,
    intensity: Speed,
    duration: Time,
    depth: Length,
    rate: Speed,
) -> Option<Area> {
    let rain = intensity.metres_per_second() * duration.seconds();
    let held = depth.metres() + rate.metres_per_second() * duration.seconds();
    Some(Area::from_square_metres(sensible(rain * drained.square_metres() / positive(held)?)?))
}

/// The volume of a depth of rain on an area.
pub fn volume(area: Area, depth: Length) -> Volume {
    Volume::from_cubic_metres(area.square_metres() * depth.metres())
}

/// The room a pit needs in stone of which a share `voids` is room for so much water.
pub fn stone(water: Volume, voids: Ratio) -> Option<Volume> {
    Some(Volume::from_cubic_metres(sensible(water.cubic_metres() / positive(voids.fraction())?)?))
}

/// The share of rain that runs off by the share of hard ground: `Rv = 0.05 + 0.9 I`.
pub fn volumetric_coefficient(hard: Ratio) -> Option<f64> {
    sensible(hard.fraction()).filter(|hard| *hard <= 1.0).map(|hard| 0.05 + 0.9 * hard)
}

/// Under this share of hard ground the water to be treated has a least depth.
pub const LITTLE_HARD: f64 = 0.15;

/// The least depth over the whole area that is to be treated where little of it is hard, in inches.
pub const LEAST_TREATED: f64 = 0.2;

/// The water to be treated: `WQv = P Rv A`; where less than 15 % is hard, 0.2 in over the area at least.
pub fn quality_volume(area: Area, rain: Length, hard: Ratio) -> Option<Volume> {
    let depth = rain * volumetric_coefficient(hard)?;
    let least = Length::from_inches(LEAST_TREATED);
    let raised = hard.fraction() < LITTLE_HARD && depth < least;
    Some(volume(area, if raised { least } else { depth }))
}

/// The greatest depth by the guide's formula for soil of this rate: `f T 0.4`; 48 h gives 19.2 mm for each mm/h. It is a
/// rule of design, with a void ratio in it, and not what soaks away in `within`: that is `emptying`.
pub fn deepest(rate: Speed, within: Time) -> Length {
    Length::from_metres(rate.metres_per_second() * within.seconds() * VOID_RATIO)
}

/// How long water of a depth takes to soak away.
pub fn emptying(depth: Length, rate: Speed) -> Option<Time> {
    Some(Time::from_seconds(sensible(depth.metres())? / positive(rate.metres_per_second())?))
}
