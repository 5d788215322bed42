//! Propagation of errors and decision rules against published examples, through the project's own code.
//!
//! `data/uncertainty.json` holds the figures with their sources. Left out, because the project has no code for it:
//! global consumer's and producer's risk (JCGM 106, 9.5), Student factors and effective degrees of freedom
//! (GUM, G.4; every plus-or-minus of a plan is taken as well known), the joint probability of two requirements,
//! and facets of a terrain.

#![allow(clippy::expect_used, clippy::panic, reason = "a test ends where something it needs is not there")]

use std::sync::Arc;

use groundrule_packs::read_pack;
use groundrule_plan::{KindTree, Plan, Source, read_plan};
use groundrule_review::{
    CheckRunner, Finding, Inputs, Level, Options, conformity, conformity_between, quantile, review,
};
use groundrule_sandbox::{Answer, Blame, CheckInfo, Reading, Task};
use groundrule_site::{Measured, Site, Terms};
use groundrule_survey::{ErrorTerm, ErrorTerms, Layout, Point, Position, Shape, SourceId, resolve};
use groundrule_units::{Dimension, Length, Quantity, Ratio, Style};
use serde_json::Value;

fn data(section: &str) -> Value {
    let all: Value = serde_json::from_str(include_str!("../data/uncertainty.json")).expect("it is JSON");
    all.pointer(&format!("/{section}")).unwrap_or_else(|| panic!("no {section}")).clone()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().expect("a list").iter().map(number).collect()
}

fn close(what: &str, found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found} is not {expected} within {tolerance:e}");
}

fn plain(value: f64) -> Quantity {
    Quantity::new(Dimension::Ratio, value)
}

/// The mean of readings, each reading a source of its own: sources in common give the correlation of the means.
fn mean(readings: &[f64], first: u32) -> Measured {
    let n = readings.len() as f64;
    let mean = readings.iter().sum::<f64>() / n;
    let term = |(i, x): (u32, &f64)| (SourceId(i), (x - mean) / libm::sqrt(n * (n - 1.0)));
    Measured::new(plain(mean), (first..).zip(readings).map(term).collect::<Terms>())
}

fn correlation(a: &Measured, b: &Measured) -> f64 {
    a.covariance(b) / (a.spread().si() * b.spread().si())
}

/// Resistance, reactance and impedance from voltage, current and phase. The project takes no cosine of an amount,
/// so those two are put together from its own scaling and adding, to first order.
fn impedance(v: &Measured, i: &Measured, phi: &Measured) -> [Measured; 3] {
    let z = v.ratio(i).expect("the current is not zero");
    let (size, (sin, cos)) = (z.value().si(), libm::sincos(phi.value().si()));
    let part = |of_z: f64, of_phi: f64| {
        let moved = phi.subtract(&Measured::exact(phi.value())).expect("both are plain");
        let scaled = |amount: &Measured, by: f64| amount.scale(Ratio::from_fraction(by));
        scaled(&z, of_z).add(&scaled(&moved, of_phi)).expect("both are plain")
    };
    [part(cos, -size * sin), part(sin, size * cos), z]
}

