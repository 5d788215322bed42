use groundrule_kit::{
    Check, Choice, Dimension, Feature, Ground, Info, Need, OnLot, Reading, Refusal, by_lot,
};

/// Yard depth: how far each subject stays from the lot lines of its own lot.
///
/// # What it measures
/// The distance from the subject to each line of the group `lines` that bounds the lot it stands on, square to
/// the line or to the line's nearer end. Where the subject reaches across the line, the depth by which it
/// does, as a negative distance.
///
/// # Why
/// Yards keep light, air, view, access for repair and room for firefighting between a building and its
/// neighbors, and keep sight open along the street.
///
/// # Parameters
/// - `to_part`: `wall` measures to the outline as drawn. `eave` takes the stated `eave` of the subject off that.
///   Without it, `wall`.
/// - `if_none`: what a lot without a line of the group means. `lacking` asks for the line's role; for a front
///   line, which every lot has, that is right. `not_applicable` suits a street side or a rear line, which many
///   lots do not have. Without it, `lacking`.
///
/// # Answers
/// A length for each subject and line, with the facts `line` (what to call it), `role` and `street`. Lacking
/// when the subject has no lot, its lot has no such line, or its eave is asked for and not stated.
///
/// # Cautions
/// Codes differ on the part that a yard is measured to: wall, foundation, eave, post or step. A line drawn from
/// a picture is not a boundary; only a licensed surveyor's is.
pub struct LotLineDistance;

#[derive(Clone, Copy)]
enum Part {
    Wall,
    Eave,
}

#[derive(Clone, Copy)]
enum IfNone {
    Lacking,
    NotApplicable,
}

const TO_PART: Choice<Part> = Choice::new(
    "to_part",
    "The part measured to: `wall`, or `eave`, which takes the stated eave off; `wall` when not given.",
    &[("wall", Part::Wall), ("eave", Part::Eave)],
    Part::Wall,
);

const IF_NONE: Choice<IfNone> = Choice::new(
    "if_none",
    "What a lot without such a line means: `lacking` or `not_applicable`; `lacking` when not given.",
    &[("lacking", IfNone::Lacking), ("not_applicable", IfNone::NotApplicable)],
    IfNone::Lacking,
);

impl Check for LotLineDistance {
    const INFO: Info = Info {
        name: "lot-line-distance",
        summary: "The yard between each subject and the lot lines of its own lot.",
        dimension: Some(Dimension::Length),
        parameters: &[TO_PART.info(), IF_NONE.info()],
        groups: &["lines"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let part = TO_PART.read(ground)?;
        let if_none = IF_NONE.read(ground)?;
        let mut together = by_lot(ground, &ground.subjects(), &ground.group("lines"));

        let mut readings = Vec::new();
        together.retain(|on| match unasked(ground, on, if_none) {
            Some(reading) => {
                readings.push(reading);
                false
            }
            None => true,
        });
        match part {
            Part::Wall => {
                let pairs = pairs(&together);
                let yards = ground.yard(&pairs);
                tell(ground, pairs, yards, &mut readings);
            }
            Part::Eave => to_eaves(ground, together, &mut readings),
        }
        Ok(readings)
    }
}

/// The answer for a subject that has no line to be measured to.
fn unasked<G: Ground>(ground: &G, on: &OnLot, if_none: IfNone) -> Option<Reading<G::Amount>> {
    let label = || ground.labels(&[on.subject]).concat();
    let Some(lot) = on.lot else {
        return Some(Reading::lacking(
            on.subject,
            Need::new(
                format!("lot of {}", label()),
                "draw the lot around it, or name it with `lot`, so that its lines are known",
            ),
        ));
    };
    if !on.others.is_empty() {
        return None;
    }
    let lot_label = ground.labels(&[lot]).concat();
    let reading = match if_none {
        IfNone::Lacking => Reading::lacking(
            on.subject,
            Need::new(
                format!("line of {lot_label} to measure {} to", label()),
                "give that side of the lot its `role` under `sides`",
            ),
        ),
        IfNone::NotApplicable => {
            Reading::not_applicable(on.subject, format!("{lot_label} has no line of the kind asked about"))
        }
    };
    Some(reading.to(lot))
}

fn pairs(together: &[OnLot]) -> Vec<(Feature, Feature)> {
    together.iter().flat_map(|on| on.others.iter().map(|&line| (on.subject, line))).collect()
}

/// Takes each subject's eave off its yards; a subject that states none has nothing to be judged by.
fn to_eaves<G: Ground>(ground: &G, together: Vec<OnLot>, readings: &mut Vec<Reading<G::Amount>>) {
    let subjects: Vec<Feature> = together.iter().map(|on| on.subject).collect();
    let mut known = Vec::new();
    let mut eaves = Vec::new();
    for (on, eave) in together.into_iter().zip(ground.stated(&subjects, "eave")) {
        match eave {
            Some(eave) => {
                eaves.extend(std::iter::repeat_n(known.len(), on.others.len()));
                known.push((on, eave));
            }
            None => readings.push(Reading::lacking(
                on.subject,
                Need::new(
                    format!("eave of {}", ground.labels(&[on.subject]).concat()),
                    "state how far the roof reaches beyond the wall as `eave`; \"0\" when it does not",
                ),
            )),
        }
    }
    let pairs: Vec<(Feature, Feature)> =
        known.iter().flat_map(|(on, _)| on.others.iter().map(|&line| (on.subject, line))).collect();
    let walls = ground.yard(&pairs);
    let terms: Vec<(&G::Amount, &G::Amount)> =
        walls.iter().zip(eaves).filter_map(|(wall, at)| Some((wall, &known.get(at)?.1))).collect();
    tell(ground, pairs, ground.subtract(&terms), readings);
}

/// One reading for each pair, with what is known of the line.
fn tell<G: Ground>(
    ground: &G,
    pairs: Vec<(Feature, Feature)>,
    yards: Vec<G::Amount>,
    readings: &mut Vec<Reading<G::Amount>>,
) {
    let lines: Vec<Feature> = pairs.iter().map(|&(_, line)| line).collect();
    let labels = ground.labels(&lines);
    let roles = ground.texts(&lines, "role");
    let streets = ground.texts(&lines, "street");
    let facts = labels.into_iter().zip(roles).zip(streets);
    readings.extend(pairs.into_iter().zip(yards).zip(facts).map(
        |(((subject, line), yard), ((label, role), street))| {
            Reading::amount(subject, yard)
                .to(line)
                .text("line", label)
                .text_if("role", role)
                .text_if("street", street)
        },
    ));
}
