use groundrule_kit::{
    Check, Dimension, Feature, Ground, Info, LengthParameter, Need, Reading, Refusal, Shape, drawn_subjects,
    in_no_pair,
};

/// Flow gap: whether water can pass under or through what stands across a drainage way.
///
/// # What it measures
/// The gap between the ground and the lower edge of the subject, where it reaches into one of the group `areas`: its
/// stated `bottom_gap`; nothing for one that is stated as `solid`, and nothing for an outline that stands on the ground.
///
/// # Why
/// A fence across a drainage easement is a dam in the first storm. The water goes to the neighbor, or takes the fence.
///
/// # Parameters
/// - `reach`: how far to look for areas, a length well above the accuracy of the plan. Needed.
///
/// # Answers
/// A length for each subject and area, with the facts `inside` (how far it reaches in, less than zero outside) and
/// `length_inside` for a line. A row asks only where `reading.inside > feet(0)`. Not applicable when no area is within
/// reach. Lacking when a fence says neither its `bottom_gap` nor that it is `solid`.
///
/// # Cautions
/// Leaves and litter close a small gap. Whoever holds the easement decides what may stand in it, and a licensed engineer
/// how much water comes.
pub struct FlowGap;

const REACH: LengthParameter = LengthParameter::new("reach", "How far to look for areas; needed.");

impl Check for FlowGap {
    const INFO: Info = Info {
        name: "flow-gap",
        summary: "The gap left for water under what stands across a drainage way.",
        dimension: Some(Dimension::Length),
        parameters: &[REACH.info()],
        groups: &["areas"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let Some(reach) = REACH.read(ground)? else {
            return Err(Refusal::new(
                "parameter `reach` is not given; give how far to look, such as \"10 ft\"",
            ));
        };
        let (subjects, mut readings) = drawn_subjects(ground);
        let pairs = ground.near(&subjects, &ground.group("areas"), reach);
        for subject in in_no_pair(&subjects, &pairs) {
            readings.push(Reading::not_applicable(subject, "no drainage way is within reach"));
        }
        let clear = ground.clearance(&pairs);
        let lengths = ground.length_inside(&pairs);
        let insides = ground.scale(&clear.iter().map(|clear| (clear, -1.0)).collect::<Vec<_>>());
        for ((pair, inside), length) in pairs.into_iter().zip(insides).zip(lengths) {
            let is_line = ground.shapes(&[pair.0]).first() == Some(&Shape::Line);
            let reading = match gap(ground, pair.0, is_line) {
                Ok(gap) => Reading::amount(pair.0, gap),
                Err(need) => Reading::lacking(pair.0, need),
            };
            let reading = reading.to(pair.1).shown("inside", inside);
            readings.push(if is_line { reading.shown("length_inside", length) } else { reading });
        }
        Ok(readings)
    }
}

fn gap<G: Ground>(ground: &G, subject: Feature, is_line: bool) -> Result<G::Amount, Need> {
    if let Some(gap) = ground.stated(&[subject], "bottom_gap").pop().flatten() {
        return Ok(gap);
    }
    let solid = ground.fact(&[subject], "solid").pop().flatten() == Some(true.into());
    // Its length less itself: no gap at all, and known exactly.
    let length = ground.length(&[subject]).pop();
    let nothing = length.and_then(|length| ground.subtract(&[(&length, &length)]).pop());
    match nothing.filter(|_| solid || !is_line) {
        Some(nothing) => Ok(nothing),
        None => Err(Need::new(
            format!("gap under {}", ground.labels(&[subject]).concat()),
            "state the gap between the ground and its lower edge as `bottom_gap`, or `solid = true` where water \
             cannot pass",
        )),
    }
}
