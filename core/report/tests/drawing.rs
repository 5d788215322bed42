//! The drawing.

mod common;

use common::{HERON_LANE, Sample};
use groundrule_report::drawing;
use groundrule_units::Style;

#[test]
fn a_small_plan_as_svg() {
    let sample = Sample::of(HERON_LANE);
    insta::assert_snapshot!("heron-lane.svg", drawing::plan(&sample.plan, &sample.site, Style::FeetInches));
}

/// It is well-formed, on a real sheet, at a scale of its system, and says what it is not.
#[test]
fn sheets_and_scales() {
    let check = |style: Style, sheet: (&str, &str), scale: &str| {
        let sample = Sample::of(HERON_LANE);
        let svg = drawing::plan(&sample.plan, &sample.site, style);
        let document = roxmltree::Document::parse(&svg).unwrap_or_else(|error| panic!("{error}"));
        let root = document.root_element();
        assert_eq!((root.attribute("width"), root.attribute("height")), (Some(sheet.0), Some(sheet.1)));
        let texts: Vec<&str> = document.descendants().filter_map(|node| node.text()).collect();
        let scales: Vec<&&str> = texts.iter().filter(|text| text.starts_with("Scale ")).collect();
        assert!(scales.iter().any(|text| text.contains(&format!("Scale {scale}"))), "{scales:?}");
        assert!(texts.iter().any(|text| text.contains("Not a survey")));
        assert!(texts.contains(&"N"));
    };
    check(Style::FeetInches, ("215.9mm", "279.4mm"), "1/16\" = 1'-0\"");
    check(Style::Metres, ("210mm", "297mm"), "1:200");
}

/// Every number stands clear of every other, on the sheet.
#[test]
fn numbers_do_not_overlap() {
    let sample = Sample::reviewed();
    let svg = drawing::review(&sample.report());
    let document = roxmltree::Document::parse(&svg).unwrap_or_else(|error| panic!("{error}"));
    let places: Vec<(f64, f64)> = document
        .descendants()
        .filter(|node| node.attribute("class") == Some("bubble-number"))
        .map(|node| {
            let number = |name| node.attribute(name).and_then(|text| text.parse().ok()).unwrap();
            (number("x"), number("y"))
        })
        .collect();
    assert_eq!(places.len(), 10);
    for (i, a) in places.iter().enumerate() {
        for b in &places[i + 1..] {
            assert!((a.0 - b.0).abs().max((a.1 - b.1).abs()) > 6.0, "{a:?} {b:?}");
        }
    }
}

#[test]
fn plans_of_nothing_and_of_no_lot_are_drawn() {
    let check = |text: &str| {
        let sample = Sample::of(text);
        let svg = drawing::plan(&sample.plan, &sample.site, Style::Metres);
        assert!(roxmltree::Document::parse(&svg).is_ok(), "{svg}");
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
    };
    check("[site]\nname = \"Bare\"\nunits = \"m\"\n");
    check(
        "[site]\nname = \"Tree\"\nunits = \"m\"\n[[feature]]\nid = \"oak\"\nkind = \"tree\"\nstatus = \"existing\"\nat = [1, 1]\n",
    );
    check(
        "[site]\nname = \"Wide\"\nunits = \"m\"\n[[feature]]\nid = \"rail\"\nkind = \"fence\"\nstatus = \"existing\"\nline = [[0, 0], [9000, 1]]\n",
    );
}

/// The names on a full sheet: none lies over another, and what is long and upright is named upright.
#[test]
fn names_do_not_overlap() {
    let sample = Sample::of(include_str!("../../../examples/wren-corner.toml"));
    let svg = drawing::plan(&sample.plan, &sample.site, Style::DecimalFeet);
    let document = roxmltree::Document::parse(&svg).unwrap_or_else(|error| panic!("{error}"));
    let mut names: Vec<(String, [f64; 4])> = Vec::new();
    for node in document.descendants().filter(|node| node.has_tag_name("text")) {
        let class = node.attribute("class").unwrap_or_default();
        if !class.starts_with("label") || class.contains("line-name") {
            continue;
        }
        let number = |name| node.attribute(name).and_then(|text| text.parse::<f64>().ok()).unwrap();
        let text = node.text().unwrap_or_default().to_owned();
        let size = if class.contains("small") { 2.0 } else { 2.4 };
        // Half of a narrow letter: wider boxes would be stricter than the drawing's own guess.
        let (long, high) = (text.chars().count() as f64 * size * 0.25, size * 0.5);
        let turn = node
            .attribute("transform")
            .and_then(|t| t.strip_prefix("rotate(")?.split(' ').next()?.parse().ok());
        let (sin, cos) = libm::sincos(turn.unwrap_or(0.0_f64).to_radians());
        let (wide, tall) = (cos.abs() * long + sin.abs() * high, sin.abs() * long + cos.abs() * high);
        let (x, y) = (number("x"), number("y"));
        names.push((text, [x - wide, x + wide, y - tall, y + tall]));
    }
    for expected in
        ["house", "garage", "shed", "patio", "deck", "drive", "front walk", "oak", "maple", "rear easement"]
    {
        assert_eq!(names.iter().filter(|(name, _)| name == expected).count(), 1, "{expected}");
    }
    for (i, (a, [al, ar, at, ab])) in names.iter().enumerate() {
        for (b, [bl, br, bt, bb]) in &names[i + 1..] {
            assert!(ar <= bl || br <= al || ab <= bt || bb <= at, "{a} lies over {b}");
        }
    }
}
