//! The built modules, loaded in the sandbox like any other: they say what their code says, they import only
//! what they need, and every check of theirs answers on a small plan.

#![allow(
    clippy::panic,
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::disallowed_macros,
    reason = "helpers of tests, and the size of the modules for whoever reads the log"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::sync::Arc;

use groundrule_kit::{Info, Module as _};
use groundrule_plan::{KindTree, Source, read_plan};
use groundrule_sandbox::{Answer, Limits, Module, Sandbox, Task};
use groundrule_site::{Fact, Facts, FeatureId, Parameter, Site};
use groundrule_survey::resolve;
use groundrule_units::{Dimension, Length};
use wasmparser::{Parser, Payload};

/// A lot of 20 m by 40 m in an invented town, everything on it in whole or half metres.
const PLAN: &str = r#"
[site]
name  = "Heron Lane 3"
units = "m"
by    = "survey"

[accuracy]
survey = "20 mm"

[lot]
corners = [[0, 0], [20, 0], [20, 40], [0, 40]]
names   = ["sw", "se", "ne", "nw"]
sides   = { sw-se = { role = "front", street = "Heron Lane" }, se-ne = { role = "side" }, ne-nw = { role = "rear" }, nw-sw = { role = "side" } }

[[feature]]
id = "house"
kind = "dwelling"
status = "existing"
outline = [[5, 10], [15, 10], [15, 20], [5, 20]]
eave = "0.5 m"

[[feature]]
id = "shed"
kind = "shed"
status = "existing"
outline = [[1, 30], [4, 30], [4, 38], [1, 38]]

[[feature]]
id = "drain"
kind = "easement"
outline = [[0, 37], [20, 37], [20, 40], [0, 40]]

[[feature]]
id = "path"
kind = "walk"
status = "existing"
line = [[10, 0], [10, 10]]
width = "1.2 m"
clear_width = "0.9 m"

[[feature]]
id = "gate"
kind = "gate"
status = "existing"
line = [[9.5, 0], [10.5, 0]]
"#;

fn site() -> Arc<Site> {
    let source = Source { name: "heron-lane.toml".to_owned(), text: PLAN.into() };
    let plan = read_plan(&source).unwrap_or_else(|faults| panic!("{faults:?}"));
    let (layout, _) = resolve(&plan).unwrap_or_else(|faults| panic!("{faults:?}"));
    Arc::new(Site::build(&plan, &layout, KindTree::standard()).0)
}

fn load(name: &str) -> Module {
    let sandbox = Sandbox::new(Limits::standard(), None).unwrap_or_else(|blame| panic!("{blame:?}"));
    let built_in = groundrule_rules::modules().iter().find(|module| module.name == name).unwrap();
    sandbox.load(name, built_in.wasm).unwrap_or_else(|blame| panic!("{blame:?}"))
}

/// One question to a module: its check, subjects, groups and parameters by name.
struct Ask<'a> {
    check: &'a str,
    subjects: &'a [&'a str],
    groups: &'a [(&'a str, &'a [&'a str])],
    parameters: &'a [(&'a str, Parameter)],
}

fn ask(module: &Module, site: &Arc<Site>, ask: &Ask<'_>) -> String {
    let ids = |names: &[&str]| -> Vec<FeatureId> {
        names.iter().map(|name| site.find(name).unwrap_or_else(|| panic!("{name}"))).collect()
    };
    let task = Task {
        check: ask.check.to_owned(),
        rule: "test".to_owned(),
        subjects: ids(ask.subjects),
        groups: ask.groups.iter().map(|(name, of)| ((*name).to_owned(), ids(of))).collect(),
        parameters: ask.parameters.iter().map(|(name, value)| ((*name).to_owned(), value.clone())).collect(),
    };
    match module.run(site, &task) {
        Ok((readings, _)) => {
            let told = readings.iter().map(|reading| {
                let name = |id: &FeatureId| site.feature(*id).map_or("?", |feature| feature.id.0.as_str());
                let names: Vec<&str> = reading.features.iter().map(name).collect();
                format!("{}: {}{}", names.join(" > "), answer(&reading.answer), facts(&reading.facts))
            });
            told.collect::<Vec<_>>().join("\n")
        }
        Err(blame) => format!("{:?}: {}", blame.failure, blame.message),
    }
}

