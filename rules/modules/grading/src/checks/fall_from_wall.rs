use groundrule_kit::{
    Check, Choice, Dimension, Feature, Ground, Info, LengthParameter, Reading, Refusal, Shape, WallFall,
};

use crate::amounts::label;
use crate::parameters::needed;
use crate::surface::{GRADE, on_ground};

/// Fall from a wall: how the ground beside each side of a building falls away from it.
///
/// # What it measures
/// The fall of the ground square to each side of the subject, by how far it was followed: over `run`, or to the lot
/// line, a building or the first of the group `barriers` where that is nearer. Of the places along a side, the least
/// fall; a side with both soil and paving at the wall gives one reading of its own for each. Paving is what of the
/// group `paving` lies at the wall; it is followed no farther than it reaches.
///
/// # Why
/// Water that stands against a foundation finds its way in. Ground that falls away over the first steps leads roof and
/// rain water off before it soaks down along the wall.
///
/// # Parameters
/// - `run`: how far out the fall is taken. Needed.
/// - `ground`: `soil` or `hard`, the ground at the wall that is asked about. Without it, `soil`.
/// - `grade`: `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// A slope for each side and each such ground beside it, with the facts `fall`, `run`, `cut_short` (whether something
/// ended it before `run`) and `cut_by` (what). Not applicable where no ground of that sort lies at a wall. Lacking where
/// the plan has no levels of that ground, or none beside a side.
///
/// # Cautions
/// The ground is what the levels of the plan make it: between two of them it is taken as straight. Which side a reading
/// is of is drawn, not told.
pub struct FallFromWall;

const RUN: LengthParameter =
    LengthParameter::new("run", "How far out from the wall the fall is taken; needed.");

const HARD: Choice<bool> = Choice::new(
    "ground",
    "The ground at the wall: `soil` or `hard`; `soil` when not given.",
    &[("soil", false), ("hard", true)],
    false,
);

impl Check for FallFromWall {
    const INFO: Info = Info {
        name: "fall-from-wall",
        summary: "The slope at which the ground falls away from each side of a building.",
        dimension: Some(Dimension::Ratio),
        parameters: &[RUN.info(), HARD.info(), GRADE.info()],
        groups: &["barriers", "paving"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let (run, hard) = (needed(ground, &RUN)?, HARD.read(ground)?);
        let (barriers, paving) = (ground.group("barriers"), ground.group("paving"));
        let on = on_ground(ground)?;
        let mut readings = on.readings;
        for (&subject, shape) in on.subjects.iter().zip(ground.shapes(&on.subjects)) {
            if shape != Shape::Outline {
                readings.push(Reading::not_applicable(subject, "it is not drawn with walls around it"));
                continue;
            }
            let other =
                |group: &[Feature]| group.iter().copied().filter(|it| *it != subject).collect::<Vec<_>>();
            let falls = ground.falls(on.grade, subject, run, &other(&barriers), &other(&paving));
            let mut falls = falls.into_iter().filter(|fall| fall.hard.is_some() == hard).peekable();
            if falls.peek().is_none() {
                let why =
                    if hard { "no paving lies at its walls" } else { "paving lies all along its walls" };
                readings.push(Reading::not_applicable(subject, why));
            }
            readings.extend(falls.map(|fall| reading(ground, subject, fall)));
        }
        Ok(readings)
    }
}

fn reading<G: Ground>(ground: &G, subject: Feature, fall: WallFall<G::Amount>) -> Reading<G::Amount> {
    let cut_by = fall.cut_short.map(|by| label(ground, by));
    let mut reading = Reading::amount(subject, fall.slope);
    for other in fall.hard.into_iter().chain(fall.cut_short) {
        reading = reading.to(other);
    }
    reading
        .shown("fall", fall.fall)
        .shown("run", fall.run)
        .flag("cut_short", cut_by.is_some())
        .text_if("cut_by", cut_by)
}