#[test]
fn gum_h2_with_and_without_correlation() {
    let h2 = data("gum_h2");
    let readings = |name: &str| numbers(&h2[name]);
    let (v, i, phi) = (mean(&readings("V"), 0), mean(&readings("I"), 0), mean(&readings("phi"), 0));
    for ((amount, expected), s) in [&v, &i, &phi].iter().zip(numbers(&h2["mean"])).zip(numbers(&h2["s_mean"]))
    {
        close("mean", amount.value().si(), expected, 1e-9);
        close("s", amount.spread().si(), s, 1e-12);
    }
    close("r(V,I)", correlation(&v, &i), number(&h2["r_VI"]), 1e-9);
    close("r(V,phi)", correlation(&v, &phi), number(&h2["r_Vphi"]), 1e-9);
    close("r(I,phi)", correlation(&i, &phi), number(&h2["r_Iphi"]), 1e-9);

    let [r, x, z] = impedance(&v, &i, &phi);
    for ((name, amount), u) in [("R", &r), ("X", &x), ("Z", &z)].iter().zip(numbers(&h2["u"])) {
        close(name, amount.value().si(), number(&h2[*name]), 1e-9);
        close(name, amount.spread().si(), u, 1e-9);
    }
    close("r(R,X)", correlation(&r, &x), number(&h2["r_RX"]), 1e-9);
    close("r(R,Z)", correlation(&r, &z), number(&h2["r_RZ"]), 1e-9);
    close("r(X,Z)", correlation(&x, &z), number(&h2["r_XZ"]), 1e-9);
    // As printed in table H.4: 127.732 and 0.071, 219.847 and 0.295, 254.260 and 0.236.
    for (amount, value, u) in [(&r, 127.732, 0.071), (&x, 219.847, 0.295), (&z, 254.260, 0.236)] {
        close("printed", amount.value().si(), value, 6e-4);
        close("printed", amount.spread().si(), u, 1e-3);
    }

    let apart = impedance(&v, &mean(&readings("I"), 10), &mean(&readings("phi"), 20));
    for (amount, u) in apart.iter().zip(numbers(&h2["u_if_correlation_ignored"])) {
        close("without correlation", amount.spread().si(), u, 1e-9);
    }
}

/// Features in metres whose places a test then sets by hand.
fn placed(features: &str, shapes: Vec<Shape>) -> Site {
    let text = format!("[site]\nname = \"Case\"\nunits = \"m\"\n{features}");
    let plan = plan(&text);
    let mut layout = resolved(&plan);
    layout.shapes = shapes;
    Site::build(&plan, &layout, KindTree::standard()).0
}

fn plan(text: &str) -> Plan {
    let source = Source { name: "case.toml".to_owned(), text: text.into() };
    read_plan(&source).unwrap_or_else(|faults| panic!("{faults}"))
}

fn resolved(plan: &Plan) -> Layout {
    resolve(plan).unwrap_or_else(|faults| panic!("{faults}")).0
}

/// A point with its terms, each source moving it so far in x and in y.
fn point(at: (f64, f64), terms: &[(u32, f64, f64)]) -> Point {
    let metres = Length::from_metres;
    let term = |(s, x, y): &(u32, f64, f64)| ErrorTerm { source: SourceId(*s), x: metres(*x), y: metres(*y) };
    Point {
        at: Position { x: metres(at.0), y: metres(at.1) },
        error: ErrorTerms::Sum(terms.iter().map(term).collect::<Vec<_>>().into()),
    }
}

/// Its own error in each coordinate, and a shift in common with all others.
fn shifted(at: (f64, f64), own: u32, sigma: f64, shift: f64) -> Point {
    point(at, &[(0, shift, 0.0), (1, 0.0, shift), (own, sigma, 0.0), (own + 1, 0.0, sigma)])
}

fn distance(site: &Site, a: &str, b: &str) -> (f64, f64) {
    let id = |name| site.find(name).unwrap_or_else(|| panic!("no {name}"));
    let measured = site.distance(id(a), id(b));
    (measured.value().si(), measured.spread().si())
}

const TWO_TREES: &str = "[[feature]]\nid = \"p\"\nkind = \"tree\"\nat = [1, 1]\n[[feature]]\nid = \"q\"\nkind = \"tree\"\nat = [2, 2]\n";
const TREE_AND_FENCE: &str = "[[feature]]\nid = \"p\"\nkind = \"tree\"\nat = [1, 1]\n[[feature]]\nid = \"q\"\nkind = \"fence\"\nline = [[0, 0], [20, 0]]\n";

