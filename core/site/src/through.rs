//! Any function of amounts, to first order in their errors.

use groundrule_units::{Dimension, Quantity};

use crate::terms::Gather;
use crate::{Mark, Measured, Need};

/// The share of a value, or of its spread where that is larger, by which an input is moved to see what it does: the cube
/// root of the last place of a number, where the errors of a central difference are least.
const STEP: f64 = 6e-6;

impl Measured {
    /// A function of the SI numbers of these amounts, as an amount of this dimension.
    ///
    /// The function is tried a little to both sides of each input that has a spread; what that does to its value
    /// carries the input's error terms over, so an error that two inputs share counts once. Where only one side has an
    /// answer, that side alone is taken. Marks and needs of all inputs are kept, each once; where one is lacking so is the result,
    /// and the function is not asked. None where it has no answer.
    pub fn through(
        inputs: &[&Self],
        dimension: Dimension,
        function: impl Fn(&[f64]) -> Option<f64>,
    ) -> Option<Self> {
        let needs = all_needs(inputs);
        if !needs.is_empty() {
            return Some(Self::lacking(dimension, needs));
        }
        let function = |at: &[f64]| function(at).filter(|value| value.is_finite());
        let centre: Vec<f64> = inputs.iter().map(|input| input.value().si()).collect();
        let value = function(&centre)?;
        let mut gather = Gather::default();
        for (moved, input) in inputs.iter().enumerate() {
            let spread = input.spread().si();
            if spread == 0.0 {
                continue;
            }
            let step = STEP * input.value().si().abs().max(spread);
            let try_at = |by: f64| {
                let mut at = centre.clone();
                *at.get_mut(moved)? += by;
                function(&at)
            };
            let slope = match (try_at(step), try_at(-step)) {
                (Some(above), Some(below)) => (above - below) / (2.0 * step),
                (Some(above), None) => (above - value) / step,
                (None, Some(below)) => (value - below) / step,
                (None, None) => return None,
            };
            gather.terms(input.terms(), slope);
        }
        let mut marks: Vec<Mark> = Vec::new();
        for mark in inputs.iter().flat_map(|input| &input.marks) {
            if !marks.contains(mark) {
                marks.push(mark.clone());
            }
        }
        Some(Self::new(Quantity::new(dimension, value), gather.finish()).marked(marks))
    }
}

fn all_needs(inputs: &[&Measured]) -> Vec<Need> {
    let mut needs: Vec<Need> = inputs.iter().flat_map(|input| input.needs.iter().cloned()).collect();
    needs.sort();
    needs.dedup();
    needs
}

#[cfg(test)]
mod tests {
    use groundrule_survey::SourceId;
    use groundrule_units::{Area, Dimension, Length, Quantity};
    use smallvec::smallvec;

    use crate::{Measured, Need};

    fn length(metres: f64, terms: &[(u32, f64)]) -> Measured {
        let terms = terms.iter().map(|(source, term)| (SourceId(*source), *term)).collect();
        Measured::new(Length::from_metres(metres).into(), terms)
    }

    #[track_caller]
    fn close(found: f64, expected: f64) {
        assert!((found - expected).abs() <= 1e-8 * expected.abs().max(1e-3), "{found} is not {expected}");
    }

    #[test]
    fn a_product_errs_as_its_factors_do() {
        let (a, b) = (length(3.0, &[(1, 0.01)]), length(4.0, &[(2, 0.02)]));
        let product = |at: &[f64]| Some(at.iter().product());
        let area = Measured::through(&[&a, &b], Dimension::Area, product).expect("an answer");
        assert_eq!(area.value(), Area::from_square_metres(12.0).into());
        close(area.spread().si(), libm::hypot(4.0 * 0.01, 3.0 * 0.02));
        // Of one source, the errors add instead.
        let square = Measured::through(&[&a, &a], Dimension::Area, product).expect("an answer");
        close(square.spread().si(), 2.0 * 3.0 * 0.01);
        // A difference of amounts that err together is as well known as it should be.
        let same =
            Measured::through(&[&a, &a], Dimension::Length, |at| Some(at.iter().fold(0.0, |s, x| x - s)));
        close(same.expect("an answer").spread().si(), 0.0);
    }

    #[test]
    fn an_exact_amount_adds_nothing_and_is_not_moved() {
        let zero = Measured::exact(Length::ZERO);
        let a = length(2.0, &[(1, 0.01)]);
        let power = Measured::through(&[&a, &zero], Dimension::Ratio, |at| match at {
            [a, b] if *b == 0.0 => Some(libm::pow(*a, 1.5)),
            _ => None,
        });
        let power = power.expect("an answer");
        close(power.value().si(), libm::pow(2.0, 1.5));
        close(power.spread().si(), 1.5 * libm::sqrt(2.0) * 0.01);
    }

    #[test]
    fn one_side_is_enough_and_no_answer_is_none() {
        let edge = length(1.0, &[(1, 0.01)]);
        let below = |at: &[f64]| at.first().copied().filter(|x| *x <= 1.0);
        let held = Measured::through(&[&edge], Dimension::Length, below).expect("an answer");
        close(held.spread().si(), 0.01);
        assert_eq!(Measured::through(&[&edge], Dimension::Length, |_| None), None);
        assert_eq!(Measured::through(&[&edge], Dimension::Length, |_| Some(f64::INFINITY)), None);
    }

    #[test]
    fn what_is_lacking_is_lacking_after() {
        let need = Need { what: "level".to_owned(), how: "take it".to_owned() };
        let lacking = Measured::lacking(Dimension::Length, vec![need.clone()]);
        let result = Measured::through(&[&lacking, &length(1.0, &[])], Dimension::Area, |_| None);
        let result = result.expect("a lacking amount");
        assert_eq!((result.value(), &result.needs), (Quantity::new(Dimension::Area, 0.0), &vec![need]));
        let none: crate::Terms = smallvec![];
        assert_eq!(result.terms(), &none);
    }
}
