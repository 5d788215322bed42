//! The number of a finding in its frame: the shape tells the verdict, and colour only repeats it.

use groundrule_review::Verdict;

use super::svg::{Paper, Svg, figure};

/// Half the size of a frame, in millimetres.
pub(crate) const HALF: f64 = 2.9;

/// The frame of a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Frame {
    /// Fails.
    Square,
    /// Verify in field.
    Triangle,
    /// Missing.
    Diamond,
    /// The data itself, or a stopped module.
    Circle,
}

impl Frame {
    /// The frame of a verdict.
    pub(crate) fn of(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Verify => Self::Triangle,
            Verdict::Missing => Self::Diamond,
            _ => Self::Square,
        }
    }

    fn class(self) -> &'static str {
        match self {
            Self::Square => "bubble verdict-fails",
            Self::Triangle => "bubble verdict-verify",
            Self::Diamond => "bubble verdict-missing",
            Self::Circle => "bubble",
        }
    }

    /// Draws the frame around a place.
    pub(crate) fn draw(self, svg: &mut Svg, at: Paper) {
        let class = self.class();
        let polygon = |svg: &mut Svg, corners: &[(f64, f64)]| {
            let corners: Vec<Paper> = corners.iter().map(|(x, y)| at.plus(HALF * x, HALF * y)).collect();
            svg.polygon(class, &[&corners]);
        };
        match self {
            Self::Square => svg.rect(class, at.plus(-HALF * 0.85, -HALF * 0.85), HALF * 1.7, HALF * 1.7),
            Self::Triangle => polygon(svg, &[(0.0, -1.35), (1.3, 0.85), (-1.3, 0.85)]),
            Self::Diamond => polygon(svg, &[(0.0, -1.25), (1.25, 0.0), (0.0, 1.25), (-1.25, 0.0)]),
            Self::Circle => svg.circle(class, at, HALF),
        }
    }

    /// Draws the frame with a number in it; a triangle has its room further down.
    pub(crate) fn numbered(self, svg: &mut Svg, at: Paper, number: u32) {
        self.draw(svg, at);
        let down = if self == Self::Triangle { 0.55 } else { 0.1 };
        let class = if number > 99 { "bubble-number long" } else { "bubble-number" };
        svg.text(class, at.plus(0.0, down), 0.0, &number.to_string());
    }
}

/// A number in its frame as a drawing of its own.
pub(crate) fn badge(number: u32, frame: Frame) -> String {
    let mut svg = Svg::default();
    let middle = Paper::new(HALF * 1.6, HALF * 1.6);
    let size = figure(HALF * 3.2);
    svg.open("svg", &format!("class=\"plan\" viewBox=\"0 0 {size} {size}\" aria-hidden=\"true\""));
    frame.numbered(&mut svg, middle, number);
    svg.close("svg");
    svg.finish()
}
