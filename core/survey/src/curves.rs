//! Circular arcs to short chords.

use std::f64::consts::TAU;

/// The greatest distance between an arc and the chords that stand for it: 0.2 mm.
const SAGITTA: f64 = 0.0002;
/// The most chords one arc is turned into.
const MOST_CHORDS: f64 = 2048.0;

pub(crate) type Xy = (f64, f64);

/// The arc from `start` to `end` through a third place, as the places between its ends.
///
/// None when the three lie on a line, so that the arc is one.
pub(crate) fn arc_through(start: Xy, middle: Xy, end: Xy) -> Option<Vec<Xy>> {
    let centre = circumcentre(start, middle, end)?;
    let from = angle(centre, start);
    let to_middle = (angle(centre, middle) - from).rem_euclid(TAU);
    let to_end = (angle(centre, end) - from).rem_euclid(TAU);
    // Going left we meet the middle before the end; otherwise the arc turns right.
    let sweep = if to_middle < to_end { to_end } else { to_end - TAU };
    Some(between(centre, start, sweep))
}

/// The shorter arc of this radius from `start` to `end`, turning left or right.
///
/// None when the ends are farther apart than the circle is wide.
pub(crate) fn arc_of_radius(start: Xy, end: Xy, radius: f64, left: bool) -> Option<Vec<Xy>> {
    let (dx, dy) = (end.0 - start.0, end.1 - start.1);
    let chord = libm::hypot(dx, dy);
    if chord == 0.0 || radius <= 0.0 || chord > 2.0 * radius * (1.0 + 1e-9) {
        return None;
    }
    let to_centre = (radius * radius - chord * chord / 4.0).max(0.0).sqrt();
    // A left turn has its centre to the left of the chord.
    let side = if left { 1.0 } else { -1.0 };
    let centre = (
        f64::midpoint(start.0, end.0) - side * to_centre * dy / chord,
        f64::midpoint(start.1, end.1) + side * to_centre * dx / chord,
    );
    let sweep = side * 2.0 * libm::asin((chord / (2.0 * radius)).min(1.0));
    Some(between(centre, start, sweep))
}

fn between(centre: Xy, start: Xy, sweep: f64) -> Vec<Xy> {
    let radius = libm::hypot(start.0 - centre.0, start.1 - centre.1);
    let step = 2.0 * libm::acos((1.0 - SAGITTA / radius).clamp(-1.0, 1.0)).max(1e-6);
    let chords = (sweep.abs() / step).ceil().clamp(1.0, MOST_CHORDS);
    let from = angle(centre, start);
    let mut places = Vec::new();
    let mut i = 1.0;
    while i < chords {
        let (sin, cos) = libm::sincos(from + sweep * i / chords);
        places.push((centre.0 + radius * cos, centre.1 + radius * sin));
        i += 1.0;
    }
    places
}

fn angle(centre: Xy, of: Xy) -> f64 {
    libm::atan2(of.1 - centre.1, of.0 - centre.0)
}

fn circumcentre(a: Xy, b: Xy, c: Xy) -> Option<Xy> {
    let (bx, by) = (b.0 - a.0, b.1 - a.1);
    let (cx, cy) = (c.0 - a.0, c.1 - a.1);
    let twice = 2.0 * (bx * cy - by * cx);
    let scale = libm::hypot(bx, by).max(libm::hypot(cx, cy));
    if twice.abs() <= 1e-9 * scale * scale || scale == 0.0 {
        return None;
    }
    let (bb, cc) = (bx * bx + by * by, cx * cx + cy * cy);
    Some((a.0 + (cy * bb - by * cc) / twice, a.1 + (bx * cc - cx * bb) / twice))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(places: &[Xy], centre: Xy, radius: f64) {
        for place in places {
            let r = libm::hypot(place.0 - centre.0, place.1 - centre.1);
            assert!((r - radius).abs() < 1e-9, "{place:?} is {r} from the centre");
        }
    }

    #[test]
    fn a_quarter_circle_by_a_third_place_and_by_radius_is_the_same() {
        let h = 5.0 * std::f64::consts::FRAC_1_SQRT_2;
        let through = arc_through((5.0, 0.0), (h, h), (0.0, 5.0)).unwrap();
        let radius = arc_of_radius((5.0, 0.0), (0.0, 5.0), 5.0, true).unwrap();
        check(&through, (0.0, 0.0), 5.0);
        check(&radius, (0.0, 0.0), 5.0);
        assert_eq!(through.len(), radius.len());
    }

    #[test]
    fn a_right_turn_has_its_centre_on_the_right() {
        check(&arc_of_radius((0.0, 5.0), (5.0, 0.0), 5.0, false).unwrap(), (0.0, 0.0), 5.0);
    }

    #[test]
    fn a_half_circle_is_no_trouble() {
        let places = arc_of_radius((-3.0, 0.0), (3.0, 0.0), 3.0, false).unwrap();
        check(&places, (0.0, 0.0), 3.0);
        assert!(places.iter().all(|p| p.1 > 0.0), "a right turn from west to east passes north");
    }

    #[test]
    fn places_on_a_line_and_a_short_radius_give_no_arc() {
        assert!(arc_through((0.0, 0.0), (1.0, 0.0), (2.0, 0.0)).is_none());
        assert!(arc_of_radius((0.0, 0.0), (10.0, 0.0), 4.0, true).is_none());
    }
}
