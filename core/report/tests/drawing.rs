//! The drawing.

#![allow(clippy::panic, reason = "a drawing that is none ends its test")]

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

fn parsed(svg: &str) -> roxmltree::Document<'_> {
    roxmltree::Document::parse(svg).unwrap_or_else(|error| panic!("{error}: {svg}"))
}

fn with_class<'a>(document: &'a roxmltree::Document<'_>, class: &str) -> Vec<roxmltree::Node<'a, 'a>> {
    document.descendants().filter(|node| node.attribute("class") == Some(class)).collect()
}

/// Error figures stand at every corner that errs, true to scale or by a factor that the legend says; without them
/// nothing of the drawing changes.
#[test]
fn error_figures_on_request() {
    let check = |accuracy: &str, words: &str, half_mm: f64| {
        let sample = Sample::of(&HERON_LANE.replace("tape = \"2 in\"", &format!("tape = \"{accuracy}\"")));
        let style = Style::FeetInches;
        let svg = drawing::plan_with_errors(&sample.plan, &sample.layout, &sample.site, style);
        let document = parsed(&svg);
        let texts: Vec<&str> = document.descendants().filter_map(|node| node.text()).collect();
        assert!(texts.contains(&words), "{words}: {texts:?}");
        // The lot's four corners, four of house and hen house each, the drain, the ends of path, gate and fence, the
        // oak, and one in the legend, less two of the drain that are the lot's; the shed is proposed and exact.
        assert_eq!(with_class(&document, "error-figure").len(), 4 + 4 + 4 + 4 + 2 + 2 + 2 + 1 + 1 - 2);
        let axis = with_class(&document, "error-axis")[0].attribute("d").unwrap().to_owned();
        let xs: Vec<f64> = axis[1..].split(['L', ' ']).step_by(2).map(|x| x.parse().unwrap()).collect();
        assert!(((xs[1] - xs[0]).abs() / 2.0 - half_mm).abs() < 0.011, "{axis}");
        assert!(texts.iter().any(|text| text.contains("LOT LINE") && text.contains('±')), "{texts:?}");
    };
    // 2.447747 / 1.959964 of the plus-or-minus, at 1:192: 1 in is 0.1323 mm on paper.
    check("2 in", "95 % error, drawn 10 times", 10.0 * 2.0 * 0.132_292 * 1.248_873);
    check("3 ft", "95 % error, to scale", 36.0 * 0.132_292 * 1.248_873);
    let sample = Sample::of(HERON_LANE);
    assert!(!drawing::plan(&sample.plan, &sample.site, Style::FeetInches).contains("error"));
}

/// A finding on the data is drawn at its place with its number, as those on rules are.
#[test]
fn findings_on_the_data_are_at_their_place() {
    let sample = Sample::reviewed();
    let svg = drawing::review(&sample.report());
    let document = parsed(&svg);
    let link = document.descendants().find(|node| node.attribute("id") == Some("m9")).unwrap();
    let leader = link.children().find(|node| node.attribute("class") == Some("finding-leader"));
    let d = leader.unwrap().attribute("d").unwrap().to_owned();
    let spots: Vec<String> = with_class(&document, "dimension")
        .iter()
        .filter(|node| node.has_tag_name("circle"))
        .map(|node| format!("M{} {}L", node.attribute("cx").unwrap(), node.attribute("cy").unwrap()))
        .collect();
    assert!(spots.iter().any(|spot| d.starts_with(spot)), "{d} does not start at one of {spots:?}");
}
