//! The ground on the drawing.

#![allow(clippy::panic, clippy::unwrap_used, reason = "a drawing that is none ends its test")]

mod common;

use common::Sample;
use groundrule_report::drawing;
use groundrule_units::Style;

const KESTREL_BANK: &str = include_str!("data/kestrel-bank.toml");

#[test]
fn a_plan_of_the_ground_as_svg() {
    let sample = Sample::of(KESTREL_BANK);
    insta::assert_snapshot!(
        "kestrel-bank.svg",
        drawing::plan(&sample.plan, &sample.site, Style::DecimalFeet)
    );
}

fn section(sample: &Sample, line: &[&str], style: Style) -> String {
    let path: Vec<_> = match line {
        [one] => match &sample.site.feature(sample.site.find(one).unwrap()).unwrap().shape {
            groundrule_survey::Shape::Line { path, .. } => path.iter().map(|point| point.at).collect(),
            _ => panic!("{one} is no line"),
        },
        points => points.iter().map(|name| sample.layout.named[*name].at).collect(),
    };
    let section = sample.site.section(&path).unwrap();
    let view = groundrule_report::section::View {
        plan: &sample.plan,
        site: &sample.site,
        section: &section,
        name: &line.join(" to "),
        ends: ("A", "A′"),
        style,
    };
    groundrule_report::section::svg(&view)
}

#[test]
fn a_section_as_svg() {
    let sample = Sample::of(KESTREL_BANK);
    insta::assert_snapshot!("kestrel-bank-section.svg", section(&sample, &["a-a"], Style::DecimalFeet));
}

/// Every text with its box on the paper, half a narrow letter wide to each side.
fn texts(svg: &str, below: f64) -> Vec<(String, [f64; 4])> {
    let document = roxmltree::Document::parse(svg).unwrap_or_else(|error| panic!("{error}: {svg}"));
    let texts = document.descendants().filter(|node| node.has_tag_name("text"));
    let boxed = texts.filter_map(|node| {
        let number = |name| node.attribute(name).and_then(|text| text.parse::<f64>().ok());
        let (x, y) = (number("x")?, number("y")?);
        let text = node.text()?.to_owned();
        let class = node.attribute("class")?;
        // Titles and notes of the strip start at their place; they are laid out in rows.
        if y > below || ["title", "note"].contains(&class) {
            return None;
        }
        let turn = node
            .attribute("transform")
            .and_then(|t| t.strip_prefix("rotate(")?.split(' ').next()?.parse().ok());
        let (sin, cos) = libm::sincos(turn.unwrap_or(0.0_f64).to_radians());
        let (long, high) = (text.chars().count() as f64 * 1.8 * 0.24, 0.8);
        let (wide, tall) = (cos.abs() * long + sin.abs() * high, sin.abs() * long + cos.abs() * high);
        Some((text, [x - wide, x + wide, y - tall, y + tall]))
    });
    boxed.collect()
}

#[test]
fn no_text_lies_over_another() {
    let check = |svg: &str, below: f64| {
        let texts = texts(svg, below);
        assert!(texts.len() > 30, "{texts:?}");
        for (i, (a, [al, ar, at, ab])) in texts.iter().enumerate() {
            for (b, [bl, br, bt, bb]) in &texts[i + 1..] {
                assert!(ar <= bl || br <= al || ab <= bt || bb <= at, "{a} lies over {b}");
            }
        }
    };
    let sample = Sample::of(KESTREL_BANK);
    check(&drawing::plan(&sample.plan, &sample.site, Style::DecimalFeet), 195.0);
    check(&section(&sample, &["a-a"], Style::DecimalFeet), 165.0);
}

