//! Plans that read and plans that do not, one file each; what a person sees of the faults is a snapshot.

mod support;

use support::{fixtures, read, render};

#[test]
fn valid_plans_read() {
    for file in fixtures("valid") {
        if let Err(faults) = read(&file) {
            panic!("{} has faults:\n{}", file.name, render(&faults));
        }
    }
}

#[test]
fn invalid_plans_say_what_where_and_what_to_do() {
    for file in fixtures("invalid") {
        let Err(faults) = read(&file) else { panic!("{} reads without fault", file.name) };
        assert!(!faults.faults.is_empty(), "{} has no fault to tell", file.name);
        for fault in &faults.faults {
            assert!(fault.help.is_some(), "{}: `{}` does not say what to do", file.name, fault.message);
        }
        insta::assert_snapshot!(format!("invalid__{}", file.name.trim_end_matches(".toml")), render(&faults));
    }
}

#[test]
fn remarks_of_valid_plans() {
    for file in fixtures("remarks") {
        let plan = match read(&file) {
            Ok(plan) => plan,
            Err(faults) => panic!("{} has faults:\n{}", file.name, render(&faults)),
        };
        let lines: Vec<String> =
            plan.remarks.iter().map(|remark| support::render_remark(remark, &file)).collect();
        insta::assert_snapshot!(
            format!("remarks__{}", file.name.trim_end_matches(".toml")),
            lines.join("\n\n")
        );
    }
}

#[test]
fn faults_also_read_plainly() {
    let file =
        fixtures("invalid").into_iter().find(|file| file.name == "unknown-key.toml").expect("the fixture");
    insta::assert_snapshot!(read(&file).expect_err("it has faults"));
}

#[test]
fn the_examples_of_the_repository_read() {
    for file in support::folder("../../examples") {
        if let Err(faults) = read(&file) {
            panic!("{} has faults:\n{}", file.name, render(&faults));
        }
    }
}

#[test]
fn the_plans_to_begin_from_read_without_remark() {
    for (name, text) in [
        ("begin-feet.toml", include_str!("../../cli/src/commands/begin-feet.toml")),
        ("begin-metres.toml", include_str!("../../cli/src/commands/begin-metres.toml")),
    ] {
        let file = support::source(name, text);
        let plan = read(&file).unwrap_or_else(|faults| panic!("{}", render(&faults)));
        assert_eq!(plan.remarks, [], "{name}");
    }
}
