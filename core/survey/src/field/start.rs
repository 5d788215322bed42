//! Starting positions, in the order a drafter would construct them: each point where two of its figures meet.
//!
//! Where nothing is known yet, the first corner stands at the origin and its first side runs to the right or as its
//! bearing says. Where a shape is left free, a right angle at a corner is taken for granted and said.

pub(crate) mod choose;
pub(crate) mod loci;
mod relax;

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Bound;

use groundrule_plan::Name;

use self::choose::{Choice, Hints, choose};
use self::loci::{Curve, Known, Locus, agreed, meet, minus, norm, off};
use super::accuracy::BY_EYE;
use super::figure::{Figure, Node, Nodes, Of, Relation, of_nodes};
use super::names::Rings;
use crate::curves::Xy;
use crate::layout::Reading;

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

/// The crossing of two figures that lie nearly along each other says little; below this sine they are not used.
const LEAST_SINE: f64 = 1e-6;

/// After so many constructed points they are adjusted for the first time, then after half as many again.
const FIRST_SETTLED: usize = 40;

/// Where a point misses its own figures by more than so many of their plus-or-minus, the errors of what it was
/// constructed from have grown, and all is adjusted before more is built on it.
const STRAINED: f64 = 2.0;

/// At least so many points, or one in so many of them all, are constructed between two such adjustments.
const BETWEEN: usize = 16;

/// How many figures of one point are met with each other.
const MOST_MET: usize = 24;

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

/// The corners of a ring, and which way round it runs where its corners' names say so.
#[derive(Debug)]
pub(crate) struct Ring {
    pub(crate) owner: String,
    is_lot: bool,
    pub(crate) corners: Vec<Option<Node>>,
    /// 1 anticlockwise, -1 clockwise; 0 when nothing says.
    pub(crate) sense: f64,
}

impl Ring {
    /// False when all its corners have a place and it runs the other way round than their names say.
    fn turns_its_way(&self, at: &[Option<Xy>]) -> bool {
        let corners: Option<Vec<Xy>> =
            self.corners.iter().map(|corner| at.get((*corner)?).copied().flatten()).collect();
        corners.is_none_or(|ring| self.sense * crate::rings::around(&ring) >= 0.0)
    }
}

/// The rings that have a corner among some points.
pub(crate) fn rings(rings: &Rings<'_>, nodes: &Nodes) -> Vec<Ring> {
    let owner = |node| nodes.name(node).split_once('.').map(|(owner, _)| owner);
    let named: BTreeSet<&str> = nodes.by_name().filter_map(owner).collect();
    // A corner without a point of its own has its ring's name before it.
    let may_be = |owner: &&str| named.contains(*owner) || rings.stands_on_points(owner);
    let rings = rings.owners().filter(may_be).filter_map(|owner| ring(owner, rings, nodes));
    rings.filter(|ring| ring.corners.iter().any(Option::is_some)).collect()
}

