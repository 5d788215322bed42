//! The JSON, its schema, and the one against the other.

#![allow(clippy::panic, reason = "a document that is none ends its test")]

mod common;

use std::path::Path;

use common::{HERON_LANE, Sample};
use groundrule_report::json::v1;
use serde_json::Value;

const SCHEMA: &str = include_str!("../schema/report-v1.schema.json");

fn parse(text: &str) -> Value {
    serde_json::from_str(text).unwrap_or_else(|error| panic!("{error}: {text}"))
}

fn check(document: &Value, valid: bool) {
    let validator = jsonschema::validator_for(&parse(SCHEMA)).unwrap_or_else(|error| panic!("{error}"));
    let errors: Vec<String> =
        validator.iter_errors(document).map(|e| format!("{}: {e}", e.instance_path())).collect();
    assert_eq!(errors.is_empty(), valid, "{errors:?}");
}

/// The committed schema is the one the types make. `GROUNDRULE_WRITE=1` writes it.
#[test]
fn the_schema_is_current() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("schema/report-v1.schema.json");
    #[allow(clippy::disallowed_methods, reason = "a test that rewrites a committed file on request")]
    if std::env::var("GROUNDRULE_WRITE").is_ok() {
        std::fs::write(&file, v1::schema()).unwrap();
    }
    assert_eq!(v1::schema(), SCHEMA, "run with GROUNDRULE_WRITE=1 to rewrite it");
}

#[test]
fn every_document_fits_the_schema() {
    let (full, bare) = (Sample::reviewed(), Sample::of(HERON_LANE));
    for reports in [vec![], vec![bare.report()], vec![full.report(), bare.report()]] {
        let count = reports.len();
        let document = parse(&v1::reports(&reports));
        check(&document, true);
        assert_eq!(document["format"], "groundrule-report");
        assert_eq!(document["version"], 1);
        assert_eq!(document["plans"].as_array().unwrap().len(), count);
    }
}

#[test]
fn the_schema_refuses_what_is_not_a_report() {
    let sample = Sample::reviewed();
    let document = parse(&v1::reports(&[sample.report()]));
    let spoil = |pointer: &str, value: Value| {
        let mut spoilt = document.clone();
        *spoilt.pointer_mut(pointer).unwrap() = value;
        check(&spoilt, false);
    };
    spoil("/version", 2.into());
    spoil("/format", "report".into());
    spoil("/plans/0/findings/0/verdict", "good".into());
    spoil("/plans/0/findings/0/shown/value", "2 ft".into());
    spoil("/plans/0/counts", Value::Null);
    let mut short = document.clone();
    short.pointer_mut("/plans/0/findings/0").and_then(Value::as_object_mut).unwrap().remove("id");
    check(&short, false);
}

#[test]
fn amounts_are_in_si_with_their_plus_minus() {
    let sample = Sample::reviewed();
    let document = parse(&v1::reports(&[sample.report()]));
    let shown = &document["plans"][0]["findings"][0]["shown"];
    let near =
        |value: &Value, expected: f64| assert!((value.as_f64().unwrap() - expected).abs() < 1e-12, "{value}");
    near(&shown["value"], 0.6096);
    near(&shown["plus_minus_95"], 0.085 * 0.3048 * 1.959_963_984_540_054);
    assert_eq!(shown["unit"], "m");
    assert_eq!(document["plans"][0]["findings"][0]["at"]["line"], 3);
}

/// A plan far from the origin is shifted inside; what is written is where the plan says it is.
#[test]
fn places_are_those_of_the_sheet() {
    let far = HERON_LANE
        .replace(
            "[[0, 0], [60, 0], [60, 90], [0, 90]]",
            "[[600000, 0], [600060, 0], [600060, 90], [600000, 90]]",
        )
        .lines()
        .take_while(|line| !line.starts_with("[[feature]]"))
        .fold(String::new(), |text, line| text + line + "\n");
    let mut sample = Sample::of(&far);
    assert!(sample.layout.shift.x.metres().abs() > 0.0);
    let line = sample.site.find("lot.sw-se").unwrap();
    let marks = sample.site.length(line).marks;
    sample.review.findings = Sample::reviewed().review.findings;
    sample.review.findings.truncate(1);
    sample.review.findings[0].marks = marks;
    let document = parse(&v1::reports(&[sample.report()]));
    let mark = &document["plans"][0]["findings"][0]["marks"][0];
    assert_eq!(mark["shape"], "span");
    let from = mark["from"][0].as_f64().unwrap().min(mark["to"][0].as_f64().unwrap());
    assert!((from - 600_000.0 * 0.3048).abs() < 1e-4, "{from}");
}
