//! The program as a newcomer meets it.

#![allow(clippy::disallowed_methods, reason = "a test reads and writes files as a person does")]

mod support;

use std::fs;

use support::{err, groundrule, groundrule_in, out, root, told};

/// The example with the packs that its README names.
fn example(name: &str, more: &[&str]) -> std::process::Output {
    let plan = format!("examples/{name}.toml");
    let mut args = vec!["review", plan.as_str(), "--pack", "tern-hollow", "--pack", "common-practice"];
    args.extend_from_slice(more);
    groundrule(&args)
}

#[test]
fn examples_tell_exactly_this() {
    for name in
        ["wren-corner", "two-street-fence", "garden-pool", "rough-markup", "deed-with-a-slip", "falling-yard"]
    {
        insta::assert_snapshot!(name, told(&example(name, &["--all"])));
    }
}

#[test]
fn every_example_is_one_of_those() {
    let plans = fs::read_dir(root().join("examples")).unwrap().map(|entry| entry.unwrap().path());
    let mut names: Vec<String> = plans
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .map(|path| path.file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    names.sort();
    assert_eq!(
        names,
        [
            "deed-with-a-slip",
            "falling-yard",
            "garden-pool",
            "rough-markup",
            "two-street-fence",
            "wren-corner"
        ]
    );
    let page = fs::read_to_string(root().join("examples/README.md")).unwrap();
    assert!(names.iter().all(|name| page.contains(&format!("`{name}.toml`"))));
}

#[test]
fn the_same_input_gives_the_same_bytes_on_any_number_of_threads() {
    let run = |threads: &str, file: &str| {
        let folder = tempfile::tempdir().unwrap();
        let plan = root().join("examples/wren-corner.toml");
        let args = ["review", plan.to_str().unwrap(), "--pack", "tern-hollow", "--write", file, "--quiet"];
        let output = groundrule_in(folder.path(), &args, &[("RAYON_NUM_THREADS", threads)]);
        (output.stdout, fs::read(folder.path().join(file)).unwrap())
    };
    for file in ["r.html", "r.json", "r.svg", "r.geojson", "r.txt"] {
        assert_eq!(run("1", file), run("4", file), "{file}");
    }
}

#[test]
fn begin_writes_a_plan_that_can_be_reviewed_at_once() {
    for units in ["ft", "m"] {
        let folder = tempfile::tempdir().unwrap();
        let begun = groundrule_in(folder.path(), &["begin", "plan.toml", "--units", units], &[]);
        assert_eq!(begun.status.code(), Some(0), "{}", err(&begun));
        let reviewed = groundrule_in(folder.path(), &["review", "plan.toml"], &[]);
        assert!(matches!(reviewed.status.code(), Some(0 | 1)), "{}", told(&reviewed));
        assert!(out(&reviewed).contains("My garden"));
    }
}

#[test]
fn help_manual_and_completions_know_every_command() {
    let commands = [
        "review",
        "fieldwork",
        "survey",
        "draw",
        "section",
        "areas",
        "why",
        "rules",
        "begin",
        "completions",
        "man",
    ];
    let pages = [
        out(&groundrule(&["--help"])),
        out(&groundrule(&["man"])),
        out(&groundrule(&["completions", "bash"])),
        out(&groundrule(&["completions", "fish"])),
    ];
    for page in &pages {
        for command in commands {
            assert!(page.contains(command), "{command} is not in:\n{page}");
        }
    }
    insta::assert_snapshot!("help", pages[0]);
    insta::assert_snapshot!("help-review", out(&groundrule(&["review", "--help"])));
}

#[test]
fn rules_and_reasons() {
    insta::assert_snapshot!("rules", told(&groundrule(&["rules", "--pack", "tern-hollow"])));
    insta::assert_snapshot!("why", told(&groundrule(&["why", "side-yard"])));
    insta::assert_snapshot!("packs", told(&groundrule(&["rules", "--list-packs"])));
}

#[test]
fn areas_of_the_example() {
    insta::assert_snapshot!("areas", told(&groundrule(&["areas", "examples/two-street-fence.toml"])));
}

const PACKS: [&str; 4] = ["--pack", "tern-hollow", "--pack", "common-practice"];

#[test]
fn what_to_take_in_the_field() {
    let list = groundrule(&[&["fieldwork", "examples/wren-corner.toml"], &PACKS[..]].concat());
    insta::assert_snapshot!("fieldwork", told(&list));
    let folder = tempfile::tempdir().unwrap();
    let plan = root().join("examples/wren-corner.toml");
    for (file, begins) in [("sheet.html", "<!DOCTYPE html>"), ("sketch.svg", "<svg ")] {
        let args = [&["fieldwork", plan.to_str().unwrap(), "--write", file], &PACKS[..]].concat();
        let written = groundrule_in(folder.path(), &args, &[]);
        assert_eq!(written.status.code(), Some(0), "{}", told(&written));
        let text = fs::read_to_string(folder.path().join(file)).unwrap();
        assert!(text.starts_with(begins), "{file}");
        for word in text.split(|c: char| !c.is_alphabetic()).map(str::to_lowercase) {
            assert!(!["compliant", "approved", "legal"].contains(&word.as_str()), "{file} says {word}");
        }
    }
    let wrong = groundrule(&["fieldwork", "examples/wren-corner.toml", "--write", "sheet.pdf"]);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(err(&wrong).contains("Let its name end in .html"), "{}", err(&wrong));
}

#[test]
fn points_of_the_example() {
    insta::assert_snapshot!("survey", told(&groundrule(&["survey", "examples/two-street-fence.toml"])));
}

#[test]
fn error_figures_only_on_request() {
    let draw = |more: &[&str]| out(&groundrule(&[&["draw", "examples/wren-corner.toml"], more].concat()));
    assert!(!draw(&[]).contains("error-figure"));
    assert!(draw(&["--error-figures"]).contains("class=\"error-figure\""));
    let folder = tempfile::tempdir().unwrap();
    let plan = root().join("examples/wren-corner.toml");
    let args = ["review", plan.to_str().unwrap(), "--error-figures", "--write", "r.html", "--quiet"];
    groundrule_in(folder.path(), &args, &[]);
    assert!(fs::read_to_string(folder.path().join("r.html")).unwrap().contains("class=\"error-figure\""));
}

/// A lot that falls from its rear to its front, with a house on it.
const SLOPING: &str = r#"
[site]
name = "Slope 4, Tern Hollow"
units = "ft"
by = "builders_level"
[ground]
datum = "assumed"
levels = { lot.sw = 98, lot.se = 97.5, lot.ne = 103, lot.nw = 102.5, house.sw = 99.6, house.se = 99.4, house.ne = 101, house.nw = 101.2 }
[lot]
corners = [[0, 0], [60, 0], [60, 90], [0, 90]]
names = ["sw", "se", "ne", "nw"]
[[feature]]
id = "house"
kind = "dwelling"
status = "existing"
box = { corner = "sw", at = [15, 30], size = ["30 ft", "25 ft"] }
[[feature]]
id = "a-a"
kind = "section-line"
line = [[20, 0], [20, 90]]
"#;

#[test]
fn sections_along_lines_and_through_points() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("plan.toml"), SLOPING).unwrap();
    let run =
        |line: &str| groundrule_in(folder.path(), &["section", "plan.toml", line, "--write", "s.svg"], &[]);
    for line in ["a-a", "lot.sw,lot.ne", "lot.sw, house.sw, lot.nw", "lot.sw-se"] {
        let output = run(line);
        assert_eq!(output.status.code(), Some(0), "{line}: {}", told(&output));
        let text = fs::read_to_string(folder.path().join("s.svg")).unwrap();
        assert!(text.starts_with("<svg ") && text.ends_with("</svg>\n"), "{line}");
        fs::remove_file(folder.path().join("s.svg")).unwrap();
    }
    let check = |line: &str, what: &str, help: &str| {
        let output = run(line);
        let told = err(&output).split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(output.status.code(), Some(2), "{line}: {told}");
        assert!(told.contains(what) && told.contains(help), "{line}: {told}");
        assert!(!folder.path().join("s.svg").exists(), "{line}");
    };
    check("aa", "no line `aa`", "Did you mean `a-a`?");
    check("house", "`house` is no line", "joined by commas");
    check("house.ne", "`house.ne` is one point", "joined by commas");
    check(
        "house.ne,lot.es,hose.sw",
        "no points `lot.es`, `hose.sw`",
        "Did you mean `house.sw` for `hose.sw`?",
    );
    check("lot.sw,lot.sw", "has no length", "apart");
    check("", "no line", "joined by commas");
    check(",", "no points", "groundrule survey");
    let bare = SLOPING.lines().filter(|line| !line.starts_with("levels =")).collect::<Vec<_>>().join("\n");
    fs::write(folder.path().join("plan.toml"), bare).unwrap();
    check("a-a", "lacks levels of the existing ground", "at least three");
    let wrong = groundrule_in(folder.path(), &["section", "plan.toml", "a-a", "--write", "s.pdf"], &[]);
    assert!(err(&wrong).contains("Let its name end in .svg"), "{}", err(&wrong));
}

