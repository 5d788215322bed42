//! Nothing a file can hold makes reading panic, overflow the stack or take forever.

#![allow(clippy::expect_used, reason = "a helper of tests fails as a test does")]

mod support;

use std::fmt::Write as _;
use std::sync::LazyLock;

use groundrule_plan::reader::{MOST_FAULTS, SIZE_LIMIT};
use groundrule_plan::{Faults, Plan};
use proptest::prelude::*;
use support::{fixtures, read, source};

const SITE: &str = "[site]\nname = \"Wren Corner\"\nunits = \"ft\"\n";

fn read_text(text: &str) -> Result<Plan, Faults> {
    read(&source("plan.toml", text))
}

/// Reads a text that has faults, and gives the code of the first.
fn check(text: &str, code: &str) {
    let faults = read_text(text).expect_err("the text has faults");
    let codes: Vec<&str> = faults.faults.iter().map(|fault| fault.code).collect();
    assert!(codes.contains(&code), "{codes:?}");
    // Both ways to show them must cope as well.
    assert!(!faults.to_string().is_empty());
}

#[test]
fn nesting_ten_thousand_deep() {
    let deep = 10_000;
    let (open, close) = ("[".repeat(deep), "]".repeat(deep));
    check(&format!("{SITE}overlays = {open}{close}\n"), "plan::too-deep");
    check(&format!("{SITE}overlays = {open}\n"), "plan::too-deep");
    check(
        &format!("{SITE}[points]\na = {}1{}\n", "{ at = ".repeat(deep), " }".repeat(deep)),
        "plan::too-deep",
    );
    check(&format!("{SITE}a{} = 1\n", ".a".repeat(deep)), "plan::too-deep");
    check(&format!("{SITE}[a{}]\n", ".a".repeat(deep)), "plan::too-deep");
}

#[test]
fn a_chain_of_ten_thousand_points() {
    let chain = |last: &str| {
        let mut text = format!("{SITE}[points]\np0 = {last}\n");
        for i in 1..10_000 {
            let _ = writeln!(text, "p{i} = {{ from = \"p{}\", right = 1 }}", i - 1);
        }
        text
    };
    assert_eq!(read_text(&chain("[0, 0]")).map(|plan| plan.points.len()).ok(), Some(10_000));
    check(&chain("\"p9999\""), "plan::circle");
}

#[test]
fn ten_thousand_features_of_some_megabytes() {
    let mut text = SITE.to_owned();
    for i in 0..10_000 {
        let (x, y) = (i % 100 * 50, i / 100 * 50);
        let _ = writeln!(
            text,
            "\n[[feature]]\nid = \"shed-{i}\"\nkind = \"shed\"\nstatus = \"existing\"\nby = {{ plus_minus = \"2 in\" }}\n\
             height = \"9'-6 1/2\\\"\"\noutline = [[{x}, {y}], [\"{0} ft\", {y}], [{0}, {1}], {{ at = [{x}, {1}], corner = \"last\" }}]",
            x + 12,
            y + 10
        );
    }
    let plan = read_text(&text).unwrap_or_else(|faults| panic!("{}", faults.faults[0]));
    assert_eq!(plan.features.len(), 10_000);
}

#[test]
fn ten_thousand_measurements() {
    let mut text = SITE.to_owned();
    text.push_str("[[chain]]\nread = [\"m0\"");
    for i in 1..10_000 {
        let _ = write!(text, ", 1, \"m{i}\"");
    }
    text.push_str("]\n[[fact]]\nstraight = [\"m0\"");
    for i in 1..10_000 {
        let _ = write!(text, ", \"m{i}\"");
    }
    text.push_str("]\n");
    for i in 0..10_000 {
        let _ =
            writeln!(text, "[[tie]]\npoint = \"oak\"\nfrom = {{ m{i} = 30, m{} = 31 }}", (i + 1) % 10_000);
    }
    let plan = read_text(&text).unwrap_or_else(|faults| panic!("{}", faults.faults[0]));
    assert_eq!(plan.measurements.last().map(|last| last.id.0.as_str()), Some("tie-oak-10000"));
    check(&text.replace("read = [\"m0\"", "read = [3"), "plan::chain");
    check(&text.replace("straight = [\"m0\"", "straight = [\"m9999\""), "plan::same-point");
    check(&text.replace("point = \"oak\"", "point = \"oak.x\""), "plan::more-faults");
}

#[test]
fn a_file_past_the_size_limit() {
    check(&"#\n".repeat(SIZE_LIMIT / 2 + 1), "plan::too-large");
}

