use groundrule_kit::{Check, Dimension, Ground, Info, Need, Reading, Refusal};

/// Clear width: how wide a walk is where it is narrowest.
///
/// # What it measures
/// The lesser of the stated `clear_width` of the subject and its narrowest drawn width. A walk may be drawn wide
/// and be narrowed by a post or a wall, or be stated as it should be and drawn as it is; the lesser one is what
/// a person has to get through.
///
/// # Why
/// A wheelchair, a stroller, a barrow or two people side by side each need their width all the way.
///
/// # Parameters
/// None.
///
/// # Answers
/// A length for each subject, with the fact `basis` (`stated` or `drawn`) and, where they are known, the facts
/// `stated_width` and `drawn_width`. Lacking when the walk has neither.
///
/// # Cautions
/// Things that stand in the walk and are not part of its outline (a meter, a branch, a parked cart) do not show
/// here; state the `clear_width` measured between them.
pub struct ClearWidth;

impl Check for ClearWidth {
    const INFO: Info = Info {
        name: "clear-width",
        summary: "The lesser of the stated and the drawn width of each subject.",
        dimension: Some(Dimension::Length),
        parameters: &[],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let subjects = ground.subjects();
        let drawn = ground.drawn_width(&subjects);
        let amounts: Vec<&G::Amount> = drawn.iter().collect();
        let (widths, lacks) = (ground.values(&amounts), ground.lacks(&amounts));
        // A bare line has no width to be measured: it only shows where the walk runs.
        let known = widths.iter().zip(lacks).map(|(width, lacks)| !lacks && width.si() > 0.0);
        let drawn: Vec<Option<G::Amount>> =
            drawn.into_iter().zip(known).map(|(width, known)| known.then_some(width)).collect();

        let stated = ground.stated(&subjects, "clear_width");
        let labels = ground.labels(&subjects);
        let all = subjects.into_iter().zip(labels).zip(stated.into_iter().zip(drawn));
        Ok(all
            .map(|((subject, label), (stated, drawn))| {
                let widths: Vec<&G::Amount> = stated.iter().chain(&drawn).collect();
                let Some(clear) = ground.least(&widths) else {
                    return Reading::lacking(
                        subject,
                        Need::new(
                            format!("clear width of {label}"),
                            "draw it as an outline, give its line a `width`, or measure between the nearest \
                             things on both sides and state that as `clear_width`",
                        ),
                    );
                };
                let values = ground.values(&widths);
                let by_drawing = match (&stated, &drawn, values.as_slice()) {
                    (Some(_), Some(_), [stated, drawn, ..]) => drawn.si() < stated.si(),
                    (stated, ..) => stated.is_none(),
                };
                let mut reading = Reading::amount(subject, clear)
                    .text("basis", if by_drawing { "drawn" } else { "stated" });
                if let Some(stated) = stated {
                    reading = reading.shown("stated_width", stated);
                }
                if let Some(drawn) = drawn {
                    reading = reading.shown("drawn_width", drawn);
                }
                reading
            })
            .collect())
    }
}
