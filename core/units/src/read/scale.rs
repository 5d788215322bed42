//! Scale texts of a title block: `1"=20'`, `1/8"=1'-0"`, `1:200`.

use super::length::length;
use super::marks::read_marked;
use super::number::take_decimal;
use super::scan::Scan;
use super::{Kind, Unread, Written, ask, malformed, quoted};
use crate::{Length, Ratio, Scale};

const KIND: Kind = Kind { noun: "a scale", like: "for example 1\" = 20', 1/8\" = 1'-0\" or 1:200" };

/// Reads a scale: a length on paper equal to a length on the ground, or `1:200`.
///
/// # Errors
/// [`Unread::Ask`] when one side names no unit: `1" = 20`.
///
/// ```
/// use groundrule_units::read_scale;
/// assert_eq!(read_scale("1\"=20'")?.value, read_scale("1:240")?.value);
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_scale(text: &str) -> Result<Written<Scale>, Unread> {
    read_marked(text, &KIND, |core| {
        let scale = match core.split_once('=') {
            Some((paper, ground)) => {
                let sides = Sides { core, paper: paper.trim(), ground: ground.trim() };
                Scale::new(sides.ground()?, sides.paper()?)
            }
            None => fraction(core)?,
        };
        // Stated scales are round numbers; the quotient of two lengths is not quite.
        let scale = Scale::from_denominator(without_noise(scale.denominator()));
        let denominator = scale.denominator().fraction();
        if !denominator.is_finite() || denominator < 1.0 {
            return Err(malformed("the ground must be at least as large as the drawing"));
        }
        Ok(scale)
    })
}

/// The nearest billionth, which takes off the noise of a division.
fn without_noise(ratio: Ratio) -> Ratio {
    Ratio::from_fraction((ratio.fraction() * 1e9).round() / 1e9)
}

struct Sides<'a> {
    core: &'a str,
    paper: &'a str,
    ground: &'a str,
}

impl Sides<'_> {
    fn paper(&self) -> Result<Length, Unread> {
        if is_bare(self.paper) {
            let choices = ["in", "cm"].map(|unit| format!("{} {unit} = {}", self.paper, self.ground));
            return Err(ask(format!("In which unit is the drawing side of {}?", quoted(self.core)), choices));
        }
        self.side(self.paper)
    }

    fn ground(&self) -> Result<Length, Unread> {
        if is_bare(self.ground) && !is_bare(self.paper) {
            let choices = ["ft", "in", "m"].map(|unit| format!("{} = {} {unit}", self.paper, self.ground));
            return Err(ask(format!("In which unit is the ground side of {}?", quoted(self.core)), choices));
        }
        if is_bare(self.ground) {
            return Err(malformed("neither side names its unit"));
        }
        self.side(self.ground)
    }

    fn side(&self, text: &str) -> Result<Length, Unread> {
        let length = length(text, None).map_err(|unread| match unread {
            Unread::Ask(question) => {
                ask(question.ask, question.choices.iter().map(|choice| self.core.replacen(text, choice, 1)))
            }
            other @ Unread::Malformed(_) => other,
        })?;
        if length.value > Length::ZERO {
            Ok(length.value)
        } else {
            Err(malformed("a side is not more than zero"))
        }
    }
}

fn is_bare(text: &str) -> bool {
    let mut scan = Scan::new(text);
    matches!(super::number::take_number(&mut scan), Ok(Some(_))) && scan.is_done()
}

/// `1:200`
fn fraction(core: &str) -> Result<Scale, Unread> {
    let Some((paper, ground)) = core.split_once(':') else {
        return Err(malformed("it says neither `=` nor `:`"));
    };
    let number = |side: &str| -> Result<f64, Unread> {
        let mut scan = Scan::new(side.trim());
        match take_decimal(&mut scan)? {
            Some(number) if scan.is_done() && number.value > 0.0 => Ok(number.value),
            _ => Err(malformed(format!("{} is not a number above zero", quoted(side)))),
        }
    };
    Ok(Scale::from_denominator(Ratio::from_fraction(number(ground)? / number(paper)?)))
}
