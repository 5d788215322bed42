//! Each way of doing wrong ends in a blame that names it, and nobody else suffers.

use std::fmt::Write as _;

use groundrule_sandbox::{Answer, Failure, Limits, Sandbox};

use crate::{MISFIT, WITNESS, garden, load, run, sandbox};

#[test]
fn every_wrong_is_blamed_and_the_next_module_still_runs() {
    let (sandbox, site) = (sandbox(), garden::site());
    let (misfit, witness) = (load(&sandbox, "misfit", MISFIT), load(&sandbox, "witness", WITNESS));
    let undisturbed = run(&witness, &site, "gap").expect("the witness runs");
    let mut told = String::new();
    for check in misfit.checks().iter().filter(|check| check.name != "dresses-up") {
        let blame = run(&misfit, &site, &check.name).expect_err(&check.name);
        assert_eq!(blame.version.as_deref(), Some("6.6.6[1m"), "{}", check.name);
        assert_eq!(blame.rule, Some(format!("garden-{}", check.name)));
        assert!(blame.fuel_used.is_some_and(|fuel| fuel > 0), "{blame}");
        assert!(!format!("{blame}").contains(char::is_control), "{blame:?}");
        let words: String = blame.message.chars().take(200).collect();
        let _ = writeln!(told, "{:<28} {:?}: {words}", check.name, blame.failure);
        assert_eq!(run(&witness, &site, "gap").expect("the witness still runs"), undisturbed);
    }
    insta::assert_snapshot!(told);
}

#[test]
fn the_same_wrong_costs_the_same_fuel() {
    let (sandbox, site) = (sandbox(), garden::site());
    let misfit = load(&sandbox, "misfit", MISFIT);
    for check in ["panics", "hoards-memory", "hoards-amounts", "scales-by-infinity", "doubles-an-amount"] {
        let fuel = |module| run(module, &site, check).expect_err(check).fuel_used;
        assert_eq!(fuel(&misfit), fuel(&load(&self::sandbox(), "misfit", MISFIT)), "{check}");
    }
}

#[test]
fn text_is_only_text() {
    let (sandbox, site) = (sandbox(), garden::site());
    let misfit = load(&sandbox, "mis\u{1b}[5mfit", MISFIT);
    assert_eq!((misfit.name(), misfit.version()), ("mis[5mfit", "6.6.6[1m"));
    assert!(misfit.checks().iter().all(|check| check.summary == format!("[31m{}", check.name)));
    let (readings, _) = run(&misfit, &site, "dresses-up").expect("nothing wrong but the texts");
    insta::assert_debug_snapshot!(readings);
}

#[test]
fn a_missing_check_is_said_with_those_there_are() {
    let (sandbox, site) = (sandbox(), garden::site());
    let blame = run(&load(&sandbox, "witness", WITNESS), &site, "slope").expect_err("no such check");
    insta::assert_snapshot!(
        blame,
        @"module witness 0.1.0, rule garden-slope: returned an error. It has no check 'slope'; it offers gap, facts, rain, places, ground. (0 units of fuel used)"
    );
}

#[test]
fn the_safety_net_holds_when_fuel_does_not() {
    let limits = Limits { fuel: u64::MAX, seconds: 1, ..Limits::standard() };
    let sandbox = Sandbox::new(limits, None).expect("the engine starts");
    let blame = run(&load(&sandbox, "misfit", MISFIT), &garden::site(), "loops").expect_err("it loops");
    assert_eq!(blame.failure, Failure::Time);
    assert_eq!(blame.message, "It ran longer than the safety net of 1 s.");
}

#[test]
fn regions_are_counted() {
    let sandbox = Sandbox::new(Limits { regions: 3, ..Limits::standard() }, None).expect("the engine starts");
    let (misfit, site) = (load(&sandbox, "misfit", MISFIT), garden::site());
    let check = |wrong: &str, expected: &str| {
        let blame = run(&misfit, &site, wrong).expect_err(wrong);
        assert_eq!((blame.failure, blame.message.as_str()), (Failure::Memory, expected), "{wrong}");
    };
    check("makes-regions-for-ever", "It made more regions than the limit of 3; make each one once.");
    check(
        "makes-a-region-of-a-region-for-ever",
        "Its regions took more vertices than 200 for each of the 3 it may make.",
    );
}

#[test]
fn limits_can_be_raised() {
    let deep = Limits { stack: 16 << 20, fuel: 200_000, ..Limits::standard() };
    let sandbox = Sandbox::new(deep, None).expect("the engine starts");
    let (misfit, site) = (load(&sandbox, "misfit", MISFIT), garden::site());
    // With sixteen mebibytes of stack, its little fuel is used up first.
    let blame = run(&misfit, &site, "recurses").expect_err("it never ends");
    assert_eq!(blame.failure, Failure::Fuel, "{blame}");

    let long = Sandbox::new(Limits { text: 3_000, ..Limits::standard() }, None).expect("the engine starts");
    let (readings, _) =
        run(&load(&long, "misfit", MISFIT), &site, "returns-a-long-text").expect("it fits now");
    assert_eq!(readings[0].answer, Answer::NotApplicable("x".repeat(2_001)));
}

#[test]
fn a_module_too_large_to_compile_is_not_compiled() {
    let small =
        Sandbox::new(Limits { module: 1_000, ..Limits::standard() }, None).expect("the engine starts");
    let blame = small.load("witness", WITNESS).err().expect("it is larger");
    assert_eq!(blame.failure, Failure::NotAModule);
    assert!(blame.message.ends_with("the module limit is 1000."), "{blame}");
}
