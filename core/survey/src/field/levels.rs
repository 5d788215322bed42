//! Heights from heights, falls and sights: a network of its own, adjusted once the positions are known.

use std::collections::{BTreeMap, BTreeSet};

use groundrule_plan::{Fall, FallReading, Gravity, LevelRun, Measurement, PointRef, Reading as Written};
use groundrule_units::{Dimension, Length, Quantity};

use super::accuracy::Class;
use super::findings::Told;
use super::{Field, index, summary};
use crate::adjust::{AdjustError, Bench, Network, Observation, ObservationId, Observed, Part, Settings};
use crate::error::HALF_WIDTH_95;
use crate::layout::{Owner, PointHeight, Reading, SourceOwner};
use crate::places::{Placed, xy};

/// A figure beyond this standardised residual is suspect, as for positions.
const SUSPECT: f64 = 3.290_526_731_492;

/// One figure of heights.
struct Figure {
    measurement: usize,
    reading: Reading,
    what: Observed,
    value: f64,
    half_width: f64,
    ends: Option<(String, String)>,
}

/// The network as it is put together.
struct Levels<'f, 'a> {
    field: &'f Field<'a>,
    placed: &'f Placed<'a>,
    network: Network,
    benches: BTreeMap<String, Bench>,
    figures: Vec<Figure>,
}

impl<'a> Field<'a> {
    /// Works out the heights of all points that have one measured, and says what is wrong with them.
    pub(crate) fn level(&self, placed: &mut Placed<'a>) -> Vec<Told> {
        let mut told = Vec::new();
        let mut levels = Levels {
            field: self,
            placed,
            network: Network::new(),
            benches: BTreeMap::new(),
            figures: Vec::new(),
        };
        for (i, measurement) in self.plan.measurements.iter().enumerate() {
            levels.measurement(i, measurement, &mut told);
        }
        if levels.figures.is_empty() {
            return told;
        }
        let Levels { mut network, benches, figures, .. } = levels;
        told.extend(self.datum(&mut network, &benches, &figures));
        let ids: Vec<ObservationId> =
            figures.iter().map(|figure| network.observe(observation(figure))).collect();
        match network.adjust(&Settings::default()) {
            Ok(adjusted) => {
                told.extend(self.suspect(&figures, &ids, &adjusted, placed));
                let mut sources = vec![None; network.observations()];
                for (figure, id) in figures.iter().zip(&ids).filter(|(figure, _)| figure.half_width > 0.0) {
                    sources[id.index()] = Some(placed.sources.one(|first| owner(figure, first)));
                }
                let read = |(figure, id): (&Figure, &ObservationId)| {
                    let source = sources.get(id.index()).copied().flatten()?;
                    let value = Quantity::new(Dimension::Length, figure.value);
                    Some((placed.sources.owner(source)?, *id, value))
                };
                let adjustment = summary::of(&adjusted, figures.iter().zip(&ids).filter_map(read));
                placed.adjustments.push(adjustment);
                for (name, bench) in benches {
                    let terms = adjusted.height_terms(bench).into_iter();
                    let mut error: Vec<_> = terms
                        .filter_map(|(id, by)| Some((sources.get(id.index()).copied().flatten()?, by)))
                        .collect();
                    error.sort_by_key(|(source, _)| *source);
                    let height = PointHeight { height: adjusted.height(bench), error };
                    if !name.is_empty() {
                        placed.heights.insert(name, height);
                    }
                }
            }
            Err(errors) => {
                told.extend(errors.iter().filter_map(|error| self.trouble(error, &figures, &ids, &benches)))
            }
        }
        told
    }

    /// Without any height, the first point named is zero and all others count from it.
    fn datum(
        &self,
        network: &mut Network,
        benches: &BTreeMap<String, Bench>,
        figures: &[Figure],
    ) -> Option<Told> {
        if figures.iter().any(|figure| matches!(figure.what, Observed::Height(_))) {
            return None;
        }
        let first = figures.first()?;
        let measurement = self.plan.measurements.get(first.measurement)?;
        let (name, bench) = match (&first.ends, first.what) {
            (Some((from, _)), Observed::Rise(a, _)) => {
                (from.clone(), benches.get(from).copied().unwrap_or(a))
            }
            _ => return None,
        };
        let zero = Quantity::new(Dimension::Length, 0.0);
        network.observe(Observation { what: Observed::Height(bench), value: zero, sigma: zero });
        let message = format!("No point has a height, so all heights are counted from `{name}`.");
        let help = "Give one point its height: `[[level]]` with `point` and `height`, 100 ft for a benchmark of your own.";
        Some(Told::new("data::no-benchmark", Gravity::Lacking, message, measurement).at([name]).help(help))
    }

