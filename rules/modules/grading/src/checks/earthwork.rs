use groundrule_kit::{
    Check, Choice, Dimension, Feature, Grade, Ground, Info, Length, Moved, Need, ParameterInfo, Reading,
    Refusal, Value,
};

use crate::amounts::{known, label, less, plus};
use crate::surface::{no_levels, on_ground};

/// Earthwork: how much earth is moved on each subject.
///
/// # What it measures
/// The volume between the existing and the proposed ground inside the subject: what is cut, what is filled, both
/// together, or the fill less the cut. With `around`, inside the circle of that diameter around the subject: the crown of
/// a tree.
///
/// # Why
/// Above some volume a grading permit is asked for, and what is cut and not filled is driven through the street. Under
/// the crown of a tree even a little fill smothers its roots, and a cut takes them away.
///
/// # Parameters
/// - `which`: `cut`, `fill`, `moved` or `net`. Without it, `moved`.
/// - `around`: the stated diameter, as the plan file calls it: `spread`. Without it, the subject's own area.
///
/// # Answers
/// A volume for each subject, with the facts `cut` and `fill`. Lacking where the plan has no levels of a ground, or the
/// diameter is not stated.
///
/// # Cautions
/// Volumes are in place: earth swells when dug. Topsoil stripped and put back, and what a foundation displaces, are not
/// counted.
pub struct Earthwork;

#[derive(Clone, Copy)]
enum Which {
    Cut,
    Fill,
    Moved,
    Net,
}

const WHICH: Choice<Which> = Choice::new(
    "which",
    "What is counted: `cut`, `fill`, `moved` (both) or `net` (fill less cut); `moved` when not given.",
    &[("cut", Which::Cut), ("fill", Which::Fill), ("moved", Which::Moved), ("net", Which::Net)],
    Which::Moved,
);
const AROUND: ParameterInfo = ParameterInfo {
    name: "around",
    summary: "The stated diameter of the circle around the subject, such as `spread`; its own area when not given.",
};

impl Check for Earthwork {
    const INFO: Info = Info {
        name: "earthwork",
        summary: "The volume of earth that is moved on each subject.",
        dimension: Some(Dimension::Volume),
        parameters: &[WHICH.info(), AROUND],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let which = WHICH.read(ground)?;
        let around = match ground.parameter(AROUND.name) {
            None => None,
            Some(Value::Text(name)) => Some(name),
            Some(other) => {
                let sort = other.sort();
                return Err(Refusal::new(format!(
                    "parameter `around` is {sort}; name a diameter, such as \"spread\""
                )));
            }
        };
        let on = on_ground(ground)?;
        let mut readings = on.readings;
        for subject in on.subjects {
            if !ground.known(Grade::Existing) {
                readings.push(Reading::lacking(subject, no_levels(Grade::Existing)));
                continue;
            }
            let area = match &around {
                None => Ok(subject),
                Some(name) => circle(ground, subject, name),
            };
            readings.push(match area {
                Ok(area) => {
                    match ground.earthwork(&[area]).pop().and_then(|moved| counted(ground, which, moved)) {
                        Some((amount, moved)) => {
                            Reading::amount(subject, amount).shown("cut", moved.cut).shown("fill", moved.fill)
                        }
                        None => Reading::not_applicable(subject, "it covers no area"),
                    }
                }
                Err(need) => Reading::lacking(subject, need),
            });
        }
        Ok(readings)
    }
}

/// The ground around a feature by its stated diameter.
fn circle<G: Ground>(ground: &G, subject: Feature, name: &str) -> Result<Feature, Need> {
    let words = name.replace('_', " ");
    let need = || {
        let what = format!("{words} of {}", label(ground, subject));
        Need::new(what, format!("measure it on the ground and state it as `{name}`"))
    };
    let stated = ground.stated(&[subject], name).pop().flatten().ok_or_else(need)?;
    let across = known(ground, &stated).filter(|across| *across > 0.0).ok_or_else(need)?;
    ground.around(&[subject], Length::from_metres(across / 2.0), false).pop().flatten().ok_or_else(need)
}

fn counted<G: Ground>(
    ground: &G,
    which: Which,
    moved: Moved<G::Amount>,
) -> Option<(G::Amount, Moved<G::Amount>)> {
    let amount = match which {
        Which::Cut => ground.scale(&[(&moved.cut, 1.0)]).pop(),
        Which::Fill => ground.scale(&[(&moved.fill, 1.0)]).pop(),
        Which::Moved => plus(ground, &moved.cut, &moved.fill),
        Which::Net => less(ground, &moved.fill, &moved.cut),
    };
    Some((amount?, moved))
}
