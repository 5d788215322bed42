//! Choosing what to measure: what settles the most first, until nothing is left open.

use std::collections::{BTreeMap, BTreeSet};

use super::open::{Item, Open};

/// How many looks at one reading of one finding are spent on the shortest list; beyond that, findings are settled
/// one after the other, so that plans with very many of them cost little more than reading them.
const LOOKS: usize = 4_000_000;

/// One thing to measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Pick {
    /// The length of this open finding and of all that are the same length.
    Length(usize),
    /// A reading or a measurement.
    Item(Item),
}

/// A pick with what it settles and helps, by the places of the open findings.
#[derive(Debug)]
pub(super) struct Chosen {
    pub(super) pick: Pick,
    pub(super) settles: Vec<usize>,
    pub(super) helps: Vec<usize>,
}

/// What to measure, in order.
pub(super) fn choose(open: &[Open]) -> Vec<Chosen> {
    let field = Field::of(open);
    let picks = field.prune(field.pick());
    field.walk(&picks)
}

/// The open findings with what is asked of them often.
struct Field<'a> {
    open: &'a [Open],
    items: Vec<BTreeSet<Item>>,
    /// The findings that each item is part of the doubt of.
    of_item: BTreeMap<Item, Vec<usize>>,
    /// The findings of the same length as each, itself included; none where it cannot be measured by itself.
    same: Vec<Vec<usize>>,
    /// What one look at everything costs.
    effort: usize,
}

/// How far the list has come.
struct Progress {
    taken: BTreeSet<Item>,
    /// Per finding, whether it is still open.
    left: Vec<bool>,
}

/// What one more measurement would do.
struct Effect {
    pick: Pick,
    settles: usize,
    /// The doubt it takes away, as shares of what is left of each.
    relief: f64,
}

impl Effect {
    /// What settles more is better; then a length before a reading, then what takes away more doubt.
    fn beats(&self, other: &Self) -> bool {
        let rank = |effect: &Self| (effect.settles, matches!(effect.pick, Pick::Length(_)));
        rank(self).cmp(&rank(other)).then(self.relief.total_cmp(&other.relief)).is_gt()
    }
}

impl<'a> Field<'a> {
    fn of(open: &'a [Open]) -> Self {
        let items: Vec<BTreeSet<Item>> = open.iter().map(Open::items).collect();
        let mut of_item: BTreeMap<Item, Vec<usize>> = BTreeMap::new();
        let mut lengths: BTreeMap<_, Vec<usize>> = BTreeMap::new();
        for (at, finding) in open.iter().enumerate() {
            for item in items.get(at).into_iter().flatten() {
                of_item.entry(*item).or_default().push(at);
            }
            if let Some(direct) = &finding.direct {
                lengths.entry(direct.key()).or_default().push(at);
            }
        }
        let of = |finding: &Open| {
            finding.direct.as_ref().and_then(|direct| lengths.get(&direct.key())).cloned().unwrap_or_default()
        };
        let same = open.iter().map(of).collect();
        let effort = items.iter().map(|items| items.len() * items.len() + 1).sum();
        Self { open, items, of_item, same, effort }
    }

    fn begin(&self) -> Progress {
        Progress { taken: BTreeSet::new(), left: vec![true; self.open.len()] }
    }

    fn pick(&self) -> Vec<Pick> {
        let mut progress = self.begin();
        let mut picks = Vec::new();
        for _ in 0..LOOKS / self.effort.max(1) {
            let Some(effect) = self.best(&mut progress) else { break };
            self.take(effect.pick, &mut progress);
            picks.push(effect.pick);
        }
        // What is left over is settled finding by finding.
        for at in 0..self.open.len() {
            while progress.left[at] {
                let length = (!self.same[at].is_empty()).then_some(Pick::Length(at));
                let pick = length.or_else(|| self.greatest(at, &progress.taken).map(Pick::Item));
                let Some(pick) = pick else { break };
                self.take(pick, &mut progress);
                picks.push(pick);
            }
        }
        picks
    }

    /// Marks a pick as measured; the findings that this settles.
    fn take(&self, pick: Pick, progress: &mut Progress) -> Vec<usize> {
        let Progress { taken, left } = progress;
        let concerned: &[usize] = match pick {
            Pick::Length(at) => &self.same[at],
            Pick::Item(item) => {
                taken.insert(item);
                self.of_item.get(&item).map_or(&[], Vec::as_slice)
            }
        };
        let settles = |at: &usize| matches!(pick, Pick::Length(_)) || self.open[*at].settled(taken);
        let settled: Vec<usize> = concerned.iter().copied().filter(|at| left[*at] && settles(at)).collect();
        for at in &settled {
            left[*at] = false;
        }
        settled
    }

    /// The item of a finding that takes away most of its doubt.
    fn greatest(&self, at: usize, taken: &BTreeSet<Item>) -> Option<Item> {
        let items = self.items.get(at)?.iter().filter(|item| !taken.contains(item));
        let weighed = items.map(|item| (*item, self.open[at].relief(*item, taken)));
        weighed.reduce(|best, next| if next.1 > best.1 { next } else { best }).map(|(item, _)| item)
    }

    /// The best next measurement; the first of equals.
    fn best(&self, progress: &mut Progress) -> Option<Effect> {
        let Progress { taken, left } = progress;
        let mut lengths: BTreeMap<usize, usize> = BTreeMap::new();
        let mut items: BTreeMap<Item, (usize, f64)> = BTreeMap::new();
        for at in (0..self.open.len()).filter(|at| left[*at]) {
            if let Some(first) = self.same[at].first() {
                *lengths.entry(*first).or_default() += 1;
            }
            for item in &self.items[at] {
                if taken.contains(item) {
                    continue;
                }
                let effect = items.entry(*item).or_default();
                effect.1 += self.open[at].relief(*item, taken);
                taken.insert(*item);
                effect.0 += usize::from(self.open[at].settled(taken));
                taken.remove(item);
            }
        }
        let lengths = lengths.into_iter().map(|(at, settles)| Effect {
            pick: Pick::Length(at),
            settles,
            relief: settles as f64,
        });
        let items = items.into_iter().map(|(item, (settles, relief))| Effect {
            pick: Pick::Item(item),
            settles,
            relief,
        });
        lengths.chain(items).reduce(|best, next| if next.beats(&best) { next } else { best })
    }

    /// Drops what turns out not to be needed, the last first.
    fn prune(&self, mut picks: Vec<Pick>) -> Vec<Pick> {
        if picks.len().saturating_mul(picks.len()).saturating_mul(self.effort) > LOOKS {
            return picks;
        }
        let reach =
            |picks: &[Pick]| self.walk(picks).iter().map(|chosen| chosen.settles.len()).sum::<usize>();
        let all = reach(&picks);
        for at in (0..picks.len()).rev() {
            let mut without = picks.clone();
            without.remove(at);
            if reach(&without) == all {
                picks = without;
            }
        }
        picks
    }

    /// What each pick settles together with those before it, and what else it helps.
    fn walk(&self, picks: &[Pick]) -> Vec<Chosen> {
        let mut progress = self.begin();
        let mut list = Vec::with_capacity(picks.len());
        for pick in picks {
            let settles = self.take(*pick, &mut progress);
            let helps = match pick {
                Pick::Length(_) => Vec::new(),
                Pick::Item(item) => {
                    let concerned = self.of_item.get(item).into_iter().flatten().copied();
                    concerned.filter(|at| progress.left[*at]).collect()
                }
            };
            list.push(Chosen { pick: *pick, settles, helps });
        }
        list
    }
}
