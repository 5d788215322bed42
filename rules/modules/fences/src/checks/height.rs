use groundrule_kit::{Check, Dimension, Ground, Info, Need, Reading, Refusal};

use crate::heights::{SIDE, greatest, heights};

/// Height: how high a fence, wall or hedge stands at its highest.
///
/// # What it measures
/// The greatest of the heights stated for the subject: at its stations where it has `heights` at `stations`, else its
/// `height`.
///
/// # Why
/// Height decides whether a fence needs a permit, keeps a child out of a pool, or shades the neighbor.
///
/// # Parameters
/// - `side`: the ground the height is counted from, where the two sides differ. `high` takes the heights as stated,
///   over the higher ground. `low` takes `low_heights`, or adds the stated `ground_step`. Without it, `high`.
///
/// # Answers
/// A length for each subject, with the fact `station` where heights are stated at stations. Lacking when no height, or
/// for `low` no step, is stated.
///
/// # Cautions
/// Codes differ on the ground a height is counted from: one's own, the neighbor's, the lower, the mean, the ground
/// before the work. Between stations nothing is known.
pub struct Height;

impl Check for Height {
    const INFO: Info = Info {
        name: "height",
        summary: "The greatest height of each fence, wall or hedge, over its higher or lower ground.",
        dimension: Some(Dimension::Length),
        parameters: &[SIDE.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let side = SIDE.read(ground)?;
        let subjects = ground.subjects();
        let all = heights(ground, &subjects, side);
        let one = |(subject, heights): (_, Result<_, Need>)| match heights.map(|all| greatest(ground, all)) {
            Ok(Some(found)) => found.reading(subject),
            Ok(None) => Reading::lacking(subject, Need::new("any height", "state it as `height`")),
            Err(need) => Reading::lacking(subject, need),
        };
        Ok(subjects.into_iter().zip(all).map(one).collect())
    }
}
