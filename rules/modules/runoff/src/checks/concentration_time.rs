use groundrule_kit::{
    Answer, Check, Choice, Constant, Dimension, Feature, Ground, Info, Length, LengthParameter, Need,
    ParameterInfo, Reading, Refusal,
};

use crate::channels::{CONSTANT, roughness};
use crate::ground::{length, on, only_ground};
use crate::one::{Asking, label, one, over, stated, text};

/// Time of concentration: how long water takes from the farthest place of a piece of ground to where it leaves.
///
/// # What it measures
/// The sum of the times along the stretches of its longest way, the lines of the group `paths` on it: by TR-55 for a
/// `flow_type` of `sheet`, `shallow` and `channel`, or by Kirpich for the whole way at once.
///
/// # Why
/// Rain that lasts as long as this wets all of the ground at once, and makes the greatest flow.
///
/// # Parameters
/// - `method`: `tr-55` or `kirpich`. Without it, `tr-55`.
/// - `sheet`: how far water runs as a sheet at most. Without it, 300 ft.
/// - `least`: the shortest time that counts.
/// - `constant`: Manning's constant for channels. Without it, 1.486.
///
/// # Answers
/// A time for each subject, with the facts `sheet_time`, `shallow_time` and `channel_time`. Lacking when a stretch does
/// not state its slope or what else its kind of flow needs (`roughness`, the subject's `two_year_rain`, `flow_area` and
/// `wetted_perimeter`), when a sheet is longer than it may be, and when there is no way at all.
///
/// # Cautions
/// The way is as long as someone drew it, and sheets end sooner than one thinks. A licensed engineer answers for the
/// design.
pub struct ConcentrationTime;

const METHOD: Choice<bool> = Choice::new(
    "method",
    "`tr-55` or `kirpich`. Without it, `tr-55`.",
    &[("tr-55", false), ("kirpich", true)],
    false,
);
const SHEET: LengthParameter =
    LengthParameter::new("sheet", "How far water runs as a sheet at most; 300 ft when not given.");
const LEAST: ParameterInfo =
    ParameterInfo { name: "least", summary: "The shortest time that counts, such as \"0.1 h\"." };

impl Check for ConcentrationTime {
    const INFO: Info = Info {
        name: "concentration-time",
        summary: "How long water takes from the farthest place of each piece of ground.",
        dimension: Some(Dimension::Time),
        parameters: &[METHOD.info(), SHEET.info(), LEAST, CONSTANT.info()],
        groups: &["paths"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let (kirpich, constant) = (METHOD.read(ground)?, CONSTANT.read(ground)?);
        let sheet = SHEET.read(ground)?.unwrap_or(Length::from_feet(300.0));
        let (subjects, paths) = (ground.subjects(), ground.group("paths"));
        only_ground(ground, &subjects)?;
        let way = Way { ground, sheet, constant };
        Ok(subjects.into_iter().map(|subject| way.of(subject, &paths, kirpich)).collect())
    }
}

/// The rules by which a way is timed.
struct Way<'a, G> {
    ground: &'a G,
    sheet: Length,
    constant: Constant,
}

/// Times of stretches by their kind: sheet, shallow, channel.
type Times<A> = [Vec<A>; 3];

const FACTS: [&str; 3] = ["sheet_time", "shallow_time", "channel_time"];

