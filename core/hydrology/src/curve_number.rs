//! Runoff by curve number: TR-55, 2nd edition 1986, chapter 2; National Engineering Handbook part 630, chapter 10.

use groundrule_units::Length;

use crate::{positive, sensible};

/// The curve number of hard ground whose water runs straight to a pipe, gutter or channel.
pub const HARD: f64 = 98.0;

/// Under this curve number the method is not to be used (TR-55, chapter 2).
pub const LEAST: f64 = 40.0;

/// The share of hard ground from which on it counts as connected, however its water runs (TR-55, figure 2-4).
pub const UNCONNECTED_BELOW: f64 = 0.30;

/// What the ground can hold back when rain never ends, `S = 1000/CN - 10` inches; `25400/CN - 254` mm is the same.
pub fn retention(curve_number: f64) -> Option<Length> {
    let number = positive(curve_number).filter(|number| *number <= 100.0)?;
    Some(Length::from_inches(1000.0 / number - 10.0))
}

/// The rain that the ground takes before any runs off: `Ia = 0.2 S`.
pub fn initial_abstraction(curve_number: f64) -> Option<Length> {
    Some(retention(curve_number)? * 0.2)
}

/// The depth that runs off: `Q = (P - Ia)^2 / (P - Ia + S)`, and nothing when the rain is no more than `Ia`.
pub fn runoff(rain: Length, curve_number: f64) -> Option<Length> {
    let (retention, initial) = (retention(curve_number)?, initial_abstraction(curve_number)?);
    let rest = sensible(rain.metres())? - initial.metres();
    if rest <= 0.0 {
        return Some(Length::ZERO);
    }
    Some(Length::from_metres(rest * rest / (rest + retention.metres())))
}

/// The number of ground whose hard share `hard` is connected: `CNp + p (98 - CNp)` (TR-55, figure 2-3). Where a share
/// `unconnected` of that runs over soil first, and less than 30 % is hard: `CNp + p (98 - CNp) (1 - R/2)` (figure 2-4).
pub fn with_hard_ground(pervious: f64, hard: f64, unconnected: f64) -> Option<f64> {
    let share = |share: f64| sensible(share).filter(|share| *share <= 1.0);
    let (hard, unconnected) = (share(hard)?, share(unconnected)?);
    let kept = if hard < UNCONNECTED_BELOW { 1.0 - unconnected / 2.0 } else { 1.0 };
    Some(pervious + hard * (HARD - pervious) * kept)
}

/// As tables print it: to the nearest whole number.
pub fn rounded(curve_number: f64) -> f64 {
    // A figure such as 70.1 may come a hair short of a half from its weights.
    (curve_number * (1.0 + 4.0 * f64::EPSILON)).round()
}

/// The curve number of a cover on soil of a group, for average moisture before the storm; none when the table has no
/// such cover or group.
pub fn of_cover(cover: &str, soil_group: &str) -> Option<f64> {
    let (_, numbers) = COVERS.iter().find(|(name, _)| *name == cover)?;
    let column = ["A", "B", "C", "D"].iter().position(|group| *group == soil_group)?;
    numbers.get(column).copied()
}

/// The covers that have a curve number, in the order of the table.
pub fn covers() -> impl Iterator<Item = &'static str> {
    COVERS.iter().map(|(name, _)| *name)
}

/// TR-55 tables 2-2a to 2-2c, for soil groups A, B, C and D.
const COVERS: [(&str, [f64; 4]); 9] = [
    // More than 75 % grass. Read in a copy of the table.
    ("lawn-good", [39.0, 61.0, 74.0, 80.0]),
    // 50 to 75 % grass. A and C read in copies, B and D from memory.
    ("lawn-fair", [49.0, 69.0, 79.0, 84.0]),
    // Less than 50 % grass. From memory.
    ("lawn-poor", [68.0, 79.0, 86.0, 89.0]),
    // Table 2-2c, pasture in good condition: the figures of lawn-good. B and C read in example 2-1, the rest from memory.
    ("pasture-good", [39.0, 61.0, 74.0, 80.0]),
    // Read in a copy of the table.
    ("woods-good", [30.0, 55.0, 70.0, 77.0]),
    // Roofs, drives and other paving, connected. From memory.
    ("paved", [HARD, HARD, HARD, HARD]),
    // From memory.
    ("gravel", [76.0, 85.0, 89.0, 91.0]),
    // From memory.
    ("dirt", [72.0, 82.0, 87.0, 89.0]),
    // The water of a pond or pool sheds all that falls. Common practice.
    ("water", [100.0, 100.0, 100.0, 100.0]),
];