/// What is on the sheet, by class and by word; a plan without levels has none of it.
#[test]
fn the_ground_is_told_in_words_and_figures() {
    let sample = Sample::of(KESTREL_BANK);
    let svg = drawing::plan(&sample.plan, &sample.site, Style::DecimalFeet);
    let document = roxmltree::Document::parse(&svg).unwrap();
    let words: Vec<&str> = document.descendants().filter_map(|node| node.text()).collect();
    // Read off the plan: levels as stated, the hollow from 96.35 to its rim at 96.90.
    for expected in [
        "FL 98.30",
        "99.38",
        "BW 98.90",
        "105.20",
        "96.90",
        "LP 96.35",
        "0.55 ft deep",
        "spills here",
        "100",
        "105",
    ] {
        assert!(words.contains(&expected), "{expected}: {words:?}");
    }
    for expected in ["Contours every 1 ft, heavier every 5 ft", "100.00 on the hydrant", "no topographic"] {
        assert!(words.iter().any(|text| text.contains(expected)), "{expected}");
    }
    let count = |class: &str| {
        document.descendants().filter(|node| node.attribute("class").is_some_and(|it| it == class)).count()
    };
    for class in [
        "contour",
        "contour heavy",
        "contour new",
        "contour new heavy",
        "hachure",
        "hollow",
        "hollow-tick",
        "fall",
    ] {
        assert!(count(class) > 0, "{class}");
    }
    // Proposed levels are boxed, and no others.
    assert_eq!(count("spot-box"), count("spot-figure new"));
    let metric = drawing::plan(&sample.plan, &sample.site, Style::Metres);
    assert!(
        metric.contains("Contours every 0.5 m, heavier every 2.5 m") && metric.contains(">30.29<"),
        "{metric}"
    );

    let bare = Sample::of(common::HERON_LANE);
    let svg = drawing::plan(&bare.plan, &bare.site, Style::DecimalFeet);
    assert!(!svg.contains("contour") && !svg.contains("relief") && !svg.contains("hollow"));
}

#[test]
fn a_section_tells_floors_walls_earth_and_scales() {
    let sample = Sample::of(KESTREL_BANK);
    let check = |line: &[&str], style: Style, expected: &[&str]| {
        let svg = section(&sample, line, style);
        let document = roxmltree::Document::parse(&svg).unwrap_or_else(|error| panic!("{error}: {svg}"));
        let words: Vec<&str> = document.descendants().filter_map(|node| node.text()).collect();
        for text in expected {
            assert!(words.iter().any(|word| word.contains(text)), "{text}: {words:?}");
        }
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
    };
    let feet: &[&str] = &[
        "Section a-a",
        "FF 100.40",
        "wall, TW 102.00",
        "front lot line",
        "rear lot line",
        "heights drawn 2 times",
        "C 2.",
        "F 0.4",
        "existing",
        "proposed",
        "licensed engineer",
        "100.00 on the hydrant",
    ];
    check(&["a-a"], Style::DecimalFeet, feet);
    check(&["a-a"], Style::Metres, &["FF 30.60", "wall, TW 31.09", "station, m", "1:200 along"]);
    // The oak has no stated level and is told by its name; a line with a bend goes on behind it.
    check(&["lot.sw", "lot.nw"], Style::DecimalFeet, &["lot line", "Section lot.sw to lot.nw"]);
    check(&["house.nw", "lot.nw", "lot.ne"], Style::DecimalFeet, &["oak"]);
    // A line does not cross itself, and what is written of its earth stays between its ends.
    let svg = section(&sample, &["swale"], Style::DecimalFeet);
    assert!(!svg.contains(">swale<"), "{svg}");
    let (_, [left, ..]) = texts(&svg, 165.0).into_iter().find(|(text, _)| text.starts_with("C ")).unwrap();
    assert!(left > 48.0, "{left}");
}

/// Without levels, or beside them all, there is no section but what to take for one.
#[test]
fn what_a_section_needs() {
    let at = |x: f64, y: f64| groundrule_survey::Position {
        x: groundrule_units::Length::from_feet(x),
        y: groundrule_units::Length::from_feet(y),
    };
    let check = |text: &str, what: &str, how: &str| {
        let need = Sample::of(text).site.section(&[at(900.0, 0.0), at(950.0, 10.0)]).unwrap_err();
        assert!(need.what.contains(what) && need.how.contains(how), "{need:?}");
    };
    check(common::HERON_LANE, "levels of the existing ground", "at least three");
    check(KESTREL_BANK, "along this line", "beyond both of its ends");
}