    fn suspect(
        &self,
        figures: &[Figure],
        ids: &[ObservationId],
        adjusted: &crate::adjust::Adjusted,
        placed: &mut Placed<'_>,
    ) -> Option<Told> {
        let (w, worst) = figures
            .iter()
            .zip(ids)
            .filter_map(|(figure, id)| Some((adjusted.standardised(*id)?.abs(), (figure, *id))))
            .max_by(|a, b| a.0.total_cmp(&b.0))?;
        if w <= SUSPECT {
            return None;
        }
        let measurement = self.plan.measurements.get(worst.0.measurement)?;
        let by = Quantity::new(Dimension::Length, adjusted.residual(worst.1).si().abs());
        placed.disputed.insert(index(worst.0.measurement), by);
        let off = super::findings::length(self.plan, by.si());
        let between = match &worst.0.ends {
            Some((from, to)) if from != to => format!(" from {from} to {to}"),
            Some((at, _)) => format!(" at {at}"),
            None => String::new(),
        };
        let message = format!(
            "The levels do not fit together; the most suspect is `{}`{between}, off by {off}, {w:.1} times what it \
             should be.",
            measurement.id.0
        );
        let at = worst.0.ends.iter().flat_map(|(from, to)| [from.clone(), to.clone()]);
        let help = "Level it again, or look for a slip: a foresight taken for a backsight, a fall for a rise, a figure \
                    in feet read as metres.";
        Some(Told::new("data::suspect-level", Gravity::Suspect, message, measurement).at(at).help(help))
    }

    fn trouble(
        &self,
        error: &AdjustError,
        figures: &[Figure],
        ids: &[ObservationId],
        benches: &BTreeMap<String, Bench>,
    ) -> Option<Told> {
        let of = |id: &ObservationId| ids.iter().position(|held| held == id).and_then(|i| figures.get(i));
        let measurement = |figure: &Figure| self.plan.measurements.get(figure.measurement);
        match error {
            AdjustError::NotDetermined { freedoms } => {
                let loose: BTreeSet<&str> = freedoms
                    .iter()
                    .flat_map(|freedom| &freedom.parts)
                    .filter_map(|part| match part {
                        Part::Bench(bench) => {
                            benches.iter().find(|(_, held)| *held == bench).map(|(name, _)| name.as_str())
                        }
                        _ => None,
                    })
                    .filter(|name| !name.is_empty())
                    .collect();
                let first = loose.first()?;
                let figure = figures.iter().find(|f| f.ends.iter().any(|(a, b)| a == first || b == first))?;
                let names: Vec<String> = loose.iter().map(|name| format!("`{name}`")).collect();
                let message = format!("Nothing joins {} to a point of known height.", names.join(", "));
                let at: Vec<String> = loose.iter().map(|name| (*name).to_owned()).collect();
                let told =
                    Told::new("data::level-not-joined", Gravity::Lacking, message, measurement(figure)?);
                Some(told.at(at).help("Level from a benchmark to one of them. Until then no height is used."))
            }
            AdjustError::Contradictory { observations } => {
                let figure = of(observations.last()?)?;
                let message = "These levels are given as exact and cannot all be so.".to_owned();
                let told = Told::new("data::contradiction", Gravity::Wrong, message, measurement(figure)?);
                Some(told.help("Give them the accuracy they have (`by = ...`), or correct one. Until then no height is used."))
            }
            AdjustError::NoConvergence { worst: Some(id), .. }
            | AdjustError::NotFinite { observation: id } => {
                let figure = of(id)?;
                let message = "This level is no figure that can be used.".to_owned();
                Some(Told::new("data::unusable-figure", Gravity::Wrong, message, measurement(figure)?))
            }
            AdjustError::NoConvergence { worst: None, .. } | AdjustError::StartNotFinite { .. } => None,
        }
    }
}

fn observation(figure: &Figure) -> Observation {
    Observation {
        what: figure.what,
        value: Quantity::new(Dimension::Length, figure.value),
        sigma: Quantity::new(Dimension::Length, figure.half_width / HALF_WIDTH_95),
    }
}

