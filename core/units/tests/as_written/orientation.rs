use groundrule_units::NorthKind::{self, Grid, Magnetic, True, Unsaid};
use groundrule_units::read_orientation;

use crate::{asks, close, refuses};

#[track_caller]
fn reads(text: &str, clockwise_of_up: f64, north: NorthKind) {
    let found = read_orientation(text).unwrap_or_else(|unread| panic!("{text}: {unread}")).value;
    close(text, found.clockwise_of_up.degrees(), clockwise_of_up);
    assert_eq!(found.north, north, "{text}");
}

#[test]
fn directions_of_north() {
    reads("18 deg clockwise of up", 18.0, Unsaid);
    reads("18° cw from up", 18.0, Unsaid);
    reads("18 deg counterclockwise of up", -18.0, Unsaid);
    reads("north is 18 deg clockwise of up", 18.0, Unsaid);
    reads("up is 18 deg clockwise of north", -18.0, Unsaid);
    reads("up is N 4°30' E", -4.5, Unsaid);
    reads("up", 0.0, Unsaid);
    reads("0 deg", 0.0, Unsaid);
    reads("0", 0.0, Unsaid);
    reads("left", -90.0, Unsaid);
    reads("north is right", 90.0, Unsaid);
    reads("up is north", 0.0, Unsaid);
}

#[test]
fn kinds_of_north() {
    reads("true north is up", 0.0, True);
    reads("18 deg clockwise of up, magnetic", 18.0, Magnetic);
    reads("grid north: 1.5 deg counterclockwise of up", -1.5, Grid);
}

#[test]
fn what_is_not_said_is_asked() {
    asks("18 deg", read_orientation, &["18 deg clockwise of up", "18 deg counterclockwise of up"]);
    asks(
        "18 degrees",
        read_orientation,
        &["18 degrees clockwise of up", "18 degrees counterclockwise of up"],
    );
    asks("18 deg clockwise", read_orientation, &["18 deg clockwise of up", "18 deg counterclockwise of up"]);
    asks(
        "18 deg, magnetic",
        read_orientation,
        &["18 deg clockwise of up, magnetic", "18 deg counterclockwise of up, magnetic"],
    );
    asks(
        "up is 18 deg",
        read_orientation,
        &["up is 18 deg clockwise of north", "up is 18 deg counterclockwise of north"],
    );
    asks("up is N 4.30 E", read_orientation, &["up is N 4°30' E", "up is N 4.30° E"]);
    asks("18.30 clockwise of up", read_orientation, &["18°30' clockwise of up", "18.30° clockwise of up"]);
    for text in ["plan north", "N arrow", "north arrow"] {
        asks(text, read_orientation, &["up", "right", "down", "left"]);
    }
}

#[test]
fn refused_directions() {
    refuses("upward", read_orientation, "number");
    refuses("18 deg clockwise of north", read_orientation, "left over");
    refuses("up and away", read_orientation, "left over");
}
