//! The schema and the reference page in the repository are those the program would write.
#![allow(clippy::disallowed_methods, reason = "tests read and, when asked, write the published files")]
#![allow(clippy::expect_used, clippy::panic, reason = "a helper of tests fails as a test does")]

mod support;

use std::path::Path;

use support::fixtures;

/// Compares a published file, or writes it when `GROUNDRULE_WRITE=1`.
fn check(file: &str, expected: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(file);
    if std::env::var("GROUNDRULE_WRITE").is_ok_and(|write| write == "1") {
        std::fs::write(&path, expected).expect("the folder can be written");
    }
    let published = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(published == expected, "{file} is out of date; run this test with GROUNDRULE_WRITE=1");
}

#[test]
fn the_schema_is_up_to_date() {
    check("schema/plan.schema.json", &groundrule_plan::schema());
}

#[test]
fn the_reference_page_is_up_to_date() {
    check("docs/plan-format.md", &groundrule_plan::page());
}

#[test]
fn the_example_of_the_page_reads_without_remark() {
    let file = support::source("example.toml", include_str!("../docs/example.toml"));
    let plan = support::read(&file).unwrap_or_else(|faults| panic!("{}", support::render(&faults)));
    assert_eq!(plan.remarks, []);
}

/// TOML as the JSON that an editor hands to a schema: dates become texts.
fn as_json(text: &str) -> serde_json::Value {
    fn convert(value: toml::Value) -> serde_json::Value {
        match value {
            toml::Value::String(text) => text.into(),
            toml::Value::Integer(number) => number.into(),
            toml::Value::Float(number) => number.into(),
            toml::Value::Boolean(flag) => flag.into(),
            toml::Value::Datetime(date) => date.to_string().into(),
            toml::Value::Array(items) => items.into_iter().map(convert).collect(),
            toml::Value::Table(table) => {
                table.into_iter().map(|(key, value)| (key, convert(value))).collect()
            }
        }
    }
    convert(toml::Value::Table(text.parse().expect("a valid plan is valid TOML")))
}

#[test]
fn the_schema_agrees_with_the_reader() {
    let schema = serde_json::from_str(&groundrule_plan::schema()).expect("the schema is JSON");
    let validator = jsonschema::validator_for(&schema).expect("the schema is a schema");
    let shown = [
        support::source("example.toml", include_str!("../docs/example.toml")),
        support::source("begin-feet.toml", include_str!("../../cli/src/commands/begin-feet.toml")),
        support::source("begin-metres.toml", include_str!("../../cli/src/commands/begin-metres.toml")),
    ];
    for file in fixtures("valid").iter().chain(&fixtures("remarks")).chain(&shown) {
        let errors: Vec<String> =
            validator.iter_errors(&as_json(&file.text)).map(|error| error.to_string()).collect();
        assert!(errors.is_empty(), "{}: {errors:?}", file.name);
    }
    for name in [
        "unknown-key.toml",
        "wrong-type.toml",
        "missing-keys.toml",
        "unknown-section.toml",
        "chain-misspelled-key.toml",
        "chain-one-bracket.toml",
        "chain-without-length.toml",
        "measurements-of-the-wrong-type.toml",
        "near.toml",
    ] {
        let file = fixtures("invalid").into_iter().find(|file| file.name == name).expect("the fixture");
        assert!(!validator.is_valid(&as_json(&file.text)), "the schema takes {name}");
    }
}
