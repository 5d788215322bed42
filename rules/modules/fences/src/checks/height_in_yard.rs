use groundrule_kit::{
    Check, Dimension, Feature, Ground, Info, LengthParameter, Need, OnLot, Reading, Refusal, Shape, by_lot,
    drawn_subjects,
};

use crate::along::distance;
use crate::heights::{At, SIDE, greatest, heights};

/// Height in a yard: how high a fence, wall or hedge stands where it runs through a yard.
///
/// # What it measures
/// The height of the subject, and how far it reaches into the strip that lies within `depth` of a line of the group
/// `lines` of its own lot. Where heights are stated at stations, the greatest among those in the strip. Of several
/// lines, the one it reaches deepest in from.
///
/// # Why
/// Toward the street fences are kept low, so that drivers and walkers see each other and houses look onto the street.
///
/// # Parameters
/// - `depth`: how deep the yard is. Needed.
/// - `side`: the ground the height is counted from: `high` or `low`, as for the check `height`. Without it, `high`.
///
/// # Answers
/// A length for each subject, with the facts `inside` (how far it reaches into the yard, less than zero outside),
/// `length_inside` for a line, `station` and `line`. A row asks only where `reading.inside > feet(0)`. Not applicable
/// when the lot has no such line, or no station lies in the yard. Lacking when no height is stated or the lot is not
/// known.
///
/// # Cautions
/// The yard meant is the required one unless the local text says the actual one. Where the front is not confirmed, the
/// yard may be another.
pub struct HeightInYard;

const DEPTH: LengthParameter = LengthParameter::new("depth", "How deep the yard is; needed.");

impl Check for HeightInYard {
    const INFO: Info = Info {
        name: "height-in-yard",
        summary: "The height of each fence, wall or hedge where it runs through a yard.",
        dimension: Some(Dimension::Length),
        parameters: &[DEPTH.info(), SIDE.info()],
        groups: &["lines"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let side = SIDE.read(ground)?;
        let (Some(depth), Some(exact)) = (DEPTH.read(ground)?, ground.parameter_amount("depth")) else {
            return Err(Refusal::new(
                "parameter `depth` is not given; give the depth of the yard, such as \"20 ft\"",
            ));
        };
        let (subjects, mut readings) = drawn_subjects(ground);
        let all = heights(ground, &subjects, side);
        for (on, heights) in by_lot(ground, &subjects, &ground.group("lines")).into_iter().zip(all) {
            let yard = match deepest(ground, &on, &exact) {
                Ok(yard) => yard,
                Err(reading) => {
                    readings.push(*reading);
                    continue;
                }
            };
            let reading = match heights {
                Ok(heights) => in_yard(ground, &on, &yard, heights, depth.metres()),
                Err(need) => Reading::lacking(on.subject, need),
            };
            readings.push(told(ground, on.subject, yard, depth, reading));
        }
        Ok(readings)
    }
}

/// The line a subject reaches deepest in from, and how deep.
struct Yard<A> {
    line: Feature,
    inside: A,
}

fn deepest<G: Ground>(
    ground: &G,
    on: &OnLot,
    depth: &G::Amount,
) -> Result<Yard<G::Amount>, Box<Reading<G::Amount>>> {
    let pairs: Vec<(Feature, Feature)> = on.others.iter().map(|&line| (on.subject, line)).collect();
    let yards = ground.yard(&pairs);
    let values = ground.values(&yards.iter().collect::<Vec<_>>());
    let nearest = values.iter().enumerate().min_by(|a, b| a.1.si().total_cmp(&b.1.si())).map(|(at, _)| at);
    let found = nearest.and_then(|at| Some((on.others.get(at)?, yards.get(at)?)));
    let inside = found.and_then(|(&line, yard)| Some((line, ground.subtract(&[(depth, yard)]).pop()?)));
    match (inside, on.lot) {
        (Some((line, inside)), _) => Ok(Yard { line, inside }),
        (None, Some(lot)) => {
            let why = format!("{} has no line of the kind asked about", ground.labels(&[lot]).concat());
            Err(Box::new(Reading::not_applicable(on.subject, why)))
        }
        (None, None) => Err(Box::new(Reading::lacking(
            on.subject,
            Need::new(
                format!("lot of {}", ground.labels(&[on.subject]).concat()),
                "draw the lot around it, or name it with `lot`, so that its lines are known",
            ),
        ))),
    }
}

/// The greatest height among the stations within the yard of any of the lines; a height that holds all along counts.
fn in_yard<G: Ground>(
    ground: &G,
    on: &OnLot,
    yard: &Yard<G::Amount>,
    heights: Vec<At<G::Amount>>,
    depth: f64,
) -> Reading<G::Amount> {
    let lines: Vec<_> = on.others.iter().map(|&line| ground.outline(line)).collect();
    let within = |at: &At<G::Amount>| match &at.station {
        Some((_, Some(place))) => lines.iter().any(|line| distance(*place, line) <= depth),
        Some((_, None)) | None => true,
    };
    let Some(found) = greatest(ground, heights.into_iter().filter(within).collect()) else {
        let line = ground.labels(&[yard.line]).concat();
        return Reading::not_applicable(
            on.subject,
            format!("no station of it lies in the yard along {line}"),
        );
    };
    found.reading(on.subject)
}

fn told<G: Ground>(
    ground: &G,
    subject: Feature,
    yard: Yard<G::Amount>,
    depth: groundrule_kit::Length,
    reading: Reading<G::Amount>,
) -> Reading<G::Amount> {
    let strip = ground.strip(&[yard.line], depth).pop().flatten();
    let is_line = ground.shapes(&[subject]).first() == Some(&Shape::Line);
    let length = strip.filter(|_| is_line).and_then(|strip| ground.length_inside(&[(subject, strip)]).pop());
    let reading =
        reading.to(yard.line).text("line", ground.labels(&[yard.line]).concat()).shown("inside", yard.inside);
    match length {
        Some(length) => reading.shown("length_inside", length),
        None => reading,
    }
}
