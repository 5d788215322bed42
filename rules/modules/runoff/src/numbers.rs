//! Curve numbers of ground.

use groundrule_kit::{Choice, Feature, Ground, Need, ParameterInfo, Refusal, Value};

use crate::figures::Figures;
use crate::ground::{area, on};
use crate::one::{Asking, copy, number, one, stated, text, unstated};
use crate::parts::{Part, composite, parts, plain};

/// Figures of the row.
pub(crate) const NUMBERS: ParameterInfo = ParameterInfo {
    name: "numbers",
    summary: "Curve numbers of kinds, surfaces and of the ground besides: [\"structure 98\", \"ground 74\"].",
};
/// Whether a composite is rounded.
pub(crate) const ROUNDING: Choice<bool> = Choice::new(
    "rounding",
    "`whole` takes the weighted number to the next whole one, as the manual does; `none` keeps it. Without it, `whole`.",
    &[("whole", true), ("none", false)],
    true,
);

/// What says how to state a number.
const HOW: &str = "look it up in the table for its cover and soil";

/// A subject with its parts and their number.
#[derive(Debug)]
pub(crate) struct Numbered<A> {
    pub(crate) area: A,
    /// The number to use.
    pub(crate) number: A,
    /// As weighted, before it is rounded.
    pub(crate) weighted: f64,
    /// The value of the number to use.
    pub(crate) used: f64,
    pub(crate) parts: Vec<Part<A>>,
    /// The number of ground that nothing else covers.
    pub(crate) of_ground: Option<f64>,
}

/// What a row gives to number ground by.
#[derive(Debug, Default)]
pub(crate) struct Table {
    figures: Figures,
    /// The cover of ground of which only the soil is known.
    cover: Option<String>,
    rounded: bool,
}

impl Table {
    /// The number of ground that nothing else covers: of the row's cover on the soil where that is known.
    fn of_ground<G: Ground>(&self, ground: &G, soil: Option<&str>) -> Option<f64> {
        match (&self.cover, soil) {
            (Some(cover), Some(soil)) => tabulated(ground, cover, soil),
            _ => self.figures.of_ground(),
        }
    }
}

/// The table's number of a cover on a soil, both as people write them.
fn tabulated<G: Ground>(ground: &G, cover: &str, soil: &str) -> Option<f64> {
    ground.curve_number(cover.trim(), &soil.trim().to_ascii_uppercase())
}

/// The number that a feature states, or that the table has for its cover and soil, with its hard share if it states one.
fn of_feature<G: Ground>(ground: &G, feature: Feature, soil: Option<&str>, figures: &Figures) -> Option<f64> {
    let group = text(ground, feature, "soil_group");
    let by_table = || tabulated(ground, &text(ground, feature, "ground_cover")?, group.as_deref().or(soil)?);
    let number = number(ground, feature, "curve_number")
        .or_else(by_table)
        .or_else(|| figures.of(ground, feature, "curve_number"))?;
    let Some(hard) = stated(ground, feature, "hard_share") else { return Some(number) };
    let area = area(ground, feature)?;
    let pervious = one(ground.composite(&[vec![(&area, number)]]))?;
    let unconnected = stated(ground, feature, "unconnected_share");
    let both = one(ground.with_hard_ground(&[(&pervious, &hard, unconnected.as_ref())]))?;
    ground.values(&[&both]).first().map(|value| value.si())
}

/// The number of each subject: its own, or that of what lies on it, weighted by area.
pub(crate) fn numbered<G: Ground>(
    ground: &G,
    asking: &mut Asking<'_, G>,
    covers: &[Feature],
    table: &Table,
) -> Option<Numbered<G::Amount>> {
    let subject = asking.of;
    let area = area(ground, subject)?;
    let soil = text(ground, subject, "soil_group").or_else(|| match ground.parameter("soil_group") {
        Some(Value::Text(group)) => Some(group),
        _ => None,
    });
    let of_ground = table.of_ground(ground, soil.as_deref());
    let own = of_feature(ground, subject, soil.as_deref(), &Figures::default());
    let parts = match own {
        Some(figure) => {
            let part = Part { name: asking.label.clone(), area: copy(ground, &area)?, figure };
            Ok(vec![part])
        }
        None => parts(
            ground,
            subject,
            &area,
            &on(ground, subject, covers),
            |feature| of_feature(ground, feature, soil.as_deref(), &table.figures),
            of_ground,
            |name| needed(ground, name),
        ),
    };
    match parts {
        Err(needs) => {
            asking.needs.extend(needs);
            None
        }
        Ok(parts) => {
            let exactly = composite(ground, &parts)?;
            let weighted = ground.values(&[&exactly]).first()?.si();
            let number = if table.rounded { ground.rounded(&[&exactly]).pop()? } else { exactly };
            let used = ground.values(&[&number]).first()?.si();
            Some(Numbered { area, number, weighted, used, parts, of_ground })
        }
    }
}

fn needed<G: Ground>(ground: &G, name: &str) -> Need {
    let covers = ground.covers().join(", ");
    let how = format!("{HOW}, or state its `soil_group` and its `ground_cover` ({covers}),");
    unstated("curve_number", name, &how)
}

/// The soil group that holds where none is stated.
pub(crate) const SOIL: ParameterInfo = ParameterInfo {
    name: "soil_group",
    summary: "Hydrologic group of soil where none is stated: A, B, C or D.",
};

/// The cover of ground of which only the soil is known.
pub(crate) const COVER: ParameterInfo = ParameterInfo {
    name: "ground_cover",
    summary: "Cover of the ground besides where its soil group is known and its cover is not: `lawn-good`.",
};

/// Reads what the row gives.
pub(crate) fn of_row<G: Ground>(ground: &G) -> Result<Table, Refusal> {
    let cover = match ground.parameter(COVER.name) {
        Some(Value::Text(cover)) => Some(cover.trim().to_owned()),
        _ => None,
    };
    let covers = ground.covers();
    if let Some(cover) = cover.as_ref().filter(|cover| !covers.contains(cover)) {
        return Err(Refusal::new(format!(
            "parameter `{}` is \"{cover}\", which the table of curve numbers does not have; give one of {}",
            COVER.name,
            covers.join(", "),
        )));
    }
    Ok(Table { figures: Figures::read(ground, NUMBERS.name)?, cover, rounded: ROUNDING.read(ground)? })
}

impl<A> Numbered<A> {
    /// The number in words: `70`, or with what it was before it was rounded, `70.1, used as 70`.
    pub(crate) fn words(&self) -> String {
        let (exactly, used) = (plain(self.weighted), plain(self.used));
        if used == exactly { exactly } else { format!("{exactly}, used as {used}") }
    }
}
