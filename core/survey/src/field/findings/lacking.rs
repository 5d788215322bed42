//! Points that measurements do not fix, and shapes they leave free: which measurement is lacking.

use std::collections::BTreeSet;

use groundrule_plan::{Gravity, Measurement, Name, Plan, Reading};
use groundrule_units::Length;

use super::adjusted::describe;
use super::{Told, length};
use crate::adjust::{Adjusted, Spot};
use crate::closing::{self, Meeting, Verdict};
use crate::field::figure::{Figure, Node, Nodes, Of, Relation};
use crate::field::names;
use crate::field::network::{Out, Outcome};
use crate::field::start::{Start, Stuck};
use crate::places::position;

/// How many points one finding names.
const MOST_NAMED: usize = 6;

/// Everything there is to look at.
pub(crate) struct Case<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) nodes: &'a Nodes,
    pub(crate) figures: &'a [Figure],
    pub(crate) start: &'a Start,
    pub(crate) outcome: &'a Outcome,
    /// True when something has a place on the sheet already.
    pub(crate) framed: bool,
    /// The points that something is placed by.
    pub(crate) wanted: &'a BTreeSet<String>,
    /// The figures that mention each point, by their index.
    pub(crate) of: Vec<Vec<usize>>,
}

/// Tells of everything that is not fixed.
pub(crate) fn look(case: &Case<'_>, told: &mut Vec<Told>) {
    let assumed = case.figures.iter().filter(|figure| figure.counts).filter_map(|figure| match figure.of {
        Of::Assumption(i) => case.start.assumed.get(i),
        Of::Measurement(_) => None,
    });
    told.extend(assumed.filter_map(|corner| case.assumed(*corner)));
    let stuck = case.start.stuck.iter().filter(|(node, _)| case.matters(**node));
    told.extend(stuck.filter_map(|(node, stuck)| case.stuck(*node, stuck)));
    told.extend(case.start.put_aside.iter().filter_map(|aside| {
        let measurement = case.measurement_of(aside.node)?;
        let name = case.nodes.name(aside.node);
        let message = format!("`{name}` fits in two places; the one inside {} was put aside.", aside.inside);
        let help = format!("If it does stand there, say so: `near = [x, y]` with {name}'s rough position.");
        Some(
            case.told("data::mirror-put-aside", Gravity::Noted, message, measurement, [aside.node])
                .help(help),
        )
    }));
    told.extend(case.weak());
    told.extend(case.outcome.out.iter().filter_map(|out| case.taken_out(out)));
    told.extend(case.unconnected());
}

