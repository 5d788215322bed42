//! What is wrong with measurements: every finding in a case made for it, and none beside it.

use groundrule_plan::Remark;

use crate::support::{HEAD, check, made, whole};

/// The remark of this code.
#[track_caller]
fn told(rest: &str, code: &str) -> Remark {
    let (_, remarks) = made(rest);
    let all: Vec<_> = remarks.iter().map(|remark| (remark.code, remark.message.clone())).collect();
    remarks.into_iter().find(|remark| remark.code == code).unwrap_or_else(|| panic!("no {code}: {all:#?}"))
}

/// What a finding says, where, at what text of the file, and what it advises.
#[track_caller]
fn check_told(rest: &str, code: &str, says: &[&str], spots: usize, advice: &str) {
    let remark = told(rest, code);
    for part in says {
        assert!(remark.message.contains(part), "{part:?} in {:?}", remark.message);
    }
    assert_eq!(remark.spots.len(), spots, "{remark:#?}");
    let help = remark.help.unwrap_or_default();
    assert!(help.contains(advice), "{advice:?} in {help:?}");
    let text = format!("{HEAD}{rest}");
    let at = &text[remark.span.start as usize..remark.span.end as usize];
    assert!(at.starts_with("[["), "points at {at:?}");
    assert!(!remark.about.is_empty());
}

const CHAIN: &str = "[[chain]]\nread = ['a', 3, 'p', 4, 'q', 3, 'r']\nalong = 'a-b'\n";

#[test]
fn chains() {
    // Four readings of 0.0392 leave twice that, and four times that at worst.
    for (overall, codes) in [
        ("10.00", &[][..]),
        ("10.07", &[]),
        ("10.12", &["data::chain-gap"]),
        ("9.88", &["data::chain-gap"]),
        ("10.20", &["data::chain-does-not-add-up"]),
        ("7.00", &["data::chain-does-not-add-up"]),
        ("'10.20 m (R)'", &["data::chain-does-not-add-up"]),
    ] {
        check(&format!("{CHAIN}overall = {overall}\n"), &[], codes);
    }
    // A piece counted twice or left out is among the causes.
    check_told(
        &format!("{CHAIN}overall = 14\n"),
        "data::chain-does-not-add-up",
        &["10.000 m", "14.000 m"],
        4,
        "4",
    );
}

#[test]
fn records() {
    let text = "[points.p]\nnear = [4, 4]\n[[tie]]\npoint = 'p'\nfrom = { a = 5, b = 8.06225774829855 }\n[[distance]]\nfrom = 'b'\nto = 'p'\n";
    for (read, codes) in [
        ("['8.10 m (R)', '8.06 m (M)']", &[][..]),
        ("['8.36 m (R)', '8.06 m (M)']", &["data::record-disagrees"]),
    ] {
        check(&format!("{text}read = {read}\n"), &[("p", 3.0, 4.0)][..0], codes);
    }
    check_told(
        &format!("{text}read = ['8.36 m (R)', '8.06 m (M)']\n"),
        "data::record-disagrees",
        &["8.060 m", "8.360 m", "0.300 m"],
        2,
        "surveyor",
    );
}

/// A loop on a plan whose north is up.
fn looped(last: &str) -> String {
    format!(
        "[[traverse]]\nfrom = 'a'\ncalls = [\n  {{ to = 'p', bearing = 'due north', distance = '30.00 m' }},\n  {{ to = 'q', bearing = 'due east', distance = '40.00 m' }},\n\
         \x20 {{ to = 'r', bearing = 'due south', distance = '30.00 m' }},\n  {{ to = 'a', bearing = 'due west', distance = '{last} m' }},\n]\n"
    )
}

