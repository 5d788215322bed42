//! Inside the sandbox and outside it, the same code gives the same answers to the last bit.

#![allow(clippy::panic, clippy::unwrap_used, reason = "helpers of tests")]

use std::sync::Arc;

use groundrule_bench::{native::Native, quarter};
use groundrule_kit::{Answer, Fact, Module as _, Value};
use groundrule_sandbox::{Limits, Sandbox, Task};
use groundrule_site::Parameter;

#[track_caller]
fn check(site: &Arc<groundrule_site::Site>, task: &Task) {
    let wasm = groundrule_rules::modules().iter().find(|module| module.name == "setbacks").unwrap().wasm;
    let module = Sandbox::new(Limits::standard(), None).unwrap().load("setbacks", wasm).unwrap();
    let (inside, _) = module.run(site, task).unwrap();
    let outside = groundrule_setbacks::Module::run(&task.check, &Native::new(site, task)).unwrap();
    assert!(!inside.is_empty());
    assert_eq!(inside.len(), outside.len());
    for (inside, outside) in inside.iter().zip(&outside) {
        let features: Vec<u32> = outside.features.iter().map(|feature| feature.handle()).collect();
        assert_eq!(inside.features.iter().map(|id| id.0).collect::<Vec<_>>(), features);
        match (&inside.answer, &outside.answer) {
            (groundrule_sandbox::Answer::Amount(inside), Answer::Amount(outside)) => {
                assert_eq!(inside, outside);
            }
            (groundrule_sandbox::Answer::NotApplicable(inside), Answer::NotApplicable(outside)) => {
                assert_eq!(inside, outside);
            }
            answers => panic!("{answers:?}"),
        }
        assert_eq!(inside.facts.len(), outside.facts.len());
        for (name, fact) in &outside.facts {
            match (inside.facts.get(name.as_ref()).unwrap(), fact) {
                (groundrule_site::Fact::Amount(inside), Fact::Amount(outside)) => {
                    assert_eq!(**inside, *outside);
                }
                (groundrule_site::Fact::Text(inside), Fact::Text(outside)) => assert_eq!(inside, outside),
                facts => panic!("{facts:?}"),
            }
        }
    }
}

#[test]
fn inside_and_outside_agree() {
    let site = Arc::new(quarter::site(60).unwrap());
    let yards = quarter::yards(&site);
    assert_eq!(yards.subjects.len(), 60);
    check(&site, &yards);

    let mut to_eaves = yards.clone();
    to_eaves.parameters.insert("to_part".to_owned(), Parameter::Text("eave".to_owned()));
    check(&site, &to_eaves);

    let houses = yards.subjects.clone();
    let mut apart = Task { check: "separation".to_owned(), ..yards.clone() };
    apart.groups.insert("others".to_owned(), houses.clone());
    check(&site, &apart);

    let mut share =
        Task { check: "cover-share".to_owned(), subjects: site.lots().collect(), ..yards.clone() };
    share.groups.insert("covering".to_owned(), houses.clone());
    check(&site, &share);

    let mut overlap = Task { check: "overlap".to_owned(), ..yards };
    overlap.groups.insert("areas".to_owned(), site.lots().take(3).collect());
    check(&site, &overlap);
}

#[test]
fn facts_read_the_same_through_both() {
    use groundrule_kit::{Asked as _, Facts as _, Feature};
    let site = quarter::site(1).unwrap();
    let task = quarter::yards(&site);
    let native = Native::new(&site, &task);
    let house: Vec<Feature> = native.subjects();
    assert_eq!(native.labels(&house), ["house-0"]);
    assert_eq!(native.is_a(&house, "structure"), [true]);
    assert_eq!(native.texts(&native.group("lines")[..1], "role"), [Some("front".to_owned())]);
    assert_eq!(native.fact(&house, "kind"), [Some(Value::Text("dwelling".to_owned()))]);
    assert_eq!(native.fact(&house, "status"), [Some(Value::Text("existing".to_owned()))]);
    assert_eq!(native.outline(house[0]).len(), 4);
}
