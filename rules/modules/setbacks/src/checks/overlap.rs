use groundrule_kit::{
    Check, Dimension, Feature, Ground, Info, LengthParameter, Reading, Refusal, Shape, drawn_or_not,
    drawn_subjects, in_no_pair,
};

/// Overlap: whether each subject stays out of areas such as easements and buffers, and by how much.
///
/// # What it measures
/// The clearance between the subject and each of the group `areas`: the gap where they are apart, and less than
/// zero by the depth of penetration where the subject reaches in. It is one signed length, so that a subject
/// a hand's breadth from an area drawn to a foot is told apart from one that is surely clear.
///
/// # Why
/// Whoever holds an easement may have to dig, drive or cut there, and may take out what stands in it.
///
/// # Parameters
/// - `reach`: how far to look for areas, a length well above the limit and the accuracy of the plan. Without it,
///   each subject is measured to every area.
///
/// # Answers
/// A length for each subject and area, with the facts `area` (what to call it), `shared_area` and `share` (of the
/// subject's own area), or `length_inside` for a line. Not applicable when no area is within reach. Lacking when one of the two is stated but
/// not drawn.
///
/// # Cautions
/// The recorded document governs where an easement lies and what may stand in it; a drawn one only repeats it.
/// On a plan of many lots give a `reach`: without one the work grows with subjects times areas.
pub struct Overlap;

const REACH: LengthParameter =
    LengthParameter::new("reach", "How far to look for areas; every area is measured to when not given.");

impl Check for Overlap {
    const INFO: Info = Info {
        name: "overlap",
        summary: "The clearance between each subject and areas it should stay out of, negative inside them.",
        dimension: Some(Dimension::Length),
        parameters: &[REACH.info()],
        groups: &["areas"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let reach = REACH.read(ground)?;
        let areas = ground.group("areas");
        let (subjects, mut readings) = drawn_subjects(ground);
        let every = |areas: &[Feature]| -> Vec<(Feature, Feature)> {
            let pairs = subjects.iter().flat_map(|&subject| areas.iter().map(move |&area| (subject, area)));
            pairs.filter(|(subject, area)| subject != area).collect()
        };
        let mut pairs = match reach {
            None => every(&areas),
            Some(reach) => {
                let mut near = ground.near(&subjects, &areas, reach);
                near.extend(every(&drawn_or_not(ground, &areas).1));
                near
            }
        };
        pairs.sort_unstable();

        let alone = in_no_pair(&subjects, &pairs).into_iter();
        readings
            .extend(alone.map(|subject| Reading::not_applicable(subject, "no such area is within reach")));
        readings.extend(measured(ground, pairs));
        Ok(readings)
    }
}

fn measured<G: Ground>(ground: &G, pairs: Vec<(Feature, Feature)>) -> Vec<Reading<G::Amount>> {
    let (firsts, seconds): (Vec<Feature>, Vec<Feature>) = pairs.iter().copied().unzip();
    let clearances = ground.clearance(&pairs);
    let shared = ground.overlap(&pairs);
    let inside = lengths_inside(ground, &pairs);
    let whole = ground.area(&firsts);
    let terms: Vec<(&G::Amount, &G::Amount)> = shared.iter().zip(&whole).collect();
    let shares = ground.ratio(&terms);
    let labels = ground.labels(&seconds);
    pairs
        .into_iter()
        .zip(clearances)
        .zip(shared.into_iter().zip(shares).zip(inside))
        .zip(labels)
        .map(|((((subject, area), clearance), ((shared, share), inside)), label)| {
            let reading = Reading::amount(subject, clearance).to(area).text("area", label);
            // A line has no area to share; what counts is how much of it runs inside. A point has neither.
            match (share, inside) {
                (Some(share), _) => reading.shown("shared_area", shared).shown("share", share),
                (None, Some(inside)) => reading.shown("length_inside", inside),
                (None, None) => reading,
            }
        })
        .collect()
}

/// How much of each subject that is a line runs inside the other.
fn lengths_inside<G: Ground>(ground: &G, pairs: &[(Feature, Feature)]) -> Vec<Option<G::Amount>> {
    let subjects: Vec<Feature> = pairs.iter().map(|pair| pair.0).collect();
    let is_line: Vec<bool> = ground.shapes(&subjects).into_iter().map(|shape| shape == Shape::Line).collect();
    let lines: Vec<(Feature, Feature)> =
        pairs.iter().zip(&is_line).filter(|(_, is_line)| **is_line).map(|(pair, _)| *pair).collect();
    let mut lengths = ground.length_inside(&lines).into_iter();
    is_line.into_iter().map(|is_line| if is_line { lengths.next() } else { None }).collect()
}
