//! Figures of a traverse.

use groundrule_plan::{Course, Traverse};

use super::Collector;
use crate::field::accuracy::Class;
use crate::field::figure::{Node, Relation};
use crate::field::north;
use crate::layout::Reading;

/// Where the call before came from, and how far its end turns from its chord: half its arc, clockwise positive.
type Before = (Node, f64);

impl Collector<'_> {
    pub(super) fn traverse(&mut self, traverse: &Traverse, class: Class<'_>) {
        let north = north(self.plan);
        let mut from = self.node(&traverse.start);
        let mut before: Option<Before> = None;
        for (call, i) in traverse.calls.iter().zip(0..) {
            let to = self.node(&call.to);
            let ends = Some((from, to));
            let (length, bearing, half) = match &call.course {
                Course::Straight { bearing, distance } => (distance.value.value, Some(bearing), 0.0),
                Course::Curve { curve, left, chord_bearing } => {
                    let half = curve.value.delta.radians() / 2.0 * if *left { -1.0 } else { 1.0 };
                    (curve.value.chord, chord_bearing.as_ref(), half)
                }
            };
            let of_direction = class.of_angle(Some(length.metres()));
            match (bearing, before) {
                (Some(bearing), _) => {
                    let azimuth = (bearing.value.value.azimuth() + north).radians();
                    self.push(Reading::Bearing(i), Relation::Azimuth(from, to), azimuth, of_direction, ends);
                }
                // A curve leaves in the direction its predecessor arrives in.
                (None, Some((back, turned))) => {
                    let turn = std::f64::consts::PI + turned + half;
                    self.push(Reading::Bearing(i), Relation::Angle(from, back, to), turn, of_direction, ends);
                }
                (None, None) => {}
            }
            let distance = Relation::Distance(from, to);
            self.push(Reading::Figure(i), distance, length.metres(), class.of_length(length), ends);
            before = Some((from, half));
            from = to;
        }
    }
}
