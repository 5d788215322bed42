//! Digging: what is told before it, in every output, and the worked cases.

#![allow(
    clippy::disallowed_methods,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test reads and writes files as a person does, and ends where it cannot"
)]

mod support;

use std::fs;

use serde_json::Value;
use support::rows::{check, findings, of_rule, plan, verdicts};
use support::{groundrule_in, out};

const GAS: &str = "g gas-line line = [[50, 0], [50, 90]]; status = \"existing\"; located = \"marked\"";

/// A plan with a fence, a pit and a trench among lines known in every way.
const DIGGING: &str = r#"
    gas gas-line line = [[50, 0], [50, 90]]; status = "existing"; located = "marked"; cover = "18 in"; diameter = "1 in"
    power buried-power line = [[53, 0], [53, 90]]; status = "existing"; located = "record"
    phone communication-line line = [[56, 0], [56, 90]]; status = "existing"
    meter gas-meter at = [50, 95]; status = "existing"
    fence fence line = [[45, 30], [52, 30]]; dig_depth = "30 in"
    oak tree at = [120, 120]; dig_depth = "24 in"
"#;

#[test]
fn a_list_for_each_piece_of_work() {
    let all = of_rule("dig-list", DIGGING);
    let of = |subject: &str| all.iter().find(|finding| finding["features"][0] == subject).unwrap();
    let fence = of("fence");
    assert_eq!(
        (&fence["verdict"], &fence["weight"], &fence["answer"]),
        (&"fails".into(), &"noted".into(), &"3".into())
    );
    assert_eq!(fence["message"], "Lines and pieces of equipment within reach of the work at fence: 3.");
    let told: Vec<[&Value; 6]> = fence["listed"]
        .as_array()
        .unwrap()
        .iter()
        .map(|it| {
            [
                &it["name"],
                &it["color"],
                &it["letters"],
                &it["words"]["located"],
                &it["words"]["cover_basis"],
                &it["amounts"]["strip"]["value"],
            ]
        })
        .collect();
    let inch = 0.0254;
    let expected = [
        ["gas".into(), "yellow".into(), "G".into(), "marked".into(), "stated".into(), (24.0 * inch).into()],
        ["power".into(), "red".into(), "E".into(), "record".into(), "assumed".into(), (48.0 * inch).into()],
        ["phone".into(), "orange".into(), "C".into(), "not stated".into(), "assumed".into(), Value::Null],
    ];
    assert_eq!(told.len(), expected.len());
    for (told, expected) in told.iter().zip(&expected) {
        assert_eq!(told.map(Clone::clone)[..5], expected[..5]);
        let (told, expected) = (told[5].as_f64(), expected[5].as_f64());
        assert!(told.zip(expected).map_or(told == expected, |(a, b)| (a - b).abs() < 1e-9), "{told:?}");
    }
    // Least covers assumed: 6 in over power, 2 in over a telephone cable (common practice).
    let cover = |at: usize| fence["listed"][at]["amounts"]["cover"]["value"].as_f64().unwrap();
    assert!(
        [(0, 18.0), (1, 6.0), (2, 2.0)].iter().all(|&(at, inches)| (cover(at) - inches * inch).abs() < 1e-9)
    );
    let oak = of("oak");
    assert_eq!((&oak["verdict"], &oak["answer"]), (&"meets".into(), &"0".into()));
}

