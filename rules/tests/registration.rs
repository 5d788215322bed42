//! Files, registration, documents and tests of the built-in checks agree.
#![allow(
    clippy::disallowed_methods,
    clippy::panic,
    clippy::unwrap_used,
    reason = "the test compares the registration with the files"
)]

mod registered;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use groundrule_kit::Info;
use registered::registered;

const HEADINGS: [&str; 5] = ["# What it measures", "# Why", "# Parameters", "# Answers", "# Cautions"];

fn folder(module: &str, within: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("modules").join(module).join(within)
}

/// The names of the Rust files in a folder, in the way checks are named.
fn files(folder: &Path) -> BTreeSet<String> {
    let names = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let stems = names.map(|path| path.file_stem().unwrap().to_str().unwrap().replace('_', "-"));
    stems.filter(|stem| stem != "mod").collect()
}

fn names(checks: &[Info]) -> BTreeSet<String> {
    checks.iter().map(|info| info.name.to_owned()).collect()
}

#[test]
fn every_module_folder_is_built_in_and_registered() {
    let folders: Vec<String> =
        files(Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/modules"))).into_iter().collect();
    let built_in: Vec<&str> = groundrule_rules::modules().iter().map(|module| module.name).collect();
    let known: Vec<&str> = registered().iter().map(|(name, _)| *name).collect();
    assert_eq!(folders, built_in, "rules/modules and FAMILIES in rules/build.rs");
    assert_eq!(folders, known, "rules/modules and this test");
}

#[test]
fn one_file_and_one_test_file_for_each_registered_check() {
    for (module, checks) in registered() {
        assert_eq!(checks.len(), names(checks).len(), "{module} registers a name twice");
        assert_eq!(files(&folder(module, "src/checks")), names(checks), "files of {module}");
        assert_eq!(files(&folder(module, "tests")), names(checks), "tests of {module}");
    }
}

#[test]
fn every_check_is_documented_under_the_fixed_headings() {
    for (module, checks) in registered() {
        for check in checks {
            let doc = groundrule_rules::check_doc(module, check.name)
                .unwrap_or_else(|| panic!("{module}/{} has no text", check.name));
            let headings: Vec<&str> = doc.lines().filter(|line| line.starts_with('#')).collect();
            assert_eq!(headings, HEADINGS, "{module}/{}", check.name);
            for name in
                check.parameters.iter().map(|parameter| parameter.name).chain(check.groups.iter().copied())
            {
                assert!(
                    doc.contains(&format!("`{name}`")),
                    "{module}/{} does not explain `{name}`",
                    check.name
                );
            }
        }
    }
    assert_eq!(groundrule_rules::check_doc("setbacks", "no-such-check"), None);
}

#[test]
fn names_are_small_letters_with_hyphens_or_underscores() {
    let small = |name: &str, joint: char| {
        !name.is_empty() && name.chars().all(|letter| letter.is_ascii_lowercase() || letter == joint)
    };
    for (module, checks) in registered() {
        for check in checks {
            assert!(small(check.name, '-'), "{module}/{}", check.name);
            assert!(check.summary.ends_with('.'), "{module}/{}", check.name);
            for parameter in check.parameters {
                assert!(small(parameter.name, '_'), "{module}/{} {}", check.name, parameter.name);
                assert!(parameter.summary.ends_with('.'), "{module}/{} {}", check.name, parameter.name);
            }
            assert!(check.groups.iter().all(|group| small(group, '_')), "{module}/{}", check.name);
        }
    }
}
