//! Plans, packs and a scripted module for the tests.

#![allow(dead_code, reason = "each test file uses its own part")]
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops at what it did not expect")]

use std::fmt::Write;
use std::sync::Arc;

use groundrule_packs::{Pack, read_pack};
use groundrule_plan::{Faults, KindTree, Plan, Remark, Source, read_plan};
use groundrule_review::{CheckRunner, Deviation, Inputs, Level, Options, Review, review};
use groundrule_sandbox::{Answer, Blame, CheckInfo, Failure, Reading, Task};
use groundrule_site::{Fact, FeatureId, Measured, Need, Parameter, Site};
use groundrule_survey::{Layout, SourceId, resolve};
use groundrule_units::Style;

/// A source of error that no plan here reaches.
const OWN: SourceId = SourceId(1_000_000);

/// A module whose answers are plain to see.
///
/// `given` answers what its parameters say, `stated` a fact of the subject, `yard` and `gap` measure the site;
/// `silent` leaves its subjects without an answer, `stops` fails.
pub(crate) struct Ruler {
    checks: Vec<CheckInfo>,
    /// Pairs of features whose length somebody measured and found as drawn.
    sure: Vec<Vec<FeatureId>>,
}

impl Ruler {
    pub(crate) fn new() -> Self {
        let names = ["given", "stated", "yard", "gap", "silent", "stops"];
        let check = |name: &&str| CheckInfo {
            name: (*name).to_owned(),
            summary: String::new(),
            dimension: None,
            parameters: Vec::new(),
            groups: Vec::new(),
        };
        Self { checks: names.iter().map(check).collect(), sure: Vec::new() }
    }
}

impl CheckRunner for Ruler {
    fn name(&self) -> &'static str {
        "ruler"
    }

    fn version(&self) -> Option<&str> {
        Some("1.2.3")
    }

    fn checks(&self) -> &[CheckInfo] {
        &self.checks
    }

    fn run(&self, site: &Arc<Site>, task: &Task) -> Result<(Vec<Reading>, u64), Blame> {
        let readings = match task.check.as_str() {
            "given" => task.subjects.iter().map(|s| reading(&[*s], given(task))).collect(),
            "stated" => task.subjects.iter().map(|s| reading(&[*s], stated(site, *s, task))).collect(),
            "yard" => pairs(site, task, "lines", true, |a, b| site.yard(a, b)),
            "gap" => pairs(site, task, "others", false, |a, b| site.clearance(a, b)),
            "silent" => Vec::new(),
            _ => {
                return Err(Blame {
                    module: "ruler".to_owned(),
                    version: Some("1.2.3".to_owned()),
                    rule: Some(task.rule.clone()),
                    failure: Failure::Panic,
                    message: "It broke.".to_owned(),
                    fuel_used: Some(7),
                });
            }
        };
        let sure = |reading: Reading| match reading.answer {
            Answer::Amount(amount) if self.sure.contains(&reading.features) => {
                Reading { answer: Answer::Amount(Measured::exact(amount.value())), ..reading }
            }
            _ => reading,
        };
        Ok((readings.into_iter().map(sure).collect(), 100))
    }
}

fn reading(features: &[FeatureId], answer: Answer) -> Reading {
    Reading { features: features.to_vec(), answer, marks: Vec::new(), facts: [].into_iter().collect() }
}

fn given(task: &Task) -> Answer {
    match (task.parameters.get("value"), task.parameters.get("spread")) {
        (Some(Parameter::Quantity(value)), Some(Parameter::Quantity(spread))) => {
            let terms = [(OWN, spread.si())].into_iter().filter(|(_, si)| *si != 0.0).collect();
            Answer::Amount(Measured::new(*value, terms))
        }
        (Some(Parameter::Quantity(value)), _) => Answer::Amount(Measured::exact(*value)),
        (Some(Parameter::Count(count)), _) => Answer::Count(*count),
        (Some(Parameter::Flag(truth)), _) => Answer::Truth(*truth),
        _ => Answer::NotApplicable("Nothing was given.".to_owned()),
    }
}

fn stated(site: &Site, subject: FeatureId, task: &Task) -> Answer {
    let Some(Parameter::Text(name)) = task.parameters.get("fact") else {
        return Answer::NotApplicable("No fact was named.".to_owned());
    };
    let feature = site.feature(subject).unwrap();
    match feature.facts.get(name) {
        Some(Fact::Amount(amount)) => Answer::Amount(amount.as_ref().clone()),
        Some(Fact::Count(count)) => Answer::Count(*count),
        Some(Fact::Flag(flag)) => Answer::Truth(*flag),
        _ => Answer::Lacking(vec![Need {
            what: format!("{name} of {}", feature.id.0),
            how: format!("Measure the {name} of {}.", feature.id.0),
        }]),
    }
}

fn pairs(
    site: &Site,
    task: &Task,
    group: &str,
    same_lot: bool,
    measure: impl Fn(FeatureId, FeatureId) -> Measured,
) -> Vec<Reading> {
    let mut readings = Vec::new();
    for subject in &task.subjects {
        let before = readings.len();
        for other in task.groups.get(group).into_iter().flatten() {
            let lot = |id: FeatureId| site.feature(id).and_then(|feature| feature.lot);
            if other != subject && (!same_lot || lot(*subject) == lot(*other)) {
                readings.push(reading(&[*subject, *other], Answer::Amount(measure(*subject, *other))));
            }
        }
        if readings.len() == before {
            readings.push(reading(
                &[*subject],
                Answer::NotApplicable("There is nothing to measure to.".to_owned()),
            ));
        }
    }
    readings
}