fn owner(figure: &Figure, first: crate::SourceId) -> SourceOwner {
    let name = |name: &String| groundrule_plan::Name(name.clone());
    SourceOwner {
        first,
        owner: Owner::Measurement(index(figure.measurement)),
        reading: figure.reading,
        plus_minus: Quantity::new(Dimension::Length, figure.half_width),
        ends: figure.ends.as_ref().map(|(from, to)| (name(from), name(to))),
    }
}

impl Levels<'_, '_> {
    fn measurement(&mut self, i: usize, measurement: &Measurement, told: &mut Vec<Told>) {
        let class = Class::of(self.field.plan, measurement);
        match &measurement.reading {
            Written::Height(height) => {
                let (name, bench) = self.bench(&height.point);
                let value = height.height.value.value.metres();
                let half_width = class.of_position();
                let ends = Some((name.clone(), name));
                let what = Observed::Height(bench);
                self.figures.push(Figure {
                    measurement: i,
                    reading: Reading::Figure(0),
                    what,
                    value,
                    half_width,
                    ends,
                });
            }
            Written::Fall(fall) => told.extend(self.fall(i, measurement, fall, class)),
            Written::LevelRun(run) => self.run(i, run, class),
            _ => {}
        }
    }

    fn fall(&mut self, i: usize, measurement: &Measurement, fall: &Fall, class: Class<'_>) -> Option<Told> {
        let ((from, a), (to, b)) = (self.bench(&fall.from), self.bench(&fall.to));
        let value = match &fall.fall {
            FallReading::Height(height) => height.value.value.metres(),
            FallReading::Slope { slope, run } => {
                let run =
                    run.as_ref().map(|run| run.value.value.metres()).or_else(|| self.between(&from, &to));
                let Some(run) = run else {
                    let message =
                        format!("The slope from `{from}` to `{to}` has no run: one of them is not located.");
                    let told = Told::new("data::slope-without-run", Gravity::Lacking, message, measurement);
                    return Some(
                        told.help("Add `run = \"10 ft\"`, the horizontal distance it was taken over."),
                    );
                };
                slope.value.value.fraction() * run
            }
        };
        let half_width = self.half_width(class, &from, &to);
        let what = Observed::Rise(a, b);
        let ends = Some((from, to));
        self.figures.push(Figure {
            measurement: i,
            reading: Reading::Figure(0),
            what,
            value: -value,
            half_width,
            ends,
        });
        None
    }

    /// Each set-up has a line of sight; every staff reading counts down from it. The accuracy of the class is that of
    /// a difference of two readings, so one reading has its share.
    fn run(&mut self, i: usize, run: &LevelRun, class: Class<'_>) {
        let mut sight: Option<(Bench, String)> = None;
        for (staff, k) in run.sights.iter().zip(0_u32..) {
            let (name, bench) = self.bench(&staff.point);
            for (reading, length, fore) in [(2 * k, &staff.fore, true), (2 * k + 1, &staff.back, false)] {
                let Some(length) = length else { continue };
                if !fore {
                    sight = Some((self.network.height(Length::ZERO), name.clone()));
                }
                let Some((line, from)) = &sight else { continue };
                let half_width = self.half_width(class, from, &name) / std::f64::consts::SQRT_2;
                self.figures.push(Figure {
                    measurement: i,
                    reading: Reading::Figure(reading),
                    what: Observed::Rise(bench, *line),
                    value: length.value.value.metres(),
                    half_width,
                    ends: Some((from.clone(), name.clone())),
                });
            }
        }
    }

    /// Of a difference in height; a share of the distance counts where both points are located.
    fn half_width(&self, class: Class<'_>, from: &str, to: &str) -> f64 {
        class.of_length(Length::from_metres(self.between(from, to).unwrap_or(0.0)))
    }

    fn between(&self, from: &str, to: &str) -> Option<f64> {
        let (a, b) = (xy(self.placed.named.get(from)?), xy(self.placed.named.get(to)?));
        Some(libm::hypot(b.0 - a.0, b.1 - a.1))
    }

    fn bench(&mut self, point: &PointRef) -> (String, Bench) {
        let name = self.field.rings.name(point);
        let network = &mut self.network;
        let bench = *self.benches.entry(name.clone()).or_insert_with(|| network.height(Length::ZERO));
        (name, bench)
    }
}