#[test]
fn distance_of_two_points_in_common_error() {
    let case = data("propagation/distance_correlated");
    let c: Vec<Vec<f64>> = case["C"].as_array().expect("rows").iter().map(numbers).collect();
    let pair = |name: &str| (number(&case[name][0]), number(&case[name][1]));
    let u_of = |c: &[Vec<f64>]| {
        let l = cholesky(c);
        let of =
            |row: usize| (0..4).zip(0_u32..).map(|(k, s)| (s, l[row][k], l[row + 1][k])).collect::<Vec<_>>();
        let shapes = vec![Shape::Spot(point(pair("P"), &of(0))), Shape::Spot(point(pair("Q"), &of(2)))];
        distance(&placed(TWO_TREES, shapes), "p", "q")
    };
    let (d, u) = u_of(&c);
    close("d", d, number(&case["d"]), 1e-12);
    close("u", u, number(&case["u_d"]), 1e-12);
    // Within the sampling error of two million draws and the second order that first order leaves out.
    close("Monte Carlo", u, number(&case["mc_sd"]), 5e-4);
    let mut apart = c;
    for (i, j) in [(0, 2), (1, 3), (2, 0), (3, 1)] {
        apart[i][j] = 0.0;
    }
    // The source drops all covariances, those within a point too.
    for (i, j) in [(0, 1), (1, 0), (2, 3), (3, 2)] {
        apart[i][j] = 0.0;
    }
    close("independent", u_of(&apart).1, number(&case["u_if_independent"]), 1e-12);
}

/// The lower triangle whose square is a covariance matrix.
fn cholesky(c: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let n = c.len();
    let mut l = vec![vec![0.0; n]; n];
    for i in 0..n {
        for j in 0..=i {
            let sum: f64 = (0..j).map(|k| l[i][k] * l[j][k]).sum();
            l[i][j] = if i == j { libm::sqrt(c[i][i] - sum) } else { (c[i][j] - sum) / l[j][j] };
        }
    }
    l
}

#[test]
fn a_shift_in_common_cancels_and_far_ends_do_not_count() {
    let case = data("propagation/point_to_line");
    let (sigma, shift) = (number(&case["sigma"]), number(&case["common_shift"]));
    let line = |shift: f64| Shape::Line {
        path: vec![shifted((0.0, 0.0), 10, sigma, shift), shifted((20.0, 0.0), 12, sigma, shift)],
        width: Length::ZERO,
    };
    let spot = |at, shift| Shape::Spot(shifted(at, 14, sigma, shift));
    let site = placed(TREE_AND_FENCE, vec![spot((5.0, 3.0), shift), line(shift)]);
    let (d, u) = distance(&site, "p", "q");
    close("d", d, number(&case["d"]), 1e-12);
    close("u", u, number(&case["u"]), 1e-12);

    let vertex = data("propagation/point_to_vertex");
    let site = placed(TREE_AND_FENCE, vec![spot((-3.0, 4.0), 0.0), line(0.0)]);
    let (d, u) = distance(&site, "p", "q");
    close("d", d, number(&vertex["d"]), 1e-12);
    close("u", u, number(&vertex["u"]), 1e-12);
}

#[test]
fn area_of_a_rectangle() {
    let case = data("propagation/area_uncertainty");
    let sigma = number(&case["sigma_xy"]);
    let corners = case["ring"].as_array().expect("corners").iter().map(numbers);
    let ring = corners
        .zip((0..).step_by(2))
        .map(|(at, s)| point((at[0], at[1]), &[(s, sigma, 0.0), (s + 1, 0.0, sigma)]));
    let bed = "[[feature]]\nid = \"bed\"\nkind = \"bed\"\noutline = [[0, 0], [30, 0], [30, 40], [0, 40]]\n";
    let site = placed(bed, vec![Shape::Outline { ring: ring.collect(), holes: Vec::new() }]);
    let area = site.area(site.find("bed").expect("the bed"));
    close("area", area.value().si(), number(&case["area"]), 1e-9);
    close("u", area.spread().si(), number(&case["u_area"]), 1e-12);
}

#[test]
fn slope_between_two_levels() {
    let case = data("propagation/slope");
    let amount = |metres: f64, u: &str, source| {
        let length = Length::from_metres(metres);
        Measured::new(length.into(), [(SourceId(source), number(&case[u]))].into_iter().collect())
    };
    let levels = (amount(number(&case["dz"]), "u_level", 0), amount(0.0, "u_level", 1));
    let fall = levels.0.subtract(&levels.1).expect("both are lengths");
    let length = amount(number(&case["length"]), "u_length", 2);
    let slope = fall.ratio(&length).expect("it has a length");
    close("slope", slope.value().si(), number(&case["slope"]), 1e-15);
    close("u", slope.spread().si(), number(&case["u"]), 1e-12);
}