/// A square lot of 100 ft with everything exact, and these features and further tables.
pub(crate) fn plan(rest: &str) -> String {
    plan_by("0", rest)
}

/// The same with every position read to this plus-or-minus at 95 %.
pub(crate) fn plan_by(plus_minus: &str, rest: &str) -> String {
    format!(
        r#"
[site]
name     = "Case"
units    = "ft"
north    = "up"
district = "D"
by       = "class"

[accuracy]
class = "{plus_minus}"
exact = "0"

[lot]
corners = [[0, 0], [100, 0], [100, 100], [0, 100]]
names   = ["sw", "se", "ne", "nw"]
sides   = {{ sw-se = {{ role = "front" }}, se-ne = {{ role = "side" }}, ne-nw = {{ role = "rear" }}, nw-sw = {{ role = "side" }} }}

{rest}
"#
    )
}

/// A feature: a box of 10 ft with its south-west corner there.
pub(crate) fn shed(id: &str, x: f64, y: f64, more: &str) -> String {
    feature(id, "shed", x, y, more)
}

pub(crate) fn feature(id: &str, kind: &str, x: f64, y: f64, more: &str) -> String {
    let (right, top) = (x + 10.0, y + 10.0);
    format!(
        "[[feature]]\nid = \"{id}\"\nkind = \"{kind}\"\noutline = [[{x}, {y}], [{right}, {y}], [{right}, {top}], [{x}, {top}]]\n{more}\n"
    )
}

/// An invented pack of this name.
pub(crate) fn pack(name: &str, rest: &str) -> String {
    format!(
        "[pack]\nname = \"{name}\"\ntitle = \"Pack {name}\"\nversion = \"1.0.0\"\nagency = \"Desk of {name}\"\ninvented = true\n\n{rest}"
    )
}

/// A required row about sheds unless `body` says otherwise.
pub(crate) fn rule(id: &str, body: &str) -> String {
    let mut text =
        format!("[[rule]]\nid = \"{id}\"\ntitle = \"Rule {id}\"\nsource = \"Text\"\nwhy = \"Because.\"\n");
    for (key, value) in [
        ("weight", "\"required\""),
        ("standing", "\"illustrative\""),
        ("message", "\"{subject}: {shown} against {limit}.\""),
        ("subject", "{ kind = \"shed\" }"),
        ("check", "\"ruler/given\""),
        ("limit", "{ at_least = \"5 ft\" }"),
    ] {
        if !body.lines().any(|line| line.split('=').next().is_some_and(|k| k.trim() == key)) {
            writeln!(text, "{key} = {value}").unwrap();
        }
    }
    text + body + "\n\n"
}

pub(crate) fn read<T>(result: Result<T, Faults>) -> T {
    result.unwrap_or_else(|faults| panic!("{:#?}", faults.faults))
}

pub(crate) fn source(text: &str) -> Source {
    Source { name: "case.toml".to_owned(), text: text.into() }
}

/// Everything a review takes besides plan and packs.
pub(crate) struct Case {
    pub(crate) level: f64,
    pub(crate) date: Option<&'static str>,
    pub(crate) deviations: Vec<Deviation>,
    pub(crate) remarks: Vec<Remark>,
    pub(crate) stopped: Vec<Blame>,
}

impl Default for Case {
    fn default() -> Self {
        Self { level: 0.95, date: None, deviations: Vec::new(), remarks: Vec::new(), stopped: Vec::new() }
    }
}

impl Case {
    pub(crate) fn review(self, plan: &str, packs: &[String]) -> Review {
        self.review_plan(&read(read_plan(&source(plan))), packs)
    }

    /// The same of a plan that was read, and perhaps changed as a program may.
    pub(crate) fn review_plan(self, plan: &Plan, packs: &[String]) -> Review {
        self.review_layout(plan, &read(resolve(plan)).0, packs, Vec::new())
    }

    /// The same with places changed by hand, and lengths that were measured.
    pub(crate) fn review_layout(
        self,
        plan: &Plan,
        layout: &Layout,
        packs: &[String],
        sure: Vec<Vec<FeatureId>>,
    ) -> Review {
        let (site, _) = Site::build(plan, layout, KindTree::standard());
        let packs: Vec<Pack> =
            packs.iter().map(|text| read(read_pack(&source(text), &KindTree::standard()))).collect();
        let ruler = Ruler { sure, ..Ruler::new() };
        let inputs = Inputs {
            plan,
            layout,
            site: &Arc::new(site),
            remarks: self.remarks,
            packs: &packs,
            modules: &[&ruler],
            stopped: self.stopped,
            deviations: &self.deviations,
        };
        let options = Options {
            level: Level(groundrule_units::Ratio::from_fraction(self.level)),
            style: Style::DecimalFeet,
            date: self.date.map(str::to_owned),
        };
        review(inputs, &options)
    }
}

/// A review by one pack called `t`.
pub(crate) fn reviewed(plan: &str, rules: &str) -> Review {
    Case::default().review(plan, &[pack("t", rules)])
}

/// Each finding in a line: number, id, verdict and weight.
pub(crate) fn lines(review: &Review) -> Vec<String> {
    let line = |f: &groundrule_review::Finding| {
        let number = f.number.map_or_else(|| "-".to_owned(), |n| n.to_string());
        format!("{number} {} {} {}", f.id.0, f.verdict.word(), f.weight.words())
    };
    review.findings.iter().map(line).collect()
}

/// Compares the findings' lines and the exit code.
pub(crate) fn check(review: &Review, exit: u8, expected: &[&str]) {
    assert_eq!(lines(review), expected);
    assert_eq!(review.exit_code(), exit, "exit code; tools: {:#?}", review.tool);
}