impl Case<'_> {
    fn told(
        &self,
        code: &'static str,
        gravity: Gravity,
        message: String,
        measurement: &Measurement,
        nodes: impl IntoIterator<Item = Node> + Clone,
    ) -> Told {
        let about = names(self.nodes, nodes.clone());
        let at = nodes.into_iter().map(|node| self.nodes.name(node).to_owned());
        Told::new(code, gravity, message, measurement).about(about).at(at)
    }

    /// False for a mark of a chain that nothing else names: it was read on the way and needs no place.
    fn matters(&self, node: Node) -> bool {
        let measurements: BTreeSet<Of> = self.of(node).map(|figure| figure.of).collect();
        let in_a_chain = |of: &Of| match of {
            Of::Measurement(i) => {
                self.plan.measurements.get(*i).is_some_and(|m| matches!(m.reading, Reading::Chain(_)))
            }
            Of::Assumption(_) => false,
        };
        measurements.len() > 1
            || !measurements.iter().all(in_a_chain)
            || self.wanted.contains(self.nodes.name(node))
    }

    /// The figures that mention a point, in file order.
    fn of(&self, node: Node) -> impl Iterator<Item = &Figure> {
        self.of.get(node).into_iter().flatten().filter_map(|i| self.figures.get(*i))
    }

    /// The first measurement that mentions a point.
    fn measurement_of(&self, node: Node) -> Option<&Measurement> {
        self.of(node).find_map(|figure| self.measurement(figure))
    }

    fn measurement(&self, figure: &Figure) -> Option<&Measurement> {
        match figure.of {
            Of::Measurement(i) => self.plan.measurements.get(i),
            Of::Assumption(_) => None,
        }
    }

    fn assumed(&self, corner: Node) -> Option<Told> {
        let name = self.nodes.name(corner);
        let measurement = self.measurement_of(corner)?;
        let message = format!(
            "The lengths alone leave the shape at `{name}` free to lean; a right angle there is taken for granted, \
             to within 3 degrees."
        );
        let told = self.told("data::shape-assumed", Gravity::Lacking, message, measurement, [corner]);
        Some(told.help(
            "Measure a diagonal (`[[distance]]`) or an angle, or say what is square: `[[fact]]` with `right_angle`.",
        ))
    }

    fn stuck(&self, node: Node, stuck: &Stuck) -> Option<Told> {
        let name = self.nodes.name(node);
        match stuck {
            Stuck::Apart(figures) => self.apart(node, figures),
            Stuck::Mirror(one, two) => {
                let at = |place: &(f64, f64)| {
                    format!("({}, {})", length(self.plan, place.0), length(self.plan, place.1))
                };
                let message = format!(
                    "`{name}` fits in two places, {} and {}, and nothing says which.",
                    at(one),
                    at(two)
                );
                let measurement = self.measurement_of(node)?;
                let mut told =
                    self.told("data::two-places-fit", Gravity::Lacking, message, measurement, [node]);
                told.remark.spots.extend(
                    [one, two].map(|place| (Length::from_metres(place.0), Length::from_metres(place.1))),
                );
                Some(told.help(
                    "Say on which side it stands, `side = \"north\"`, or roughly where: `near = [x, y]`; or measure it \
                     from a third point. Until then it is left out.",
                ))
            }
            Stuck::Short(figures) => {
                let measurement = self.measurement_of(node)?;
                let have: Vec<String> = figures
                    .iter()
                    .filter_map(|i| self.figures.get(*i))
                    .map(|f| describe(self.plan, f))
                    .collect();
                let message = match have.as_slice() {
                    [] => {
                        format!("`{name}` cannot be located: no figure joins it to a point that is located.")
                    }
                    [one] => format!("`{name}` cannot be located: one figure, {one}, is not enough."),
                    many => {
                        format!("`{name}` cannot be located from {}: they say the same.", many.join(" and "))
                    }
                };
                let told = self.told("data::not-located", Gravity::Lacking, message, measurement, [node]);
                Some(told.help(
                    "Measure it from one more located point: a tie, a station and offset, or a chain that passes it. \
                     Until then what stands on it is left out.",
                ))
            }
        }
    }

    /// Ties that do not meet, by how much, and the place between them.
    fn apart(&self, node: Node, figures: &[usize]) -> Option<Told> {
        let ties: Vec<(usize, closing::TieFrom)> =
            figures.iter().filter_map(|i| Some((*i, self.tie(self.figures.get(*i)?, node)?))).collect();
        let name = self.nodes.name(node);
        let [(first, a), (second, b), ..] = ties.as_slice() else {
            let measurement = self.measurement_of(node)?;
            let message = format!("The figures of `{name}` do not meet anywhere.");
            let told = self.told("data::figures-do-not-meet", Gravity::Wrong, message, measurement, [node]);
            return Some(
                told.help("Look for a slip in one of them, and for the direction each was taken in."),
            );
        };
        let (one, two) = (self.figures.get(*first)?, self.figures.get(*second)?);
        let pair = closing::two_ties(a, b, self.between(one, two, node));
        let metres = |length: Length| self::length(self.plan, length.metres());
        if pair.meeting == Meeting::Nowhere || pair.verdict == Verdict::Closes {
            return self.touching(node, one, two, pair.meeting);
        }
        let what = match pair.meeting {
            Meeting::Short(lack) => format!("are {} too short together to reach each other", metres(lack)),
            Meeting::Inside(lack) => format!("do not meet: the longer one is {} too long", metres(lack)),
            Meeting::At(_) | Meeting::Nowhere => "do not fix a point".to_owned(),
        };
        let message = format!(
            "The ties of `{name}`, {} and {}, {what}; readings this good could miss by {}.",
            describe(self.plan, one),
            describe(self.plan, two),
            metres(pair.bounds.worst),
        );
        let measurement = self.measurement(one)?;
        let mut told = self.told("data::ties-do-not-meet", Gravity::Wrong, message, measurement, [node]);
        told.remark.spots.push((pair.drawn.x, pair.drawn.y));
        Some(
            told.help(format!(
                "Measure both again, each to the middle of `{name}`; until then it is left out."
            )),
        )
    }

    /// Ties from one place, or from two places in line with the point: they fix it in one direction at most.
    fn touching(&self, node: Node, one: &Figure, two: &Figure, meeting: Meeting) -> Option<Told> {
        let name = self.nodes.name(node);
        let why = match meeting {
            Meeting::Nowhere => "they start from one place",
            _ => "they lie along one line and hold it in that direction only",
        };
        let (a, b) = (describe(self.plan, one), describe(self.plan, two));
        let message = format!("`{name}` cannot be located from {a} and {b}: {why}.");
        let measurement = self.measurement(one)?;
        let told = self.told("data::not-located", Gravity::Lacking, message, measurement, [node]);
        Some(told.help(
            "Tie it from a third point off to the side; or, if it stands on the line between them, read it off that \
             line: `[[offsets]]` with an offset of 0, or a chain. Until then what stands on it is left out.",
        ))
    }

    /// The plus-or-minus of the distance between the points two ties start from.
    fn between(&self, one: &Figure, two: &Figure, node: Node) -> Length {
        let from = |figure: &Figure| match figure.relation {
            Relation::Distance(a, b) => Some(if a == node { b } else { a }),
            _ => None,
        };
        let spread = || {
            let (a, b) = (from(one)?, from(two)?);
            let (p, q) = (self.outcome.spots.get(&a)?, self.outcome.spots.get(&b)?);
            let adjusted = self.outcome.adjusted.as_ref()?;
            Some(distance_spread(adjusted, *p, *q))
        };
        spread().unwrap_or(Length::ZERO) * crate::error::HALF_WIDTH_95
    }

    fn tie(&self, figure: &Figure, node: Node) -> Option<closing::TieFrom> {
        let Relation::Distance(a, b) = figure.relation else { return None };
        let from = if a == node { b } else { a };
        Some(closing::TieFrom {
            from: position(self.start.at.get(from).copied().flatten()?),
            distance: Length::from_metres(figure.value),
            half_width: Length::from_metres(figure.half_width),
        })
    }

    /// Points that hang on two ties alone which cross too flatly.
    fn weak(&self) -> Vec<Told> {
        let mut told = Vec::new();
        for node in self.nodes.by_name() {
            if self.start.at.get(node).copied().flatten().is_none() {
                continue;
            }
            let own: Vec<&Figure> = self.of(node).filter(|figure| figure.counts).collect();
            let ties: Vec<closing::TieFrom> =
                own.iter().filter_map(|figure| self.tie(figure, node)).collect();
            let [one, two] = ties.as_slice() else { continue };
            if own.len() > 2 {
                continue;
            }
            let pair = closing::two_ties(one, two, Length::ZERO);
            let (true, Some(crossing), Some(measurement)) =
                (pair.weak, pair.crossing, self.measurement_of(node))
            else {
                continue;
            };
            let name = self.nodes.name(node);
            let message = format!(
                "The ties of `{name}` cross at {:.0} degrees; between 30 and 150 they fix a point well.",
                crossing.degrees()
            );
            let help = "Tie it from a third point, one off to the side.";
            told.push(
                self.told("data::weak-crossing", Gravity::Suspect, message, measurement, [node]).help(help),
            );
        }
        told
    }

    fn taken_out(&self, out: &Out) -> Option<Told> {
        match out {
            Out::Loose(nodes) => {
                let measurement = nodes.iter().find_map(|node| self.measurement_of(*node))?;
                let names: Vec<&str> = nodes.iter().map(|node| self.nodes.name(*node)).collect();
                let message = format!(
                    "The measurements leave {} free to move.",
                    names.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
                );
                let told = self.told(
                    "data::not-located",
                    Gravity::Lacking,
                    message,
                    measurement,
                    nodes.iter().copied(),
                );
                Some(told.help("Measure one more length or angle that ties them to located points; until then they are left out."))
            }
            Out::Contradiction(figures) => {
                let named: Vec<String> = figures
                    .iter()
                    .filter_map(|i| self.figures.get(*i))
                    .map(|f| describe(self.plan, f))
                    .collect();
                let last = self.figures.get(*figures.last()?)?;
                let message = match named.as_slice() {
                    [one] => format!(
                        "{one} is given as exact and cannot hold: the points it names are held otherwise."
                    ),
                    _ => format!("These cannot all hold exactly: {}.", named.join(", ")),
                };
                let measurement = self.measurement(last)?;
                let nodes: BTreeSet<Node> = last.relation.nodes();
                let told = self.told("data::contradiction", Gravity::Wrong, message, measurement, nodes);
                Some(told.help(format!(
                    "Give them the accuracy they have (`by = ...`), or correct one; until then {} is left out.",
                    describe(self.plan, last)
                )))
            }
            Out::Unsettled(worst, rounds) => {
                let figure = self.figures.get((*worst)?)?;
                let measurement = self.measurement(figure)?;
                let message = format!(
                    "No position for every point fits the readings within {rounds} rounds; the farthest off is {}, \
                     which was left out.",
                    describe(self.plan, figure)
                );
                let told =
                    self.told("data::no-fit", Gravity::Wrong, message, measurement, figure.relation.nodes());
                Some(told.help("Look for a slipped digit or unit in it, or a point named for another."))
            }
            Out::GivenUp(nodes) => {
                let measurement = nodes.iter().find_map(|node| self.measurement_of(*node))?;
                let named: Vec<String> = nodes
                    .iter()
                    .take(MOST_NAMED)
                    .map(|node| format!("`{}`", self.nodes.name(*node)))
                    .collect();
                let more = match nodes.len().saturating_sub(MOST_NAMED) {
                    0 => String::new(),
                    more => format!(" and {more} more"),
                };
                let message = format!(
                    "The measurements of {}{more} contradict each other too often to be adjusted.",
                    named.join(", ")
                );
                let told =
                    self.told("data::given-up", Gravity::Wrong, message, measurement, nodes.iter().copied());
                Some(told.help(
                    "Settle the findings on these measurements first, the exact ones before the rest; until then \
                     these points are left out.",
                ))
            }
            Out::Unusable(i) => {
                let figure = self.figures.get(*i)?;
                let measurement = self.measurement(figure)?;
                let message = format!("{} is no figure that can be used.", describe(self.plan, figure));
                Some(self.told(
                    "data::unusable-figure",
                    Gravity::Wrong,
                    message,
                    measurement,
                    figure.relation.nodes(),
                ))
            }
        }
    }

    /// Groups of points that nothing joins to the first.
    fn unconnected(&self) -> Vec<Told> {
        let told = |datum: &crate::field::start::Datum| {
            let name = self.nodes.name(datum.origin);
            let message = format!(
                "Nothing measured joins `{name}` and the points around it to the rest of the plan, so where they lie is \
                 not known."
            );
            let measurement = self.measurement_of(datum.origin)?;
            let told = self.told("data::not-joined", Gravity::Lacking, message, measurement, [datum.origin]);
            Some(
                told.about([Name(name.to_owned())])
                    .help("Measure two of them from points of the rest: ties, or a chain that passes both."),
            )
        };
        // The first group gives the sheet its frame, unless something else has given it one.
        self.start.datums.iter().skip(usize::from(!self.framed)).filter_map(told).collect()
    }
}

/// The standard uncertainty of the distance between two points.
fn distance_spread(adjusted: &Adjusted, p: Spot, q: Spot) -> Length {
    let (a, b) = (adjusted.position(p), adjusted.position(q));
    let (dx, dy) = ((b.x - a.x).metres(), (b.y - a.y).metres());
    let length = libm::hypot(dx, dy).max(f64::MIN_POSITIVE);
    let (ux, uy) = (dx / length, dy / length);
    let along = |a: Spot, b: Spot| {
        let c = adjusted.covariance(a, b);
        let across = (c.xy.square_metres() + c.yx.square_metres()) * ux * uy;
        c.xx.square_metres() * ux * ux + across + c.yy.square_metres() * uy * uy
    };
    Length::from_metres(libm::sqrt((along(p, p) + along(q, q) - 2.0 * along(p, q)).max(0.0)))
}
