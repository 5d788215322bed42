//! Starting positions, in the order a drafter would construct them: each point where two of its figures meet.
//!
//! Where nothing is known yet, the first corner stands at the origin and its first side runs to the right or as its
//! bearing says. Where a shape is left free, a right angle at a corner is taken for granted and said.

mod assume;
pub(crate) mod choose;
mod datum;
pub(crate) mod loci;
mod meeting;
mod relax;
mod ring;
mod together;

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Bound;

use self::choose::{Choice, Hints, choose};
use self::loci::{Known, Locus, agreed, minus, norm, off};
use self::meeting::{best_meeting, same};
pub(crate) use self::ring::{Ring, rings};
use super::figure::{Figure, Node, Nodes, Relation, of_nodes};
use crate::curves::Xy;

/// What holds a group of points that nothing else places: their first point, and one in a held direction from it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Datum {
    pub(crate) origin: Node,
    /// The point kept to the right of the origin; none where a bearing turns the group.
    pub(crate) toward: Option<Node>,
}

/// Why a point has no place.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Stuck {
    /// Too few figures: these are all it has with points that are known.
    Short(Vec<usize>),
    /// Its figures do not meet.
    Apart(Vec<usize>),
    /// Two places fit.
    Mirror(Xy, Xy),
}

/// A mirror image that was put aside, and why.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct PutAside {
    pub(crate) node: Node,
    pub(crate) image: Xy,
    /// The building it would stand in.
    pub(crate) inside: String,
}

/// Where everything starts.
#[derive(Debug, Default)]
pub(crate) struct Start {
    pub(crate) at: Vec<Option<Xy>>,
    pub(crate) datums: Vec<Datum>,
    /// Right angles taken for granted, each at a corner.
    pub(crate) assumed: Vec<Node>,
    pub(crate) stuck: BTreeMap<Node, Stuck>,
    pub(crate) put_aside: Vec<PutAside>,
}

/// Adjusts figures from guessed places: where every point comes to stand, or nothing where the figures do not fix
/// them all or do not hold together.
pub(crate) type Solve<'a> = dyn Fn(&[Figure], &Start) -> Option<Vec<Option<Xy>>> + 'a;

/// After so many constructed points they are adjusted for the first time, then after half as many again.
const FIRST_SETTLED: usize = 40;

/// Where a point misses its own figures by more than so many of their plus-or-minus, the errors of what it was
/// constructed from have grown, and all is adjusted before more is built on it.
const STRAINED: f64 = 2.0;

/// At least so many points, or one in so many of them all, are constructed between two such adjustments.
const BETWEEN: usize = 16;

/// Finds where every point starts. `anchors` are the points that have a place already; `solve` tries a guess.
pub(crate) fn start(
    nodes: &Nodes,
    figures: &mut Vec<Figure>,
    anchors: &[Option<Xy>],
    rings: Vec<Ring>,
    hints: &Hints,
    solve: &Solve<'_>,
) -> Start {
    let mut work = Work {
        nodes,
        rings,
        hints,
        start: Start { at: anchors.to_vec(), ..Start::default() },
        of: of_nodes(figures, nodes.len()),
        marks: marks(figures),
        queue: nodes.by_name().collect(),
        constructed: 0,
        strained: false,
        open: BTreeSet::new(),
        rank: ranks(nodes),
    };
    work.begin(figures);
    let (mut settled, mut settle_at) = (0, FIRST_SETTLED);
    loop {
        // Small errors grow from point to point: what is constructed so far is adjusted before more is built on it.
        let soon = settled + BETWEEN.max(work.constructed / BETWEEN);
        if work.constructed >= settle_at || (work.strained && work.constructed >= soon) {
            settled = work.constructed;
            settle_at = settled + settled / 2;
            work.strained = false;
            if let Some(at) = solve(figures, &work.start) {
                work.start.at = at;
            }
        }
        if work.place_sure(figures) || work.place_chosen(figures) || work.place_rough(figures) {
            continue;
        }
        // A lot of bare lengths first: whatever is measured from its sides hangs on its shape.
        if !(work.assume(figures, true) || work.place_together(figures, solve) || work.assume(figures, false))
        {
            break;
        }
    }
    work.tell_stuck(figures);
    work.start
}

/// The marks of each chain that has a zero of its own, with what was read there.
fn marks(figures: &[Figure]) -> BTreeMap<usize, Vec<(Node, f64)>> {
    let mut marks: BTreeMap<usize, Vec<(Node, f64)>> = BTreeMap::new();
    for figure in figures {
        if let Relation::Mark(_, node, zero) = figure.relation {
            marks.entry(zero).or_default().push((node, figure.value));
        }
    }
    marks
}

struct Work<'a> {
    nodes: &'a Nodes,
    rings: Vec<Ring>,
    hints: &'a Hints,
    start: Start,
    /// The figures that mention each point.
    of: Vec<Vec<usize>>,
    marks: BTreeMap<usize, Vec<(Node, f64)>>,
    /// Points to look at, because something near them became known.
    queue: BTreeSet<Node>,
    /// How many points have been placed.
    constructed: usize,
    /// True when a point missed its figures by more than these can be off.
    strained: bool,
    /// Points that more than one place fits, by the rank of their names.
    open: BTreeSet<(usize, Node)>,
    /// The place of each point's name among all names, so that choices are made in an order that no arrangement of
    /// the file changes.
    rank: Vec<usize>,
}

