//! The sheet as a feature: what it states, and where that can be held against the drawing.

use std::collections::BTreeSet;

use groundrule_plan::{CheckedLength, Course, Name, North, Plan, Presence, Reading};
use groundrule_survey::{Layout, Shape};
use groundrule_units::{Angle, Length, Scale};

use crate::build::fact;
use crate::{Fact, Facts, Feature, Measured};

/// One inch, by which scales in feet are said.
const INCH: Length = Length::from_inches(1.0);

/// The kind of the sheet, and its id.
const SHEET: &str = "sheet";

/// The one sheet of a plan, also where the plan says nothing of it, so that what it lacks can be told.
///
/// Its facts are the keys of `[sheet]` as stated, `size` as `sheet_size`, and:
/// - `inch_stated` and `inch_printed`: the length on the ground that one inch on the paper stands for, by the stated scale
///   and by the dimension taken off the print;
/// - `arrow_off_north`: how far the drawn arrow points from the plan's north, from 0 to 180 degrees;
/// - `declared.` and a subject: `none` or `shown`, as `[declared]` says. What nobody looked at is not stated;
/// - `bearings` and `levels`: how many calls of the plan have a bearing, and how many levels it has, of the ground or of marks.
pub(crate) fn sheet(plan: &Plan, layout: &Layout) -> Feature {
    Feature {
        id: Name(SHEET.to_owned()),
        title: "the sheet".to_owned(),
        kind: SHEET.to_owned(),
        status: None,
        lot: None,
        shape: Shape::Absent,
        facts: facts(plan, layout),
        span: plan.sheet.span,
    }
}

fn facts(plan: &Plan, layout: &Layout) -> Facts {
    let sheet = &plan.sheet;
    let mut facts: Facts =
        sheet.attributes.iter().filter_map(|(name, it)| Some((name.0.clone(), fact(&it.value)?))).collect();
    let mut state = |name: &str, fact: Option<Fact>| {
        if let Some(fact) = fact {
            facts.insert(name.to_owned(), fact);
        }
    };
    let text = |text: &str| Fact::Text(text.to_owned());
    state("date", sheet.date.as_ref().map(|date| text(&date.value)));
    state("drawn_by", sheet.drawn_by.as_ref().map(|by| text(&by.value)));
    state("scale", sheet.scale.as_ref().map(|scale| text(&scale.value.text)));
    state("arrow", sheet.arrow.as_ref().map(|arrow| text(&arrow.text)));
    let size = sheet.size.as_ref().map(|size| &size.value);
    state("sheet_size", size.map(|(width, height)| text(&format!("{} x {}", width.text, height.text))));

    let checked = sheet.checked.as_ref();
    let words = |it: &CheckedLength| text(&format!("{} is {} on paper", it.said.text, it.on_paper.text));
    state("checked", checked.map(words));
    state("inch_printed", checked.map(|checked| Fact::Amount(Box::new(inch_printed(checked, layout)))));
    let stated = sheet.scale.as_ref().map(|scale| scale.value.value.ground(INCH));
    state("inch_stated", stated.map(|inch| Fact::Amount(Box::new(Measured::exact(inch)))));
    let north = sheet.arrow.as_ref().zip(plan.site.north.as_ref());
    state(
        "arrow_off_north",
        north.map(|(arrow, north)| Fact::Amount(Box::new(Measured::exact(between(arrow, north))))),
    );

    state("bearings", counted(bearings(plan)));
    state("levels", counted(levels(plan, layout)));
    for (subject, declaration) in &plan.declared {
        let said = match declaration.presence {
            Presence::None => Some(text("none")),
            Presence::Shown => Some(text("shown")),
            Presence::Unknown => None,
        };
        state(&format!("declared.{}", subject.0), said);
    }
    facts
}

/// What an inch on the paper stands for, as well as the ruler was read.
fn inch_printed(checked: &CheckedLength, layout: &Layout) -> Measured {
    let inch = Scale::new(checked.said.value, checked.on_paper.value).ground(INCH);
    // The longer it was read on paper, the less an inch stands for.
    let slope = -(inch / checked.on_paper.value).fraction();
    let terms = layout.on_paper.iter().map(|(source, sigma)| (*source, sigma.metres() * slope));
    Measured::new(inch.into(), terms.collect())
}

/// The angle between two directions, whichever way round is shorter.
fn between(one: &North, other: &North) -> Angle {
    let apart = (one.clockwise_of_up - other.clockwise_of_up).abs().degrees() % 360.0;
    Angle::from_degrees(apart.min(360.0 - apart))
}

/// A number of things, where there are any.
fn counted(number: usize) -> Option<Fact> {
    (number > 0).then(|| Fact::Count(u32::try_from(number).unwrap_or(u32::MAX)))
}

/// How many calls of traverses say their direction.
fn bearings(plan: &Plan) -> usize {
    let calls = plan.measurements.iter().filter_map(|measurement| match &measurement.reading {
        Reading::Traverse(traverse) => Some(&traverse.calls),
        _ => None,
    });
    let says = |course: &Course| match course {
        Course::Straight { .. } => true,
        Course::Curve { chord_bearing, .. } => chord_bearing.is_some(),
    };
    calls.flatten().filter(|call| says(&call.course)).count()
}

/// How many levels the plan has: of the ground, measured otherwise, or stated of a mark.
fn levels(plan: &Plan, layout: &Layout) -> usize {
    let stated = || layout.ground.levels.iter().filter(|level| !level.derived);
    let ground: BTreeSet<&str> = stated().map(|level| level.name.0.as_str()).collect();
    let marked: BTreeSet<u32> = stated().filter_map(|level| level.feature).collect();
    let heights = layout.heights.keys().filter(|name| !ground.contains(name.as_str()));
    let marks = plan.features.iter().zip(0_u32..);
    let marks = marks.filter(|(mark, i)| mark.stated("level").is_some() && !marked.contains(i));
    stated().count() + heights.count() + marks.count()
}
