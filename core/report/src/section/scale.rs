//! Fitting a section to paper: a standard scale along the line, and how many times the heights are drawn larger.

use groundrule_units::{Length, Style};

use crate::drawing::relief::interval::Unit;
use crate::drawing::sheet::{INCH_SCALES, METRIC_SCALES};
use crate::drawing::svg::Paper;

/// Paper sizes lying on their long side, in millimetres, small to large.
const INCH_PAPERS: [(f64, f64); 3] = [(279.4, 215.9), (431.8, 279.4), (609.6, 457.2)];
const METRIC_PAPERS: [(f64, f64); 3] = [(297.0, 210.0), (420.0, 297.0), (594.0, 420.0)];
/// The smallest scale at which a section of a garden is readable on the smallest paper.
const READABLE: f64 = 250.0;
/// How many times heights may be drawn larger (common practice).
const TIMES: [f64; 4] = [1.0, 2.0, 5.0, 10.0];
/// The ground's heights take at least so much of the paper, in millimetres, if an exaggeration gives it.
const TALL: f64 = 26.0;

/// The edge that stays empty.
pub(crate) const MARGIN: f64 = 8.0;
/// The strip with title, scale and legend.
pub(crate) const STRIP: f64 = 38.0;
/// The table of levels under the section.
pub(crate) const TABLE: f64 = 27.0;
/// The room above it for names.
pub(crate) const NAMES: f64 = 30.0;
/// The room to its left for the words of the table and the levels, and to its right.
const LEFT: f64 = 32.0;
const RIGHT: f64 = 14.0;

/// Steps of the axes people count by, times powers of ten.
const ROUND: [f64; 3] = [1.0, 2.0, 5.0];

/// The paper of one section, and where a station and a level lie on it.
#[derive(Clone, Debug)]
pub(crate) struct Frame {
    /// Paper width in millimetres.
    pub(crate) width: f64,
    /// Paper height.
    pub(crate) height: f64,
    /// The scale along the line, as the trade writes it.
    pub(crate) scale: String,
    /// How many times larger heights are drawn.
    pub(crate) times: f64,
    /// The unit of its axes.
    pub(crate) unit: Unit,
    /// Where station zero and the lowest level drawn lie.
    pub(crate) foot: Paper,
    /// The lowest level drawn, a whole step.
    pub(crate) low: Length,
    /// From one level line to the next.
    pub(crate) level_step: Length,
    /// From one station of the table to the next.
    pub(crate) station_step: Length,
    /// Millimetres of paper for a metre along the line.
    pub(crate) per_metre: f64,
    /// The height of the section itself on the paper.
    pub(crate) tall: f64,
    /// The length of the line.
    pub(crate) length: Length,
}

