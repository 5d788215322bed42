//! Chains and offsets.

use crate::support::Of::{D, X, Y};
use crate::support::{check, check_spread, check_whole};

/// 80.05 m from `a`, exact.
const Z: &str = "[points.z]\nat = [80.05, 0]\nby = 'design'\n";
/// Off the line from `a` to `z`.
const PIECES: &str = "read = ['a', 12.50, 'p', 19.25, 'q', 26.45, 'r', 21.80, 'z']\n";

#[test]
fn pieces_share_what_is_missing() {
    let text = format!("{Z}[[chain]]\n{PIECES}");
    check(&text, &[("p", 12.5125, 0.0), ("q", 31.775, 0.0), ("r", 58.2375, 0.0)], &[]);
    let third = 0.02 * (1.0_f64 / 4.0 * 3.0).sqrt();
    check_spread(
        &text,
        &[(X("p"), third), (X("q"), 0.02), (X("r"), third), (Y("q"), 0.0), (D("p", "q"), third)],
    );
}

#[test]
fn ways_of_writing_a_chain() {
    for (chain, expected) in [
        // From one zero, and piece by piece.
        ("running = ['a', 3, 'p', 7, 'q']\nalong = 'a-b'", [("p", 3.0, 0.0), ("q", 7.0, 0.0)]),
        ("read = ['a', 3, 'p', 4, 'q']\nalong = 'a-b'", [("p", 3.0, 0.0), ("q", 7.0, 0.0)]),
        ("read = ['a', 3, 'p', 4, 'q', 3, 'b']", [("p", 3.0, 0.0), ("q", 7.0, 0.0)]),
        ("running = ['a', 3, 'p', 7, 'q', 10, 'b']", [("p", 3.0, 0.0), ("q", 7.0, 0.0)]),
        // Against the line, and across the sheet.
        ("read = ['b', 3, 'p', 4, 'q']\nalong = 'b-a'", [("p", 7.0, 0.0), ("q", 3.0, 0.0)]),
        ("read = ['d', 3, 'p', 4, 'q', 3, 'a']", [("p", 0.0, 7.0), ("q", 0.0, 3.0)]),
        // Marks without names, and with an overall that agrees.
        ("read = ['a', 1, 2, 'p', 1, 1, 2, 'q', 3, 'b']", [("p", 3.0, 0.0), ("q", 7.0, 0.0)]),
        ("read = ['a', 3, 'p', 4, 'q']\nalong = 'a-b'\noverall = 7", [("p", 3.0, 0.0), ("q", 7.0, 0.0)]),
        (
            "read = ['a', 3, 'p', 4, 'q']\nalong = 'a-b'\noverall = '7 m (R)'",
            [("p", 3.0, 0.0), ("q", 7.0, 0.0)],
        ),
        (
            "read = ['a', 3, 'p', 4, 'q']\nalong = 'a-b'\noverall = ['7 m (M)', '7.01 m (R)']",
            [("p", 3.0, 0.0), ("q", 7.0, 0.0)],
        ),
        // Positions read off a picture.
        ("read = ['a', 3, 'p', 4, 'q', 3, 'b']\nby = 'p02'", [("p", 3.0, 0.0), ("q", 7.0, 0.0)]),
        ("running = ['a', 3, 'p', 7, 'q', 10, 'b']\nby = 'p02'", [("p", 3.0, 0.0), ("q", 7.0, 0.0)]),
        // Beyond the end of the line.
        ("read = ['b', 3, 'p', 4, 'q']\nalong = 'a-b'", [("p", 13.0, 0.0), ("q", 17.0, 0.0)]),
    ] {
        check(&format!("[[chain]]\n{chain}\n"), &expected, &[]);
    }
}