fn ring(owner: &str, rings: &Rings<'_>, nodes: &Nodes) -> Option<Ring> {
    let names = rings.ring(owner)?;
    let short = |name: &String| name.rsplit('.').next().unwrap_or_default().to_owned();
    let order: Vec<usize> = names
        .iter()
        .map(short)
        .filter_map(|name| ["sw", "se", "ne", "nw"].iter().position(|corner| *corner == name))
        .collect();
    // Of three or four corners named after the compass, two in order tell the way round.
    let sense = match order.as_slice() {
        [a, b, c] | [a, b, c, _] => {
            let step = |from: &usize, to: &usize| (to + 4 - from) % 4;
            if step(a, b) + step(b, c) < 4 { 1.0 } else { -1.0 }
        }
        // A lot goes anticlockwise unless its corners' names say otherwise.
        _ if rings.is_lot(owner) => 1.0,
        _ => 0.0,
    };
    let corners = names.iter().map(|name| nodes.find(name)).collect();
    Some(Ring { owner: owner.to_owned(), is_lot: rings.is_lot(owner), corners, sense })
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

    /// Gives every group of points that nothing places a datum of its own.
    fn begin(&mut self, figures: &[Figure]) {
        let groups = self.groups(figures);
        let placed: BTreeSet<usize> = groups
            .iter()
            .enumerate()
            .filter(|(node, _)| self.known(*node))
            .map(|(_, group)| *group)
            .collect();
        let turning = figures.iter().filter_map(|figure| match figure.relation {
            Relation::Azimuth(from, _) => groups.get(from).copied(),
            _ => None,
        });
        let turned: BTreeSet<usize> = turning.collect();
        let mut begun = BTreeSet::new();
        let of_rings: Vec<Node> =
            self.rings.iter().flat_map(|ring| ring.corners.iter().copied().flatten()).collect();
        for origin in of_rings.into_iter().chain(self.nodes.by_name()) {
            let group = groups[origin];
            if self.of[origin].is_empty() || !begun.insert(group) {
                continue;
            }
            if placed.contains(&group) {
                continue;
            }
            self.set(origin, (0.0, 0.0), figures);
            let turned = turned.contains(&group);
            let toward = if turned { None } else { self.first_side(origin, figures) };
            if let Some((node, length)) = toward {
                self.set(node, (length, 0.0), figures);
            }
            self.start.datums.push(Datum { origin, toward: toward.map(|(node, _)| node) });
        }
    }

    /// Which points hang together by figures.
    fn groups(&self, figures: &[Figure]) -> Vec<usize> {
        let mut group: Vec<usize> = (0..self.nodes.len()).collect();
        for figure in figures {
            let mut nodes = figure.relation.nodes().into_iter();
            let Some(first) = nodes.next() else { continue };
            for node in nodes {
                let (a, b) = (root(&mut group, first), root(&mut group, node));
                group[a.max(b)] = a.min(b);
            }
        }
        (0..group.len()).map(|node| root(&mut group, node)).collect()
    }

    /// A point at a known distance from the origin, a neighbour on a ring before any other.
    fn first_side(&self, origin: Node, figures: &[Figure]) -> Option<(Node, f64)> {
        let from = |figure: &Figure| match figure.relation {
            Relation::Distance(a, b) if a == origin => Some((b, figure.value)),
            Relation::Distance(a, b) if b == origin => Some((a, figure.value)),
            _ => None,
        };
        let mut ends: Vec<(Node, f64)> = self.of[origin].iter().filter_map(|i| from(&figures[*i])).collect();
        ends.retain(|(_, length)| *length > 0.0 && length.is_finite());
        let next = |node: Node| {
            self.rings.iter().any(|ring| {
                let n = ring.corners.len();
                (0..n).any(|i| ring.corners[i] == Some(origin) && ring.corners[(i + 1) % n] == Some(node))
            })
        };
        ends.sort_by(|a, b| {
            next(b.0).cmp(&next(a.0)).then_with(|| self.nodes.name(a.0).cmp(self.nodes.name(b.0)))
        });
        ends.first().copied()
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

    /// Places points that several figures fix together though no two of them do; one group of them.
    fn place_together(&mut self, figures: &[Figure], solve: &Solve<'_>) -> bool {
        for open in self.open_groups(figures) {
            let loci = |node: Node, at: &[Option<Xy>]| -> Vec<Locus> {
                let mark = |zero: usize, but: Node| -> Option<(Node, f64)> {
                    let marks = self.marks.get(&zero)?.iter().copied();
                    marks.into_iter().find(|(node, _)| *node != but && at[*node].is_some())
                };
                let known = Known { at, mark: &mark };
                let counting = self.of[node].iter().map(|i| &figures[*i]).filter(|figure| figure.counts);
                counting.filter_map(|figure| known.locus(figure, node)).collect()
            };
            let at = relax::guess(&open, &self.start.at, &|node| self.beside(node), &loci);
            let trial = Start { at, datums: self.start.datums.clone(), ..Start::default() };
            let solved =
                solve(figures, &trial).filter(|at| self.rings.iter().all(|ring| ring.turns_its_way(at)));
            if let Some(solved) = solved {
                for node in open {
                    if let Some(at) = solved[node] {
                        self.set(node, at, figures);
                    }
                }
                return true;
            }
        }
        false
    }

    /// Which way from the middle of its ring a corner lies: as its name says, or as the ring turns.
    fn beside(&self, node: Node) -> Option<Xy> {
        let name = self.nodes.name(node).rsplit('.').next();
        match name {
            Some("sw") => return Some((-0.7, -0.7)),
            Some("se") => return Some((0.7, -0.7)),
            Some("ne") => return Some((0.7, 0.7)),
            Some("nw") => return Some((-0.7, 0.7)),
            _ => {}
        }
        let ring = self.rings.iter().find(|ring| ring.corners.contains(&Some(node)))?;
        let i = ring.corners.iter().position(|corner| *corner == Some(node))?;
        let turn = std::f64::consts::TAU * i as f64 / ring.corners.len() as f64;
        let (sin, cos) = libm::sincos(if ring.sense < 0.0 { -turn } else { turn });
        Some((cos, sin))
    }

    /// Points without a place that hang together, and have figures enough among them to be worth a guess.
    fn open_groups(&self, figures: &[Figure]) -> Vec<BTreeSet<Node>> {
        let is_open = |node: &Node| !self.known(*node) && self.of[*node].len() > 1;
        let mut left: BTreeSet<Node> = self.nodes.by_name().filter(is_open).collect();
        let mut groups = Vec::new();
        while let Some(first) = left.pop_first() {
            let (mut group, mut next) = (BTreeSet::from([first]), vec![first]);
            while let Some(node) = next.pop() {
                let near = self.of[node].iter().flat_map(|i| figures[*i].relation.nodes());
                for other in near.filter(|other| left.remove(other)).collect::<Vec<_>>() {
                    group.insert(other);
                    next.push(other);
                }
            }
            let counting: BTreeSet<usize> = group
                .iter()
                .flat_map(|node| &self.of[*node])
                .copied()
                .filter(|i| figures[*i].counts)
                .collect();
            // Two figures that do not meet say by themselves that one point cannot be placed.
            if counting.len() >= 2 * group.len() && counting.len() > 2 {
                groups.push(group);
            }
        }
        groups
    }

    /// Takes a right angle for granted at a corner where one side is known and the next has one figure that meets it.
    fn assume(&mut self, figures: &mut Vec<Figure>, of_lot: bool) -> bool {
        let corners = self.rings.iter().filter(|ring| ring.is_lot == of_lot).flat_map(|ring| {
            let n = ring.corners.len();
            (0..n).map(move |i| (ring.corners[(i + n - 1) % n], ring.corners[i], ring.corners[(i + 1) % n]))
        });
        let mut found = None;
        for (before, at, after) in corners {
            let (Some(before), Some(at), Some(after)) = (before, at, after) else { continue };
            let (known, open) = match (self.known(before), self.known(after)) {
                (true, false) => (before, after),
                (false, true) => (after, before),
                _ => continue,
            };
            if !self.known(at) || self.start.assumed.contains(&at) {
                continue;
            }
            let figure = self.right_angle(at, known, open);
            let loci = self.loci(open, figures);
            // What has two places already is not made one by an angle nobody measured.
            let two = !best_meeting(&loci).is_empty();
            let square = self.knowing(|known| known.locus(&figure, open));
            let Some(square) = square.filter(|_| !two) else { continue };
            if loci
                .iter()
                .any(|(_, locus)| locus.iter().any(|a| square.iter().any(|b| !meet(*a, *b).is_empty())))
            {
                found = Some((figure, at, known, open));
                break;
            }
        }
        let Some((figure, at, known, open)) = found else { return false };
        figures.push(figure);
        for node in [at, known, open] {
            self.of[node].push(figures.len() - 1);
        }
        self.start.assumed.push(at);
        self.queue.insert(open);
        true
    }

    fn right_angle(&self, at: Node, known: Node, open: Node) -> Figure {
        let name = Name(self.nodes.name(at).to_owned());
        Figure {
            of: Of::Assumption(self.start.assumed.len()),
            reading: Reading::Figure(0),
            relation: Relation::Between(at, known, open),
            value: std::f64::consts::FRAC_PI_2,
            half_width: BY_EYE,
            ends: Some((name.clone(), name)),
            counts: true,
        }
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

/// The first of the group of a point, the way there shortened.
fn root(group: &mut [usize], mut node: usize) -> usize {
    while group[node] != node {
        group[node] = group[group[node]];
        node = group[node];
    }
    node
}

/// For each point, the place of its name among all names.
fn ranks(nodes: &Nodes) -> Vec<usize> {
    let mut ranks = vec![0; nodes.len()];
    for (rank, node) in nodes.by_name().enumerate() {
        ranks[node] = rank;
    }
    ranks
}

/// True for loci of which none tells what another does not: lines that run the same way.
fn same(loci: &[(usize, Locus)]) -> bool {
    let line = |locus: &Locus| match locus.as_slice() {
        [Curve::Line(_, along) | Curve::Ray(_, along)] => Some(*along),
        _ => None,
    };
    let mut others = loci.iter();
    let Some(first) = others.next().map(|(_, locus)| line(locus)) else { return true };
    let along = |locus: &Locus| {
        let (a, b) = (first?, line(locus)?);
        Some((a.0 * b.1 - a.1 * b.0).abs() < loci::PARALLEL)
    };
    others.all(|(_, locus)| along(locus) == Some(true))
}

/// Where two figures of a point meet, of those two that meet most squarely.
fn best_meeting(loci: &[(usize, Locus)]) -> Vec<Xy> {
    // Of very many, a few that are spread over all of them tell as much.
    let step = loci.len().div_ceil(MOST_MET).max(1);
    let loci: Vec<&(usize, Locus)> = loci.iter().step_by(step).collect();
    let mut best: (f64, Vec<Xy>) = (LEAST_SINE, Vec::new());
    for (i, (_, one)) in loci.iter().enumerate() {
        for (_, two) in &loci[i + 1..] {
            let met: Vec<(Xy, f64)> =
                one.iter().flat_map(|a| two.iter().flat_map(move |b| meet(*a, *b))).collect();
            let sine = met.iter().map(|(_, sine)| *sine).fold(f64::INFINITY, f64::min);
            if !met.is_empty() && sine > best.0 {
                best = (sine, distinct(met.into_iter().map(|(at, _)| at)));
            }
        }
    }
    best.1
}

fn distinct(places: impl Iterator<Item = Xy>) -> Vec<Xy> {
    let mut kept: Vec<Xy> = Vec::new();
    for at in places {
        let near = |other: &Xy| libm::hypot(at.0 - other.0, at.1 - other.1) < 1e-6;
        if !kept.iter().any(near) {
            kept.push(at);
        }
    }
    kept
}
