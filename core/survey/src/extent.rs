//! Things that are too large or too far away to be meant.

use groundrule_plan::{Gravity, Name, Plan, Remark, Span};
use groundrule_units::Length;

use crate::curves::Xy;
use crate::layout::{Layout, Point, Shape};
use crate::places::xy;

/// A feature larger than this in one direction asks whether a unit or a digit is wrong.
const LARGE: f64 = 1_000.0;
/// How many lot sizes away from the lots a feature may stand before it asks the same.
const FAR_OFF: f64 = 10.0;
/// Lots of this size or less count as this size, in metres, so that a small lot has room around it.
const LEAST_LOT: f64 = 50.0;

#[derive(Clone, Copy)]
struct Bounds {
    low: Xy,
    high: Xy,
}

/// Remarks on everything of an absurd size or place.
pub(crate) fn look(plan: &Plan, layout: &Layout, remarks: &mut Vec<Remark>) {
    let lots: Vec<Option<Bounds>> = layout.lots.iter().map(|lot| bounds(&lot.ring)).collect();
    for (lot, bounds) in plan.lots.iter().zip(&lots) {
        if let Some(bounds) = bounds {
            large(&lot.id.value, lot.span, *bounds, remarks);
        }
    }
    // A lot that is absurd itself says nothing about what is far from it.
    let around = lots.iter().flatten().filter(|b| b.size() <= LARGE).copied().reduce(Bounds::with);
    for (feature, shape) in plan.features.iter().zip(&layout.shapes) {
        let Some(bounds) = of_shape(shape) else { continue };
        let id = &feature.id.value;
        if bounds.size() > LARGE {
            large(id, feature.span, bounds, remarks);
        } else if let Some(around) = around
            && bounds.gap(around) > FAR_OFF * around.size().max(LEAST_LOT)
        {
            remarks.push(Remark {
                code: "data::far-from-lot",
                gravity: Gravity::Suspect,
                message: format!("{} stands {:.0} m from the lot. Is that meant?", id.0, bounds.gap(around)),
                about: vec![id.clone()],
                spots: vec![spot(bounds.low)],
                span: feature.span,
                help: Some("Look for a slipped digit, or feet read as metres.".to_owned()),
            });
        }
    }
}

fn large(id: &Name, span: Span, bounds: Bounds, remarks: &mut Vec<Remark>) {
    if bounds.size() > LARGE {
        remarks.push(Remark {
            code: "data::absurd-extent",
            gravity: Gravity::Suspect,
            message: format!("{} is {:.0} m across. Is that meant?", id.0, bounds.size()),
            about: vec![id.clone()],
            spots: vec![spot(bounds.low), spot(bounds.high)],
            span,
            help: Some("Look for a slipped digit, or millimetres read as metres.".to_owned()),
        });
    }
}

fn spot((x, y): Xy) -> (Length, Length) {
    (Length::from_metres(x), Length::from_metres(y))
}

fn of_shape(shape: &Shape) -> Option<Bounds> {
    match shape {
        Shape::Outline { ring: points, .. } | Shape::Line { path: points, .. } => bounds(points),
        Shape::Spot(point) => bounds(std::slice::from_ref(point)),
        Shape::Disc { centre, radius } => {
            let ((x, y), r) = (xy(centre), radius.metres());
            Some(Bounds { low: (x - r, y - r), high: (x + r, y + r) })
        }
        Shape::Absent => None,
    }
}

fn bounds(points: &[Point]) -> Option<Bounds> {
    points.iter().map(xy).map(|p| Bounds { low: p, high: p }).reduce(Bounds::with)
}

impl Bounds {
    fn with(self, other: Self) -> Self {
        Self {
            low: (self.low.0.min(other.low.0), self.low.1.min(other.low.1)),
            high: (self.high.0.max(other.high.0), self.high.1.max(other.high.1)),
        }
    }

    fn size(self) -> f64 {
        (self.high.0 - self.low.0).max(self.high.1 - self.low.1)
    }

    fn gap(self, other: Self) -> f64 {
        let along = |low: f64, high: f64, a: f64, b: f64| (a - high).max(low - b).max(0.0);
        libm::hypot(
            along(self.low.0, self.high.0, other.low.0, other.high.0),
            along(self.low.1, self.high.1, other.low.1, other.high.1),
        )
    }
}
