use groundrule_kit::{
    Answer, Check, Dimension, Feature, Ground, Info, LengthParameter, Need, Reading, Refusal,
};

use crate::least;
use crate::near::near;
use crate::stated::{COVER, how_located, stated};
use crate::zone::{Zone, margins};

/// Dig conflict: whether work that is dug deep enough to meet a line also stays out of its strip.
///
/// # What it measures
/// For each subject and each of the group `lines`, the greater of two margins: the gap on the plan less the strip
/// beside the line (as `dig-clearance` has it), and the `cover` of the line less the `dig_depth` of the subject and
/// less `spare`. Less than zero only where the work reaches into the strip and down to the line; then by the
/// lesser of the two ways out.
///
/// # Why
/// A post hole or a tree pit over a shallow cable is the usual way a line is broken. Work that stays above
/// a line can still break a shallower one, so this only adds to the strip and never takes it away.
///
/// # Parameters
/// - `marked`, `record`, `guessed`: the strips, as in `dig-clearance`. `marked` is needed.
/// - `spare`: earth to be left over the line. Without it, none.
/// - `usual_depth`: the depth of a subject that does not state its `dig_depth`. Without it, that is lacking.
/// - `least_cover`, and `least_power`, `least_low_voltage`, `least_gas`, `least_communication`, `least_irrigation`,
///   `least_sewer` for lines of these kinds: the cover of a line that does not state its `cover`; to be chosen low.
///   Without it, that is lacking.
/// - `reach`: how far to look for lines. Without it, each subject is measured to every line.
///
/// # Answers
/// A length for each subject and line, with the facts `line`, `beside` and `above` (the two margins), `cover`,
/// `dig_depth`, and `cover_basis` and `depth_basis` (`stated` or `assumed`). Not applicable when no line is within
/// reach. Lacking when the line does not say how its place is known, a depth is neither stated nor assumed, or one
/// of the two is stated but not drawn.
///
/// # Cautions
/// A stated cover is never evidence that it is safe to dig: ground is cut and filled after a line is laid. The
/// answer may raise a warning; that it raises none clears nothing.
pub struct DigConflict;

const SPARE: LengthParameter =
    LengthParameter::new("spare", "Earth to be left over the line; none when not given.");
const USUAL_DEPTH: LengthParameter =
    LengthParameter::new("usual_depth", "The depth of work that states none; lacking when not given.");
const REACH: LengthParameter =
    LengthParameter::new("reach", "How far to look for lines; all are measured to when not given.");

/// A depth, and whether it is stated.
type Depth<A> = Result<(A, &'static str), Need>;

impl Check for DigConflict {
    const INFO: Info = Info {
        name: "dig-conflict",
        summary: "The greater of the margin beside a line's strip and the earth left over the line.",
        dimension: Some(Dimension::Length),
        parameters: &[
            Zone::MARKED.info(),
            Zone::RECORD.info(),
            Zone::GUESSED.info(),
            SPARE.info(),
            USUAL_DEPTH.info(),
            least::ANY.info(),
            least::POWER.info(),
            least::LOW_VOLTAGE.info(),
            least::GAS.info(),
            least::COMMUNICATION.info(),
            least::IRRIGATION.info(),
            least::SEWER.info(),
            REACH.info(),
        ],
        groups: &["lines"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let zone = Zone::read(ground)?;
        least::check(ground)?;
        for parameter in [SPARE, USUAL_DEPTH] {
            parameter.read(ground)?;
        }
        let near = near(ground, &ground.group("lines"), REACH.read(ground)?);
        let mut readings = near.without_pair(ground, "no line is within reach");
        let lines = near.others();
        let how = "state how deep it is dug as `dig_depth`: its footing, posts, pit or trench";
        let subjects = near.subjects();
        let usual = subjects.iter().map(|_| ground.parameter_amount("usual_depth")).collect();
        let depths = or_assumed(stated(ground, &subjects, "dig_depth", how), usual);
        let covers = or_assumed(stated(ground, &lines, "cover", COVER), least::assumed(ground, &lines));
        let labels = ground.labels(&lines);
        let all = near.pairs.iter().zip(margins(ground, &near, &zone)).zip(depths.into_iter().zip(covers));
        readings.extend(all.zip(labels).map(|(((&(subject, line), margin), (depth, cover)), label)| {
            let beside = margin
                .map(|margin| margin.amount)
                .map_err(|_| Need::new(format!("how the place of {label} is known"), how_located(None)));
            judged(ground, subject, beside, depth, cover).to(line).text("line", label)
        }));
        Ok(readings)
    }
}

/// The stated amount of each feature, else the one the row assumes, else what is lacking.
fn or_assumed<A>(stated: Vec<Result<A, Need>>, assumed: Vec<Option<A>>) -> Vec<Depth<A>> {
    let one = |(stated, assumed): (Result<A, Need>, Option<A>)| match (stated, assumed) {
        (Ok(amount), _) => Ok((amount, "stated")),
        (Err(_), Some(amount)) => Ok((amount, "assumed")),
        (Err(need), None) => Err(need),
    };
    stated.into_iter().zip(assumed).map(one).collect()
}

fn judged<G: Ground>(
    ground: &G,
    subject: Feature,
    beside: Result<G::Amount, Need>,
    depth: Depth<G::Amount>,
    cover: Depth<G::Amount>,
) -> Reading<G::Amount> {
    let (beside, (depth, depth_basis), (cover, cover_basis)) = match (beside, depth, cover) {
        (Ok(beside), Ok(depth), Ok(cover)) => (beside, depth, cover),
        (beside, depth, cover) => {
            let needs = [beside.err(), depth.err(), cover.err()].into_iter().flatten().collect();
            return Reading::new(subject, Answer::Lacking(needs));
        }
    };
    let above = ground.subtract(&[(&cover, &depth)]).pop();
    let above = match (above, ground.parameter_amount("spare")) {
        (Some(above), Some(spare)) => ground.subtract(&[(&above, &spare)]).pop(),
        (above, _) => above,
    };
    let margins: Vec<&G::Amount> = std::iter::once(&beside).chain(&above).collect();
    let Some(margin) = ground.greatest(&margins) else {
        return Reading::new(subject, Answer::Lacking(Vec::new()));
    };
    let reading = Reading::amount(subject, margin)
        .shown("beside", beside)
        .shown("cover", cover)
        .shown("dig_depth", depth)
        .text("cover_basis", cover_basis)
        .text("depth_basis", depth_basis);
    match above {
        Some(above) => reading.shown("above", above),
        None => reading,
    }
}
