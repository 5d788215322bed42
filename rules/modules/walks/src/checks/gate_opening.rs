use groundrule_kit::{Check, Dimension, Feature, Ground, Info, Need, Reading, Refusal, Shape};

/// Gate opening: how wide the way through a gate is.
///
/// # What it measures
/// The stated `clear_opening` of the subject, or the length of a gate that is drawn as a line from post to post.
///
/// # Why
/// The opening of a gate is often the narrowest place on the way from the street to the door or the yard.
///
/// # Parameters
/// None.
///
/// # Answers
/// A length for each gate, with the fact `basis` (`stated` or `drawn`). A stated opening governs over a drawn one.
/// Lacking when there is neither; a `leaf_width` alone does not say the opening, for the leaf, its hinges and the
/// stop take part of it.
///
/// # Cautions
/// A drawn line runs from post to post and is the most the opening can be: with the leaf open at 90 degrees, the
/// way through is narrower by the leaf's thickness and the hinges. Common practice is to measure it on the finished
/// gate, from the face of the open leaf to the stop.
pub struct GateOpening;

impl Check for GateOpening {
    const INFO: Info = Info {
        name: "gate-opening",
        summary: "The stated clear opening of each gate, or the length of one drawn as a line.",
        dimension: Some(Dimension::Length),
        parameters: &[],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let gates = ground.subjects();
        let stated = ground.stated(&gates, "clear_opening");
        let leaves = ground.stated(&gates, "leaf_width");
        let shapes = ground.shapes(&gates);
        let lengths = ground.length(&gates);
        let labels = ground.labels(&gates);
        let drawn = shapes.into_iter().zip(lengths);
        let all = gates.into_iter().zip(labels).zip(stated.into_iter().zip(leaves)).zip(drawn);
        Ok(all
            .map(|(((gate, label), (stated, leaf)), (shape, length))| match (stated, shape) {
                (Some(opening), _) => Reading::amount(gate, opening).text("basis", "stated"),
                (None, Shape::Line) => Reading::amount(gate, length).text("basis", "drawn"),
                (None, _) => lacking(gate, &label, leaf.is_some()),
            })
            .collect())
    }
}

fn lacking<A>(gate: Feature, label: &str, has_leaf: bool) -> Reading<A> {
    let measure = "open the leaf to 90 degrees, measure from its face to the stop on the latch side, and state \
                   that as `clear_opening`";
    let how = if has_leaf {
        format!("the width of the leaf is not the width of the way through: {measure}")
    } else {
        format!("{measure}, or draw the gate as a line from post to post")
    };
    Reading::lacking(gate, Need::new(format!("clear opening of {label}"), how))
}
