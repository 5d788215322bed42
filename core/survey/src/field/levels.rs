//! Heights from heights, falls and sights: a network of its own, adjusted once the positions are known.

mod network;

use std::collections::{BTreeMap, BTreeSet};

use groundrule_plan::{Fall, FallReading, Gravity, LevelRun, Measurement, PointRef, Reading as Written};
use groundrule_units::{Dimension, Length, Quantity};

use self::network::{Heights, network, take_out};
use super::accuracy::Class;
use super::findings::Told;
use super::findings::adjusted::SUSPECT;
use super::{Field, index};
use crate::Dispute;
use crate::adjust::{AdjustError, Bench, ObservationId, Observed, Part, Settings};
use crate::layout::Reading;
use crate::places::{Placed, xy};

/// One figure of heights.
struct Figure {
    measurement: usize,
    reading: Reading,
    what: Observed,
    value: f64,
    half_width: f64,
    ends: Option<(String, String)>,
    /// False for what was taken out so that the rest could be had.
    counts: bool,
}

/// The network as it is put together.
struct Levels<'f, 'a> {
    field: &'f Field<'a>,
    placed: &'f Placed<'a>,
    /// How many heights there are to find.
    heights: u32,
    benches: BTreeMap<String, Bench>,
    figures: Vec<Figure>,
}

impl<'a> Field<'a> {
    /// Works out the heights of all points that have one measured, and says what is wrong with them.
    pub(crate) fn level(&self, placed: &mut Placed<'a>) -> Vec<Told> {
        let mut told = Vec::new();
        let mut levels =
            Levels { field: self, placed, heights: 0, benches: BTreeMap::new(), figures: Vec::new() };
        for (i, measurement) in self.plan.measurements.iter().enumerate() {
            levels.measurement(i, measurement, &mut told);
        }
        let Levels { heights, benches, mut figures, .. } = levels;
        if figures.is_empty() {
            return told;
        }
        let (datum, without) = self.datum(&benches, &figures).unzip();
        told.extend(without);
        let mut parked: BTreeSet<u32> = BTreeSet::new();
        // Every round takes out something that stands in the way, or is the last.
        for _ in 0..=figures.len() {
            let (network, ids) = network(heights, &parked, datum, &figures);
            match network.adjust(&Settings::default()) {
                Ok(adjusted) => {
                    let adjusted = Heights { adjusted, figures, ids, benches, parked };
                    told.extend(self.suspect(&adjusted, placed));
                    adjusted.install(network.observations(), placed);
                    break;
                }
                Err(errors) => {
                    let before = (parked.len(), figures.iter().filter(|figure| figure.counts).count());
                    for error in errors {
                        told.extend(self.trouble(&error, &figures, &ids, &benches));
                        take_out(&error, &mut figures, &ids, &mut parked);
                    }
                    if before == (parked.len(), figures.iter().filter(|figure| figure.counts).count()) {
                        break;
                    }
                }
            }
        }
        told
    }

    /// Without any height, the first point named is zero and all others count from it.
    fn datum(&self, benches: &BTreeMap<String, Bench>, figures: &[Figure]) -> Option<(Bench, Told)> {
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
        let message = format!("No point has a height, so all heights are counted from `{name}`.");
        let help = "Give one point its height: `[[level]]` with `point` and `height`, 100 ft for a benchmark of your own.";
        Some((
            bench,
            Told::new("data::no-benchmark", Gravity::Lacking, message, measurement).at([name]).help(help),
        ))
    }

    fn suspect(&self, heights: &Heights, placed: &mut Placed<'_>) -> Option<Told> {
        let adjusted = &heights.adjusted;
        let (w, worst) = heights
            .read()
            .filter_map(|(figure, id)| Some((adjusted.standardised(id)?.abs(), (figure, id))))
            .max_by(|a, b| a.0.total_cmp(&b.0))?;
        if w <= SUSPECT {
            return None;
        }
        let measurement = self.plan.measurements.get(worst.0.measurement)?;
        let by = Quantity::new(Dimension::Length, adjusted.residual(worst.1).si().abs());
        placed.disputed.insert(index(worst.0.measurement), Dispute::Off(by));
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
        ids: &[Option<ObservationId>],
        benches: &BTreeMap<String, Bench>,
    ) -> Option<Told> {
        let of = |id: &ObservationId| {
            ids.iter().position(|held| held.as_ref() == Some(id)).and_then(|i| figures.get(i))
        };
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
                Some(
                    told.at(at)
                        .help("Level from a benchmark to one of them; until then they have no height."),
                )
            }
            AdjustError::Contradictory { observations } => {
                let figure = of(observations.last()?)?;
                let message = "These levels are given as exact and cannot all be so.".to_owned();
                let told = Told::new("data::contradiction", Gravity::Wrong, message, measurement(figure)?);
                Some(told.help("Give them the accuracy they have (`by = ...`), or correct one; until then the last is left out."))
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
                    counts: true,
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
            counts: true,
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
                    sight = Some((self.height(), name.clone()));
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
                    counts: true,
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
        if let Some(bench) = self.benches.get(&name) {
            return (name, *bench);
        }
        let bench = self.height();
        self.benches.insert(name.clone(), bench);
        (name, bench)
    }

    /// One more height to find.
    fn height(&mut self) -> Bench {
        self.heights += 1;
        Bench(self.heights - 1)
    }
}
