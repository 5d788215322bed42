//! Required setbacks and the ground they leave, in every output.

#![allow(clippy::panic, clippy::unwrap_used, reason = "a helper stops its test")]

mod common;

use common::{HERON_LANE, Sample};
use groundrule_packs::RowId;
use groundrule_plan::Name;
use groundrule_report::{drawing, html, json, terminal};
use groundrule_review::{Buildable, Setback, Shown};
use groundrule_site::{FeatureId, Measured, Need};
use groundrule_units::Length;

/// The sample lot of 60 by 90 ft with 20 ft at the front, 5 at the sides and 10 at the rear.
fn sample() -> Sample {
    let mut sample = Sample::of(HERON_LANE);
    let lot = sample.site.lots().next().unwrap();
    let depths = [20.0, 5.0, 10.0, 5.0].map(|feet| Measured::exact(Length::from_feet(feet)));
    let lines: Vec<FeatureId> = sample.site.lines_of(lot).collect();
    let setbacks: Vec<(FeatureId, Measured)> = lines.into_iter().zip(depths).collect();
    let left = sample.site.buildable(lot, &setbacks);
    let shown = |amount: &Measured| Shown { value: amount.value(), spread: amount.spread() };
    let setback = |((line, depth), paths): (&(FeatureId, Measured), Vec<_>)| {
        let feature = sample.site.feature(*line).unwrap();
        Setback {
            line: *line,
            name: feature.id.clone(),
            called: feature.title.clone(),
            depth: shown(depth),
            rule: RowId("yard".to_owned()),
            pack: "tern-hollow".into(),
            title: "Yard".into(),
            assumed: feature.id.0 == "lot.ne-nw",
            paths,
        }
    };
    let buildable = Buildable {
        lot,
        name: Name("lot".to_owned()),
        setbacks: setbacks.iter().zip(left.lines).map(setback).collect(),
        area: Some(shown(&left.area)),
        needs: Vec::new(),
        regions: left.area.marks,
    };
    sample.review.buildable = vec![buildable];
    sample
}

#[test]
fn it_is_drawn() {
    let svg = drawing::review(&sample().report());
    let document = roxmltree::Document::parse(&svg).unwrap_or_else(|error| panic!("{error}: {svg}"));
    let count =
        |class: &str| document.descendants().filter(|node| node.attribute("class") == Some(class)).count();
    // One in the legend.
    assert_eq!((count("buildable"), count("setback")), (1, 5));
    let texts: Vec<&str> = document.descendants().filter_map(|node| node.text()).map(str::trim).collect();
    for text in ["YARD 20'-0\"", "YARD 10'-0\"", "BUILDABLE AREA 3,000 sq ft", "required setback"] {
        assert!(texts.contains(&text), "{text} is not among {texts:?}");
    }
}

#[test]
fn it_is_listed() {
    let sample = sample();
    let text = anstream::adapter::strip_str(&terminal::review(&sample.report(), 80, false)).to_string();
    let from = text.find("Buildable area").unwrap_or_else(|| panic!("{text}"));
    let until = text[from..].find("Cautions").map_or(text.len(), |at| from + at);
    insta::assert_snapshot!(&text[from..until].trim_end());
    let page = html::page(&sample.report());
    assert!(page.contains("Buildable area (1)") && page.contains("3,000 sq ft"));
}

#[test]
fn it_is_in_the_data() {
    let data: serde_json::Value = serde_json::from_str(&json::v1::reports(&[sample().report()])).unwrap();
    let lot = &data["plans"][0]["buildable"][0];
    let area = lot["area"]["value"].as_f64().unwrap();
    assert!((area - 3000.0 * 0.3048 * 0.3048).abs() < 1e-6, "{lot:#}");
    assert_eq!(lot["setbacks"].as_array().map(Vec::len), Some(4));
    assert_eq!(lot["setbacks"][2]["assumed"], true);
    assert_eq!(lot["setbacks"][0]["paths"][0].as_array().map(Vec::len), Some(2));
    assert_eq!(lot["regions"][0]["ring"].as_array().map(Vec::len), Some(4));
}

#[test]
fn what_is_lacking_is_said() {
    let mut sample = sample();
    let lot = &mut sample.review.buildable[0];
    lot.area = None;
    lot.needs = vec![Need { what: "the height of shed".to_owned(), how: "State it.".to_owned() }];
    let text = anstream::adapter::strip_str(&terminal::review(&sample.report(), 80, false)).to_string();
    assert!(text.contains("lot  not known without the height of shed"), "{text}");
}
