//! A grid of lots to be adjusted.

use groundrule_survey::Position;
use groundrule_survey::adjust::{Network, Observation, Observed, Spot};
use groundrule_units::{Angle, Length};

/// A network of about so many points on a grid of lots, three measurements to a point: tapes along both ways and
/// across, the first street held.
pub fn lots(points: u32) -> Network {
    let side = points.isqrt().max(1);
    let mut network = Network::new();
    let place = |column: u32, row: u32, off: f64| Position {
        x: Length::from_metres(f64::from(column) * 20.0 + off * wobble(column, row)),
        y: Length::from_metres(f64::from(row) * 30.0 + off * wobble(row, column + 7)),
    };
    let rows = points / side;
    let mut spots: Vec<Vec<Spot>> = Vec::new();
    for row in 0..rows {
        let start = |column| place(column, row, 0.2);
        let line = (0..side).map(|column| match row {
            0 => network.fixed(place(column, row, 0.0)),
            _ => network.point(start(column)),
        });
        spots.push(line.collect());
    }
    let at = |spots: &[Vec<Spot>], column: u32, row: u32| {
        spots.get(row as usize).and_then(|line| line.get(column as usize)).copied()
    };
    for row in 0..rows {
        for column in 0..side {
            let Some(here) = at(&spots, column, row) else { continue };
            for (right, up, length) in [(1, 0, 20.0), (0, 1, 30.0), (1, 1, libm::hypot(20.0, 30.0))] {
                if let Some(there) = at(&spots, column + right, row + up) {
                    network.observe(Observation {
                        what: Observed::Distance(here, there),
                        value: Length::from_metres(length + 0.01 * wobble(column + right, row + up + 3))
                            .into(),
                        sigma: Length::from_metres(0.01).into(),
                    });
                }
            }
            if let (0, Some(right), Some(up)) =
                (column % 8, at(&spots, column + 1, row), at(&spots, column, row + 1))
            {
                network.observe(Observation {
                    what: Observed::Angle { at: here, from: up, to: right },
                    value: Angle::from_radians(std::f64::consts::FRAC_PI_2 + 1e-3 * wobble(row, column))
                        .into(),
                    sigma: Angle::from_radians(1e-3).into(),
                });
            }
        }
    }
    network
}

/// Between -1 and 1, always the same for the same two numbers.
fn wobble(a: u32, b: u32) -> f64 {
    let mixed =
        a.wrapping_mul(2_654_435_761).wrapping_add(b.wrapping_mul(40_503)).wrapping_mul(2_246_822_519);
    f64::from(mixed >> 8) / f64::from(1_u32 << 23) - 1.0
}
