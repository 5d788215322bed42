use groundrule_kit::{Answer, Check, Ground, Info, Mark, Outcome, Reading, Refusal};

use crate::amounts::label;
use crate::goes::goes;
use crate::surface::{GRADE, few_levels, on_ground};

/// Water course: where the water of each subject ends.
///
/// # What it measures
/// The way of water down the steepest fall from each place of the subject: a spot, the middle of each stretch of a line,
/// places all over an area, beside each wall of a building. It ends at one of the group `ends`, over a line of the lot,
/// against a building, in a hollow, or where the levels end. Counted are the places whose water ends nowhere: in a
/// hollow, on level ground, or where there are no levels to follow it by.
///
/// # Why
/// A drawing that shows where water comes down and not where it goes leaves that to whoever stands in it.
///
/// # Parameters
/// - `grade`: `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// A count for each subject, with the facts `goes` (in words, each end and the number of its places) and `places`. Marked
/// is where water ends nowhere, and every end where there are few. Lacking where the plan has no levels of that ground, or none at the subject.
///
/// # Cautions
/// Water is followed over the bare surface. At a lot line it is followed no farther.
pub struct WaterCourse;

/// Ends of so many places are all drawn.
const FEW: usize = 4;

impl Check for WaterCourse {
    const INFO: Info = Info {
        name: "water-course",
        summary: "How many places of each subject shed water that ends nowhere, and where the rest ends.",
        dimension: None,
        parameters: &[GRADE.info()],
        groups: &["ends"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let ends = ground.group("ends");
        let on = on_ground(ground)?;
        let mut readings = on.readings;
        let courses = ground.courses(on.grade, &on.subjects, &ends, &[], false);
        for (subject, courses) in on.subjects.into_iter().zip(courses) {
            if courses.iter().all(|course| course.outcome == Outcome::Unknown) {
                readings.push(Reading::lacking(subject, few_levels(on.grade, &label(ground, subject))));
                continue;
            }
            let nowhere = |outcome: Outcome| matches!(outcome, Outcome::Stands | Outcome::Unknown);
            let lost = courses.iter().filter(|course| nowhere(course.outcome)).count();
            let words = goes(ground, &courses);
            let mut reading = Reading::new(subject, Answer::Count(small(lost)))
                .text("goes", words.as_str())
                .counted("places", small(courses.len()))
                .said(format!("water {words}"), "none that stands");
            // Where all of a lawn runs to would fill the sheet: of many places only those that end nowhere are drawn.
            let few = courses.len() <= FEW;
            let drawn = courses.iter().filter(|course| few || nowhere(course.outcome));
            reading.marks.extend(drawn.filter_map(|course| Some(Mark::Spot(*course.path.last()?))));
            readings.push(reading);
        }
        Ok(readings)
    }
}

fn small(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}