fn answer(answer: &Answer) -> String {
    match answer {
        Answer::Amount(amount) => number(amount.value().si()),
        Answer::Count(count) => count.to_string(),
        Answer::Truth(truth) => truth.to_string(),
        Answer::Lacking(needs) => format!("lacking {}", needs[0].what),
        Answer::NotApplicable(why) => format!("not applicable, {why}"),
    }
}

fn facts(facts: &Facts) -> String {
    facts.iter().fold(String::new(), |mut line, (name, fact)| {
        let value = match fact {
            Fact::Amount(amount) => number(amount.value().si()),
            Fact::Amounts(amounts) => {
                amounts.iter().map(|it| number(it.value().si())).collect::<Vec<_>>().join(" ")
            }
            Fact::Count(count) => count.to_string(),
            Fact::Flag(flag) => flag.to_string(),
            Fact::Text(text) => text.clone(),
        };
        let _ = write!(line, ", {name} {value}");
        line
    })
}

fn number(si: f64) -> String {
    format!("{:.3}", si + 0.0)
}

#[test]
fn a_built_module_says_what_its_code_says() {
    let check = |name: &str, version: &str, checks: &[Info]| {
        let module = load(name);
        assert_eq!((module.name(), module.version()), (name, version));
        assert_eq!(module.checks().len(), checks.len(), "{name}");
        for (built, code) in module.checks().iter().zip(checks) {
            assert_eq!((built.name.as_str(), built.summary.as_str()), (code.name, code.summary));
            assert_eq!(built.dimension, code.dimension, "{}", code.name);
            let parameters: Vec<&str> = built.parameters.iter().map(|it| it.name.as_str()).collect();
            assert_eq!(parameters, code.parameters.iter().map(|it| it.name).collect::<Vec<_>>());
            assert_eq!(built.groups, code.groups);
        }
    };
    check("setbacks", groundrule_setbacks::Module::VERSION, groundrule_setbacks::Module::checks());
    check("submittal", groundrule_submittal::Module::VERSION, groundrule_submittal::Module::checks());
    check("utilities", groundrule_utilities::Module::VERSION, groundrule_utilities::Module::checks());
    check("walks", groundrule_walks::Module::VERSION, groundrule_walks::Module::checks());
}

/// The interfaces a component imports, by name.
fn imports(wasm: &[u8]) -> BTreeSet<String> {
    let mut depth = 0_usize;
    let mut names = BTreeSet::new();
    for payload in Parser::new(0).parse_all(wasm) {
        match payload.unwrap() {
            Payload::ModuleSection { .. } | Payload::ComponentSection { .. } => depth += 1,
            Payload::End(_) => depth = depth.saturating_sub(1),
            Payload::ComponentImportSection(section) if depth == 0 => {
                names.extend(section.into_iter().map(|import| import.unwrap().name.name.to_owned()));
            }
            _ => {}
        }
    }
    names
}

#[test]
fn modules_import_nothing_they_do_not_use() {
    let check = |name: &str, expected: &[&str]| {
        let module = groundrule_rules::modules().iter().find(|module| module.name == name).unwrap();
        let expected: BTreeSet<String> =
            expected.iter().map(|interface| format!("groundrule:rules/{interface}@0.1.2")).collect();
        assert_eq!(imports(module.wasm), expected, "{name}");
    };
    check("setbacks", &["amounts", "area", "distance", "region", "site", "task", "trouble", "types"]);
    check("submittal", &["amounts", "area", "distance", "site", "task", "trouble", "types"]);
    check("utilities", &["amounts", "distance", "site", "task", "trouble", "types", "width"]);
    check("walks", &["amounts", "area", "site", "task", "trouble", "types", "width"]);
}

