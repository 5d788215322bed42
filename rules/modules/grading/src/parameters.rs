//! Parameters that several checks read, and those that cannot be left out.

use groundrule_kit::{Choice, Figure, Ground, Length, LengthParameter, ParameterInfo, Ratio, Refusal, Value};

/// A length that a row must give, more than nothing.
pub(crate) fn needed<G: Ground>(ground: &G, parameter: &LengthParameter) -> Result<Length, Refusal> {
    let name = parameter.info().name;
    match parameter.read(ground)? {
        Some(length) if length > Length::ZERO => Ok(length),
        Some(_) => Err(Refusal::new(format!("parameter `{name}` is zero; give a length such as \"10 ft\""))),
        None => {
            Err(Refusal::new(format!("parameter `{name}` is not given; give a length such as \"10 ft\"")))
        }
    }
}

/// The parameter that says from which slope on ground is a face.
pub(crate) const STEEPER_THAN: ParameterInfo = ParameterInfo {
    name: "steeper_than",
    summary: "The slope from which on ground counts as a face; needed.",
};

/// The slope from which on ground is a face.
pub(crate) fn steeper_than<G: Ground>(ground: &G) -> Result<Ratio, Refusal> {
    let wrong = |given: &str| {
        Err(Refusal::new(format!(
            "parameter `steeper_than` is {given}; give a slope of more than nothing, such as \"1 in 3\" or \"33 %\""
        )))
    };
    match ground.parameter("steeper_than") {
        None => wrong("not given"),
        Some(Value::Quantity(quantity)) => match quantity.ratio() {
            Some(ratio) if ratio.fraction() > 0.0 && ratio.is_finite() => Ok(ratio),
            Some(_) => wrong("no slope"),
            None => wrong("no ratio"),
        },
        Some(other) => wrong(other.sort()),
    }
}

/// The words of a figure along or across a line.
pub(crate) const LINE_FIGURES: &[(&str, Figure)] = &[
    ("least", Figure::Least),
    ("greatest", Figure::Greatest),
    ("mean", Figure::Mean),
    ("steepest", Figure::Steepest),
    ("flattest", Figure::Flattest),
];

/// Which of two lines of a face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Edge {
    /// Along its foot.
    Toe,
    /// Along its top.
    Crest,
}

/// The parameter that says which line of a face.
pub(crate) const EDGE: Choice<Edge> = Choice::new(
    "edge",
    "The line of the face that is measured to: `toe` or `crest`; `toe` when not given.",
    &[("toe", Edge::Toe), ("crest", Edge::Crest)],
    Edge::Toe,
);