impl<G: Ground> Way<'_, G> {
    fn of(&self, subject: Feature, paths: &[Feature], kirpich: bool) -> Reading<G::Amount> {
        let ground = self.ground;
        let paths = on(ground, subject, paths);
        if paths.is_empty() {
            let how = "draw its stretches as flow-path lines, each with its `flow_type` and `slope`";
            let what = format!("longest way of water on {}", label(ground, subject));
            return Reading::lacking(subject, Need::new(what, how));
        }
        let mut times: Times<G::Amount> = [Vec::new(), Vec::new(), Vec::new()];
        let mut needs = Vec::new();
        let rain = stated(ground, subject, "two_year_rain");
        for &path in &paths {
            match self.stretch(path, subject, rain.as_ref(), kirpich) {
                Ok((kind, time)) => {
                    if let Some(all) = times.get_mut(kind) {
                        all.push(time);
                    }
                }
                Err(lacking) => needs.extend(lacking),
            }
        }
        if !needs.is_empty() {
            return Reading::new(subject, Answer::Lacking(needs));
        }
        let of_kind = |all: &Vec<G::Amount>| ground.sum(&all.iter().collect::<Vec<_>>());
        let sums: Vec<Option<G::Amount>> = times.iter().map(of_kind).collect();
        let whole = ground.sum(&sums.iter().flatten().collect::<Vec<_>>());
        let least = ground.parameter_amount(LEAST.name);
        let whole = match (&whole, &least) {
            (Some(time), Some(least)) => ground.greatest(&[time, least]),
            _ => whole,
        };
        let Some(whole) = whole else {
            let what = format!("time of concentration of {}", label(ground, subject));
            return Reading::lacking(subject, Need::new(what, "give its stretches lengths and slopes"));
        };
        let named = sums.into_iter().zip(FACTS).filter_map(|(sum, name)| Some((name, sum?)));
        named.fold(Reading::amount(subject, whole), |reading, (name, sum)| reading.shown(name, sum))
    }

    /// The kind of a stretch, by its place in [`FACTS`], and its time.
    fn stretch(
        &self,
        path: Feature,
        subject: Feature,
        rain: Option<&G::Amount>,
        kirpich: bool,
    ) -> Result<(usize, G::Amount), Vec<Need>> {
        let ground = self.ground;
        let mut asking = Asking::of(ground, path);
        let slope = asking.amount("slope", "take its fall by its length");
        let run = length(ground, path);
        let kind =
            if kirpich { "whole".to_owned() } else { text(ground, path, "flow_type").unwrap_or_default() };
        let of_speed = |speed: Option<G::Amount>| over(ground, run.as_ref()?, &speed?);
        let found = match kind.trim() {
            "whole" => {
                let time = slope.as_ref().zip(run.as_ref()).map(|(slope, run)| (run, slope));
                time.and_then(|item| one(ground.kirpich_time(&[item]))).map(|time| (2, time))
            }
            "sheet" => {
                let rough = asking.number("roughness", "take the n of sheet flow for its cover from a table");
                if rain.is_none() {
                    let what = format!("two-year rain of {}", label(ground, subject));
                    let how =
                        "take the rain of 24 hours from the local table and state it as `two_year_rain`";
                    asking.needs.push(Need::new(what, how));
                }
                if run.as_ref().is_some_and(|run| self.too_long(run)) {
                    let how = "end the sheet sooner and draw the rest as another stretch, `shallow`";
                    asking.needs.push(Need::new(format!("shorter sheet than {}", asking.label), how));
                }
                let item = slope.as_ref().zip(run.as_ref()).zip(rain).zip(rough);
                item.and_then(|(((slope, run), rain), rough)| {
                    one(ground.sheet_time(&[(run, slope, rain, rough)]))
                })
                .map(|time| (0, time))
            }
            "shallow" => {
                let surface = text(ground, path, "surface").unwrap_or_default();
                let paved = ["paved", "asphalt", "concrete"].contains(&surface.trim());
                let speed = slope.as_ref().and_then(|slope| one(ground.shallow_speed(&[(slope, paved)])));
                of_speed(speed).map(|time| (1, time))
            }
            "channel" => {
                let rough = roughness(ground, path);
                asking.note(rough.is_some(), "roughness", "take Manning's n for its lining from a table");
                let across = asking.amount("flow_area", "work out the area of the water across its flow");
                let around =
                    asking.amount("wetted_perimeter", "work out how much bed and bank is under water");
                let item = across.as_ref().zip(around.as_ref()).zip(slope.as_ref()).zip(rough);
                let speed = item.and_then(|(((across, around), slope), rough)| {
                    one(ground.wetted_speed(&[(across, around, slope, rough)], self.constant))
                });
                of_speed(speed).map(|time| (2, time))
            }
            _ => {
                let how = "state it as `flow_type`: `sheet`, `shallow` or `channel`";
                asking.needs.push(Need::new(format!("flow type of {}", asking.label), how));
                None
            }
        };
        let Some(found) = found.filter(|_| asking.needs.is_empty()) else {
            if asking.needs.is_empty() {
                let how = "give it a length and a slope of more than nothing";
                asking.needs.push(Need::new(format!("time along {}", asking.label), how));
            }
            return Err(asking.needs);
        };
        Ok(found)
    }

    fn too_long(&self, run: &G::Amount) -> bool {
        // A micrometre over is as long as it may be.
        let most = self.sheet.metres() + 1e-6;
        self.ground.values(&[run]).first().is_some_and(|value| value.si() > most)
    }
}
