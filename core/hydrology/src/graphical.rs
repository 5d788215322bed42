//! The graphical peak: TR-55, 2nd edition 1986, chapter 4 and appendix F. `qp = qu Am Q Fp`.

use groundrule_units::{Area, Flow, Length, Ratio, Time};

use crate::{curve_number, positive, sensible};

/// Square metres in a square mile: 5280 international feet, squared.
const SQUARE_MILE: f64 = 5280.0 * 5280.0 * 0.3048 * 0.3048;

/// How the rain of a day is spread over it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Storm {
    /// The Pacific coast, wet winters and dry summers.
    I,
    /// The same, mild.
    Ia,
    /// Most of the country.
    II,
    /// The Gulf and the Atlantic coast.
    III,
}

impl Storm {
    /// By the name that maps print: `I`, `IA`, `II`, `III`.
    pub fn parse(name: &str) -> Option<Self> {
        match name {
            "I" => Some(Self::I),
            "IA" => Some(Self::Ia),
            "II" => Some(Self::II),
            "III" => Some(Self::III),
            _ => None,
        }
    }

    const fn coefficients(self) -> &'static [(f64, [f64; 3])] {
        match self {
            Self::I => &TYPE_I,
            Self::Ia => &TYPE_IA,
            Self::II => &TYPE_II,
            Self::III => &TYPE_III,
        }
    }
}

/// `Ia/P` with `C0`, `C1`, `C2` of `log10 qu = C0 + C1 log10 Tc + C2 (log10 Tc)^2`: TR-55 table F-1. Of type II the rows
/// 0.10 and 0.30 give the unit peaks of a printed example; all others are from memory.
const TYPE_I: [(f64, [f64; 3]); 8] = [
    (0.10, [2.30550, -0.51429, -0.11750]),
    (0.20, [2.23537, -0.50387, -0.08929]),
    (0.25, [2.18219, -0.48488, -0.06589]),
    (0.30, [2.10624, -0.45695, -0.02835]),
    (0.35, [2.00303, -0.40769, 0.01983]),
    (0.40, [1.87733, -0.32274, 0.05754]),
    (0.45, [1.76312, -0.15644, 0.00453]),
    (0.50, [1.67889, -0.06930, 0.0]),
];
const TYPE_IA: [(f64, [f64; 3]); 5] = [
    (0.10, [2.03250, -0.31583, -0.13748]),
    (0.20, [1.91978, -0.28215, -0.07020]),
    (0.25, [1.83842, -0.25543, -0.02597]),
    (0.30, [1.72657, -0.19826, 0.02633]),
    (0.50, [1.63417, -0.09100, 0.0]),
];
const TYPE_II: [(f64, [f64; 3]); 6] = [
    (0.10, [2.55323, -0.61512, -0.16403]),
    (0.30, [2.46532, -0.62257, -0.11657]),
    (0.35, [2.41896, -0.61594, -0.08820]),
    (0.40, [2.36409, -0.59857, -0.05621]),
    (0.45, [2.29238, -0.57005, -0.02281]),
    (0.50, [2.20282, -0.51599, -0.01259]),
];
const TYPE_III: [(f64, [f64; 3]); 6] = [
    (0.10, [2.47317, -0.51848, -0.17083]),
    (0.30, [2.39628, -0.51202, -0.13245]),
    (0.35, [2.35477, -0.49735, -0.11985]),
    (0.40, [2.30726, -0.46541, -0.11094]),
    (0.45, [2.24876, -0.41314, -0.11508]),
    (0.50, [2.17772, -0.36803, -0.09525]),
];

/// The share of an area that is pond or swamp with its factor: TR-55 table 4-2. The row of 0.2 % is from memory.
const PONDS: [(f64, f64); 5] = [(0.0, 1.0), (0.002, 0.97), (0.01, 0.87), (0.03, 0.75), (0.05, 0.72)];

/// Longest and shortest time of concentration of the method, in hours.
const HOURS: (f64, f64) = (0.1, 10.0);

/// `Ia/P`, held between 0.1 and 0.5 as the method asks.
pub fn abstraction_share(rain: Length, curve_number: f64) -> Option<f64> {
    let initial = curve_number::initial_abstraction(curve_number)?;
    Some((initial.metres() / positive(rain.metres())?).clamp(0.1, 0.5))
}

/// The unit peak `qu` in cubic feet a second for a square mile and an inch of runoff. Between two rows of the table it
/// lies on a straight line; a time outside of 0.1 to 10 h has none.
pub fn unit_peak(storm: Storm, abstraction_share: f64, concentration: Time) -> Option<f64> {
    let hours = concentration.hours();
    if !(hours >= HOURS.0 * (1.0 - 1e-9) && hours <= HOURS.1 * (1.0 + 1e-9)) {
        return None;
    }
    let log = libm::log10(hours);
    let peak = |[c0, c1, c2]: [f64; 3]| libm::pow(10.0, c0 + c1 * log + c2 * log * log);
    let rows: Vec<(f64, f64)> =
        storm.coefficients().iter().map(|(share, row)| (*share, peak(*row))).collect();
    between(&rows, abstraction_share)
}

/// The factor for ponds and swamps spread over the area; a straight line between two rows, and none over 5 %.
pub fn pond_factor(share: Ratio) -> Option<f64> {
    sensible(share.fraction()).filter(|share| *share <= 0.05 + 1e-9).and_then(|share| between(&PONDS, share))
}

/// The peak flow from an area, by its curve number, the rain of a day, and how long its water takes.
pub fn peak(
    area: Area,
    curve_number: f64,
    rain: Length,
    concentration: Time,
    storm: Storm,
    ponds: Ratio,
) -> Option<Flow> {
    let unit = unit_peak(storm, abstraction_share(rain, curve_number)?, concentration)?;
    let runoff = curve_number::runoff(rain, curve_number)?;
    let square_miles = sensible(area.square_metres())? / SQUARE_MILE;
    let flow = unit * square_miles * runoff.inches() * pond_factor(ponds)?;
    Some(Flow::from_cubic_feet_per_second(sensible(flow)?))
}

/// A straight line between the rows on both sides; the end rows hold beyond them.
fn between(rows: &[(f64, f64)], at: f64) -> Option<f64> {
    let (first, last) = (rows.first()?, rows.last()?);
    if at <= first.0 {
        return Some(first.1);
    }
    let pair = rows.windows(2).find_map(|pair| match pair {
        [low, high] if at <= high.0 => Some((*low, *high)),
        _ => None,
    });
    let Some(((from, low), (to, high))) = pair else { return Some(last.1) };
    Some(low + (high - low) * (at - from) / (to - from))
}
