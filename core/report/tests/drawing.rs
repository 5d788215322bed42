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
