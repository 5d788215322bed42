use groundrule_kit::{
    Check, Choice, Dimension, Feature, Ground, Info, Need, Reading, Refusal, drawn_subjects,
};

/// Hedge by a window: how high a hedge is, with how far the window it takes light from stands off.
///
/// # What it measures
/// The stated height of the subject, and beside it for each of the group `windows` the distance that decides what height
/// leaves it light.
///
/// # Why
/// A line of evergreens takes the light of a room for good. What height is fair hangs on how far the window is.
///
/// # Parameters
/// - `faces`: `beside` for a window in a wall that runs toward the hedge: from the window to the nearest of the group
///   `lines`, lot lines. `opposite` for a window that looks at the hedge: from the window to the hedge itself. Without it,
///   `opposite`.
///
/// # Answers
/// A length for each hedge and window, with the facts `window_distance` and `window`. Lacking when the height of the hedge
/// is not stated. A window takes part in `beside` or `opposite` as its wall stands; the row cannot see which and asks both.
///
/// # Cautions
/// A window is drawn at its middle. On a slope the levels of hedge and window matter as much as their distance. Talk to the
/// neighbor first.
pub struct HedgeByWindow;

#[derive(Clone, Copy, PartialEq)]
enum Faces {
    Beside,
    Opposite,
}

const FACES: Choice<Faces> = Choice::new(
    "faces",
    "How the window stands to the hedge: `beside` or `opposite`; `opposite` when not given.",
    &[("beside", Faces::Beside), ("opposite", Faces::Opposite)],
    Faces::Opposite,
);

impl Check for HedgeByWindow {
    const INFO: Info = Info {
        name: "hedge-by-window",
        summary: "The height of each hedge, with how far a window stands off.",
        dimension: Some(Dimension::Length),
        parameters: &[FACES.info()],
        groups: &["lines", "windows"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let faces = FACES.read(ground)?;
        let (windows, lines) = (ground.group("windows"), ground.group("lines"));
        let (subjects, mut readings) = drawn_subjects(ground);
        for &hedge in &subjects {
            if windows.is_empty() {
                readings.push(Reading::not_applicable(hedge, "there is no window to take light from"));
            }
            let label = ground.labels(&[hedge]).concat();
            for &window in &windows {
                let lacking = || {
                    let how = "state its height over the ground as `height`";
                    Reading::lacking(hedge, Need::new(format!("height of {label}"), how))
                };
                let height = ground.stated(&[hedge], "height").pop().flatten();
                let reading = height.map_or_else(lacking, |height| Reading::amount(hedge, height));
                let reading = reading.to(window).text("window", ground.labels(&[window]).concat());
                readings.push(match distance(ground, faces, hedge, window, &lines) {
                    Some(distance) => reading.shown("window_distance", distance),
                    None => reading,
                });
            }
        }
        Ok(readings)
    }
}

fn distance<G: Ground>(
    ground: &G,
    faces: Faces,
    hedge: Feature,
    window: Feature,
    lines: &[Feature],
) -> Option<G::Amount> {
    let to: Vec<(Feature, Feature)> = match faces {
        Faces::Opposite => vec![(window, hedge)],
        Faces::Beside => lines.iter().map(|&line| (window, line)).collect(),
    };
    let distances = ground.between(&to);
    ground.least(&distances.iter().collect::<Vec<_>>())
}
