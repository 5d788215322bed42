//! Measurement sets that no field ever gave: nothing panics, nothing runs on, and the rest still stands.

use std::fmt::Write as _;

use groundrule_plan::{Source, read_plan};
use groundrule_survey::resolve;

use crate::support::{HEAD, at, made};

/// Something that is sound by itself and must stay so.
const SOUND: &str = "[[chain]]\nread = ['a', 3, 'sound']\nalong = 'a-b'\n";

/// Resolves with whatever else is written; the sound part is where it was, the trouble is told and located.
#[track_caller]
fn check(rest: &str, codes: &[&str]) {
    let (layout, remarks) = made(&format!("{SOUND}{rest}"));
    let place = at(&layout, "sound");
    assert!(libm::hypot(place.0 - 3.0, place.1) < 1e-6, "sound is at {place:?}\n{remarks:#?}");
    let mut found: Vec<&str> = remarks.iter().map(|remark| remark.code).collect();
    found.sort_unstable();
    for code in codes {
        assert!(found.contains(code), "no {code} among {found:?}");
    }
    assert!(!codes.is_empty() || found.is_empty(), "{remarks:#?}");
    for (name, point) in &layout.named {
        assert!(
            point.at.x.metres().is_finite() && point.at.y.metres().is_finite(),
            "{name} is nowhere: {point:?}"
        );
    }
}

fn tie(from: &str) -> String {
    format!("[[tie]]\npoint = 'p'\nfrom = {{ {from} }}\nside = 'up'\n")
}

#[test]
fn wild_figures() {
    // Within reason they are told apart; beyond it they are no lengths.
    check(&tie("a = 1e5, b = 5"), &["data::ties-do-not-meet"]);
    check(&tie("a = 1e8, b = 5"), &["data::unusable-figure", "data::not-located"]);
    check(&tie("a = 1e50, b = 1e50"), &["data::unusable-figure"]);
    check(&tie("a = 1e5, b = 1e5"), &["data::weak-crossing"]);
    check(&tie("a = 1e-9, b = 5"), &["data::ties-do-not-meet"]);
    for wild in ["1e7", "1e8", "1e50"] {
        check(&format!("[[chain]]\nread = ['a', {wild}, 'p', 3, 'q', 4, 'b']\n"), &["data::unusable-figure"]);
        check(
            &format!("[[chain]]\nread = ['a', {wild}, 'p', {wild}, 'q', {wild}, 'b']\n"),
            &["data::unusable-figure"],
        );
        check(
            &format!("[[chain]]\nread = ['a', 3, 'p', 4, 'q']\nalong = 'a-b'\noverall = {wild}\n"),
            &["data::chain-does-not-add-up"],
        );
        check(&format!("[[distance]]\nfrom = 'a'\nto = 'b'\nread = {wild}\n"), &["data::unusable-figure"]);
        check(
            &format!("[[offsets]]\nalong = 'a-b'\npoints = {{ p = [{wild}, '3 m left'] }}\n"),
            &["data::unusable-figure"],
        );
        check(
            &format!(
                "[[traverse]]\nfrom = 'a'\ncalls = [{{ to = 'p', bearing = 'N 45 E', distance = {wild} }}]\n"
            ),
            &["data::unusable-figure"],
        );
        check(
            &format!(
                "[[traverse]]\nfrom = 'a'\ncalls = [{{ to = 'p', bearing = 0, distance = 9 }}, {{ to = 'a', bearing = 180, distance = {wild} }}]\n"
            ),
            &["data::loop-does-not-close"],
        );
    }
    check("[[chain]]\nread = ['a', 1e5, 'p', 3, 'q', 4, 'b']\n", &["data::suspect-reading"]);
    check("[[chain]]\nread = ['a', 0, 'p', 0, 'q', 10, 'b']\n", &[]);
    check("[[chain]]\nread = ['a', 0, 'p', 0, 'q']\n", &[]);
}