#[test]
fn megabytes_of_faults_are_counted() {
    let mut text = SITE.to_owned();
    for i in 0..200_000 {
        let _ = writeln!(text, "k{i} = 1");
    }
    let faults = read_text(&text).expect_err("unknown keys");
    assert_eq!(faults.faults.len(), MOST_FAULTS + 1);
    assert_eq!(faults.faults.last().map(|fault| fault.code), Some("plan::more-faults"));
    check(&"=\n".repeat(400_000), "plan::syntax");
    check(&format!("{}{}", "=\n".repeat(200_000), "k.k=[\n".repeat(90_000)), "plan::syntax");
    check(&"=\n".repeat(2_000_000), "plan::syntax");
    check(&format!("{SITE}name = \"{}", "x".repeat(3_000_000)), "plan::syntax");
    check(&format!("{SITE}{} = 1", "k".repeat(3_000_000)), "plan::unknown-key");
}

#[test]
fn bytes_that_are_no_plan() {
    check("", "plan::empty");
    check("\u{feff}\n# nothing\n", "plan::empty");
    check("\0\0\0", "plan::not-text");
    check("\u{feff}[sit]\n", "plan::unknown-key");
    check("[site]\r\nname = 1\rno", "plan::syntax");
    assert!(read_text(&format!("\u{feff}{SITE}")).is_ok(), "a byte order mark is no fault");
    assert!(read_text(&SITE.replace('\n', "\r\n")).is_ok(), "line ends of either kind");
}

/// All fixtures, as a stock of texts to mutate.
static STOCK: LazyLock<Vec<String>> = LazyLock::new(|| {
    ["valid", "remarks", "invalid"].into_iter().flat_map(fixtures).map(|file| file.text.to_string()).collect()
});

/// One change to a text: at a place given in thousandths of its length.
#[derive(Clone, Debug)]
enum Change {
    Cut(usize, usize),
    Insert(usize, String),
    Repeat(usize, usize),
    Swap(usize, usize),
}

fn change() -> impl Strategy<Value = Change> {
    let at = || 0..=1000_usize;
    let token = prop::sample::select(vec![
        "\"",
        "'",
        "[",
        "]",
        "{",
        "}",
        "=",
        ",",
        ".",
        "\n",
        "#",
        "-",
        "nan",
        "inf",
        "1e999",
        "0x",
        "ft",
        "left",
        "1:3",
        "\\u0000",
        "\u{1b}",
        "é",
        "½",
        "[[feature]]\n",
        "by = ",
        "house.sw-se",
        "true",
        "2026-01-01",
        "\"\"\"",
        "-0",
    ]);
    prop_oneof![
        (at(), 0..60_usize).prop_map(|(at, length)| Change::Cut(at, length)),
        (at(), token).prop_map(|(at, token)| Change::Insert(at, token.to_owned())),
        (at(), 0..80_usize).prop_map(|(at, length)| Change::Repeat(at, length)),
        (at(), at()).prop_map(|(a, b)| Change::Swap(a, b)),
        (at(), any::<char>()).prop_map(|(at, c)| Change::Insert(at, c.to_string())),
    ]
}

fn apply(text: &str, change: &Change) -> String {
    let mut chars: Vec<char> = text.chars().collect();
    let place = |thousandths: usize, length: usize| thousandths * length / 1001;
    match change {
        Change::Cut(at, length) => {
            let at = place(*at, chars.len());
            chars.drain(at..chars.len().min(at + length));
        }
        Change::Insert(at, token) => {
            let at = place(*at, chars.len());
            chars.splice(at..at, token.chars());
        }
        Change::Repeat(at, length) => {
            let at = place(*at, chars.len());
            let part: Vec<char> = chars.iter().skip(at).take(*length).copied().collect();
            chars.splice(at..at, part);
        }
        Change::Swap(a, b) if !chars.is_empty() => {
            let (a, b) = (place(*a, chars.len()), place(*b, chars.len()));
            chars.swap(a, b);
        }
        Change::Swap(..) => {}
    }
    chars.into_iter().collect()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(1500) })]

    #[test]
    fn mutated_plans_never_panic(which in any::<prop::sample::Index>(), changes in prop::collection::vec(change(), 1..6)) {
        let text = changes.iter().fold(which.get(&STOCK).clone(), |text, change| apply(&text, change));
        if let Err(faults) = read_text(&text) {
            prop_assert!(!faults.faults.is_empty(), "refused without a fault");
            for (span, _) in faults.faults.iter().flat_map(|fault| &fault.labels) {
                prop_assert!(span.start <= span.end && span.end as usize <= text.len());
                prop_assert!(text.is_char_boundary(span.start as usize) && text.is_char_boundary(span.end as usize));
            }
            prop_assert!(!support::render(&faults).is_empty());
        }
    }
}
