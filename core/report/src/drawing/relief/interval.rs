//! The interval of contours, and how levels are written.

use groundrule_units::{Length, Style};

/// A drawing has at least so many contours where the ground has the fall for it,
const FEWEST: f64 = 5.0;
/// and at most so many,
const MOST: f64 = 15.0;
/// best so many.
const BEST: f64 = 9.0;
/// On ground of mean slope, contours are at least so far apart on the paper, in millimetres.
const APART: f64 = 3.0;

/// An interval, how many of it make a heavy line, and how many decimals a level on one has.
type Row = (f64, i64, usize);

/// Intervals people use (common practice). Quarters have a heavy line at every whole unit, the others every fifth.
const FEET: [Row; 9] = [
    (0.25, 4, 2),
    (0.5, 5, 1),
    (1.0, 5, 0),
    (2.0, 5, 0),
    (5.0, 5, 0),
    (10.0, 5, 0),
    (20.0, 5, 0),
    (50.0, 4, 0),
    (100.0, 5, 0),
];
const METRES: [Row; 9] = [
    (0.1, 5, 1),
    (0.25, 4, 2),
    (0.5, 5, 1),
    (1.0, 5, 0),
    (2.0, 5, 0),
    (5.0, 5, 0),
    (10.0, 5, 0),
    (20.0, 5, 0),
    (50.0, 4, 0),
];

/// The contours of one drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Interval {
    /// From one to the next, in the unit written.
    step: f64,
    heavy: i64,
    places: usize,
    unit: Unit,
}

/// The unit levels are written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Unit {
    Feet,
    Metres,
}

impl Unit {
    /// Levels are decimal, also where lengths are feet and inches.
    pub(crate) fn of(style: Style) -> Self {
        match style {
            Style::FeetInches | Style::DecimalFeet => Self::Feet,
            Style::Metres => Self::Metres,
        }
    }

    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Feet => "ft",
            Self::Metres => "m",
        }
    }

    pub(crate) fn count(self, length: Length) -> f64 {
        match self {
            Self::Feet => length.feet(),
            Self::Metres => length.metres(),
        }
    }

    pub(crate) fn length(self, count: f64) -> Length {
        match self {
            Self::Feet => Length::from_feet(count),
            Self::Metres => Length::from_metres(count),
        }
    }

    /// A level or depth to two decimals, as both trades write spot levels (common practice).
    pub(crate) fn level(self, level: Length) -> String {
        decimal(self.count(level), 2)
    }
}

/// A figure with so many decimals, never a negative nought.
pub(crate) fn decimal(value: f64, places: usize) -> String {
    // A division left what was written a hair short of it.
    let text = format!("{:.places$}", value + value.signum() * 1e-9);
    if text.starts_with('-') && text.chars().all(|c| matches!(c, '-' | '0' | '.')) {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    }
}

impl Interval {
    /// The interval for levels between two, on ground of such a mean slope (rise by run) drawn at so many millimetres
    /// for a metre: of those that give 5 to 15 contours, each far enough from the next, the one nearest to nine; where
    /// none does, the finest that does not crowd.
    pub(crate) fn choose(style: Style, (low, high): (Length, Length), slope: f64, per_metre: f64) -> Self {
        let unit = Unit::of(style);
        let rows = if unit == Unit::Feet { &FEET } else { &METRES };
        let lines = |step: f64| {
            let count = |level: Length| unit.count(level) / step;
            (count(high).floor() - count(low).ceil() + 1.0).max(0.0)
        };
        let apart = |step: f64| {
            if slope > 0.0 { unit.length(step).metres() / slope * per_metre } else { f64::INFINITY }
        };
        let readable = |row: &&Row| lines(row.0) <= MOST && apart(row.0) >= APART;
        let off = |row: &&Row| (lines(row.0) - BEST).abs();
        let good = rows.iter().filter(readable).filter(|row| lines(row.0) >= FEWEST);
        let found = good.min_by(|a, b| off(a).total_cmp(&off(b))).or_else(|| rows.iter().find(readable));
        let &(step, heavy, places) = found.unwrap_or(&rows[rows.len() - 1]);
        Self { step, heavy, places, unit }
    }

    /// As a length.
    pub(crate) fn length(self) -> Length {
        self.unit.length(self.step)
    }

    fn number(self, level: Length) -> i64 {
        #[allow(clippy::cast_possible_truncation, reason = "levels are some thousands of steps at most")]
        let number = (self.unit.count(level) / self.step).round() as i64;
        number
    }

