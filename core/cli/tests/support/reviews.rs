//! Reviews of plans that a test writes, and their findings.

#![allow(
    dead_code,
    clippy::disallowed_methods,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test writes a plan as a person does, and ends where it cannot; each file uses its part"
)]

use std::fs;

use serde_json::Value;

use crate::support::{groundrule_in, told};

/// The findings of a pack on each plan, by one run of the program.
pub(crate) fn findings(plans: &[String], pack: &str) -> Vec<Vec<Value>> {
    let folder = tempfile::tempdir().unwrap();
    let names: Vec<String> = (0..plans.len()).map(|i| format!("plan-{i}.toml")).collect();
    for (name, plan) in names.iter().zip(plans) {
        fs::write(folder.path().join(name), plan).unwrap();
    }
    let options = ["--write", "r.json", "--quiet", "--pack", pack];
    let args: Vec<&str> =
        ["review"].into_iter().chain(names.iter().map(String::as_str)).chain(options).collect();
    let output = groundrule_in(folder.path(), &args, &[]);
    let report = fs::read_to_string(folder.path().join("r.json"))
        .unwrap_or_else(|why| panic!("{why}: {}", told(&output)));
    let report: Value = serde_json::from_str(&report).unwrap();
    let of_plan = |plan: &Value| plan["findings"].as_array().unwrap().clone();
    let all: Vec<Vec<Value>> = report["plans"].as_array().unwrap().iter().map(of_plan).collect();
    assert_eq!(all.len(), plans.len(), "{}", told(&output));
    all
}

pub(crate) fn of_plan(plan: &str) -> Vec<Value> {
    findings(&[plan.to_owned()], "submittal").remove(0)
}
