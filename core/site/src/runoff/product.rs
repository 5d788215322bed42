//! Products of whole powers: an area times a depth, a depth over a rate.

use groundrule_units::Dimension;

use crate::Measured;

/// Most factors of a product, and the highest power of one.
const MOST: (usize, i8) = (8, 4);

/// Powers of metres and seconds, which tell a dimension; an angle has none.
fn powers(dimension: Dimension) -> Option<(i32, i32)> {
    match dimension {
        Dimension::Ratio => Some((0, 0)),
        Dimension::Length => Some((1, 0)),
        Dimension::Area => Some((2, 0)),
        Dimension::Volume => Some((3, 0)),
        Dimension::Flow => Some((3, -1)),
        Dimension::Speed => Some((1, -1)),
        Dimension::Time => Some((0, 1)),
        Dimension::Angle => None,
    }
}

const KNOWN: [Dimension; 7] = [
    Dimension::Ratio,
    Dimension::Length,
    Dimension::Area,
    Dimension::Volume,
    Dimension::Flow,
    Dimension::Speed,
    Dimension::Time,
];

/// The product of these amounts, each to a whole power; none where something is divided by nothing.
///
/// # Errors
/// What is wrong, in words, when the product is of no dimension that is known or has too many factors.
pub fn product(factors: &[(&Measured, i8)]) -> Result<Option<Measured>, String> {
    if factors.len() > MOST.0 || factors.iter().any(|(_, power)| !(-MOST.1..=MOST.1).contains(power)) {
        return Err(format!("a product takes up to {} factors to powers up to {}", MOST.0, MOST.1));
    }
    let (mut metres, mut seconds) = (0, 0);
    for (amount, power) in factors {
        let Some((m, s)) = powers(amount.value().dimension()) else {
            return Err("an angle does not go into a product".to_owned());
        };
        metres += m * i32::from(*power);
        seconds += s * i32::from(*power);
    }
    let of = KNOWN.iter().find(|dimension| powers(**dimension) == Some((metres, seconds)));
    let Some(dimension) = of else {
        return Err(format!("metres to the {metres} with seconds to the {seconds} have no name here"));
    };
    let inputs: Vec<&Measured> = factors.iter().map(|(amount, _)| *amount).collect();
    Ok(Measured::through(&inputs, *dimension, |at| {
        Some(at.iter().zip(factors).map(|(value, (_, power))| whole_power(*value, *power)).product())
    }))
}

fn whole_power(value: f64, power: i8) -> f64 {
    let once: f64 = std::iter::repeat_n(value, usize::from(power.unsigned_abs())).product();
    if power < 0 { 1.0 / once } else { once }
}

#[cfg(test)]
mod tests {
    use groundrule_units::{Angle, Area, Length, Quantity, Speed, Time, Volume};

    use super::product;
    use crate::Measured;

    #[test]
    fn dimensions_multiply() {
        let check = |factors: &[(Quantity, i8)], expected: Option<Quantity>| {
            let amounts: Vec<Measured> = factors.iter().map(|(of, _)| Measured::exact(*of)).collect();
            let factors: Vec<(&Measured, i8)> =
                amounts.iter().zip(factors).map(|(a, (_, p))| (a, *p)).collect();
            let found = product(&factors).expect("a dimension").map(|it| it.value());
            assert_eq!(found, expected);
        };
        let (area, depth) = (Area::from_square_metres(6.0).into(), Length::from_metres(0.5).into());
        check(&[(area, 1), (depth, 1)], Some(Volume::from_cubic_metres(3.0).into()));
        check(
            &[(depth, 1), (Speed::from_metres_per_second(0.25).into(), -1)],
            Some(Time::from_seconds(2.0).into()),
        );
        check(&[(area, 1), (depth, -1)], Some(Length::from_metres(12.0).into()));
        check(&[(area, 1), (Length::ZERO.into(), -1)], None);
        check(&[], Some(groundrule_units::Ratio::from_fraction(1.0).into()));
    }

    #[test]
    fn what_has_no_name_is_refused() {
        let depth = Measured::exact(Length::from_metres(2.0));
        assert!(product(&[(&depth, 4)]).is_err_and(|why| why.contains("no name")));
        assert!(product(&[(&depth, 5)]).is_err_and(|why| why.contains("powers up to 4")));
        let angle = Measured::exact(Angle::from_degrees(3.0));
        assert!(product(&[(&angle, 1)]).is_err_and(|why| why.contains("angle")));
    }
}
