//! Coordinates mixed with measurements, and things that hang on measured points.

use crate::support::Of::{D, X, Y};
use crate::support::{at, check, check_spread, made};

/// Oracle N8: a position read off a picture to 0.5 and a tape of 0.0208333 across it.
#[test]
fn a_tape_improves_what_was_read_off_a_picture() {
    let text = "[points.w]\nat = [10.4, 14.7]\nby = { plus_minus = '0.979981992270027 m', of_each = 'position' }\n\
                [[chain]]\nread = ['e', 10.02, 'w']\nby = { plus_minus = '0.0408325830 m', of_each = 'length' }\n\
                [points.e]\nat = [0, 14.7]\nby = 'design'\n";
    let (layout, remarks) = made(text);
    assert!(remarks.is_empty(), "{remarks:?}");
    let (x, y) = at(&layout, "w");
    assert!((x - 10.020_658_576_752).abs() < 1e-6 && (y - 14.7).abs() < 1e-9, "({x}, {y})");
    check_spread(text, &[(X("w"), 0.020_815_239_109), (Y("w"), 0.5)]);
}

/// What shares the error of a point moves with it when that turns out to be elsewhere.
#[test]
fn what_hangs_on_a_placed_point_moves_along() {
    let text = "[points.w]\nat = [10.4, 20]\nby = { plus_minus = '1 m', of_each = 'position' }\n\
                [points.v]\nfrom = 'w'\nright = 3\nby = 'design'\n\
                [points.e]\nat = [0, 20]\nby = 'design'\n\
                [[chain]]\nread = ['e', 10, 'w']\nby = 'design'\n";
    check(text, &[("w", 10.0, 20.0), ("v", 13.0, 20.0)], &[]);
    check_spread(
        text,
        &[(X("w"), 0.0), (X("v"), 0.0), (D("w", "v"), 0.0), (Y("v"), 1.0 / 1.959_963_984_540_054)],
    );
}

/// A bench a metre off a wall is a metre off it, however badly the house was located.
#[test]
fn what_is_set_out_from_measured_corners_is_exactly_as_far() {
    let text = "[[feature]]\nid = 'house'\nkind = 'dwelling'\nstatus = 'existing'\n\
                outline = ['house.sw', 'house.se', { from = 'house.se', up = 4 }, { from = 'house.sw', up = 4 }]\n\
                [[chain]]\nread = ['a', 2, 'house.sw', 6, 'house.se']\nalong = 'a-b'\n\
                [[feature]]\nid = 'bench'\nkind = 'arbor'\nstatus = 'proposed'\n\
                box = { along = 'house.sw-se', station = '1 m', offset = '1 m', side = 'right', size = ['2 m', '1 m'] }\n\
                [points.pin]\nfrom = 'house.se'\nright = 1\nup = -1\nby = 'design'\n";
    check(text, &[("bench.sw", 3.0, -1.0), ("pin", 9.0, -1.0)], &[]);
    check_spread(
        text,
        &[
            (D("house.sw", "bench.sw"), 0.0),
            (D("house.se", "pin"), 0.0),
            (X("house.sw"), 0.02),
            (X("bench.sw"), 0.02),
            (X("pin"), 0.02 * 2.0_f64.sqrt()),
        ],
    );
}

/// A measurement from a corner of what is itself set out from measured points comes after these.
#[test]
fn measurements_in_rounds() {
    let text = "[[tie]]\npoint = 'q'\nfrom = { bench.sw = 5, bench.se = 5 }\nside = 'down'\n\
                [[feature]]\nid = 'bench'\nkind = 'arbor'\nstatus = 'proposed'\n\
                box = { corner = 'sw', at = { from = 'p', up = 1 }, size = ['6 m', '2 m'] }\n\
                [[chain]]\nread = ['a', 2, 'p']\nalong = 'a-b'\n";
    check(text, &[("p", 2.0, 0.0), ("bench.sw", 2.0, 1.0), ("q", 5.0, -3.0)], &[]);
    check_spread(text, &[(X("bench.sw"), 0.02), (D("p", "bench.sw"), 0.0)]);
}

#[test]
fn ties_improve_corners_that_have_coordinates() {
    // Two readings of one length weigh as their squares: 0.04 off the picture, 0.02 off the tape.
    let text = "[points.w]\nat = [20, 0]\nby = { plus_minus = '0.0783985593816022 m', of_each = 'position' }\n\
                [[chain]]\nread = ['b', 10.05, 'w']\n";
    let weight = |sigma: f64| 1.0 / (sigma * sigma);
    let x = 10.0 + (10.0 * weight(0.04) + 10.05 * weight(0.02)) / (weight(0.04) + weight(0.02));
    check(text, &[("w", x, 0.0)], &[]);
    check_spread(text, &[(X("w"), (weight(0.04) + weight(0.02)).sqrt().recip()), (Y("w"), 0.04)]);
}

#[test]
fn groups_that_nothing_joins() {
    let text =
        "[[chain]]\nread = ['p', 3, 'q']\n[[tie]]\npoint = 'r'\nfrom = { p = 4, q = 5 }\nside = 'up'\n";
    check(text, &[], &["data::not-joined"]);
}

#[test]
fn several_lots() {
    let text = "[site]\nname = 'Plots 3 and 4'\nunits = 'm'\nby = 'tape'\n\
                [[lot]]\nid = 'west'\ncorners = ['west.sw', 'west.se', 'west.ne', 'west.nw']\n\
                [[lot]]\nid = 'east'\ncorners = ['west.se', 'east.se', 'east.ne', 'west.ne']\n\
                [[chain]]\nread = ['west.sw', 20, 'west.se', 15, 'east.se']\n\
                [[chain]]\nread = ['west.nw', 20, 'west.ne', 15, 'east.ne']\n\
                [[chain]]\nread = ['west.sw', 30, 'west.nw']\n[[chain]]\nread = ['east.se', 30, 'east.ne']\n\
                [[fact]]\nright_angle = ['west.nw', 'west.sw', 'west.se']\n";
    crate::support::check_whole(
        text,
        &[("west.ne", 20.0, 30.0), ("east.ne", 35.0, 30.0), ("east.se", 35.0, 0.0), ("west.nw", 0.0, 30.0)],
        &[],
    );
}
