//! Curve texts of a plat: `R=25.00' L=39.27' Δ=90°00'00" CH=35.36'`.

use super::angle::angle;
use super::length::length;
use super::marks::read_marked;
use super::{Figure, Kind, Unread, Written, ask, malformed, quoted};
use crate::curve::{Part, Shape};
use crate::{CircularCurve, CurveCheck, CurvePart, Dimension, Quantity, SheetUnit};

const KIND: Kind =
    Kind { noun: "a curve", like: "at least two of R, L, Δ and CH, for example R=25.00' L=39.27'" };

/// Reads a curve; two figures define it and the others are checked against them.
///
/// The two are taken in the order radius and delta, radius and arc, arc and delta, chord and delta, arc and chord.
/// A figure that does not agree is no refusal: see [`CurveCheck`].
///
/// # Errors
/// [`Unread::Ask`] for radius and chord alone, which the short and the long arc share, and for lengths that ask.
///
/// ```
/// use groundrule_units::read_curve;
/// let curve = read_curve("R=25.00' L=39.27' Δ=90°00'00\" CH=35.36'", None)?.value;
/// assert!(curve.checks.iter().all(|check| check.agrees));
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_curve(text: &str, sheet: Option<SheetUnit>) -> Result<Written<CircularCurve>, Unread> {
    read_marked(text, &KIND, |core| curve(core, sheet))
}

const KEYS: &[(&str, CurvePart)] = &[
    ("R", CurvePart::Radius),
    ("RADIUS", CurvePart::Radius),
    ("L", CurvePart::Arc),
    ("ARC", CurvePart::Arc),
    ("Δ", CurvePart::Delta),
    ("D", CurvePart::Delta),
    ("DELTA", CurvePart::Delta),
    ("CH", CurvePart::Chord),
    ("C", CurvePart::Chord),
    ("CHORD", CurvePart::Chord),
];

/// Which two figures define the curve, best first.
const DEFINING: &[[CurvePart; 2]] = &[
    [CurvePart::Radius, CurvePart::Delta],
    [CurvePart::Radius, CurvePart::Arc],
    [CurvePart::Arc, CurvePart::Delta],
    [CurvePart::Chord, CurvePart::Delta],
    [CurvePart::Arc, CurvePart::Chord],
    [CurvePart::Radius, CurvePart::Chord],
];

/// A figure in metres or radians, with its text and the step that shows.
struct Given<'a> {
    part: CurvePart,
    text: &'a str,
    figure: Figure<f64>,
}

impl Given<'_> {
    fn exact(&self) -> Part {
        (self.part, self.figure.value)
    }

    /// The least and the most that rounds to this text.
    fn ends(&self) -> [Part; 2] {
        [-0.5, 0.5].map(|share| (self.part, self.figure.value + share * self.figure.step))
    }
}

fn curve(core: &str, sheet: Option<SheetUnit>) -> Result<CircularCurve, Unread> {
    let given = given(core, sheet)?;
    let find = |part: CurvePart| given.iter().find(|given| given.part == part);
    let Some((first, second)) = DEFINING.iter().find_map(|[a, b]| Some((find(*a)?, find(*b)?))) else {
        return Err(malformed("one figure does not define a curve"));
    };
    let Some(shape) = Shape::of(first.exact(), second.exact()) else {
        let (a, b) = (first.part.sign(), second.part.sign());
        return Err(malformed(format!("no curve under a whole turn has this {a} and {b}")));
    };
    if first.part == CurvePart::Radius && second.part == CurvePart::Chord {
        which_arc(core, first, shape)?;
    }
    let checks = given
        .iter()
        .filter(|other| other.part != first.part && other.part != second.part)
        .map(|other| check(other, first, second, shape))
        .collect();
    Ok(shape.with_checks(checks))
}

/// Takes one `key = figure` after the other.
fn given(core: &str, sheet: Option<SheetUnit>) -> Result<Vec<Given<'_>>, Unread> {
    let mut given: Vec<Given> = Vec::new();
    let mut left = core.split_once('=');
    while let Some((key, rest)) = left {
        let text;
        (text, left) = match rest.split_once('=') {
            Some((before, after)) => {
                let (text, key) = split_key(before.trim_end());
                (text, Some((key, after)))
            }
            None => (rest, None),
        };
        let (key, text) = (key.trim(), text.trim_matches([' ', ',', ';']));
        let Some((_, part)) = KEYS.iter().find(|(word, _)| word.eq_ignore_ascii_case(key)) else {
            return Err(malformed(format!("{} is not R, L, Δ or CH", quoted(key))));
        };
        if given.iter().any(|other| other.part == *part) {
            return Err(malformed(format!("{} is given twice", part.sign())));
        }
        let figure = figure(*part, text, sheet).map_err(|unread| in_place(unread, core, text))?;
        given.push(Given { part: *part, text, figure });
    }
    Ok(given)
}

/// The letters at the end, which are the next key, and what stands before them.
fn split_key(text: &str) -> (&str, &str) {
    text.split_at(text.trim_end_matches(char::is_alphabetic).len())
}

fn figure(part: CurvePart, text: &str, sheet: Option<SheetUnit>) -> Result<Figure<f64>, Unread> {
    let figure = if part == CurvePart::Delta {
        let angle = angle(text)?;
        Figure { value: angle.value.radians(), step: angle.step.radians() }
    } else {
        let length = length(text, sheet)?;
        Figure { value: length.value.metres(), step: length.step.metres() }
    };
    if figure.value > 0.0 {
        Ok(figure)
    } else {
        Err(malformed(format!("{} must be more than zero", part.sign())))
    }
}

/// A question about one figure, asked about the whole text.
fn in_place(unread: Unread, core: &str, text: &str) -> Unread {
    match unread {
        Unread::Ask(question) => {
            ask(question.ask, question.choices.iter().map(|choice| core.replacen(text, choice, 1)))
        }
        Unread::Malformed(why) => malformed(format!("in {}, {why}", quoted(text))),
    }
}

/// Radius and chord are shared by two arcs, except by half a circle.
fn which_arc(core: &str, radius: &Given, shape: Shape) -> Result<(), Unread> {
    let short = shape.part(CurvePart::Delta).to_degrees();
    if (180.0 - short).abs() < 1e-6 {
        return Ok(());
    }
    let choices = [short, 360.0 - short].map(|delta| format!("R={} Δ={delta:.6}°", radius.text));
    Err(ask(format!("Is {} the arc of less or of more than half a turn?", quoted(core)), choices))
}

fn check(other: &Given, first: &Given, second: &Given, shape: Shape) -> CurveCheck {
    let computed = shape.part(other.part);
    let reach = first
        .ends()
        .into_iter()
        .flat_map(|a| second.ends().map(|b| Shape::of(a, b)))
        .flatten()
        .map(|corner| (corner.part(other.part) - computed).abs())
        .fold(other.figure.step / 2.0, |reach, off| reach.max(off + other.figure.step / 2.0));
    let dimension = if other.part == CurvePart::Delta { Dimension::Angle } else { Dimension::Length };
    CurveCheck {
        part: other.part,
        written: Quantity::new(dimension, other.figure.value),
        computed: Quantity::new(dimension, computed),
        agrees: (other.figure.value - computed).abs() <= reach * (1.0 + 1e-9),
    }
}