#[test]
fn every_output_says_to_call_first_and_that_drawings_are_not_locations() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("plan.toml"), plan(DIGGING)).unwrap();
    let run = |args: &[&str]| out(&groundrule_in(folder.path(), args, &[]));
    let packs = ["--pack", "common-practice"];
    let mut outputs = vec![("terminal".to_owned(), run(&[&["review", "plan.toml"], &packs[..]].concat()))];
    let mut written = |command: &str, file: &str| {
        run(&[&[command, "plan.toml", "--write", file], &packs[..]].concat());
        let text = fs::read_to_string(folder.path().join(file)).unwrap_or_else(|why| panic!("{file}: {why}"));
        outputs.push((format!("{command} {file}"), text));
    };
    for file in ["r.txt", "r.html", "r.svg", "r.json", "r.geojson"] {
        written("review", file);
    }
    written("fieldwork", "sheet.html");
    for (name, text) in outputs {
        // Text is wrapped and, in a drawing, parted into lines of their own.
        let mut plain = String::new();
        let mut inside = true;
        for c in text.chars() {
            match c {
                '<' => inside = false,
                '>' => inside = true,
                c if inside => plain.push(c),
                _ => {}
            }
        }
        let plain = plain.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
        for phrase in ["call the local one-call service before any digging", "not locations"] {
            assert!(plain.contains(phrase), "{name} does not say: {phrase}");
        }
    }
}

#[test]
fn terminal_and_page_print_the_list() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("plan.toml"), plan(DIGGING)).unwrap();
    let args = ["review", "plan.toml", "--pack", "common-practice", "--write", "r.html"];
    groundrule_in(folder.path(), &args, &[]);
    let page = fs::read_to_string(folder.path().join("r.html")).unwrap();
    let terminal = out(&groundrule_in(folder.path(), &args[..4], &[]));
    let start = terminal.find("Before digging (1)").unwrap();
    insta::assert_snapshot!(
        "before-digging",
        terminal[start..].split("\nAbout the data").next().unwrap_or_default()
    );
    for text in [&page, &terminal] {
        assert!(text.contains("Before digging (1)"));
        assert!(text.split_whitespace().collect::<Vec<_>>().join(" ").contains("power (red, E)"), "{text}");
    }
}

#[test]
fn the_drawing_tells_lines_by_letters_words_and_color() {
    let folder = tempfile::tempdir().unwrap();
    let kinds =
        ["gas-line", "buried-power", "communication-line", "water-line", "irrigation-line", "storm-drain"];
    let lines: Vec<String> = kinds
        .iter()
        .enumerate()
        .map(|(at, kind)| {
            let x = 20 + at * 20;
            format!(
                "{kind} {kind} line = [[{x}, 10], [{x}, 190]]; status = \"existing\"; located = \"marked\""
            )
        })
        .collect();
    fs::write(folder.path().join("plan.toml"), plan(&lines.join("\n"))).unwrap();
    let args = ["review", "plan.toml", "--pack", "common-practice", "--write", "r.svg"];
    groundrule_in(folder.path(), &args, &[]);
    let drawing = fs::read_to_string(folder.path().join("r.svg")).unwrap();
    for (color, letters, words) in [
        ("yellow", "G", "gas: yellow"),
        ("red", "E", "power: red"),
        ("orange", "C", "communication: orange"),
        ("blue", "W", "drinking water: blue"),
        ("purple", "I", "irrigation, reclaimed: purple"),
        ("green", "SD", "sewer, drain: green"),
    ] {
        for part in [
            format!("class=\"marking {color}\""),
            format!(">{letters}<"),
            format!(">{words}<"),
            format!("class=\"strip {color}\""),
        ] {
            assert!(drawing.contains(&part), "{part}");
        }
    }
    let words = drawing.split(['<', '>']).collect::<Vec<_>>().join(" ");
    assert!(
        words.split_whitespace().collect::<Vec<_>>().join(" ").contains("other countries use other colors")
    );
}

