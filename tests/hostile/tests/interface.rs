//! Modules of other versions and with other wishes, made from a good one by changing names in its bytes.

use std::fmt::Write as _;

use groundrule_sandbox::Failure;

use crate::{WITNESS, sandbox};

/// The good module with one text put for another of the same length wherever it occurs.
fn altered(from: &str, to: &str) -> Vec<u8> {
    assert_eq!(from.len(), to.len(), "lengths are part of the format");
    let mut bytes = WITNESS.to_vec();
    let mut changes = 0;
    for start in 0..bytes.len() - from.len() {
        if &bytes[start..start + from.len()] == from.as_bytes() {
            bytes[start..start + from.len()].copy_from_slice(to.as_bytes());
            changes += 1;
        }
    }
    assert!(changes > 0, "{from} is in the module");
    bytes
}

#[test]
fn misfits_are_told_in_our_words() {
    let sandbox = sandbox();
    let mut told = String::new();
    let mut check = |what: &str, bytes: &[u8], expected: Failure| {
        let blame = sandbox.load("borrowed", bytes).err().expect(what);
        assert_eq!(blame.failure, expected, "{what}: {blame}");
        assert_eq!((blame.version.as_ref(), blame.rule.as_ref()), (None, None));
        let _ = writeln!(told, "{what}: {}", blame.message);
    };
    check("an older interface", &altered("@0.1.2", "@0.0.9"), Failure::TooOld);
    check("a newer patch", &altered("@0.1.2", "@0.1.3"), Failure::TooNew);
    check("a newer interface", &altered("@0.1.2", "@0.2.0"), Failure::TooNew);
    let files = altered("groundrule:rules/width@0.1.2", "wasi:filesystem/types@0.2.10");
    check("files", &files, Failure::ForeignImport);
    let terrain = altered("groundrule:rules/width@", "groundrule:rules/slope@");
    check("an interface that is not there", &terrain, Failure::ForeignImport);
    check("a function that is not there", &altered("length-inside", "length-beside"), Failure::ForeignImport);
    check("no checks", &altered("groundrule:rules/checks@", "groundrule:rules/cheeks@"), Failure::NotAModule);
    check("half a file", &WITNESS[..WITNESS.len() / 2], Failure::NotAModule);
    check("a picture", b"\x89PNG\r\n\x1a\n", Failure::NotAModule);
    check("nothing", b"", Failure::NotAModule);
    insta::assert_snapshot!(told);
}

#[test]
fn a_damaged_module_never_stops_the_program() {
    let sandbox = sandbox();
    // One byte here and there turned over, one at a time: most of these are refused, some still load.
    let mut refused = 0;
    for place in (0..WITNESS.len()).step_by(WITNESS.len() / 25) {
        let mut bytes = WITNESS.to_vec();
        bytes[place] ^= 0x55;
        refused += u32::from(sandbox.load("damaged", &bytes).is_err());
    }
    assert!(refused > 0);
}
