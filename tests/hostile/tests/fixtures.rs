//! Modules compiled for every published version of the interface still load and run.
#![allow(clippy::disallowed_methods, reason = "the fixtures are files")]

use std::fmt::Write as _;
use std::path::Path;

use sha2::{Digest as _, Sha256};

use crate::{WITNESS, garden, load, run, sandbox};

/// The published versions and the SHA-256 of their files, each as its name, a zero byte and its text.
const PUBLISHED: [(&str, &str); 3] = [
    ("0.1.0", "3e88abf8496df2b04eb6ff224c604e579b742b6b33159ed398e50022a4d95b4b"),
    ("0.1.1", "0ed7eab4ecf382a8ea1850ed8fdf504ae1c6b04497340520c5a6bf372551024e"),
    ("0.1.2", "53cd49d1dc5e782bef07ddea5bd1a13267498491708137450a0f4874f037db8c"),
];

#[test]
fn published_interfaces_never_change() {
    for (version, digest) in PUBLISHED {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../plugins/wit").join(version);
        let mut files: Vec<_> = std::fs::read_dir(&folder)
            .expect("the version's folder")
            .map(|entry| entry.expect("a readable folder").path())
            .filter(|path| path.extension().is_some_and(|ending| ending == "wit"))
            .collect();
        files.sort();
        let mut hash = Sha256::new();
        for file in files {
            hash.update(file.file_name().expect("a name").as_encoded_bytes());
            hash.update([0]);
            hash.update(std::fs::read(&file).expect("a readable file"));
        }
        let mut found = String::new();
        for byte in hash.finalize() {
            let _ = write!(found, "{byte:02x}");
        }
        assert_eq!(found, digest, "{version} is published: add functions in a folder of a new version");
    }
}

#[test]
fn old_modules_still_run() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let (sandbox, site) = (sandbox(), garden::site());
    let folders = std::fs::read_dir(root.join("plugins/wit")).expect("the interface's folders");
    let mut versions: Vec<String> = folders
        .map(|entry| entry.expect("a readable folder"))
        .filter(|entry| entry.path().is_dir())
        .map(|entry| entry.file_name().into_string().expect("a plain name"))
        .collect();
    versions.sort();
    assert!(!versions.is_empty());
    for version in versions {
        let file = root.join(format!("tests/fixtures/interface-{version}.wasm"));
        let bytes = std::fs::read(&file).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
        let module = load(&sandbox, &version, &bytes);
        assert!(!module.checks().is_empty());
        for check in module.checks() {
            run(&module, &site, &check.name).unwrap_or_else(|blame| panic!("{version}: {blame}"));
        }
    }
}

/// Keeps the witness as the fixture of the newest version. Run it once, when the version is about to be
/// published, and never again: `cargo test --workspace --test hostile -- --ignored keep_the_fixture`.
#[test]
#[ignore = "writes the fixture of a new version"]
fn keep_the_fixture() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../fixtures/interface-0.1.2.wasm");
    assert!(!file.exists(), "{} is kept for good", file.display());
    std::fs::create_dir_all(file.parent().expect("a folder")).expect("the folder can be made");
    std::fs::write(&file, WITNESS).expect("the fixture can be written");
}
