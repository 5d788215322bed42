//! What there is to tell of levels when they are made a surface.

use groundrule_plan::{Gravity, Name, Plan, Remark, Span};
use groundrule_survey::{GroundLevel, GroundLine, Layout, Position, Surface};
use groundrule_terrain::{Input, Place, Trouble};
use groundrule_units::{Length, Style, show};

use super::word;

/// Lines that cross at levels no farther apart than this, in metres, agree: a sixteenth of an inch.
const AGREE: f64 = 0.0016;

/// Remarks as they are found, each once though it may hold for both surfaces.
pub(crate) struct Told<'a> {
    plan: &'a Plan,
    shift: Position,
    remarks: Vec<Remark>,
}

impl<'a> Told<'a> {
    pub(crate) fn new(plan: &'a Plan, layout: &Layout) -> Self {
        Self { plan, shift: layout.shift, remarks: Vec::new() }
    }

    pub(crate) fn finish(self) -> Vec<Remark> {
        self.remarks
    }

    /// A level in the middle of a building, which is no ground.
    pub(crate) fn inside(&mut self, level: &GroundLevel, building: Option<usize>) {
        let building = building.and_then(|i| self.name(i)).unwrap_or_default();
        let message = format!(
            "The level of `{}` stands inside `{building}`, where there is no ground; it is left out.",
            level.name.0
        );
        let help =
            "Take levels of the ground outside the walls; write a floor as `floor_level` of the building.";
        let at = level.at.at;
        self.tell(
            "data::level-in-building",
            Gravity::Noted,
            message,
            &[level.name.0.clone(), building],
            at,
            level.span,
            help,
        );
    }

    /// What the triangulation met.
    pub(crate) fn troubles(
        &mut self,
        troubles: &[Trouble],
        lines: &[&GroundLine],
        input: &Input,
        which: Surface,
    ) {
        for trouble in troubles {
            if let Trouble::Crossing { first, second, at, step } = trouble {
                self.crossing((first.0, second.0), *at, *step, lines, input, which);
            }
        }
    }

    fn crossing(
        &mut self,
        (first, second): (usize, usize),
        at: Place,
        step: Length,
        lines: &[&GroundLine],
        input: &Input,
        which: Surface,
    ) {
        if step.abs().metres() <= AGREE {
            return;
        }
        let of = |line: usize| lines.get(line).and_then(|line| self.plan.features.get(line.feature as usize));
        let (Some(one), Some(other)) = (of(first), of(second)) else { return };
        let (a, b) = (one.id.value.0.clone(), other.id.value.0.clone());
        let by = self.length(step.abs());
        let both = lines.get(first).zip(lines.get(second));
        let contours = both.is_some_and(|(a, b)| {
            use groundrule_survey::GroundLineKind::Contour;
            a.kind == Contour && b.kind == Contour
        });
        let what = if contours { "Two contours" } else { "Two lines of levels" };
        let message = format!(
            "{what} of the {} ground cross: `{a}` and `{b}`, and their levels differ there by {by}.",
            word(which)
        );
        let help = if contours {
            "Ground has one level at a place, so contours never cross; correct the course or the level of one of them."
        } else {
            "Give both the same level where they cross, or end one of them there; until then the first one counts."
        };
        debug_assert!(first < input.lines.len());
        let span = other.span;
        let position = Position { x: at.x, y: at.y };
        self.tell("data::ground-lines-cross", Gravity::Wrong, message, &[a, b], position, span, help);
    }

    #[allow(clippy::too_many_arguments, reason = "the parts of one remark")]
    fn tell(
        &mut self,
        code: &'static str,
        gravity: Gravity,
        message: String,
        about: &[String],
        at: Position,
        span: Span,
        help: &str,
    ) {
        let about: Vec<Name> = about.iter().map(|name| Name(name.clone())).collect();
        let twice = |remark: &Remark| remark.code == code && remark.about == about && remark.span == span;
        if self.remarks.iter().any(twice) {
            return;
        }
        let spots = vec![(at.x + self.shift.x, at.y + self.shift.y)];
        self.remarks.push(Remark { code, gravity, message, about, spots, span, help: Some(help.to_owned()) });
    }

    fn name(&self, feature: usize) -> Option<String> {
        self.plan.features.get(feature).map(|feature| feature.id.value.0.clone())
    }

    /// A length as the sheet writes lengths.
    fn length(&self, length: Length) -> String {
        show(length.into(), Style::from(self.plan.site.units))
    }
}
