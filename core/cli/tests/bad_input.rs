//! Whatever is handed in: a message that says what and what to do, exit code 2, and nothing half-written.

#![allow(
    clippy::disallowed_methods,
    clippy::unwrap_used,
    reason = "a test reads and writes files as a person does, and ends where it cannot"
)]

mod support;

use std::fs;
use std::path::Path;

use support::{err, groundrule_in};

const GOOD: &str = r#"
[site]
name = "Test lot"
units = "ft"
north = "up"

[lot]
corners = [[0, 0], [60, 0], [60, 100], [0, 100]]
sides = { c1-c2 = { role = "front" }, c2-c3 = { role = "side" }, c3-c4 = { role = "rear" }, c4-c1 = { role = "side" } }

[[feature]]
id = "shed"
kind = "shed"
status = "existing"
box = { corner = "sw", at = [20, 40], size = ["10 ft", "8 ft"] }
"#;

/// Reviews a file of these bytes in an empty folder and wants exit code 2, these words, and no report.
#[track_caller]
fn check(bytes: &[u8], words: &[&str]) {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("plan.toml"), bytes).unwrap();
    refused(folder.path(), &["review", "plan.toml", "--write", "report.html"], words);
    let left: Vec<_> = fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert_eq!(left, ["plan.toml"], "nothing else may be left behind");
}

#[track_caller]
fn refused(folder: &Path, args: &[&str], words: &[&str]) {
    let output = groundrule_in(folder, args, &[]);
    let said = err(&output);
    assert_eq!(output.status.code(), Some(2), "{said}");
    for word in words {
        assert!(said.contains(word), "`{word}` is not in:\n{said}");
    }
    assert!(!said.contains("panicked"), "{said}");
}

fn with(old: &str, new: &str) -> Vec<u8> {
    assert!(GOOD.contains(old));
    GOOD.replace(old, new).into_bytes()
}

#[test]
fn the_plan_the_others_are_made_from_is_good() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("plan.toml"), GOOD).unwrap();
    let output = groundrule_in(folder.path(), &["review", "plan.toml", "--write", "report.html"], &[]);
    assert!(matches!(output.status.code(), Some(0 | 1)), "{}", err(&output));
    assert!(folder.path().join("report.html").exists());
}

#[test]
fn empty_and_binary_files() {
    check(b"", &["groundrule begin"]);
    check(b"\x00\x01\xff\xfe binary", &["plan.toml", "UTF-8"]);
    check("name \u{0} = 1".as_bytes(), &["plan.toml"]);
}

#[test]
fn a_file_that_is_not_there_and_a_folder() {
    let folder = tempfile::tempdir().unwrap();
    refused(folder.path(), &["review", "nowhere.toml"], &["nowhere.toml", "could not be opened"]);
    fs::create_dir(folder.path().join("plans.toml")).unwrap();
    refused(folder.path(), &["review", "plans.toml"], &["plans.toml", "folder"]);
}

#[test]
fn broken_toml_and_deep_nesting() {
    check(b"[site\nname = 'x'", &["plan.toml"]);
    check(format!("x = {}", "[".repeat(100_000)).as_bytes(), &["plan.toml"]);
    check(format!("{GOOD}x = {}{}", "[".repeat(5_000), "]".repeat(5_000)).as_bytes(), &["plan.toml"]);
}

#[test]
fn a_hundred_megabytes() {
    check(&vec![b'#'; 100 << 20], &["plan.toml", "MiB"]);
}

#[test]
fn numbers_that_are_none() {
    check(&with("[60, 100]", "[nan, 100]"), &["finite"]);
    check(&with("[60, 100]", "[60, inf]"), &["finite"]);
    check(&with("\"10 ft\"", "\"ten feet\""), &["ten feet"]);
}

#[test]
fn names_that_are_wrong_get_the_nearest() {
    check(&with("kind = \"shed\"", "kind = \"shad\""), &["shad", "shed"]);
    check(&with("status", "statis"), &["statis", "status"]);
    check(&with("at = [20, 40]", "at = \"shedd\""), &["shedd"]);
    let twice = format!("{GOOD}\n[[feature]]\nid = \"shed\"\nkind = \"shed\"\n");
    check(twice.as_bytes(), &["shed", "duplicate-id"]);
}

#[test]
fn all_faults_come_at_once() {
    let bytes = with("kind = \"shed\"", "kind = \"shad\"");
    let text = String::from_utf8(bytes)
        .unwrap()
        .replace("units = \"ft\"", "units = \"furlong\"")
        .replace("\"10 ft\"", "\"10 fr\"");
    check(text.as_bytes(), &["shad", "furlong", "10 fr", "3 things are wrong"]);
}

#[test]
fn reports_that_cannot_be_written() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("plan.toml"), GOOD).unwrap();
    refused(
        folder.path(),
        &["review", "plan.toml", "--write", "no/such/folder/report.html"],
        &["could not be written"],
    );
    refused(folder.path(), &["review", "plan.toml", "--write", "report.docx"], &["report.docx", ".html"]);
    fs::create_dir(folder.path().join("report.html")).unwrap();
    refused(folder.path(), &["review", "plan.toml", "--write", "report.html"], &["could not be written"]);
}

#[test]
fn a_pack_or_rule_that_is_not_there() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("plan.toml"), GOOD).unwrap();
    refused(folder.path(), &["review", "plan.toml", "--pack", "ternhollow"], &["ternhollow", "tern-hollow"]);
    refused(folder.path(), &["why", "side-yrad"], &["side-yrad", "side-yard"]);
}

#[test]
fn a_good_plan_beside_a_bad_one_is_still_reviewed() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("good.toml"), GOOD).unwrap();
    fs::write(folder.path().join("bad.toml"), "x = 1").unwrap();
    let output = groundrule_in(folder.path(), &["review", "bad.toml", "good.toml"], &[]);
    assert_eq!(output.status.code(), Some(2));
    assert!(support::out(&output).contains("Test lot"));
}

#[test]
fn what_is_there_already_is_not_overwritten_by_a_new_plan() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("plan.toml"), "mine").unwrap();
    refused(folder.path(), &["begin", "plan.toml"], &["there already"]);
    assert_eq!(fs::read_to_string(folder.path().join("plan.toml")).unwrap(), "mine");
}
