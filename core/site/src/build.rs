//! Features, lots and lot lines from a plan and its layout.

use groundrule_plan::{Attribute, Lot, Name, Plan, Role, Status};
use groundrule_survey::{Layout, Point, ResolvedSide, Shape};
use groundrule_units::Length;

use crate::shape::rings::signed_area;
use crate::site::id;
use crate::{Fact, Facts, Feature, FeatureId, Measured};

/// The kind of a lot.
pub(crate) const LOT: &str = "lot";
/// The kind of one of its sides.
pub(crate) const LOT_LINE: &str = "lot-line";

pub(crate) fn features(plan: &Plan, layout: &Layout) -> Vec<Feature> {
    let lines: usize = layout.lots.iter().map(|lot| lot.sides.len()).sum();
    let mut features = Vec::with_capacity(plan.features.len() + plan.lots.len() + lines);
    for (i, feature) in plan.features.iter().enumerate() {
        let status = feature.status.as_ref().map(|status| status.value);
        let mut facts: Facts = feature
            .attributes
            .iter()
            .filter_map(|(name, attribute)| Some((name.0.clone(), fact(&attribute.value)?)))
            .collect();
        if let Some(status) = status {
            facts.insert("status".to_owned(), Fact::Text(status_word(status).to_owned()));
        }
        features.push(Feature {
            id: feature.id.value.clone(),
            title: feature.title.clone().unwrap_or_else(|| feature.id.value.0.clone()),
            kind: feature.kind.value.clone(),
            status,
            lot: None,
            shape: layout.shapes.get(i).map_or(Shape::Absent, turned_right),
            facts,
            span: feature.span,
        });
    }
    features
}

/// Appends each lot and, after it, its lines.
pub(crate) fn push_lots(plan: &Plan, layout: &Layout, features: &mut Vec<Feature>) {
    for (i, lot) in plan.lots.iter().enumerate() {
        let own = id(features.len());
        let resolved = layout.lots.get(i).filter(|resolved| resolved.ring.len() > 2);
        let mut facts = Facts::new();
        if let Some(area) = &lot.stated_area {
            let area = Fact::Amount(Box::new(Measured::exact(area.value.value)));
            facts.insert("stated_area".to_owned(), area);
        }
        if let Some(position) = resolved.and_then(|resolved| resolved.position) {
            facts.insert("position".to_owned(), Fact::Text(position.word().to_owned()));
        }
        features.push(Feature {
            id: lot.id.value.clone(),
            title: lot.id.value.0.clone(),
            kind: LOT.to_owned(),
            status: None,
            lot: Some(own),
            shape: resolved.map_or(Shape::Absent, |resolved| Shape::Outline {
                ring: anticlockwise(&resolved.ring),
                holes: Vec::new(),
            }),
            facts,
            span: lot.span,
        });
        let several = plan.lots.len() > 1;
        let sides = layout.lots.get(i).map(|resolved| resolved.sides.as_slice()).unwrap_or_default();
        features.extend(sides.iter().map(|side| line(lot, own, side, several)));
    }
}

fn line(lot: &Lot, own: FeatureId, side: &ResolvedSide, several: bool) -> Feature {
    let lot = &lot.id.value.0;
    let mut facts = Facts::new();
    facts.insert("assumed".to_owned(), Fact::Flag(side.assumed));
    if let Some(role) = side.role {
        facts.insert("role".to_owned(), Fact::Text(role_word(role).to_owned()));
    }
    if let Some(street) = &side.street {
        facts.insert("street".to_owned(), Fact::Text(street.clone()));
    }
    if side.inside {
        facts.insert("set_out".to_owned(), Fact::Flag(true));
    }
    if let Some(width) = side.street_width {
        facts.insert("street_width".to_owned(), Fact::Amount(Box::new(Measured::exact(width))));
    }
    Feature {
        id: Name(format!("{lot}.{}", side.name.0)),
        title: line_title(side, several.then_some(lot.as_str())),
        kind: LOT_LINE.to_owned(),
        status: None,
        lot: Some(own),
        shape: if side.path.len() > 1 {
            Shape::Line { path: side.path.clone(), width: Length::ZERO }
        } else {
            Shape::Absent
        },
        facts,
        span: side.span,
    }
}

/// `front lot line sw-se along Alder Row`, with its lot where a plan has several.
fn line_title(side: &ResolvedSide, lot: Option<&str>) -> String {
    let role = side.role.map_or(String::new(), |role| format!("{} ", role_word(role).replace('_', " ")));
    let street = side.street.as_ref().map_or(String::new(), |street| format!(" along {street}"));
    let of = lot.map_or(String::new(), |lot| format!(" of {lot}"));
    format!("{role}lot line {}{of}{street}", side.name.0)
}

/// A stated property as a fact; none for levels of which some were not taken.
pub(crate) fn fact(attribute: &Attribute) -> Option<Fact> {
    let amount = |length: Length| Measured::exact(length);
    Some(match attribute {
        Attribute::Level(level) => Fact::Amount(Box::new(amount(level.value.height))),
        Attribute::Levels(levels) => {
            let heights = levels.iter().map(|level| Some(amount(level.as_ref()?.value.value.height)));
            Fact::Amounts(heights.collect::<Option<_>>()?)
        }
        Attribute::Length(length) => Fact::Amount(Box::new(Measured::exact(length.value))),
        Attribute::Lengths(lengths) => {
            Fact::Amounts(lengths.iter().map(|length| Measured::exact(length.value)).collect())
        }
        Attribute::Area(area) => Fact::Amount(Box::new(Measured::exact(area.value))),
        Attribute::Ratio(ratio) => Fact::Amount(Box::new(Measured::exact(ratio.value))),
        Attribute::Number(number) => Fact::Amount(Box::new(Measured::exact(*number))),
        Attribute::Flow(flow) => Fact::Amount(Box::new(Measured::exact(flow.value))),
        Attribute::Speed(speed) => Fact::Amount(Box::new(Measured::exact(speed.value))),
        Attribute::Time(time) => Fact::Amount(Box::new(Measured::exact(time.value))),
        Attribute::Count(count) => Fact::Count(*count),
        Attribute::Flag(flag) => Fact::Flag(*flag),
        Attribute::Text(text) => Fact::Text(text.clone()),
    })
}

fn status_word(status: Status) -> &'static str {
    match status {
        Status::Existing => "existing",
        Status::Proposed => "proposed",
        Status::Remove => "remove",
    }
}

fn role_word(role: Role) -> &'static str {
    match role {
        Role::Front => "front",
        Role::Side => "side",
        Role::StreetSide => "street_side",
        Role::Rear => "rear",
    }
}

/// The shape with its outer ring anticlockwise and its holes clockwise, whoever made the layout.
fn turned_right(shape: &Shape) -> Shape {
    match shape {
        Shape::Outline { ring, .. } if ring.len() < 3 => Shape::Absent,
        Shape::Outline { ring, holes } => Shape::Outline {
            ring: anticlockwise(ring),
            holes: holes.iter().map(|hole| turned(hole, signed_area(hole) > 0.0)).collect(),
        },
        other => other.clone(),
    }
}

fn anticlockwise(ring: &[Point]) -> Vec<Point> {
    turned(ring, signed_area(ring) < 0.0)
}

fn turned(ring: &[Point], turn: bool) -> Vec<Point> {
    if turn { ring.iter().rev().cloned().collect() } else { ring.to_vec() }
}