#[test]
fn lines_that_nobody_located_or_declared_are_missing() {
    let unlocated = GAS.replace("; located = \"marked\"", "");
    for rule in ["line-strip", "dig-by-hand"] {
        let work = "p arbor box = { corner = \"sw\", at = [52, 40], size = [\"1 ft\", \"1 ft\"] }";
        let found = of_rule(rule, &format!("{unlocated}\n{work}"));
        assert_eq!((found.len(), &found[0]["verdict"]), (1, &"missing".into()), "{rule}");
        assert_eq!(found[0]["needs"][0]["what"], "how the place of g is known", "{rule}");
        assert!(found[0]["action"].as_str().unwrap().contains("`located`"), "{rule}");
    }
    // Neither drawn nor declared: what to add is said, for the list and for the strips.
    let work = "p shed box = { corner = \"sw\", at = [50, 40], size = [\"9 ft\", \"9 ft\"] }";
    for rule in ["dig-list", "dig-by-hand", "line-strip"] {
        let found = of_rule(rule, work);
        assert_eq!((found.len(), &found[0]["verdict"]), (1, &"missing".into()), "{rule}");
        let action = found[0]["action"].as_str().unwrap();
        assert!(action.contains("underground_utilities = \"none\""), "{rule}: {action}");
    }
    let declared = format!(
        "{}\n[declared]\nunderground_utilities = {{ presence = \"none\", said_by = \"owner\" }}\n",
        plan(work)
    );
    let found = findings(&declared, &["common-practice"]);
    let verdict =
        |rule: &str| found.iter().find(|finding| finding["rule"] == rule).unwrap()["verdict"].clone();
    assert_eq!(["dig-list", "dig-by-hand", "line-strip"].map(verdict), ["not_applicable"; 3]);
}

#[test]
fn a_line_off_a_record_has_a_wider_strip() {
    check("line-strip", GAS, &GAS.replace("marked", "record"));
}

#[test]
fn case_29_strips_of_a_six_inch_pipe() {
    // 42 and 54 in across, 21 and 27 in from the middle of the mark (Indiana's published example: 2 ft 3 in).
    for (strip, across, from_middle) in [(18, 42.0, 21.0), (24, 54.0, 27.0)] {
        let found = strip_of(strip);
        let beside = found["beside"].as_array().unwrap();
        let inches = |what: &str| {
            let amount = beside.iter().find(|beside| beside["what"] == what).unwrap();
            amount["amount"]["value"].as_f64().unwrap() / 0.0254
        };
        assert!(
            (inches("across") - across).abs() < 1e-9 && (inches("from middle") - from_middle).abs() < 1e-9
        );
    }
}

#[test]
fn case_30_area_of_the_strip_drawn() {
    // 40 ft of that pipe with round ends: 149.621 and 195.904 sq ft. Each end is drawn by eight chords, which leave
    // 2.55 % of a circle out; with flat ends it would be 140.0 and 180.0.
    for (strip, flat, round) in [(18, 140.0, 149.621), (24, 180.0, 195.904)] {
        let found = strip_of(strip);
        let ring = found["marks"].as_array().unwrap().iter().find(|mark| mark["ring"].is_array());
        let places = ring.unwrap_or_else(|| panic!("{}", found["marks"]))["ring"].as_array().unwrap();
        let at = |place: &Value| (place[0].as_f64().unwrap() / 0.3048, place[1].as_f64().unwrap() / 0.3048);
        let twice: f64 = places
            .iter()
            .zip(places.iter().cycle().skip(1))
            .map(|(a, b)| {
                let ((ax, ay), (bx, by)) = (at(a), at(b));
                ax * by - bx * ay
            })
            .sum();
        let expected = flat + (round - flat) * 0.974_495;
        assert!((twice / 2.0 - expected).abs() < 0.01, "{}", twice / 2.0);
    }
}

/// What a pack with a strip of so many inches says of 40 ft of a pipe of 6 in.
fn strip_of(inches: u32) -> Value {
    let pipe = "g gas-line line = [[50, 20], [50, 60]]; status = \"existing\"; located = \"marked\"; diameter = \"6 in\"";
    let found = findings(&plan(pipe), &[&pack("utilities/tolerance-zone", "", inches)]);
    found.into_iter().find(|finding| finding["rule"] == "strip").unwrap()
}