impl Frame {
    /// The frame for a line of such a length and levels between two.
    pub(crate) fn fit(style: Style, length: Length, (low, high): (Length, Length)) -> Self {
        let unit = Unit::of(style);
        let (papers, scales): (_, &[(f64, &str)]) = match unit {
            Unit::Feet => (INCH_PAPERS, &INCH_SCALES),
            Unit::Metres => (METRIC_PAPERS, &METRIC_SCALES),
        };
        let range = (high - low).metres().max(0.3);
        let across = |paper: (f64, f64)| paper.0 - 2.0 * MARGIN - LEFT - RIGHT;
        let room = |paper: (f64, f64)| paper.1 - 2.0 * MARGIN - STRIP - TABLE - NAMES - 6.0;
        let fits = |paper: (f64, f64), scale: f64| {
            length.metres() * 1000.0 / scale <= across(paper) && range * 1000.0 / scale * 1.25 <= room(paper)
        };
        let best = |paper: (f64, f64)| scales.iter().find(|(scale, _)| fits(paper, *scale));
        let readable = papers.iter().find_map(|&paper| {
            let found = best(paper).filter(|(scale, _)| *scale <= READABLE)?;
            Some((paper, *found))
        });
        let [.., largest] = papers;
        let found = readable.or_else(|| Some((largest, *best(largest)?)));
        let ((width, height), (scale, name)) = found.unwrap_or_else(|| {
            let along = length.metres() * 1000.0 / across(largest);
            (largest, (along.max(range * 1250.0 / room(largest)).ceil(), "not to scale"))
        });
        let per_metre = 1000.0 / scale;
        let space = room((width, height));
        let on_paper = |times: f64| range * per_metre * times;
        let mut fitting = TIMES.into_iter().filter(|times| on_paper(*times) * 1.25 <= space);
        // The least that shows the heights, or the most there is room for.
        let times = fitting
            .clone()
            .find(|times| on_paper(*times) >= TALL)
            .or_else(|| fitting.next_back())
            .unwrap_or(1.0);
        let level_step = round(unit, 8.0 / (per_metre * times));
        let station_step = round(unit, 14.0 / per_metre);
        let steps = |level: Length| unit.count(level) / unit.count(level_step);
        // At least a fifth of a step of ground under the lowest place.
        let low = unit.length((steps(low) - 0.2).floor() * unit.count(level_step));
        let tall = ((high - low).metres() * per_metre * times).max(TALL);
        let slack = (width - 2.0 * MARGIN - LEFT - RIGHT - length.metres() * per_metre).max(0.0);
        let foot = Paper::new(
            MARGIN + LEFT + slack / 2.0,
            height - MARGIN - STRIP - TABLE - (space - tall).max(0.0) * 0.4,
        );
        Self {
            width,
            height,
            scale: name.to_owned(),
            times,
            unit,
            foot,
            low,
            level_step,
            station_step,
            per_metre,
            tall,
            length,
        }
    }

    /// Where a station and a level lie.
    pub(crate) fn at(&self, (station, level): (Length, Length)) -> Paper {
        let up = (level - self.low).metres() * self.per_metre * self.times;
        self.foot.plus(station.metres() * self.per_metre, -up)
    }

    /// A profile on the paper.
    pub(crate) fn path(&self, profile: &[(Length, Length)]) -> Vec<Paper> {
        profile.iter().map(|at| self.at(*at)).collect()
    }

    /// The upper edge of the section.
    pub(crate) fn top(&self) -> f64 {
        self.foot.y - self.tall
    }

    /// Where the line ends on the paper.
    pub(crate) fn end(&self) -> f64 {
        self.foot.x + self.length.metres() * self.per_metre
    }
}

/// The least round step of at least so many metres.
fn round(unit: Unit, least: f64) -> Length {
    let mut power = 0.1;
    while power < 1e6 {
        if let Some(step) =
            ROUND.into_iter().map(|step| unit.length(step * power)).find(|step| step.metres() >= least)
        {
            return step;
        }
        power *= 10.0;
    }
    Length::from_metres(least)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scales_and_exaggeration() {
        let check = |style: Style, length: f64, range: f64, scale: &str, times: f64| {
            let unit = Unit::of(style);
            let frame =
                Frame::fit(style, unit.length(length), (unit.length(100.0), unit.length(100.0 + range)));
            assert_eq!(frame.scale, scale, "{length} {range}");
            assert!((frame.times - times).abs() < 1e-12, "{length} {range}: {}", frame.times);
            let top = frame.at((Length::ZERO, unit.length(100.0 + range)));
            assert!(top.y >= MARGIN + NAMES, "{top:?}");
            assert!(
                frame.end() <= frame.width - MARGIN && frame.foot.y <= frame.height - MARGIN - STRIP - TABLE
            );
        };
        // Worked by hand: 217.4 mm across a letter sheet; 60 ft at 1:96 are 190.5 mm, 100 ft at 1:192 158.75 mm.
        check(Style::DecimalFeet, 60.0, 10.0, "1/8\" = 1'-0\"", 1.0);
        check(Style::DecimalFeet, 100.0, 4.0, "1/16\" = 1'-0\"", 5.0);
        check(Style::DecimalFeet, 100.0, 0.5, "1/16\" = 1'-0\"", 10.0);
        check(Style::Metres, 20.0, 3.0, "1:100", 1.0);
        check(Style::Metres, 1.0, 0.0, "1:50", 5.0);
        check(Style::Metres, 9_000_000.0, 1.0, "not to scale", 10.0);
    }
}