#[test]
fn points_in_one_place() {
    let same = "[points.o]\nat = [0, 0]\nby = 'design'\n";
    check(&format!("{same}{}", tie("a = 5, o = 5")), &["data::not-located"]);
    check(&format!("{same}[[chain]]\nread = ['a', 3, 'p', 2, 'o']\n"), &["data::suspect-reading"]);
    check(&format!("{same}[[chain]]\nread = ['a', 0, 'p', 0, 'o']\n"), &[]);
    check(
        &format!("{same}[[offsets]]\nalong = 'a-o'\npoints = {{ p = [1, '2 m left'] }}\n"),
        &["data::not-located"],
    );
    check(&format!("{same}[[angle]]\nat = 'a'\nfrom = 'o'\nto = 'b'\nturn = '90 deg clockwise'\n"), &[]);
    check(&format!("{same}[[fact]]\nparallel = ['a-o', 'a-b']\n"), &["data::contradiction"]);
    check(&format!("{same}[[fact]]\nright_angle = ['o', 'a', 'b']\n"), &[]);
    check(&format!("{same}[[fact]]\nstraight = ['a', 'b', 'o']\n"), &["data::contradiction"]);
    check(&format!("{same}[[distance]]\nfrom = 'a'\nto = 'o'\nread = 5\n"), &["data::suspect-reading"]);
}

#[test]
fn figures_between_points_that_have_a_place() {
    check("[[distance]]\nfrom = 'a'\nto = 'b'\nread = 10.01\n", &[]);
    check("[[distance]]\nfrom = 'a'\nto = 'b'\nread = 1e5\n", &["data::suspect-reading"]);
    check("[[distance]]\nfrom = 'a'\nto = 'b'\nread = 11\n", &["data::suspect-reading"]);
    check("[[distance]]\nfrom = 'a'\nto = 'b'\nread = 11\nby = 'design'\n", &["data::contradiction"]);
    check("[[fact]]\nequal = ['a-b', 'a-d']\n", &[]);
    check("[[fact]]\nequal = ['a-b', 'b-d']\n", &["data::contradiction"]);
}

#[test]
fn a_square_of_three_corners() {
    let text = "[[feature]]\nid = 'tri'\nkind = 'dwelling'\nstatus = 'existing'\noutline = ['a', 'tri.p', 'tri.q']\n\
                [[chain]]\nread = ['a', 4, 'tri.p']\nalong = 'a-b'\n[[chain]]\nread = ['tri.p', 3, 'tri.q']\n[[fact]]\nsquare = 'tri'\n";
    check(text, &["data::two-places-fit"]);
}

/// A chain so long that anything that grew with its square would be felt.
const MARKS: usize = 4_000;

/// Ends, and either resolves or is refused with words.
#[track_caller]
fn check_ends(text: String) {
    let source = Source { name: "test.toml".to_owned(), text: text.into() };
    match read_plan(&source) {
        Ok(plan) => {
            let resolved = resolve(&plan);
            assert!(resolved.is_ok(), "{:#?}", resolved.err());
        }
        Err(faults) => assert!(!faults.faults.is_empty()),
    }
}

#[test]
fn very_many_marks_in_one_chain() {
    let mut text = format!("{HEAD}[points.z]\nat = [10000, 0]\n[[chain]]\nread = ['a'");
    for i in 1..MARKS {
        let _ = write!(text, ", 1, 'm{i}'");
    }
    text.push_str(", 1, 'z']\n");
    check_ends(text);
}

#[test]
fn a_ladder_of_ties() {
    // Every point hangs on the two before it.
    let mut text = format!("{HEAD}[points]\n").replace("[points]\n[points]\n", "[points]\n");
    text = text.trim_end_matches("[points]\n").to_owned();
    for i in 0..500 {
        let name = |i: i32| match i {
            -2 => "a".to_owned(),
            -1 => "b".to_owned(),
            i => format!("m{i}"),
        };
        let _ = writeln!(
            text,
            "[[tie]]\npoint = 'm{i}'\nfrom = {{ {} = 10, {} = 10 }}\nside = 'up'",
            name(i - 2),
            name(i - 1)
        );
    }
    check_ends(text);
}

#[test]
fn chains_that_go_on_along_one_line() {
    // Every mark but the last is held on the line twice, exactly: once as an end, once as a beginning.
    let mut text = String::new();
    for (from, to) in [("b", "m1"), ("m1", "m2"), ("m2", "m3"), ("m3", "m4")] {
        let _ = write!(text, "[[chain]]\nread = ['{from}', 10, '{to}']\nalong = 'a-b'\n");
    }
    check(&text, &[]);
    let (layout, _) = made(&text);
    assert!((at(&layout, "m4").0 - 50.0).abs() < 1e-9);
}

#[test]
fn one_hopeless_part_leaves_the_rest() {
    let mut text = String::new();
    for i in 1..=30 {
        let _ =
            write!(text, "[[offsets]]\nalong = 'a-b'\npoints = {{ p = [5, '{i} m left'] }}\nby = 'design'\n");
    }
    check(&text, &["data::contradiction", "data::given-up"]);
}