impl Work<'_> {
    fn known(&self, node: Node) -> bool {
        self.start.at.get(node).is_some_and(Option::is_some)
    }

    fn set(&mut self, node: Node, at: Xy, figures: &[Figure]) {
        self.start.at[node] = Some(at);
        self.constructed += 1;
        for figure in &self.of[node] {
            self.queue.extend(figures[*figure].relation.nodes());
            if let Relation::Mark(_, _, zero) = figures[*figure].relation {
                self.queue.extend(self.marks.get(&zero).into_iter().flatten().map(|(node, _)| *node));
            }
        }
    }

    /// Asks something of what is known so far.
    fn knowing<T>(&self, ask: impl FnOnce(&Known<'_>) -> T) -> T {
        let mark = |zero: usize, but: Node| -> Option<(Node, f64)> {
            self.marks.get(&zero)?.iter().copied().find(|(node, _)| *node != but && self.known(*node))
        };
        ask(&Known { at: &self.start.at, mark: &mark })
    }

    /// Every locus of a point whose figures are otherwise known, with its figure.
    fn loci(&self, node: Node, figures: &[Figure]) -> Vec<(usize, Locus)> {
        self.knowing(|known| {
            self.of[node].iter().filter_map(|i| Some((*i, known.locus(&figures[*i], node)?))).collect()
        })
    }

    /// Places one point that can be in one place only; false when there is none.
    fn place_sure(&mut self, figures: &[Figure]) -> bool {
        while let Some(node) = self.queue.pop_first() {
            if self.known(node) {
                continue;
            }
            let loci = self.loci(node, figures);
            match best_meeting(&loci).as_slice() {
                [] => {}
                [only] => {
                    let at = self.by_all(&loci, figures, *only);
                    self.set(node, at, figures);
                    return true;
                }
                _ => {
                    self.open.insert((self.rank[node], node));
                }
            }
        }
        false
    }

    /// A place brought nearer to all figures that count, where there are more than the two that meet there.
    fn by_all(&mut self, loci: &[(usize, Locus)], figures: &[Figure], at: Xy) -> Xy {
        let counting: Vec<(&Figure, &Locus)> =
            loci.iter().map(|(i, locus)| (&figures[*i], locus)).filter(|(figure, _)| figure.counts).collect();
        if counting.len() <= 2 {
            return at;
        }
        let at = agreed(&counting.iter().map(|(_, locus)| *locus).collect::<Vec<_>>(), at);
        self.strained |= counting.iter().any(|(figure, locus)| {
            let miss = locus.iter().map(|curve| off(*curve, at)).fold(f64::INFINITY, f64::min);
            !figure.relation.is_angle() && figure.half_width > 0.0 && miss > STRAINED * figure.half_width
        });
        at
    }

    /// Places one point by choosing between its two places.
    fn place_chosen(&mut self, figures: &[Figure]) -> bool {
        let mut next = self.open.first().copied();
        while let Some(key @ (_, node)) = next {
            next = self.open.range((Bound::Excluded(key), Bound::Unbounded)).next().copied();
            if self.known(node) {
                self.open.remove(&key);
                continue;
            }
            let loci = self.loci(node, figures);
            let places = best_meeting(&loci);
            // A place where another point stands already is its own mirror image, not a second place.
            let taken =
                |place: &Xy| self.start.at.iter().flatten().any(|other| norm(minus(*other, *place)) < 1e-6);
            let free: Vec<Xy> = places.iter().copied().filter(|place| !taken(place)).collect();
            if let [only] = free.as_slice() {
                self.set(node, *only, figures);
                return true;
            }
            let [one, two] = places.as_slice() else { continue };
            let choice = choose(node, (*one, *two), &loci, self.hints, &self.rings, &self.start.at);
            match choice {
                Choice::Place(at) => {
                    let at = self.by_all(&loci, figures, at);
                    self.set(node, at, figures);
                }
                Choice::Beside { at, image, inside } => {
                    self.start.put_aside.push(PutAside { node, image, inside });
                    self.set(node, at, figures);
                }
                Choice::Open => continue,
            }
            return true;
        }
        false
    }

    /// Starts a point at its rough position, when it has figures enough but they cannot be constructed.
    fn place_rough(&mut self, figures: &[Figure]) -> bool {
        let rough = self.hints.near.iter().find(|(node, _)| !self.known(**node) && self.of[**node].len() > 1);
        let Some((node, at)) = rough else { return false };
        self.set(*node, *at, figures);
        true
    }

    fn tell_stuck(&mut self, figures: &[Figure]) {
        for node in self.nodes.by_name() {
            if self.known(node) || self.of[node].is_empty() {
                continue;
            }
            let loci = self.loci(node, figures);
            let which: Vec<usize> = loci.iter().map(|(figure, _)| *figure).collect();
            let stuck = match best_meeting(&loci).as_slice() {
                [one, two, ..] => Stuck::Mirror(*one, *two),
                _ if !same(&loci) => Stuck::Apart(which),
                _ => Stuck::Short(which),
            };
            self.start.stuck.insert(node, stuck);
        }
    }
}

/// For each point, the place of its name among all names.
fn ranks(nodes: &Nodes) -> Vec<usize> {
    let mut ranks = vec![0; nodes.len()];
    for (rank, node) in nodes.by_name().enumerate() {
        ranks[node] = rank;
    }
    ranks
}