#[test]
fn plus_or_minus_is_a_95_percent_half_width() {
    for class in ["aerial_ft", "tape_ft", "survey_ft"] {
        let case = data(&format!("classes/{class}"));
        let text = format!(
            "[site]\nname = \"Case\"\nunits = \"ft\"\n[points]\na = {{ at = [1, 2], by = {{ plus_minus = \"{} ft\" }} }}\n",
            number(&case["plus_minus"])
        );
        let layout = resolved(&plan(&text));
        let terms = layout.named["a"].error.terms();
        assert_eq!(terms.len(), 2);
        close(class, terms[0].x.feet(), number(&case["u"]), 1e-9);
    }
}

#[test]
fn quantiles_and_single_items() {
    for (p, z) in data("one_sided_z").as_object().expect("a table") {
        close(p, quantile(Ratio::from_fraction(p.parse().expect("a share"))), number(z), 1e-12);
    }
    for case in data("jcgm106_examples").as_array().expect("examples") {
        let get = |name: &str| case.get(name).map(number);
        let (Some(y), Some(u), Some(pc)) = (get("y"), get("u"), get("pc")) else {
            // Guarded rejection: the spread is a share of the value, so the guard is found on the value itself.
            let v = 100.0 / (1.0 - 0.02 * quantile(Ratio::from_fraction(0.999)));
            close("guarded rejection", v, number(&case["v"]), 1e-9);
            close("its risk", conformity(100.0 - v, 0.02 * v).0.fraction(), 0.001, 1e-12);
            continue;
        };
        let room = get("TU").map(|upper| upper - y).or_else(|| get("TL").map(|lower| y - lower));
        close("one item", conformity(room.expect("a limit"), u).0.fraction(), pc, 1e-12);
    }
    for case in data("two_sided_items").as_array().expect("items") {
        let get = |name: &str| number(&case[name]);
        let found = conformity_between(get("y"), get("u"), get("TL"), get("TU"));
        close("two-sided", found.0.fraction(), get("pc"), 1e-12);
    }
    for case in data("two_sided_acceptance_limits_unit_tolerance").as_array().expect("limits") {
        let get = |name: &str| number(&case[name]);
        let u = 1.0 / (4.0 * get("Cm"));
        for limit in ["AL", "AU"] {
            close(limit, conformity_between(get(limit), u, 0.0, 1.0).0.fraction(), get("p"), 1e-9);
        }
    }
    let guards = data("guards");
    close("95 %", quantile(Ratio::from_fraction(0.95)), number(&guards["one_sided_95"]), 1e-12);
    close("97.5 %", quantile(Ratio::from_fraction(0.975)), number(&guards["one_sided_975"]), 1e-12);
    close("guard 2u", conformity(-2.0, 1.0).0.fraction(), number(&guards["risk_w_2u"]), 1e-12);
}

/// A module that measures the yard of trees to lot lines.
struct Yard([CheckInfo; 1]);

impl CheckRunner for Yard {
    fn name(&self) -> &'static str {
        "yard"
    }

    fn version(&self) -> Option<&str> {
        None
    }

    fn checks(&self) -> &[CheckInfo] {
        &self.0
    }

    fn run(&self, site: &Arc<Site>, task: &Task) -> Result<(Vec<Reading>, u64), Blame> {
        let lines = task.groups.get("lines").cloned().unwrap_or_default();
        let reading = |subject, line| Reading {
            features: vec![subject, line],
            answer: Answer::Amount(site.yard(subject, line)),
            marks: Vec::new(),
            facts: groundrule_site::Facts::new(),
        };
        let subjects = task.subjects.iter();
        Ok((subjects.flat_map(|s| lines.iter().map(move |line| reading(*s, *line))).collect(), 1))
    }
}

