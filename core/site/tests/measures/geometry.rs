//! Values of every measure against closed forms: `data/geometry.json`.

use groundrule_survey::Shape;
use serde_json::Value;

use crate::sheet::{Sheet, close, metres};

fn pair(value: &Value) -> [f64; 2] {
    [number(&value[0]), number(&value[1])]
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn list(value: &Value) -> Vec<[f64; 2]> {
    value.as_array().map(|all| all.iter().map(pair).collect()).unwrap_or_default()
}

fn shape(sheet: &mut Sheet, drawn: &Value) -> Shape {
    if let Some(ring) = drawn.get("outline") {
        let holes = drawn.get("holes").and_then(Value::as_array).map(Vec::as_slice).unwrap_or_default();
        let holes = holes.iter().map(|hole| sheet.ring(&list(hole), 0.0)).collect();
        Shape::Outline { ring: sheet.ring(&list(ring), 0.0), holes }
    } else if let Some(path) = drawn.get("line") {
        let width = drawn.get("width").map_or(0.0, number);
        Shape::Line { path: sheet.ring(&list(path), 0.0), width: metres(width) }
    } else if let Some(disc) = drawn.get("disc") {
        let [x, y] = pair(disc);
        Shape::Disc { centre: sheet.own(x, y, 0.0), radius: metres(number(&disc[2])) }
    } else {
        let [x, y] = pair(&drawn["spot"]);
        Shape::Spot(sheet.own(x, y, 0.0))
    }
}

fn check(case: &Value) {
    let mut sheet = Sheet::new();
    for (i, drawn) in case["shapes"].as_array().into_iter().flatten().enumerate() {
        let shape = shape(&mut sheet, drawn);
        sheet.add(["first", "second"][i], shape);
    }
    let built = sheet.build();
    let (first, second) = (built.id("first"), || built.id("second"));
    let site = &built.site;
    let measured = match case["measure"].as_str() {
        Some("area") => vec![site.area(first)],
        Some("length") => vec![site.length(first)],
        Some("width") => vec![site.drawn_width(first)],
        Some("distance") => vec![site.distance(first, second()), site.distance(second(), first)],
        Some("clearance") => vec![site.clearance(first, second()), site.clearance(second(), first)],
        Some("overlap") => vec![site.overlap(first, second()), site.overlap(second(), first)],
        Some("covered") => {
            vec![site.covered(&[first, second()], None), site.covered(&[second(), first], None)]
        }
        other => panic!("{other:?} is no measure"),
    };
    for shown in measured {
        assert!(shown.needs.is_empty(), "{}: {:?}", case["id"], shown.needs);
        close(
            &format!("{} {}", case["id"], case["what"]),
            shown.value().si(),
            number(&case["expect"]),
            number(&case["tol"]),
        );
    }
}

#[test]
fn every_measure_agrees_with_its_closed_form() {
    let file: Value = serde_json::from_str(include_str!("data/geometry.json")).expect("the file is JSON");
    let cases = file["cases"].as_array().expect("a list of cases");
    assert_eq!(cases.len(), 41, "a case was lost");
    cases.iter().for_each(check);
}