#[test]
fn colour_only_where_it_is_wanted() {
    let plain = example("two-street-fence", &[]);
    assert!(!out(&plain).contains('\u{1b}'), "a pipe gets no escapes");
    let asked = example("two-street-fence", &["--color", "always"]);
    assert!(out(&asked).contains('\u{1b}'));
    assert_eq!(
        anstream::adapter::strip_str(&out(&asked)).to_string(),
        out(&plain),
        "colour adds nothing but colour"
    );
}

#[test]
fn nothing_ever_says_that_a_plan_is_in_order() {
    let folder = tempfile::tempdir().unwrap();
    let plan = root().join("examples/wren-corner.toml");
    let plan = plan.to_str().unwrap();
    let files = ["r.html", "r.json", "r.svg", "r.geojson", "r.txt"];
    let mut args = vec!["review", plan, "--pack", "tern-hollow", "--pack", "common-practice", "--all"];
    args.extend(files.iter().flat_map(|file| ["--write", file]));
    let output = groundrule_in(folder.path(), &args, &[]);
    let mut texts = vec![told(&output), out(&groundrule(&["man"])), out(&groundrule(&["rules"]))];
    texts.extend(files.iter().map(|file| fs::read_to_string(folder.path().join(file)).unwrap()));
    for text in texts {
        for word in text.split(|c: char| !c.is_alphabetic()) {
            let word = word.to_lowercase();
            assert!(!["compliant", "approved", "legal"].contains(&word.as_str()), "it says {word}");
        }
    }
}

#[test]
fn a_stopped_module_is_told_and_the_others_go_on() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("walks.wasm"), "no module").unwrap();
    let plan = root().join("examples/wren-corner.toml");
    let args = ["review", plan.to_str().unwrap(), "--module", "walks.wasm", "--write", "r.json"];
    let output = groundrule_in(folder.path(), &args, &[]);
    assert_eq!(output.status.code(), Some(3), "{}", told(&output));
    let text = out(&output);
    assert!(text.contains("module walks: not a rule module"), "{text}");
    assert!(text.contains("gate-foot-opening"), "the rules not checked are named:\n{text}");
    assert!(text.contains("Accessory structure to side and rear lines"), "setbacks still reports:\n{text}");
    assert!(fs::read_to_string(folder.path().join("r.json")).unwrap().contains("\"walks\""));

    let starved = groundrule(&["review", "examples/wren-corner.toml", "--fuel", "20000"]);
    assert_eq!(starved.status.code(), Some(3));
    assert!(out(&starved).contains("out of fuel"), "{}", out(&starved));
}

#[test]
fn a_reader_that_goes_away_is_no_error() {
    use std::process::{Command, Stdio};
    let mut child = Command::new(env!("CARGO_BIN_EXE_groundrule"))
        .args(["man"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
}