/// A tree so far from the west line of a lot, known with this standard uncertainty, against a limit.
fn judged(y: f64, u: f64, limit: &str) -> Finding {
    let text = format!(
        r#"
[site]
name = "Case"
units = "m"

[lot]
corners = [[0, 0], [100, 0], [100, 100], [0, 100]]
names = ["sw", "se", "ne", "nw"]
by = {{ plus_minus = "0 m" }}
sides = {{ sw-se = {{ role = "front" }}, se-ne = {{ role = "side" }}, ne-nw = {{ role = "rear" }}, nw-sw = {{ role = "street_side" }} }}

[[feature]]
id = "oak"
kind = "tree"
status = "existing"
at = [{y:.15}, 50]
by = {{ plus_minus = "{:.15} m" }}
"#,
        u * 1.959_963_984_540_054
    );
    let pack = format!(
        "[pack]\nname = \"t\"\ntitle = \"T\"\nversion = \"1.0.0\"\nagency = \"Desk\"\ninvented = true\n\n[[rule]]\nid = \"r\"\ntitle = \"R\"\nsource = \"Text\"\nwhy = \"Because.\"\nweight = \"required\"\nstanding = \"illustrative\"\nmessage = \"Short.\"\nsubject = {{ kind = \"tree\" }}\ncheck = \"yard/yard\"\nto.lines = {{ kind = \"lot-line\", role = \"street_side\" }}\nlimit = {{ {limit} }}\n"
    );
    let plan = plan(&text);
    let layout = resolved(&plan);
    let (site, _) = Site::build(&plan, &layout, KindTree::standard());
    let source = Source { name: "pack.toml".to_owned(), text: pack.as_str().into() };
    let packs = [read_pack(&source, &KindTree::standard()).unwrap_or_else(|faults| panic!("{faults}"))];
    let yard = Yard([CheckInfo {
        name: "yard".to_owned(),
        summary: String::new(),
        dimension: None,
        parameters: Vec::new(),
        groups: Vec::new(),
    }]);
    let inputs = Inputs {
        plan: &plan,
        layout: &layout,
        site: &Arc::new(site),
        remarks: Vec::new(),
        packs: &packs,
        modules: &[&yard],
        stopped: Vec::new(),
        deviations: &[],
    };
    let options = Options { level: Level::STANDARD, style: Style::Metres, date: None };
    let mut review = review(inputs, &options);
    assert!(review.tool.is_empty(), "{:#?}", review.tool);
    assert_eq!(review.findings.len(), 1, "{:#?}", review.findings);
    review.findings.remove(0)
}

/// A whole review: plus-or-minus in a plan, to a standard uncertainty, to a probability, to one of three verdicts.
#[test]
fn three_way_table_through_a_review() {
    for case in data("three_way_min").as_array().expect("rows") {
        let get = |name: &str| number(&case[name]);
        let found = judged(get("y"), get("u"), &format!("at_least = \"{} m\"", get("T")));
        let probability = found.conformity.expect("an amount has one").fraction();
        close("p", probability, get("p"), 1e-9);
        if case["note"].as_str().is_some_and(|note| note.contains("do not test the verdict")) {
            continue;
        }
        let expected = match case["verdict95"].as_str() {
            Some("meets") => "meets",
            Some("short") => "fails",
            _ => "verify",
        };
        assert_eq!(found.verdict.word(), expected, "{case}");
    }
}

#[test]
fn ranges_through_a_review() {
    for case in data("two_sided_items").as_array().expect("items") {
        let get = |name: &str| number(&case[name]);
        let limit = format!("between = [\"{} m\", \"{} m\"]", get("TL"), get("TU"));
        let found = judged(get("y"), get("u"), &limit);
        close("p", found.conformity.expect("an amount has one").fraction(), get("pc"), 1e-9);
        let expected = if get("pc") >= 0.95 {
            "meets"
        } else if get("pc") <= 0.05 {
            "fails"
        } else {
            "verify"
        };
        assert_eq!(found.verdict.word(), expected, "{case}");
    }
}
