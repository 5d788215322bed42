//! The scale of a drawing.

use crate::show::whole_fraction;
use crate::{Length, Ratio, Style};

/// How many times larger the ground is than the paper: 240 for `1" = 20'`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Scale(Ratio);

impl Scale {
    /// From a length on the ground and the length that stands for it on paper.
    pub fn new(ground: Length, paper: Length) -> Self {
        Self(ground / paper)
    }

    /// From the second number of `1:200`.
    pub fn from_denominator(ground_per_paper: Ratio) -> Self {
        Self(ground_per_paper)
    }

    /// The second number of `1:200`.
    pub const fn denominator(self) -> Ratio {
        self.0
    }

    /// The length on the ground of a length on paper.
    pub fn ground(self, paper: Length) -> Length {
        paper * self.0.fraction()
    }

    /// The length on paper of a length on the ground.
    pub fn paper(self, ground: Length) -> Length {
        ground / self.0.fraction()
    }

    /// The scale as a title block writes it: `1" = 20'` or `1/8" = 1'-0"` in feet, else `1:200`.
    ///
    /// ```
    /// use groundrule_units::{read_scale, Style};
    /// let scale = read_scale("1:96")?.value;
    /// assert_eq!(scale.show(Style::FeetInches), "1/8\" = 1'-0\"");
    /// assert_eq!(scale.show(Style::Metres), "1:96");
    /// # Ok::<(), groundrule_units::Unread>(())
    /// ```
    pub fn show(self, style: Style) -> String {
        let denominator = self.0.fraction();
        let feet_per_inch = denominator / 12.0;
        if style != Style::Metres {
            if feet_per_inch >= 10.0 && is_whole(feet_per_inch) {
                return format!("1\" = {feet_per_inch:.0}'");
            }
            let thirty_seconds = 32.0 / feet_per_inch;
            if thirty_seconds >= 1.0 && is_whole(thirty_seconds) {
                return format!("{}\" = 1'-0\"", whole_fraction(thirty_seconds.round(), 32.0));
            }
            if feet_per_inch >= 1.0 && is_whole(feet_per_inch) {
                return format!("1\" = {feet_per_inch:.0}'");
            }
        }
        let text = format!("{denominator:.3}");
        format!("1:{}", text.trim_end_matches('0').trim_end_matches('.'))
    }
}

fn is_whole(number: f64) -> bool {
    (number - number.round()).abs() < 1e-9 * number.abs().max(1.0)
}
