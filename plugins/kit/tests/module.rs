//! A module made of two checks: what it lists, and what it says to a name it does not have.

use groundrule_kit::{
    Answer, Check, Choice, Ground, Info, Module as _, Need, Reading, Rect, Refusal, Sketch, module,
};

const CASE: Choice<bool> =
    Choice::new("case", "Letters to count: `small` or `large`.", &[("small", true), ("large", false)], true);

/// How many letters of its label a subject has.
struct Letters;

impl Check for Letters {
    const INFO: Info = Info {
        name: "letters",
        summary: "How many letters of its label each subject has.",
        dimension: None,
        parameters: &[CASE.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let small = CASE.read(ground)?;
        let wanted = |letter: &char| if small { letter.is_lowercase() } else { letter.is_uppercase() };
        let count = |label: &str| u32::try_from(label.chars().filter(wanted).count()).unwrap_or(u32::MAX);
        let subjects = ground.subjects();
        let labels = ground.labels(&subjects);
        Ok(subjects
            .into_iter()
            .zip(labels)
            .map(|(subject, label)| {
                Reading::new(subject, Answer::Count(count(&label)))
                    .flag("named", !label.is_empty())
                    .counted("length", u32::try_from(label.len()).unwrap_or(u32::MAX))
                    .text_if("initial", label.get(..1))
                    .text_if("second", label.get(1..2).filter(|second| *second == "e"))
            })
            .collect())
    }
}

/// Nothing is known.
struct Nothing;

impl Check for Nothing {
    const INFO: Info =
        Info { name: "nothing", summary: "Asks for data.", dimension: None, parameters: &[], groups: &[] };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let needs = || Answer::Lacking(vec![Need::new("this", "add it"), Need::new("that", "add it")]);
        Ok(ground.subjects().into_iter().map(|subject| Reading::new(subject, needs())).collect())
    }
}

module! { checks: [Letters, Nothing] }

fn bed() -> Sketch {
    Sketch::new().feature("Bed", "bed", Rect::metres(0.0, 0.0, 1.0, 1.0)).subjects(&["Bed"])
}

#[test]
fn the_list_is_the_registration() {
    let names: Vec<&str> = Module::checks().iter().map(|info| info.name).collect();
    assert_eq!(
        (names.as_slice(), Module::VERSION),
        (["letters", "nothing"].as_slice(), env!("CARGO_PKG_VERSION"))
    );
    assert_eq!(Module::run("letters", &bed()).unwrap().len(), 1);
    assert_eq!(
        Module::run("leters", &bed()).unwrap_err().to_string(),
        "there is no check `leters` in this module; it has letters, nothing",
    );
}

#[test]
fn readings_are_told_in_a_line() {
    assert_eq!(bed().ask::<Letters>(), "Bed: 2; named yes, length 3, initial B, second e");
    assert_eq!(
        bed().parameter("case", "large").ask::<Letters>(),
        "Bed: 1; named yes, length 3, initial B, second e"
    );
    assert_eq!(bed().ask::<Nothing>(), "Bed: lacking this, that");
    assert_eq!(
        bed().parameter("case", 7).ask::<Letters>(),
        "refused: parameter `case` is a whole number; it may be \"small\" or \"large\"",
    );
}
