use groundrule_kit::{Check, Dimension, Feature, Ground, Info, LengthParameter, Reading, Refusal, by_lot};

use crate::areas::{Area, BLOCKS, REACH, reach_or, readings};

/// Sight area at a drive: what stands beside the mouth of a drive, and how high or how low.
///
/// # What it measures
/// The areas are the two triangles beside each of the group `drives` where it crosses a line of the group `lines` of its
/// own lot: one leg along the line, one along the edge of the drive. For each subject near one: the height of its top or
/// of its lowest branch, and how far it reaches in.
///
/// # Why
/// A driver who backs out sees a child on the walk only over or under what stands beside the drive.
///
/// # Parameters
/// - `leg`: the leg along the lot line. Needed.
/// - `leg_in`: the leg along the edge of the drive; as `leg` when not given.
/// - `blocks`: `top` or `branches`, as for corner-area. Without it, `top`.
/// - `reach`: how far outside of the area a thing is still measured; 10 ft when not given.
///
/// # Answers
/// A length for each subject near an area, with the facts `inside`, `length_inside` of a line, `area_inside` of an outline
/// and `sight_area`. A row asks only where `reading.inside > feet(0)`. Not applicable when no drive crosses a line of the
/// group, or nothing of the subject is near. Lacking when the height is not stated.
///
/// # Cautions
/// The area lies on the lot; what stands on the neighbor's side or in the street's strip is not looked at. Heights count
/// from the drive in most codes.
pub struct DriveArea;

const LEG: LengthParameter = LengthParameter::new("leg", "The leg along the lot line; needed.");
const LEG_IN: LengthParameter =
    LengthParameter::new("leg_in", "The leg along the edge of the drive; as `leg` when not given.");

impl Check for DriveArea {
    const INFO: Info = Info {
        name: "drive-area",
        summary: "What stands in the sight areas beside the mouth of a drive, and how high.",
        dimension: Some(Dimension::Length),
        parameters: &[LEG.info(), LEG_IN.info(), BLOCKS.info(), REACH.info()],
        groups: &["drives", "lines"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let Some(leg) = LEG.read(ground)? else {
            return Err(Refusal::new(
                "parameter `leg` is not given; give the length of the legs, such as \"10 ft\"",
            ));
        };
        let leg_in = LEG_IN.read(ground)?.unwrap_or(leg);
        let (blocks, reach) = (BLOCKS.read(ground)?, reach_or(REACH.read(ground)?));
        let drives = by_lot(ground, &ground.group("drives"), &ground.group("lines"));
        let pairs: Vec<(Feature, Feature)> = drives
            .into_iter()
            .flat_map(|on| on.others.into_iter().map(move |line| (on.subject, line)))
            .collect();
        let regions = ground.drive_sight(&pairs, leg, leg_in);
        let areas: Vec<Area> = pairs
            .iter()
            .zip(regions)
            .flat_map(|(&(drive, line), regions)| {
                regions.into_iter().map(move |region| Area { region, made_by: vec![line, drive] })
            })
            .collect();
        Ok(readings(ground, &areas, blocks, reach, "it stands near no mouth of a drive on its lot"))
    }
}