#[test]
fn loops() {
    for (last, codes) in [
        ("40.00", &["data::closure"][..]),
        ("40.05", &["data::closure"]),
        ("40.15", &["data::misclosure"]),
        ("30.00", &["data::loop-does-not-close"]),
    ] {
        check(&looped(last), &[], codes);
    }
    for (last, says) in [
        ("40.00", "comes back to where it began, over 140.000 m"),
        ("40.05", "0.050 m from where it began, 1:2801"),
    ] {
        let (_, remarks) = made(&looped(last));
        assert!(remarks.iter().any(|remark| remark.message.contains(says)), "{remarks:#?}");
    }
    check_told(
        &looped("30.00"),
        "data::loop-does-not-close",
        &["10.000 m", "1:13", "130.000 m"],
        4,
        "with 10 dropped",
    );
    check_told(
        &looped("40.15"),
        "data::misclosure",
        &["0.150 m", "1:93", "150.150 m"][..2],
        4,
        "none is applied",
    );
}

/// `p` at (3, 4), with three more ties than it needs.
fn many_ties(first: &str) -> String {
    format!(
        "[points.e]\nat = [10, 10]\nby = 'design'\n[[tie]]\npoint = 'p'\nfrom = {{ a = {first}, b = {}, d = {}, e = {} }}\n",
        libm::hypot(7.0, 4.0),
        libm::hypot(3.0, 6.0),
        libm::hypot(7.0, 6.0)
    )
}

#[test]
fn readings_that_do_not_fit() {
    check(&many_ties("5"), &[("p", 3.0, 4.0)], &[]);
    check(&many_ties("5.03"), &[], &[]);
    check(&many_ties("6"), &[], &["data::suspect-reading"]);
    check_told(
        &many_ties("6"),
        "data::suspect-reading",
        &["a to p in `tie-p`", "off by"],
        2,
        "Measure it again",
    );
}

#[test]
fn shapes_left_free() {
    let lot = |rest: &str| {
        format!(
            "[site]\nname = 'Plot 3'\nunits = 'm'\nby = 'tape'\n[lot]\ncorners = ['sw', 'se', 'ne', 'nw']\n\
             [[chain]]\nread = ['sw', 20, 'se']\n[[chain]]\nread = ['se', 30, 'ne']\n[[chain]]\nread = ['ne', 20, 'nw']\n\
             [[chain]]\nread = ['nw', 30, 'sw']\n{rest}"
        )
    };
    let codes = |text: &str| whole(text).1.iter().map(|remark| remark.code).collect::<Vec<_>>();
    assert_eq!(codes(&lot("")), ["data::shape-assumed"]);
    let diagonal = "[[distance]]\nfrom = 'sw'\nto = 'ne'\n";
    assert_eq!(codes(&lot(&format!("{diagonal}read = 36.06\n"))), [""; 0]);
    assert_eq!(whole(&lot("")).0.assumptions.len(), 1);
    assert!(whole(&lot(&format!("{diagonal}read = 36.06\n"))).0.assumptions.is_empty(), "it is measured");
    // A lean is measured, not assumed away.
    let (layout, remarks) = whole(&lot(&format!("{diagonal}read = 38\n")));
    assert!(remarks.is_empty() && layout.assumptions.is_empty(), "{remarks:#?}");
    // More than enough: every way across and an angle.
    let more = "[[distance]]\nfrom = 'se'\nto = 'nw'\nread = 36.05\n[[angle]]\nat = 'sw'\nfrom = 'nw'\nto = 'se'\nturn = '90 deg clockwise'\n";
    assert_eq!(codes(&lot(&format!("{diagonal}read = 36.06\n{more}"))), [""; 0]);
}

