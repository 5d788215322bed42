use groundrule_kit::{Answer, Check, Feature, Ground, Info, Need, Reading, Refusal};

use crate::lacking::of_those;
use crate::parameters::Parameter;

/// Status told: whether existing and proposed things, and those to be removed, are told apart.
///
/// # What it measures
/// Nothing: it looks whether each of the group `things` says its status, and whether any has the status that the row is
/// about.
///
/// # Why
/// What stands and what is asked for are judged by different rules. A sheet on which they look the same shows neither.
///
/// # Parameters
/// - `all_labelled`: `true` where each of the things must say its status.
/// - `status`: `existing`, `proposed` or `remove`: at least one thing must have it.
/// - `subject`: a subject of `[declared]`; where the plan says there is none of it, no thing need have that status.
///
/// # Answers
/// Yes for each subject, with the fact `things` (how many have the status, or how many there are). Lacking the status
/// of what does not say it, or anything of the status asked for.
///
/// # Cautions
/// A status is what the plan says; whether a thing stands already is seen on the ground.
pub struct StatusTold;

const ALL_LABELLED: Parameter = Parameter::new("all_labelled", "Whether each thing must say its status.");
const STATUS: Parameter = Parameter::new("status", "A status that at least one thing must have.");
const SUBJECT: Parameter =
    Parameter::new("subject", "The subject of [declared] that answers where no thing has it.");

impl Check for StatusTold {
    const INFO: Info = Info {
        name: "status-told",
        summary: "Whether existing and proposed things, and those to be removed, are told apart.",
        dimension: None,
        parameters: &[ALL_LABELLED.info(), STATUS.info(), SUBJECT.info()],
        groups: &["things"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let things = ground.group("things");
        let status = STATUS.text(ground)?;
        if let Some(other) = status.as_ref().filter(|word| !KNOWN.contains(&word.as_str())) {
            return Err(Refusal::new(format!(
                "parameter `status` is \"{other}\"; it may be \"existing\", \"proposed\" or \"remove\""
            )));
        }
        let subject = SUBJECT.text(ground)?;
        let told = ground.texts(&things, "status");
        let unsaid: Vec<bool> = told.iter().map(Option::is_some).collect();
        let unsaid = if ALL_LABELLED.flag(ground)? {
            of_those(ground, &things, &unsaid, |wanting| {
                Need::new(
                    format!("the status of {wanting}"),
                    format!("Say `status = \"existing\"`, \"proposed\" or \"remove\" on {wanting}."),
                )
            })
        } else {
            None
        };
        let of_status =
            told.iter().filter(|told| status.is_none() || told.as_ref() == status.as_ref()).count();
        let count = u32::try_from(of_status).unwrap_or(u32::MAX);
        let answers = |sheet: Feature| {
            let none = status.as_deref().filter(|_| count == 0);
            let none = none.filter(|_| !declared(ground, sheet, subject.as_deref()));
            let needs: Vec<Need> = unsaid
                .iter()
                .cloned()
                .chain(none.map(|status| no_thing(status, subject.as_deref())))
                .collect();
            let answer = if needs.is_empty() { Answer::Truth(true) } else { Answer::Lacking(needs) };
            Reading::new(sheet, answer).counted("things", count)
        };
        Ok(ground.subjects().into_iter().map(answers).collect())
    }
}

const KNOWN: [&str; 3] = ["existing", "proposed", "remove"];

/// True when the sheet answers for a subject of `[declared]`.
fn declared<G: Ground>(ground: &G, sheet: Feature, subject: Option<&str>) -> bool {
    subject.is_some_and(|subject| {
        ground.texts(&[sheet], &format!("declared.{subject}")).contains(&Some("none".to_owned()))
    })
}

fn no_thing(status: &str, subject: Option<&str>) -> Need {
    let what = match status {
        "remove" => "what is to be removed".to_owned(),
        status => format!("what is {status}"),
    };
    let or = subject.map_or(String::new(), |subject| {
        format!(", or say `{subject} = \"none\"` under [declared] if there is none")
    });
    Need::new(what, format!("Say `status = \"{status}\"` on it{or}."))
}
