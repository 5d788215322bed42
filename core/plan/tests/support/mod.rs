//! Fixtures, and faults drawn as the program draws them.
#![allow(dead_code, reason = "each test uses a part")]
#![allow(clippy::disallowed_methods, reason = "tests read their fixtures")]
#![allow(clippy::expect_used, clippy::panic, reason = "a helper of tests fails as a test does")]

use std::path::{Path, PathBuf};
use std::sync::Arc;

use groundrule_plan::{Faults, Gravity, Plan, Remark, Source, read_plan};
use miette::{GraphicalReportHandler, GraphicalTheme};

/// The text as a source of this name.
pub(crate) fn source(name: &str, text: &str) -> Source {
    Source { name: name.to_owned(), text: Arc::from(text) }
}

/// Every fixture of a folder beside the tests, in order of name.
pub(crate) fn fixtures(name: &str) -> Vec<Source> {
    folder(&format!("tests/{name}"))
}

/// Every TOML file of a folder, given from the crate's own, in order of name.
pub(crate) fn folder(name: &str) -> Vec<Source> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(name);
    let mut paths: Vec<PathBuf> = std::fs::read_dir(&folder)
        .unwrap_or_else(|error| panic!("{}: {error}", folder.display()))
        .map(|entry| entry.expect("a folder that lists").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .collect();
    paths.sort();
    assert!(!paths.is_empty(), "{} is empty", folder.display());
    let load = |path: PathBuf| {
        let text = std::fs::read_to_string(&path).expect("a text file");
        source(path.file_name().and_then(|name| name.to_str()).expect("a name"), &text)
    };
    paths.into_iter().map(load).collect()
}

/// Reads a plan.
pub(crate) fn read(source: &Source) -> Result<Plan, Faults> {
    read_plan(source)
}

/// Faults with snippets, without colour.
pub(crate) fn render(faults: &Faults) -> String {
    let mut text = String::new();
    let handler = GraphicalReportHandler::new_themed(GraphicalTheme::unicode_nocolor()).with_width(100);
    handler.render_report(&mut text, &faults.report()).expect("text takes any report");
    text.lines().map(str::trim_end).collect::<Vec<_>>().join("\n")
}

/// A remark in a few lines.
pub(crate) fn render_remark(remark: &Remark, source: &Source) -> String {
    let (line, column) = source.position(remark.span.start);
    let gravity = match remark.gravity {
        Gravity::Wrong => "wrong",
        Gravity::Suspect => "suspect",
        Gravity::Lacking => "lacking",
        Gravity::Noted => "noted",
    };
    let about: Vec<&str> = remark.about.iter().map(|name| name.0.as_str()).collect();
    format!(
        "{line}:{column} {gravity} {} [{}]\n  {}\n  {}",
        remark.code,
        about.join(", "),
        remark.message,
        remark.help.as_deref().unwrap_or("-")
    )
}
