//! How well a position is known.

use groundrule_units::{Angle, Area, Length};

/// The covariance of two positions: how the errors of the first (rows x, y) go with those of the second.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Covariance {
    /// x of the first with x of the second.
    pub xx: Area,
    /// x of the first with y of the second.
    pub xy: Area,
    /// y of the first with x of the second.
    pub yx: Area,
    /// y of the first with y of the second.
    pub yy: Area,
}

/// The standard error ellipse of a point: the half widths of its spread along its axes, one standard deviation.
///
/// For another level multiply with [`super::statistics::ellipse_factor`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ellipse {
    /// The longer half axis.
    pub a: Length,
    /// The shorter half axis.
    pub b: Length,
    /// Azimuth of the longer axis, clockwise from up, at least 0 and under 180 degrees; 0 for a circle.
    pub azimuth: Angle,
}

impl Covariance {
    /// The ellipse of a position from its own covariance.
    pub fn ellipse(&self) -> Ellipse {
        let (xx, yy) = (self.xx.square_metres(), self.yy.square_metres());
        let xy = f64::midpoint(self.xy.square_metres(), self.yx.square_metres());
        let middle = f64::midpoint(xx, yy);
        let swing = libm::hypot((xx - yy) / 2.0, xy);
        let major = middle + swing;
        // The product of the axes is the root of the determinant: no cancellation in long thin ellipses.
        let minor = if major > 0.0 { (xx * yy - xy * xy).max(0.0) / major } else { 0.0 };
        let azimuth = if swing <= 1e-12 * middle {
            0.0
        } else {
            // Twice the azimuth, measured from up: x is the sine.
            let half = 0.5 * libm::atan2(2.0 * xy, yy - xx);
            if half < 0.0 { half + std::f64::consts::PI } else { half }
        };
        Ellipse {
            a: Length::from_metres(libm::sqrt(major.max(0.0))),
            b: Length::from_metres(libm::sqrt(minor)),
            azimuth: Angle::from_radians(azimuth),
        }
    }
}
