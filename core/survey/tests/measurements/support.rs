//! Reading a plan and looking at what became of it.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use groundrule_plan::{Plan, Remark, Source, read_plan};
use groundrule_survey::{Layout, Point, SourceId, resolve};

/// Three exact points, and a class of standard uncertainty 0.02 m: its plus-or-minus is 1.959964 times that.
pub(crate) const HEAD: &str = r#"
[site]
name = "Plot 3, Tern Hollow"
units = "m"
north = "up"
by = "t02"

[accuracy]
t02 = { plus_minus = "0.0391992796908011 m", of_each = "length" }
p02 = { plus_minus = "0.0391992796908011 m", of_each = "position" }

[points]
a = { at = [0, 0], by = "design" }
b = { at = [10, 0], by = "design" }
d = { at = [0, 10], by = "design" }
"#;

pub(crate) fn plan(text: &str) -> Plan {
    let source = Source { name: "test.toml".to_owned(), text: text.into() };
    read_plan(&source).unwrap_or_else(|faults| panic!("{text}\n{faults:#?}"))
}

/// What became of a whole plan, but for the fronts of its lots, which no plan here says and no measurement tells.
#[track_caller]
pub(crate) fn whole(text: &str) -> (Layout, Vec<Remark>) {
    let (layout, mut remarks) = resolve(&plan(text)).unwrap_or_else(|faults| panic!("{text}\n{faults:#?}"));
    remarks.retain(|remark| remark.code != "data::no-front");
    (layout, remarks)
}

/// What became of a plan with the usual head.
#[track_caller]
pub(crate) fn made(rest: &str) -> (Layout, Vec<Remark>) {
    whole(&format!("{HEAD}{rest}"))
}

pub(crate) fn named<'a>(layout: &'a Layout, name: &str) -> &'a Point {
    layout.named.get(name).unwrap_or_else(|| panic!("no {name} among {:?}", layout.named.keys()))
}

/// The position of a point, in metres.
pub(crate) fn at(layout: &Layout, name: &str) -> (f64, f64) {
    let point = named(layout, name);
    (point.at.x.metres(), point.at.y.metres())
}

fn told(remarks: &[Remark]) -> String {
    remarks.iter().fold(String::new(), |mut all, remark| {
        let _ = writeln!(all, "{}: {} {}", remark.code, remark.message, remark.help.as_deref().unwrap_or(""));
        all
    })
}

#[track_caller]
fn look(layout: &Layout, remarks: &[Remark], expected: &[(&str, f64, f64)], codes: &[&str]) {
    let mut found: Vec<&str> = remarks.iter().map(|remark| remark.code).collect();
    found.sort_unstable();
    assert_eq!(found, codes, "{}", told(remarks));
    for (name, x, y) in expected {
        let place = at(layout, name);
        let off = libm::hypot(place.0 - x, place.1 - y);
        assert!(off < 1e-7, "{name} is at {place:?}, not ({x}, {y})\n{}", told(remarks));
    }
}

/// Where the points of a plan with the usual head are, and the codes of all findings, in order of the alphabet.
#[track_caller]
pub(crate) fn check(rest: &str, expected: &[(&str, f64, f64)], codes: &[&str]) {
    let (layout, remarks) = made(rest);
    look(&layout, &remarks, expected, codes);
}

/// The same for a plan with a head of its own.
#[track_caller]
pub(crate) fn check_whole(text: &str, expected: &[(&str, f64, f64)], codes: &[&str]) {
    let (layout, remarks) = whole(text);
    look(&layout, &remarks, expected, codes);
}

/// A standard uncertainty.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Of<'a> {
    /// To the right.
    X(&'a str),
    /// Up.
    Y(&'a str),
    /// Of a distance.
    D(&'a str, &'a str),
}

pub(crate) fn uncertainty(layout: &Layout, of: Of<'_>) -> f64 {
    let mut moves: BTreeMap<SourceId, f64> = BTreeMap::new();
    let mut add = |name: &str, (x, y): (f64, f64)| {
        for term in named(layout, name).error.terms() {
            *moves.entry(term.source).or_default() += x * term.x.metres() + y * term.y.metres();
        }
    };
    match of {
        Of::X(name) => add(name, (1.0, 0.0)),
        Of::Y(name) => add(name, (0.0, 1.0)),
        Of::D(from, to) => {
            let (p, q) = (at(layout, from), at(layout, to));
            let length = libm::hypot(q.0 - p.0, q.1 - p.1);
            let along = ((q.0 - p.0) / length, (q.1 - p.1) / length);
            add(to, along);
            add(from, (-along.0, -along.1));
        }
    }
    moves.values().map(|by| by * by).sum::<f64>().sqrt()
}

/// How well a plan with the usual head knows its points: standard uncertainties in metres, to within a millionth.
#[track_caller]
pub(crate) fn check_spread(rest: &str, expected: &[(Of<'_>, f64)]) {
    let (layout, remarks) = made(rest);
    for (of, sigma) in expected {
        let found = uncertainty(&layout, *of);
        assert!(
            (found - sigma).abs() < 1e-7 + 1e-6 * sigma,
            "{of:?}: {found}, not {sigma}\n{}",
            told(&remarks)
        );
    }
}
