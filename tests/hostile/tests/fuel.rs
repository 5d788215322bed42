//! Host work is charged, in proportion to its size, and decides like a module's own work.

use groundrule_sandbox::Failure;

use crate::{MISFIT, WITNESS, garden, load, run, sandbox, task};

#[test]
fn more_subjects_cost_more_fuel() {
    let (sandbox, site) = (sandbox(), garden::site());
    let witness = load(&sandbox, "witness", WITNESS);
    let fuel = |subjects: &[&str]| witness.run(&site, &task(&site, "facts", subjects)).expect("it runs").1;
    let (one, two) = (fuel(&["house"]), fuel(&["house", "shed"]));
    assert!(one < two, "{one} {two}");
}

#[test]
fn work_of_the_host_uses_up_a_modules_fuel() {
    let (sandbox, site) = (sandbox(), garden::site());
    let misfit = load(&sandbox, "misfit", MISFIT);
    let blame = run(&misfit, &site, "works-the-host").expect_err("it never ends");
    assert_eq!((blame.failure, blame.fuel_used), (Failure::Fuel, Some(sandbox.limits().fuel)));
}