#[test]
fn modules_stay_small() {
    for module in groundrule_rules::modules() {
        println!("{}: {} bytes", module.name, module.wasm.len());
        assert!(module.wasm.len() < 256 << 10, "{} has grown to {} bytes", module.name, module.wasm.len());
    }
}

#[test]
fn every_check_answers_through_the_sandbox() {
    let site = site();
    let (setbacks, walks) = (load("setbacks"), load("walks"));
    let check = |module: &Module, question: &Ask<'_>, expected: &str| {
        assert_eq!(ask(module, &site, question), expected, "{}", question.check);
    };
    let lines: &[&str] = &["lot.sw-se", "lot.se-ne", "lot.nw-sw"];
    check(
        &setbacks,
        &Ask {
            check: "lot-line-distance",
            subjects: &["house"],
            groups: &[("lines", lines)],
            parameters: &[("to_part", Parameter::Text("eave".to_owned()))],
        },
        "house > lot.sw-se: 9.500, line front lot line sw-se along Heron Lane, role front, street Heron Lane\n\
         house > lot.se-ne: 4.500, line side lot line se-ne, role side\n\
         house > lot.nw-sw: 4.500, line side lot line nw-sw, role side",
    );
    check(
        &setbacks,
        &Ask {
            check: "separation",
            subjects: &["house", "shed"],
            groups: &[("others", &["house", "shed"])],
            parameters: &[],
        },
        "shed: not applicable, each gap is measured from the other, which comes first in the plan\n\
         house > shed: 10.050, other shed",
    );
    check(
        &setbacks,
        &Ask {
            check: "overlap",
            subjects: &["shed", "house"],
            groups: &[("areas", &["drain"])],
            parameters: &[("reach", Parameter::Quantity(Length::from_metres(5.0).into()))],
        },
        "house: not applicable, no such area is within reach\n\
         shed > drain: -1.000, area drain, share 0.125, shared_area 3.000",
    );
    check(
        &setbacks,
        &Ask {
            check: "cover-share",
            subjects: &["lot"],
            groups: &[("covering", &["house", "shed"])],
            parameters: &[],
        },
        // 100 and 24 of 800 square metres.
        "lot: 0.155, covered_area 124.000, lot_area 800.000",
    );
    check(
        &walks,
        &Ask { check: "clear-width", subjects: &["path"], groups: &[], parameters: &[] },
        "path: 0.900, basis stated, drawn_width 1.200, stated_width 0.900",
    );
    check(
        &walks,
        &Ask { check: "gate-opening", subjects: &["gate"], groups: &[], parameters: &[] },
        "gate: 1.000, basis drawn",
    );
}

#[test]
fn the_errors_of_the_plan_reach_the_answer() {
    let site = site();
    let question = Task {
        check: "lot-line-distance".to_owned(),
        rule: "test".to_owned(),
        subjects: vec![site.find("shed").unwrap()],
        groups: BTreeMap::from([("lines".to_owned(), vec![site.find("lot.nw-sw").unwrap()])]),
        parameters: BTreeMap::new(),
    };
    let (readings, fuel) = load("setbacks").run(&site, &question).unwrap();
    let Answer::Amount(yard) = &readings[0].answer else { panic!("{readings:?}") };
    assert_eq!(yard.value().dimension(), Dimension::Length);
    // Two places read to 20 mm each at 95 %: at most the root of their squares, at least one of them.
    let one = 0.020 / 1.959_963_984_540_054;
    let spread = yard.spread().si();
    assert!(spread > one && spread < one * 2.0_f64.sqrt() + 1e-9, "{spread}");
    assert!(fuel > 0);
}

#[test]
fn a_refusal_reaches_the_blame() {
    let site = site();
    let told = ask(
        &load("setbacks"),
        &site,
        &Ask { check: "cover-share", subjects: &["house"], groups: &[], parameters: &[] },
    );
    assert!(
        told.starts_with("Refused: the subject of cover-share is a lot or another area, and house is not;"),
        "{told}"
    );
}
