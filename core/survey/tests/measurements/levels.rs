//! Heights by level.

use groundrule_survey::Layout;

use crate::support::made;

fn height(layout: &Layout, name: &str) -> (f64, f64) {
    let height =
        layout.heights.get(name).unwrap_or_else(|| panic!("no height of {name}: {:?}", layout.heights));
    let sigma = height.error.iter().map(|(_, by)| by.metres() * by.metres()).sum::<f64>().sqrt();
    (height.height.metres(), sigma)
}

/// Heights with their standard uncertainties, and the codes of all findings.
#[track_caller]
fn check(rest: &str, expected: &[(&str, f64, f64)], codes: &[&str]) {
    let (layout, remarks) = made(rest);
    let mut found: Vec<&str> = remarks.iter().map(|remark| remark.code).collect();
    found.sort_unstable();
    assert_eq!(found, codes, "{remarks:#?}");
    for (name, metres, sigma) in expected {
        let (at, off) = height(&layout, name);
        assert!((at - metres).abs() < 1e-9 && (off - sigma).abs() < 1e-9, "{name}: {at} +- {off}");
    }
}

const BENCHMARK: &str = "[[level]]\npoint = 'bm'\nheight = '30 m'\nby = 'design'\n";

#[test]
fn heights_and_falls() {
    let root = 2.0_f64.sqrt();
    check("[[level]]\npoint = 'a'\nheight = '30 m'\n", &[("a", 30.0, 0.02)], &[]);
    check(
        &format!(
            "{BENCHMARK}[[level]]\nfrom = 'bm'\nto = 'a'\nfall = '0.5 m'\n[[level]]\nfrom = 'a'\nto = 'b'\nrise = '0.2 m'\n"
        ),
        &[("bm", 30.0, 0.0), ("a", 29.5, 0.02), ("b", 29.7, 0.02 * root)],
        &[],
    );
    // A slope over the distance between the points, and over a run read with it.
    check(
        "[[level]]\npoint = 'a'\nheight = '30 m'\nby = 'design'\n[[level]]\nfrom = 'a'\nto = 'b'\nslope = '2 %'\n",
        &[("b", 29.8, 0.02)],
        &[],
    );
    check(
        "[[level]]\npoint = 'a'\nheight = '30 m'\nby = 'design'\n[[level]]\nfrom = 'a'\nto = 'd'\nslope = '2 %'\nrun = '5 m'\n",
        &[("d", 29.9, 0.02)],
        &[],
    );
}

#[test]
fn a_run_of_sights() {
    let root = 2.0_f64.sqrt();
    let text = format!(
        "{BENCHMARK}[[level_run]]\nsights = [\n  {{ at = 'bm', back = '1.50 m' }},\n  {{ at = 'tp', fore = '1.00 m', back = '2.00 m' }},\n\
         \x20 {{ at = 'a', fore = '0.80 m' }},\n  {{ at = 'b', fore = '1.20 m' }},\n]\n"
    );
    // The accuracy is that of a difference of two sights.
    check(&text, &[("tp", 30.5, 0.02), ("a", 31.7, 0.02 * root), ("b", 31.3, 0.02 * root)], &[]);
    // Back to the benchmark, and by 0.02 off: every reading takes its quarter.
    let closed = "[[level_run]]\nsights = [\n  { at = 'bm', back = '1.50 m' },\n  { at = 'tp', fore = '1.00 m', back = '1.00 m' },\n\
                  \x20 { at = 'bm', fore = '1.52 m' },\n]\n";
    check(&format!("{BENCHMARK}{closed}"), &[("bm", 30.0, 0.0), ("tp", 30.51, 0.02 / root)], &[]);
    let slip = closed.replace("1.52", "1.92");
    check(&format!("{BENCHMARK}{slip}"), &[], &["data::suspect-level"]);
}

#[test]
fn what_is_lacking() {
    check(
        "[[level]]\nfrom = 'a'\nto = 'b'\nfall = '0.5 m'\n",
        &[("a", 0.0, 0.0), ("b", -0.5, 0.02)],
        &["data::no-benchmark"],
    );
    // What hangs on a benchmark keeps its height, whatever else hangs on nothing.
    let text = format!(
        "{BENCHMARK}[[level]]\nfrom = 'bm'\nto = 'a'\nfall = '0.5 m'\n[[level]]\nfrom = 'b'\nto = 'd'\nfall = '0.5 m'\n"
    );
    check(&text, &[("a", 29.5, 0.02)], &["data::level-not-joined"]);
    check(
        "[points.p]\nnear = [3, 4]\n[[level]]\npoint = 'a'\nheight = '30 m'\nby = 'design'\n[[level]]\nfrom = 'a'\nto = 'p'\nslope = '2 %'\n",
        &[("a", 30.0, 0.0)],
        &["data::slope-without-run"],
    );
    // Two exact heights of one point: the first stays.
    check(
        &format!("{BENCHMARK}[[level]]\npoint = 'bm'\nheight = '31 m'\nby = 'design'\n"),
        &[("bm", 30.0, 0.0)],
        &["data::contradiction"],
    );
}
