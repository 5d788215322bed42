//! Distances, angles, and what is so.

use crate::support::Of::{X, Y};
use crate::support::{HEAD, check, check_spread, check_whole};

#[test]
fn angles() {
    let arm = "[[chain]]\nread = ['b', 5, 'p']\n";
    let root = 5.0 / 2.0_f64.sqrt();
    for (turn, x, y) in [
        ("turn = '90 deg clockwise'", 10.0, 5.0),
        ("turn = '90 deg anticlockwise'", 10.0, -5.0),
        ("turn = '135 deg clockwise'", 10.0 + root, root),
        ("turn = '180 deg clockwise'", 15.0, 0.0),
        ("turn = '315 deg clockwise'", 10.0 - root, -root),
    ] {
        check(&format!("{arm}[[angle]]\nat = 'b'\nfrom = 'a'\nto = 'p'\n{turn}\n"), &[("p", x, y)], &[]);
    }
    for (between, side, x, y) in [
        ("between = '90 deg'", "up", 10.0, 5.0),
        ("between = '90 deg'", "down", 10.0, -5.0),
        ("between = '135 deg'", "up", 10.0 + root, root),
        ("between = '45 deg'", "down", 10.0 - root, -root),
    ] {
        let tie = format!("[[tie]]\npoint = 'p'\nfrom = {{ b = 5 }}\nside = '{side}'\n");
        check(&format!("{tie}[[angle]]\nat = 'b'\nfrom = 'a'\nto = 'p'\n{between}\n"), &[("p", x, y)], &[]);
    }
    check(
        &format!("{arm}[[angle]]\nat = 'b'\nfrom = 'a'\nto = 'p'\nbetween = '90 deg'\n"),
        &[],
        &["data::two-places-fit"],
    );
}

#[test]
fn spread_of_an_angle() {
    let by = "by = { plus_minus = '1 cm', of_each = 'length', angle = '1 deg' }\n";
    let text = format!(
        "[[chain]]\nread = ['b', 5, 'p']\n[[angle]]\nat = 'b'\nfrom = 'a'\nto = 'p'\nturn = '90 deg clockwise'\n{by}"
    );
    check_spread(&text, &[(Y("p"), 0.02), (X("p"), 5.0 * 1.0_f64.to_radians() / 1.959_963_984_540_054)]);
}

#[test]
fn distances_locate_what_is_named_elsewhere() {
    let text = "[points.p]\nnear = [4, 4]\n[[distance]]\nfrom = 'a'\nto = 'p'\nread = 5\n\
                [[distance]]\nfrom = 'p'\nto = 'b'\nread = '8.06225774829855 m'\n";
    check(text, &[("p", 3.0, 4.0)], &[]);
    check(&text.replace("[4, 4]", "[4, -4]"), &[("p", 3.0, -4.0)], &[]);
}

/// A house on the baseline with its corners where chains put them.
const HOUSE: &str = "[[feature]]\nid = 'house'\nkind = 'dwelling'\nstatus = 'existing'\n\
                     outline = ['house.sw', 'house.se', 'house.ne', 'house.nw']\n\
                     [[chain]]\nread = ['a', 2, 'house.sw', 6, 'house.se', 2, 'b']\n";

#[test]
fn a_square_house_needs_one_more_wall() {
    let corners =
        [("house.sw", 2.0, 0.0), ("house.se", 8.0, 0.0), ("house.ne", 8.0, 4.0), ("house.nw", 2.0, 4.0)];
    for (wall, fact) in [
        ("read = ['house.se', 4, 'house.ne']", "square = 'house'"),
        ("read = ['house.sw', 4, 'house.nw']", "square = 'house'"),
        (
            "read = ['house.sw', 4, 'house.nw']",
            "square = 'house'\nby = { plus_minus = '1 cm', angle = '1 deg' }",
        ),
        (
            "read = ['house.se', 4, 'house.ne']\n[[chain]]\nread = ['house.ne', 6, 'house.nw']",
            "right_angle = 'house.se'\n[[fact]]\nright_angle = 'house.ne'",
        ),
        (
            "read = ['house.se', 4, 'house.ne']\n[[chain]]\nread = ['house.ne', 6, 'house.nw']",
            "right_angle = ['house.sw', 'house.se', 'house.ne']\n[[fact]]\nparallel = ['house.sw-se', 'house.nw-ne']",
        ),
        (
            "read = ['house.se', 4, 'house.ne']\n[[chain]]\nread = ['house.ne', 6, 'house.nw']\n\
             [[chain]]\nread = ['house.nw', 4, 'house.sw']",
            "equal = ['house.sw-ne', 'house.se-nw']",
        ),
    ] {
        check(&format!("{HOUSE}[[chain]]\n{wall}\n[[fact]]\n{fact}\n"), &corners, &[]);
    }
}

#[test]
fn straight_points() {
    let text = "[points.p]\nnear = [5, 1]\n[[fact]]\nstraight = ['a', 'p', 'b']\n[[distance]]\nfrom = 'a'\nto = 'p'\nread = 4\n";
    check(text, &[("p", 4.0, 0.0)], &[]);
    check_spread(text, &[(X("p"), 0.02), (Y("p"), 0.0)]);
    let soft =
        text.replace("'b']\n", "'b']\nby = { plus_minus = '0.0391992796908011 m', of_each = 'length' }\n");
    check(&soft, &[("p", 4.0, 0.0)], &[]);
    check_spread(&soft, &[(X("p"), 0.02), (Y("p"), 0.02)]);
}

/// Oracle N4: a right angle between two arms and the length across, worked out by hand.
#[test]
fn a_right_angle_holds_exactly() {
    let text = "[site]\nname = 'N4'\nunits = 'm'\nby = 't02'\n[accuracy]\nt02 = { plus_minus = '0.0391992796908011 m', of_each = 'length' }\n\
                [[chain]]\nread = ['a', 40.02, 'b']\n[[tie]]\npoint = 'c'\nfrom = { a = 30.01, b = 50 }\nside = 'up'\n\
                [[fact]]\nright_angle = ['b', 'a', 'c']\n";
    let corners = [("a", 0.0, 0.0), ("b", 40.011_199_408_285, 0.0), ("c", 0.0, 30.003_400_655_738)];
    check_whole(text, &corners, &[]);
    // A right angle to one part in a hundred million is as good as exact, and must not upset the solver.
    let soft = "by = { plus_minus = '1 cm', angle = '0.000001 deg' }\n";
    check_whole(&format!("{text}{soft}"), &corners, &[]);
    // Without it the lengths hold as they were read.
    let free = text.split("[[fact]]").next().unwrap_or_default();
    let x = (40.02_f64 * 40.02 + 30.01 * 30.01 - 2500.0) / (2.0 * 40.02);
    check_whole(free, &[("b", 40.02, 0.0), ("c", x, (30.01_f64 * 30.01 - x * x).sqrt())], &[]);
}

#[test]
fn measured_goes_before_record() {
    let tie = "[points.p]\nnear = [4, 4]\n[[distance]]\nfrom = 'p'\nto = 'b'\nread = '8.06225774829855 m'\n";
    for (read, codes) in [
        ("'5 m (M)'", &[][..]),
        ("'5 m (R)'", &[]),
        ("['5.01 m (R)', '5 m (M)']", &[]),
        ("['5.30 m (R)', '5 m (M)']", &["data::record-disagrees"]),
    ] {
        let text = format!("{HEAD}{tie}[[distance]]\nfrom = 'a'\nto = 'p'\nread = {read}\n");
        check_whole(&text, &[("p", 3.0, 4.0)], codes);
    }
}
