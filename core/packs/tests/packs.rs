//! Whole pack files: those that read, and everything that is told of those that do not.

use std::fmt::Write as _;
use std::sync::Arc;

use groundrule_packs::{Pack, read_pack};
use groundrule_plan::{Fault, Faults, KindTree, Source, Span};

fn source(name: &str, text: &str) -> Source {
    Source { name: name.to_owned(), text: Arc::from(text) }
}

fn read(name: &str, text: &str) -> Result<Pack, Faults> {
    read_pack(&source(name, text), &KindTree::standard())
}

/// A fault as a reader sees it: where, what, what stands beside it, what to do.
fn shown(fault: &Fault, source: &Source) -> String {
    let place = |span: Span| {
        let (line, column) = source.position(span.start);
        let excerpt = source.text.get(span.start as usize..span.end as usize).unwrap_or("?");
        format!("{line}:{column} [{}]", excerpt.lines().next().unwrap_or_default())
    };
    let mut text = format!("{}: {}\n", fault.code, fault.message);
    for (span, beside) in &fault.labels {
        let _ = writeln!(text, "    {} {beside}", place(*span));
    }
    if let Some(help) = &fault.help {
        let _ = writeln!(text, "    = {help}");
    }
    text
}

/// Every invalid file, with all that is told of it. The file's name says what is wrong in it.
#[test]
#[allow(clippy::disallowed_methods, reason = "the test reads every file of its own folder")]
fn invalid_files() {
    insta::glob!("invalid/*.toml", |path| {
        let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).expect("a name");
        let text = String::from_utf8(std::fs::read(path).expect("reads")).expect("is text");
        let faults = read(&name, &text).map(|pack| pack.name).expect_err(&name);
        let shown: Vec<String> = faults.faults.iter().map(|fault| shown(fault, &faults.source)).collect();
        insta::assert_snapshot!(shown.join("\n"));
    });
}

/// Every row of a file that uses each way to write, as it is explained.
#[test]
fn explained() {
    let text = include_str!("valid/one-of-each-way-to-write.toml");
    let pack = read("valid.toml", text).unwrap_or_else(|faults| panic!("{faults}"));
    let mut page = String::new();
    for row in &pack.rows {
        for line in row.explain(&pack) {
            let _ = writeln!(page, "{}: {}", line.heading, line.text);
        }
        page.push('\n');
    }
    insta::assert_snapshot!(page);
}

/// The packs that come with the program read, and say of every row what a reader needs.
#[test]
fn built_in_packs() {
    let packs = [
        ("common-practice", include_str!("../../../rules/packs/common-practice/pack.toml")),
        ("fire", include_str!("../../../rules/packs/fire/pack.toml")),
        ("grading", include_str!("../../../rules/packs/grading/pack.toml")),
        ("lot-practice", include_str!("../../../rules/packs/lot-practice/pack.toml")),
        ("stormwater", include_str!("../../../rules/packs/stormwater/pack.toml")),
        ("submittal", include_str!("../../../rules/packs/submittal/pack.toml")),
        ("tern-hollow", include_str!("../../../rules/packs/tern-hollow/pack.toml")),
        ("water-and-septic", include_str!("../../../rules/packs/water-and-septic/pack.toml")),
    ];
    for (name, text) in packs {
        let pack = read(name, text).unwrap_or_else(|faults| panic!("{faults}"));
        assert_eq!(pack.name, name);
        // Words that no output may use: they promise what no checker can.
        for word in ["compliant", "approved", "legal"] {
            assert!(!text.to_lowercase().contains(word), "{name} says `{word}`");
        }
        assert!(!pack.rows.is_empty());
        for row in &pack.rows {
            assert!(row.why.len() > 40, "{}: why?", row.id.0);
            let amount = row.limit.dimension().is_some();
            assert!(!amount || row.message.contains("{shown}"), "{}: what was measured?", row.id.0);
            assert!(row.provenance.line > 1 && row.provenance.pack == name);
        }
    }
}

/// What is no text at all is refused without showing it.
#[test]
fn not_a_text() {
    for text in ["\0\0\0", "a = 1\u{202e}", "[pack]\nname = \"\u{1b}[31m\""] {
        let faults = read("binary", text).map(|pack| pack.name).expect_err("not text");
        assert!(!faults.to_string().contains(['\0', '\u{1b}', '\u{202e}']), "{faults}");
    }
}

/// Any change of a byte or a line of a good pack ends in a pack or in faults, never in a panic.
#[test]
fn spoiled_packs_are_refused_or_read() {
    let text = include_str!("valid/one-of-each-way-to-write.toml");
    let mut state = 7_u64;
    let mut next = |below: usize| {
        // SplitMix64.
        state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        usize::try_from((z ^ (z >> 31)) % u64::try_from(below).expect("fits")).expect("fits")
    };
    let replacements =
        ["", "\"", "{", "}", "[", "]", "=", "'", "9", "-", "é", "\n", "(", ")", ".", "\\", "#", "nan"];
    let mut refused = 0;
    for _ in 0..400 {
        let mut spoiled = text.to_owned();
        for _ in 0..=next(3) {
            let mut at = next(spoiled.len());
            while !spoiled.is_char_boundary(at) {
                at -= 1;
            }
            let end = spoiled[at..].chars().next().map_or(at, |c| at + c.len_utf8());
            spoiled.replace_range(at..end, replacements[next(replacements.len())]);
        }
        refused += usize::from(read("spoiled", &spoiled).is_err());
    }
    assert!(refused > 100, "only {refused} of 400 were refused");
}
