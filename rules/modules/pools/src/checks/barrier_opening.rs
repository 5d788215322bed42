use groundrule_kit::{Check, Dimension, Ground, Info, Need, Reading, Refusal};

/// Barrier opening: the widest opening in the barrier around a pool.
///
/// # What it measures
/// Of all the rings that the group `barrier` can make around the subject, that whose widest gap is least, and that gap:
/// nothing or less where its pieces touch or cross. A gate counts as closed.
///
/// # Why
/// A small child gets through a gap before anyone has turned around. A barrier is as good as its widest opening.
///
/// # Parameters
/// None: what belongs to the barrier is said by the row, in what it puts into `barrier`.
///
/// # Answers
/// A length for each subject, with the facts `pieces`, how many things make the ring, and `made_of`, what they are called.
/// Lacking when the pieces cannot be joined to a ring around it at all.
///
/// # Cautions
/// It looks at gaps seen from above. Gaps under a fence, between its pales and in its gate, its height and what a child
/// could climb on are other rules. A house wall in the ring brings its doors and windows with it. Where no fence is
/// drawn because there is none, nothing else on the sheet makes a pool safe; the local code says what does.
pub struct BarrierOpening;

impl Check for BarrierOpening {
    const INFO: Info = Info {
        name: "barrier-opening",
        summary: "The widest opening in the barrier around each pool.",
        dimension: Some(Dimension::Length),
        parameters: &[],
        groups: &["barrier"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let pieces = ground.group("barrier");
        let pools = ground.subjects();
        let labels = ground.labels(&pools);
        let one = |(pool, label)| match ground.widest_opening(pool, &pieces) {
            Some(ring) => {
                let count = u32::try_from(ring.pieces.len()).unwrap_or(u32::MAX);
                let made_of = ground.labels(&ring.pieces).join(", ");
                Reading::amount(pool, ring.opening).counted("pieces", count).text("made_of", made_of)
            }
            None => Reading::lacking(
                pool,
                Need::new(
                    format!("barrier around {label}"),
                    "draw every fence, wall and gate of it, with `pool_barrier = true`",
                ),
            ),
        };
        Ok(pools.into_iter().zip(labels).map(one).collect())
    }
}
