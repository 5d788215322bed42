//! The strip each side of a line where only hands may dig, by how the line's place is known.

use groundrule_kit::{Ground, LengthParameter, Refusal};

use crate::near::Near;
use crate::size::gaps;

/// The strips that a row sets, as exact amounts.
pub(crate) struct Zone<A> {
    marked: A,
    record: Option<A>,
    guessed: Option<A>,
}

impl Zone<()> {
    /// The strip of a line marked on the ground.
    pub(crate) const MARKED: LengthParameter =
        LengthParameter::new("marked", "The strip each side of a line marked on the ground; needed.");
    /// The strip of a line known from a record.
    pub(crate) const RECORD: LengthParameter = LengthParameter::new(
        "record",
        "The strip of a line known from a record; as `marked` when not given.",
    );
    /// The strip of a line whose place is a guess.
    pub(crate) const GUESSED: LengthParameter =
        LengthParameter::new("guessed", "The strip of a line drawn by guess; as `record` when not given.");

    /// What the row says.
    pub(crate) fn read<G: Ground>(ground: &G) -> Result<Zone<G::Amount>, Refusal> {
        for parameter in [Self::MARKED, Self::RECORD, Self::GUESSED] {
            parameter.read(ground)?;
        }
        let Some(marked) = ground.parameter_amount("marked") else {
            return Err(Refusal::new(
                "parameter `marked` is not given; give the strip each side of a marked line, such as \"24 in\"",
            ));
        };
        let record = ground.parameter_amount("record");
        Ok(Zone { marked, record, guessed: ground.parameter_amount("guessed") })
    }
}

impl<A> Zone<A> {
    /// The strip of a line whose place is known in this way; none for a word that is not known.
    pub(crate) fn of(&self, located: &str) -> Option<&A> {
        let record = self.record.as_ref().unwrap_or(&self.marked);
        match located {
            "marked" => Some(&self.marked),
            "record" => Some(record),
            "guessed" => Some(self.guessed.as_ref().unwrap_or(record)),
            _ => None,
        }
    }
}

/// How far work stays out of a strip.
pub(crate) struct Margin<A> {
    /// The gap less the strip.
    pub(crate) amount: A,
    /// The gap on the plan.
    pub(crate) gap: A,
    /// The strip.
    pub(crate) zone: A,
    /// How the place of the line is known.
    pub(crate) located: String,
}

/// The margin of each pair; else the word that `located` holds and that is none of those known, if any.
pub(crate) fn margins<G: Ground>(
    ground: &G,
    near: &Near,
    zone: &Zone<G::Amount>,
) -> Vec<Result<Margin<G::Amount>, Option<String>>> {
    let located = ground.texts(&near.others(), "located");
    let gaps = gaps(ground, &near.pairs);
    let one = |(gap, located): (G::Amount, Option<String>)| {
        let Some(strip) = located.as_deref().and_then(|word| zone.of(word)) else { return Err(located) };
        let (amount, strip) = (ground.subtract(&[(&gap, strip)]).pop(), ground.scale(&[(strip, 1.0)]).pop());
        match (amount, strip, located) {
            (Some(amount), Some(zone), Some(located)) => Ok(Margin { amount, gap, zone, located }),
            (_, _, located) => Err(located),
        }
    };
    gaps.into_iter().zip(located).map(one).collect()
}
