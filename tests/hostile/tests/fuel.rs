//! Host work is charged, in proportion to its size, and decides like a module's own work.

use groundrule_sandbox::{Failure, Limits, Sandbox};

use crate::{MISFIT, WITNESS, garden, load, run, sandbox, task};

#[test]
fn more_subjects_cost_more_fuel() {
    let (sandbox, site) = (sandbox(), garden::site());
    let witness = load(&sandbox, "witness", WITNESS);
    let fuel = |subjects: &[&str]| witness.run(&site, &task(&site, "facts", subjects)).expect("it runs").1;
    let (one, two) = (fuel(&["house"]), fuel(&["house", "shed"]));
    assert!(one < two, "{one} {two}");
}

/// A plan of tens of thousands of lots hands over more amounts in one call than the engine's own default allows.
#[test]
fn as_many_amounts_are_lent_as_the_limit_says() {
    let site = garden::site();
    let lent = |limits: Limits| {
        let misfit = load(&Sandbox::new(limits, None).expect("the engine starts"), "misfit", MISFIT);
        let blame = run(&misfit, &site, "lends-a-crowd").expect_err("it refuses, if it gets so far");
        (blame.failure, blame.message)
    };
    assert_eq!(lent(Limits::standard()), (Failure::Refused, "It lent 120000.".to_owned()));
    assert_eq!(lent(Limits { amounts: 10_000, ..Limits::standard() }).0, Failure::Memory);
}

#[test]
fn work_of_the_host_uses_up_a_modules_fuel() {
    let (sandbox, site) = (sandbox(), garden::site());
    let misfit = load(&sandbox, "misfit", MISFIT);
    let blame = run(&misfit, &site, "works-the-host").expect_err("it never ends");
    assert_eq!((blame.failure, blame.fuel_used), (Failure::Fuel, Some(sandbox.limits().fuel)));
}
