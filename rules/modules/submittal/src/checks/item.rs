use groundrule_kit::{Answer, Check, Ground, Info, Need, Reading, Refusal};

use crate::lacking::{choices, keys, named, of_those, states_any, undrawn, words};
use crate::parameters::Parameter;

/// Item: whether a thing that a list asks for is on the plan, with what is to be said of it.
///
/// # What it measures
/// Nothing: it looks whether each of the group `things` states what the row asks of it. Where none is on the plan, the
/// review says so without asking: `missing` until it is drawn or declared to be none.
///
/// # Why
/// A reviewer can only answer what the sheet shows. Most letters of correction ask for something that is not there.
///
/// # Parameters
/// - `states`: what each of the things must state, by the names of attributes; `"trunk or size"` leaves the choice.
/// - `some_state`: what at least one of them must state, in the same way.
/// - `drawn`: `true` where each must be drawn and not only stated.
///
/// # Answers
/// Yes for each subject, with the fact `things` (how many there are). Lacking what is not stated or drawn, and of what.
///
/// # Cautions
/// That a thing is on the plan says nothing of whether it stands where it is drawn, or whether all there are were drawn.
pub struct Item;

const STATES: Parameter = Parameter::new("states", "What each thing must state.");
const SOME_STATE: Parameter = Parameter::new("some_state", "What at least one of the things must state.");
const DRAWN: Parameter = Parameter::new("drawn", "Whether each thing must be drawn.");

impl Check for Item {
    const INFO: Info = Info {
        name: "item",
        summary: "Whether things a list asks for are on the plan, with what is to be said of them.",
        dimension: None,
        parameters: &[STATES.info(), SOME_STATE.info(), DRAWN.info()],
        groups: &["things"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let things = ground.group("things");
        let (states, some) = (STATES.texts(ground)?, SOME_STATE.texts(ground)?);
        let mut needs: Vec<Need> =
            DRAWN.flag(ground)?.then(|| undrawn(ground, &things)).into_iter().flatten().collect();
        needs.extend(states.iter().filter_map(|written| {
            let names = choices(written);
            of_those(ground, &things, &states_any(ground, &things, &names), |wanting| {
                Need::new(
                    format!("{} of {wanting}", words(&names)),
                    format!("State {} on {wanting}.", keys(&names)),
                )
            })
        }));
        needs.extend(some.iter().filter_map(|written| {
            let names = choices(written);
            let none = !states_any(ground, &things, &names).contains(&true);
            let all = named(&ground.labels(&things));
            none.then(|| {
                Need::new(
                    format!("{} of any of {all}", words(&names)),
                    format!("State {} on at least one of {all}.", keys(&names)),
                )
            })
        }));
        let count = u32::try_from(things.len()).unwrap_or(u32::MAX);
        let answer = || if needs.is_empty() { Answer::Truth(true) } else { Answer::Lacking(needs.clone()) };
        let subjects = ground.subjects().into_iter();
        Ok(subjects.map(|subject| Reading::new(subject, answer()).counted("things", count)).collect())
    }
}