#[test]
fn sides_that_cannot_meet() {
    let lot = |last: f64| {
        format!(
            "[site]\nname = 'Plot 3'\nunits = 'm'\nby = 'tape'\n[lot]\ncorners = ['sw', 'se', 'ne', 'nw']\n\
             [[chain]]\nread = ['sw', 20, 'se']\n[[chain]]\nread = ['se', 30, 'ne']\n[[chain]]\nread = ['ne', 20, 'nw']\n\
             [[chain]]\nread = ['nw', {last}, 'sw']\n"
        )
    };
    let codes = |text: &str| whole(text).1.iter().map(|remark| remark.code).collect::<Vec<_>>();
    // What is left of the shape is taken for granted, and said.
    let expected = ["data::shape-assumed", "data::shape-assumed", "data::sides-do-not-meet"];
    let mut found = codes(&lot(90.0));
    found.sort_unstable();
    assert_eq!(found, expected);
    let (layout, remarks) = whole(&lot(90.0));
    let long = remarks.iter().find(|remark| remark.code == "data::sides-do-not-meet").expect("it is told");
    let help = long.help.as_deref().unwrap_or_default();
    assert!(long.message.contains("20.000 m longer"), "{}", long.message);
    assert!(!help.is_empty() && layout.disputed.contains_key(&3), "{help} {:?}", layout.disputed);
    assert!(!codes(&lot(60.0)).contains(&"data::sides-do-not-meet"));
}

#[test]
fn points_that_are_not_located() {
    let tie = |from: &str| format!("[[tie]]\npoint = 'p'\nfrom = {{ {from} }}\n");
    for (text, codes) in [
        (tie("a = 7, b = 5"), &["data::two-places-fit"][..]),
        (tie("a = 6.5, b = 5.5, d = 9"), &[]),
        // In line, and short of it by no more than the tapes may miss.
        (tie("a = 4, b = 6"), &["data::not-located"]),
        (tie("a = 4, b = 5.98"), &["data::not-located"]),
        (tie("a = 4, b = 14.02"), &["data::not-located"]),
        (tie("a = 3, b = 4"), &["data::ties-do-not-meet"]),
        (tie("a = 3, b = 20"), &["data::ties-do-not-meet"]),
        (tie("a = 3"), &["data::not-located"]),
        // On the way along a line a mark needs no place; without one, it is named as lacking.
        ("[[chain]]\nread = ['a', 3, 'p', 7, 'b']\nabreast = true\n".to_owned(), &[]),
        (
            "[[feature]]\nid = 'p'\nkind = 'tree'\nstatus = 'existing'\nat = 'p'\n[[chain]]\nread = ['a', 3, 'p', 7, 'b']\nabreast = true\n".to_owned(),
            &["data::not-located"],
        ),
        ("[[chain]]\nread = ['p', 3, 'q']\n".to_owned(), &["data::not-joined"]),
        ("[[chain]]\nread = ['a', 3, 'q']\n".to_owned(), &[]),
    ] {
        let (_, remarks) = made(&text);
        let mut found: Vec<&str> = remarks.iter().map(|remark| remark.code).collect();
        found.retain(|code| *code != "data::suspect-reading");
        assert_eq!(found, codes, "{text}\n{remarks:#?}");
    }
    check_told(
        &tie("a = 3, b = 4"),
        "data::ties-do-not-meet",
        &["3.000 m too short", "`p`"],
        1,
        "Measure both again",
    );
    check_told(
        &tie("a = 3, b = 20"),
        "data::ties-do-not-meet",
        &["7.000 m too long"],
        1,
        "Measure both again",
    );
    check_told(&tie("a = 3"), "data::not-located", &["`p`", "one figure"], 0, "one more located point");
    check_told(
        &tie("a = 7, b = 7"),
        "data::two-places-fit",
        &["(5.000 m, 4.899 m)", "(5.000 m, -4.899 m)"],
        2,
        "side = ",
    );
}

#[test]
fn exact_facts_that_contradict_each_other() {
    let text = "[points.p]\nnear = [3, 4]\n[[distance]]\nfrom = 'a'\nto = 'p'\nread = 5\nby = 'design'\n\
                [[distance]]\nfrom = 'b'\nto = 'p'\nread = 5.5\nby = 'design'\n[[distance]]\nfrom = 'd'\nto = 'p'\nread = 9\nby = 'design'\n";
    check_told(text, "data::contradiction", &["cannot all hold exactly"], 2, "accuracy");
    let (layout, _) = made(text);
    assert!(layout.named.contains_key("p"), "what two of them say holds");
    let text = "[[fact]]\nstraight = ['a', 'b', 'd']\n";
    check(text, &[], &["data::contradiction"]);
}
