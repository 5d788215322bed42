//! The ground on the drawing.

#![allow(clippy::panic, reason = "a drawing that is none ends its test")]

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
