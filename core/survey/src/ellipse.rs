//! The region a point lies in with a probability of 95 %.

use groundrule_units::{Angle, Length};

use crate::ErrorTerms;

/// The radius that holds 95 % of a standard normal distribution in the plane: the root of -2 ln 0.05 (the 0.95
/// quantile of chi-squared with two degrees of freedom, 5.9915).
const REGION_95: f64 = 2.447_746_830_680_816;

/// An ellipse about a point that holds its true place with a probability of 95 %.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ErrorEllipse {
    /// Half its long axis.
    pub major: Length,
    /// Half its short axis.
    pub minor: Length,
    /// The direction of its long axis, anticlockwise from the right of the sheet, within half a turn.
    pub turn: Angle,
}

impl ErrorTerms {
    /// The 95 % ellipse of this error; nothing for an exact point.
    pub fn ellipse(&self) -> ErrorEllipse {
        let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
        for term in self.terms() {
            let (x, y) = (term.x.metres(), term.y.metres());
            xx += x * x;
            xy += x * y;
            yy += y * y;
        }
        // The eigenvalues of the covariance, written so that the smaller does not lose its digits.
        let (middle, half) = (f64::midpoint(xx, yy), libm::hypot((xx - yy) / 2.0, xy));
        let great = middle + half;
        let small = if great > 0.0 { ((xx * yy - xy * xy) / great).max(0.0) } else { 0.0 };
        let turn = if half > 1e-12 * great { 0.5 * libm::atan2(2.0 * xy, xx - yy) } else { 0.0 };
        let axis = |variance: f64| Length::from_metres(REGION_95 * libm::sqrt(variance));
        ErrorEllipse { major: axis(great), minor: axis(small), turn: Angle::from_radians(turn) }
    }

    /// The plus-or-minus at 95 % to the right and up the sheet, each by itself.
    pub fn plus_minus(&self) -> (Length, Length) {
        let square = |of: fn(&crate::ErrorTerm) -> Length| {
            self.terms().iter().map(|term| of(term).metres() * of(term).metres()).sum::<f64>()
        };
        let half = |variance: f64| Length::from_metres(crate::error::HALF_WIDTH_95 * libm::sqrt(variance));
        (half(square(|term| term.x)), half(square(|term| term.y)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{ErrorTerm, SourceId};

    /// Terms in metres; axes as multiples of the region's radius, turn in degrees.
    fn check(terms: &[(f64, f64)], expected: (f64, f64, f64)) {
        let term = |(i, (x, y)): (u32, &(f64, f64))| ErrorTerm {
            source: SourceId(i),
            x: Length::from_metres(*x),
            y: Length::from_metres(*y),
        };
        let error = ErrorTerms::Sum((0..).zip(terms).map(term).collect::<Vec<_>>().into());
        let ErrorEllipse { major, minor, turn } = error.ellipse();
        let found = (major.metres() / REGION_95, minor.metres() / REGION_95, turn.degrees());
        let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
        assert!(
            near(found.0, expected.0) && near(found.1, expected.1) && near(found.2, expected.2),
            "{terms:?}: {found:?}"
        );
    }

    #[test]
    fn axes_and_turn() {
        check(&[], (0.0, 0.0, 0.0));
        check(&[(1.0, 0.0), (0.0, 1.0)], (1.0, 1.0, 0.0));
        check(&[(2.0, 0.0), (0.0, 1.0)], (2.0, 1.0, 0.0));
        check(&[(1.0, 0.0), (0.0, 2.0)], (2.0, 1.0, 90.0));
        check(&[(3.0, 4.0)], (5.0, 0.0, 53.130_102_354_155_98));
        check(&[(3.0, -4.0), (0.8, 0.6)], (5.0, 1.0, -53.130_102_354_155_98));
    }
}