    /// True for a level whose contour is heavy.
    pub(crate) fn is_heavy(self, level: Length) -> bool {
        self.number(level).rem_euclid(self.heavy) == 0
    }

    /// A level of a contour as it is written along it.
    pub(crate) fn figure(self, level: Length) -> String {
        decimal(self.number(level) as f64 * self.step, self.places)
    }

    /// What the legend says: `Contours every 0.5 ft, heavier every 2.5 ft`.
    pub(crate) fn words(self) -> String {
        let figure = |count: f64| super::super::svg::figure(count);
        let (step, heavy) = (figure(self.step), figure(self.step * self.heavy as f64));
        let unit = self.unit.word();
        format!("Contours every {step} {unit}, heavier every {heavy} {unit}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_interval_follows_fall_and_scale() {
        let check = |style: Style, (low, high): (f64, f64), slope: f64, per_metre: f64, expected: f64| {
            let unit = Unit::of(style);
            let chosen = Interval::choose(style, (unit.length(low), unit.length(high)), slope, per_metre);
            assert!((chosen.step - expected).abs() < 1e-12, "{low} to {high}: {chosen:?}");
        };
        // Counted by hand: 97.1 to 102.2 ft has 97.5, 98, ... 102: ten lines at half a foot, five at a foot.
        check(Style::DecimalFeet, (97.1, 102.2), 0.05, 5.0, 0.5);
        check(Style::FeetInches, (97.1, 102.2), 0.05, 5.0, 0.5);
        check(Style::DecimalFeet, (100.1, 101.9), 0.02, 5.0, 0.25);
        check(Style::DecimalFeet, (90.0, 99.0), 0.1, 5.0, 1.0);
        check(Style::DecimalFeet, (80.0, 100.0), 0.1, 5.0, 2.0);
        check(Style::DecimalFeet, (80.0, 130.0), 0.1, 5.0, 5.0);
        check(Style::DecimalFeet, (100.0, 900.0), 0.2, 1.0, 100.0);
        check(Style::Metres, (100.0, 101.0), 0.03, 5.0, 0.1);
        check(Style::Metres, (100.0, 102.0), 0.05, 5.0, 0.25);
        check(Style::Metres, (100.0, 108.0), 0.1, 5.0, 1.0);
        // Level ground has the finest; ground too steep for its scale a coarser one than its fall asks for.
        check(Style::DecimalFeet, (100.0, 100.0), 0.0, 5.0, 0.25);
        check(Style::DecimalFeet, (90.0, 99.0), 1.0, 5.0, 2.0);
    }

    /// Whatever the fall, there are never too many lines, and never too few where a finer interval is at hand.
    #[test]
    fn five_to_fifteen_lines() {
        for tenths in 1..4000 {
            let fall = f64::from(tenths) * 0.1;
            for style in [Style::DecimalFeet, Style::Metres] {
                let unit = Unit::of(style);
                let levels = (unit.length(100.03), unit.length(100.03 + fall));
                let chosen = Interval::choose(style, levels, 0.0, 5.0);
                let lines = (100.03 + fall) / chosen.step;
                let lines = lines.floor() - (100.03 / chosen.step).ceil() + 1.0;
                let finest = if style == Style::Metres { 0.1 } else { 0.25 };
                assert!(lines <= 15.0 && (lines >= 5.0 || chosen.step <= finest), "{fall} {chosen:?}");
            }
        }
    }

    #[test]
    fn levels_as_written() {
        let check = |interval: f64, level: f64, figure: &str, heavy: bool| {
            let &(step, heavies, places) = FEET.iter().find(|row| (row.0 - interval).abs() < 1e-12).unwrap();
            let interval = Interval { step, heavy: heavies, places, unit: Unit::Feet };
            let level = Length::from_feet(level);
            assert_eq!((interval.figure(level).as_str(), interval.is_heavy(level)), (figure, heavy));
        };
        check(0.25, 99.75, "99.75", false);
        check(0.25, 100.0, "100.00", true);
        check(0.5, 97.5, "97.5", true);
        check(1.0, -5.0, "-5", true);
        check(1.0, -0.0, "0", true);
        check(2.0, 98.0, "98", false);
        assert_eq!(Unit::Feet.level(Length::from_feet(100.45)), "100.45");
        assert_eq!(Unit::Feet.level(Length::from_feet(-0.001)), "0.00");
        assert_eq!(Unit::Metres.level(Length::from_metres(30.125)), "30.13");
    }
}