/// A pack with one row on strips of so many inches.
fn pack(check: &str, to: &str, inches: u32) -> String {
    let subject = if to.is_empty() { "{ kind = \"buried-line\" }" } else { "{ kind = \"fence\" }" };
    let limit = if to.is_empty() { "{ at_most = \"24 in\" }" } else { "{ at_least = \"0 ft\" }" };
    format!(
        "[pack]\nname = \"strips\"\ntitle = \"Strips\"\nversion = \"1.0.0\"\nagency = \"A desk of Tern Hollow\"\ninvented = true\n\n\
         [[rule]]\nid = \"strip\"\ntitle = \"Strip\"\ncheck = \"{check}\"\nsubject = {subject}\n{to}\n\
         with = {{ marked = \"{inches} in\" }}\nlimit = {limit}\nweight = \"advised\"\nstanding = \"illustrative\"\n\
         source = \"Invented\"\nwhy = \"To see that the strip of a pack is the one that is used.\"\nmessage = \"{{shown}}\"\n"
    )
}

#[test]
fn case_31_a_post_hole_thirty_inches_off() {
    // A hole of 12 in, its middle 30 in from the middle of a pipe of 1 in: 23.5 in from edge to edge. Clear of 18 in,
    // not of 24 nor of 48 in.
    let post = "p fence circle = { centre = [52.5, 40], radius = \"6 in\" }";
    let plan = plan(&format!("{GAS}; diameter = \"1 in\"\n{post}"));
    for (inches, verdict) in [(18, "meets"), (24, "fails"), (48, "fails")] {
        let pack = pack("utilities/dig-clearance", "to.lines = { kind = \"buried-line\" }", inches);
        let found = findings(&plan, &[&pack]);
        let strip = found.iter().find(|finding| finding["rule"] == "strip").unwrap();
        assert_eq!(strip["verdict"], verdict, "{inches} in");
        let gap = strip["beside"].as_array().unwrap().iter().find(|beside| beside["what"] == "gap").unwrap();
        assert!((gap["amount"]["value"].as_f64().unwrap() / 0.0254 - 23.5).abs() < 1e-6, "{gap}");
    }
}

#[test]
fn case_32_a_wire_along_the_slant_to_a_pool() {
    // 8 ft out: 18 ft up are 19.70 ft, short of 22.5; 22 ft up are 23.41 ft. At 12 ft out it is outside the band of
    // 10 ft, which is how far the rule reaches and no clearance.
    let at = |out: u32, up: u32| {
        format!(
            "p pool box = {{ corner = \"sw\", at = [{}, 40], size = [\"20 ft\", \"10 ft\"] }}\n\
             w overhead-wire line = [[50, 0], [50, 190]]; ground_clearance = \"{up} ft\"",
            50 + out
        )
    };
    for (out, up, verdict, feet) in
        [(8, 18, "fails", Some(19.70)), (8, 22, "meets", Some(23.41)), (12, 18, "not_applicable", None)]
    {
        let found = of_rule("wire-to-pool", &at(out, up));
        assert_eq!((found.len(), &found[0]["verdict"]), (1, &verdict.into()), "{out} out, {up} up");
        let shown = found[0]["shown"]["value"].as_f64().map(|metres| metres / 0.3048);
        assert!(
            shown.zip(feet).map_or(shown == feet, |(shown, feet): (f64, f64)| (shown - feet).abs() < 0.01)
        );
    }
}

#[test]
fn case_60_a_tree_at_a_drain_field_under_three_rules() {
    let plan = "f drain-field box = { corner = \"sw\", at = [100, 40], size = [\"20 ft\", \"10 ft\"] }\n\
                t tree at = [78, 45]; mature_height = \"25 ft\"";
    let by = |rule: &str| verdicts(rule, plan);
    assert_eq!(by("tree-to-drain-field"), ["fails"], "its grown height of 25 ft");
    assert_eq!(by("tree-field-flat"), ["fails"], "25 ft whatever its height");
    assert_eq!(by("tree-septic-floor"), ["meets"], "the bare 5 ft of one county");
}
