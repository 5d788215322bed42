//! The committed schema and reference page are those of the types that read packs.

use std::path::Path;

use groundrule_packs::{page, schema};

/// Compares a committed file with what it should hold; `GROUNDRULE_WRITE=1` writes it instead.
#[allow(
    clippy::disallowed_methods,
    clippy::expect_used,
    reason = "the test compares committed files and regenerates them when told to"
)]
fn check(path: &str, expected: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    if std::env::var_os("GROUNDRULE_WRITE").is_some() {
        std::fs::write(&path, expected).expect("writes");
    }
    let committed = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(committed == expected, "{} is stale; run the test again with GROUNDRULE_WRITE=1", path.display());
}

#[test]
fn schema_is_committed() {
    check("schema/pack.schema.json", &schema());
}

#[test]
fn page_is_committed() {
    check("docs/pack-format.md", &page());
}

/// The packs that come with the program, and the page's example, hold to the schema.
#[test]
fn packs_hold_to_the_schema() {
    let schema: serde_json::Value = serde_json::from_str(&schema()).expect("is JSON");
    let schema = jsonschema::validator_for(&schema).expect("is a schema");
    let packs = [
        include_str!("../../../rules/packs/common-practice/pack.toml"),
        include_str!("../../../rules/packs/tern-hollow/pack.toml"),
        include_str!("../docs/example.toml"),
        include_str!("valid/one-of-each-way-to-write.toml"),
    ];
    for text in packs {
        let pack: serde_json::Value = toml::from_str(text).expect("is TOML");
        let wrong: Vec<String> = schema
            .iter_errors(&pack)
            .map(|error| format!("{} at {}", error, error.instance_path()))
            .collect();
        assert!(wrong.is_empty(), "{wrong:#?}");
    }
    let misspelled: serde_json::Value = toml::from_str("[pack]\nnmae = 'x'\n").expect("is TOML");
    assert!(!schema.is_valid(&misspelled));
}