#[test]
fn spreads_of_chains() {
    let root = f64::sqrt;
    for (chain, expected) in [
        (
            "running = ['a', 3, 'p', 7, 'q']\nalong = 'a-b'",
            [(X("p"), 0.02), (X("q"), 0.02), (D("p", "q"), 0.02 * root(2.0))],
        ),
        (
            "read = ['a', 3, 'p', 4, 'q']\nalong = 'a-b'",
            [(X("p"), 0.02), (X("q"), 0.02 * root(2.0)), (D("p", "q"), 0.02)],
        ),
        // A mark without a name adds its reading; the chain ends on a point that is known, so both halves count.
        (
            "read = ['a', 1, 2, 'p', 1, 1, 2, 'q', 3, 'b']",
            [
                (X("p"), 0.02 * root(2.0 * 4.0 / 6.0)),
                (X("q"), 0.02 * root(5.0 / 6.0)),
                (D("p", "q"), 0.02 * root(3.0 * 3.0 / 6.0)),
            ],
        ),
        // An overall is one more reading of the whole.
        (
            "read = ['a', 3, 'p', 4, 'q']\nalong = 'a-b'\noverall = 7",
            [
                (X("p"), 0.02 * root(2.0 / 3.0)),
                (X("q"), 0.02 * root(2.0 / 3.0)),
                (D("p", "q"), 0.02 * root(2.0 / 3.0)),
            ],
        ),
        // Each position errs by itself, and where the picture lies follows from two points that are known.
        (
            "read = ['a', 3, 'p', 4, 'q', 3, 'b']\nby = 'p02'",
            [(X("p"), 0.02 * root(1.5)), (X("q"), 0.02 * root(1.5)), (D("p", "q"), 0.02 * root(2.0))],
        ),
        (
            "read = ['a', 3, 'p', 4, 'q']\nalong = 'a-b'\nby = 'p02'",
            [(X("p"), 0.02 * root(2.0)), (X("q"), 0.02 * root(2.0)), (D("p", "q"), 0.02 * root(2.0))],
        ),
    ] {
        check_spread(&format!("[[chain]]\n{chain}\n"), &expected);
    }
}

#[test]
fn marks_abreast_stand_off_the_line() {
    let text = "[[chain]]\nread = ['a', 3, 'p', 7, 'b']\nabreast = true\n\
                [[tie]]\npoint = 'p'\nfrom = { a = 5 }\nside = 'up'\n";
    check(text, &[("p", 3.0, 4.0)], &[]);
    check(&text.replace("'up'", "'down'"), &[("p", 3.0, -4.0)], &[]);
}

#[test]
fn offsets() {
    let text =
        "[[offsets]]\nalong = 'a-b'\npoints = { p = [4, '3 m left'], q = [6, '2 m right'], r = [9, 0] }\n";
    check(text, &[("p", 4.0, 3.0), ("q", 6.0, -2.0), ("r", 9.0, 0.0)], &[]);
    check_spread(
        text,
        &[(X("p"), 0.02), (Y("p"), 0.02), (Y("q"), 0.02), (D("p", "r"), 0.02 * 2.0_f64.sqrt())],
    );
    let text = "[[offsets]]\nalong = 'a-d'\npoints = { p = [4, '3 m left'], q = ['6 m', '2 m right'] }\n";
    check(text, &[("p", -3.0, 4.0), ("q", 2.0, 6.0)], &[]);
}

#[test]
fn a_lot_of_chains_stands_on_its_first_side() {
    let text = "[site]\nname = 'Plot 3'\nunits = 'ft'\nby = 'tape'\n\
                [lot]\ncorners = ['sw', 'se', 'ne', 'nw']\n\
                [[chain]]\nread = ['sw', 80, 'se']\n[[chain]]\nread = ['se', 100, 'ne']\n\
                [[chain]]\nread = ['ne', 80, 'nw']\n[[chain]]\nread = ['nw', 100, 'sw']\n";
    let foot = 0.3048;
    let corners = [
        ("lot.sw", 0.0, 0.0),
        ("lot.se", 80.0 * foot, 0.0),
        ("lot.ne", 80.0 * foot, 100.0 * foot),
        ("lot.nw", 0.0, 100.0 * foot),
    ];
    check_whole(text, &corners, &["data::shape-assumed"]);
    check_whole(&format!("{text}[[fact]]\nright_angle = 'lot.sw'\n"), &corners, &[]);
    let diagonal = libm::hypot(80.0, 100.0);
    for between in ["from = 'sw'\nto = 'ne'", "from = 'nw'\nto = 'se'"] {
        check_whole(&format!("{text}[[distance]]\n{between}\nread = '{diagonal:.12} ft'\n"), &corners, &[]);
    }
}
