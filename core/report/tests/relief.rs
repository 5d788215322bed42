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

#[test]
fn levels_view() {
    let sample = Sample::of(include_str!("../../plan/tests/valid/levels.toml"));
    insta::assert_snapshot!("levels.svg", drawing::plan(&sample.plan, &sample.site, Style::Metres));
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
    insta::assert_snapshot!(
        "levels-section.svg",
        section(
            &Sample::of(include_str!("../../plan/tests/valid/levels.toml")),
            &["lot.sw", "lot.ne"],
            Style::Metres
        )
    );
}
