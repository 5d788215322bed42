use std::collections::BTreeMap;

use groundrule_kit::{Answer, Check, Fact, Feature, Ground, Info, LengthParameter, Reading, Refusal};

use crate::least;
use crate::near::near;
use crate::size::gaps;
use crate::zone::Zone;

/// Dig list: what lies near each piece of work in the ground.
///
/// # What it measures
/// How many of the group `near` lie within reach of the subject, and what is known of each: how far it is, how its
/// place is known, the strip that follows from that, and the earth over its top, stated or assumed.
///
/// # Why
/// Whoever digs wants one list for the work in hand: what to ask for, what to look for and how deep. A line that is
/// not on the list because nobody drew it is found by calling first.
///
/// # Parameters
/// - `marked`, `record`, `guessed`: the strips, as in `dig-clearance`. `marked` is needed.
/// - `reach`: how far from the work to look. Without it, all are listed.
/// - `least_cover`, and `least_power`, `least_low_voltage`, `least_gas`, `least_communication`, `least_irrigation`,
///   `least_sewer` for lines of these kinds: the cover of a line that does not state its `cover`; to be chosen low.
///   Without it, none is told.
///
/// # Answers
/// A count for each subject, with a list of what was counted, nearest first, and the fact `dig_depth` where it is
/// stated. For each thing listed: `name`, `kind`, `gap`, `located` and `strip` where they are known, and for a line
/// `cover` with `cover_basis` (`stated` or `assumed`). Lacking when the subject is not drawn.
///
/// # Cautions
/// The list is of what is drawn. Lines on the owner's side of a meter are often drawn nowhere, and the
/// one-call service does not mark them. No cover on it is evidence that it is safe to dig.
pub struct DigList;

const REACH: LengthParameter =
    LengthParameter::new("reach", "How far from the work to look; all are listed when not given.");

impl Check for DigList {
    const INFO: Info = Info {
        name: "dig-list",
        summary: "How many lines and pieces of equipment lie near work in the ground, and what is known of each.",
        dimension: None,
        parameters: &[
            Zone::MARKED.info(),
            Zone::RECORD.info(),
            Zone::GUESSED.info(),
            REACH.info(),
            least::ANY.info(),
            least::POWER.info(),
            least::LOW_VOLTAGE.info(),
            least::GAS.info(),
            least::COMMUNICATION.info(),
            least::IRRIGATION.info(),
            least::SEWER.info(),
        ],
        groups: &["near"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let zone = Zone::read(ground)?;
        least::check(ground)?;
        let near = near(ground, &ground.group("near"), REACH.read(ground)?);
        let mut items: BTreeMap<Feature, Vec<Item<G::Amount>>> = BTreeMap::new();
        for (subject, item) in near.subjects().into_iter().zip(known(ground, &near.pairs, &zone)) {
            items.entry(subject).or_default().push(item);
        }
        // Nothing is within reach: that too is a count.
        let nobody: Vec<Feature> = near.alone.clone();
        let mut readings: Vec<Reading<G::Amount>> = near
            .without_pair(ground, "")
            .into_iter()
            .filter(|reading| matches!(reading.answer, Answer::Lacking(_)))
            .collect();
        items.extend(nobody.into_iter().map(|subject| (subject, Vec::new())));
        let subjects: Vec<Feature> = items.keys().copied().collect();
        let depths = ground.stated(&subjects, "dig_depth");
        readings.extend(items.into_iter().zip(depths).map(|((subject, mut items), depth)| {
            items.sort_by(|a, b| a.order.total_cmp(&b.order));
            let count = u32::try_from(items.len()).unwrap_or(u32::MAX);
            let reading = Reading::new(subject, Answer::Count(count));
            let reading = match depth {
                Some(depth) => reading.shown("dig_depth", depth),
                None => reading,
            };
            items.into_iter().zip(1..).fold(reading, |reading, (item, at)| {
                item.facts.into_iter().fold(reading, |reading, (name, fact)| reading.listed(at, name, fact))
            })
        }));
        Ok(readings)
    }
}

/// One thing near the work.
struct Item<A> {
    /// How far it is, for the order of the list.
    order: f64,
    facts: Vec<(&'static str, Fact<A>)>,
}

/// What is known of the second of each pair.
fn known<G: Ground>(
    ground: &G,
    pairs: &[(Feature, Feature)],
    zone: &Zone<G::Amount>,
) -> Vec<Item<G::Amount>> {
    let others: Vec<Feature> = pairs.iter().map(|pair| pair.1).collect();
    let gaps = gaps(ground, pairs);
    let far = crate::near::known(ground, &gaps);
    let named = ground.labels(&others).into_iter().zip(ground.texts(&others, "kind"));
    let lines = ground.is_a(&others, "buried-line");
    let covers = ground.stated(&others, "cover").into_iter().zip(least::assumed(ground, &others));
    let placed = ground.texts(&others, "located").into_iter().zip(gaps.into_iter().zip(far));
    let all = named.zip(lines).zip(covers.zip(placed));
    all.map(|(((name, kind), line), ((stated, assumed), (located, (gap, far))))| {
        let mut facts = vec![("name", Fact::Text(name))];
        facts.extend(kind.map(|kind| ("kind", Fact::Text(kind))));
        if far.is_some() {
            facts.push(("gap", Fact::Amount(gap)));
        }
        let strip = located.as_deref().and_then(|word| zone.of(word));
        facts.extend(
            strip.and_then(|strip| ground.scale(&[(strip, 1.0)]).pop()).map(|it| ("strip", Fact::Amount(it))),
        );
        match located {
            Some(word) => facts.push(("located", Fact::Text(word))),
            None if line => facts.push(("located", Fact::Text("not stated".to_owned()))),
            None => {}
        }
        let cover = match (stated, assumed.filter(|_| line)) {
            (Some(stated), _) => Some((stated, "stated")),
            (None, assumed) => assumed.map(|assumed| (assumed, "assumed")),
        };
        if let Some((cover, basis)) = cover {
            facts.push(("cover", Fact::Amount(cover)));
            facts.push(("cover_basis", Fact::Text(basis.to_owned())));
        }
        // What is not drawn stands last.
        Item { order: far.unwrap_or(f64::INFINITY), facts }
    })
    .collect()
}
