//! Points a surveyor measured, to a plan.

use std::collections::BTreeMap;

use groundrule_plan::{
    Accuracy, AccuracyClass, At, Attribute, Feature, Geometry, Gravity, GroundFacts, Lot, Name, NamedPoint,
    Place, Plan, PointRef, Remark, Sheet, SiteFacts, Source, Span,
};
use groundrule_units::{Length, Level, Mark, SheetUnit, Written};

use crate::LinearUnit;
use crate::assemble::{Names, written};
use crate::remarks::{count, remark};

/// What the person importing a survey file says about it.
#[derive(Clone, Debug)]
pub struct SurveyOptions {
    /// The plan's title.
    pub title: String,
    /// The unit of the coordinates where the file does not say.
    pub unit: Option<LinearUnit>,
    /// How well the points are known, plus or minus at 95 %, if that is known.
    pub accuracy: Option<Written<Length>>,
}

impl SurveyOptions {
    /// Options that leave unit and accuracy to the file.
    pub fn new(title: impl Into<String>) -> Self {
        Self { title: title.into(), unit: None, accuracy: None }
    }
}

/// A point as the file gives it, in metres.
pub(crate) struct SurveyPoint {
    pub(crate) name: String,
    pub(crate) northing: f64,
    pub(crate) easting: f64,
    /// With its number as written.
    pub(crate) level: Option<Written<Length>>,
    pub(crate) code: Option<String>,
    pub(crate) span: Span,
}

/// A level in metres with its number as the file has it.
pub(crate) fn level(metres: f64, text: &str) -> Written<Length> {
    Written { value: Length::from_metres(metres), text: text.to_owned(), mark: Mark::Plain }
}

/// The accuracy class of everything a surveyor located.
const SURVEY: &str = "survey";

/// A plan of points and lots: easting to the right, northing up.
pub(crate) fn plan(
    source: &Source,
    points: &[SurveyPoint],
    lots: Vec<Lot>,
    unit: LinearUnit,
    options: &SurveyOptions,
) -> Plan {
    let mut names = Names::default();
    let mut remarks = vec![read_remark(points, &lots, unit)];
    let accuracy: BTreeMap<Name, AccuracyClass> = options
        .accuracy
        .iter()
        .map(|plus_minus| {
            (Name(SURVEY.to_owned()), AccuracyClass::plain(plus_minus.clone(), Span::default()))
        })
        .collect();
    let by = options
        .accuracy
        .as_ref()
        .map(|_| Accuracy::Class(At { value: Name(SURVEY.to_owned()), span: Span::default() }));
    if by.is_none() {
        remarks.push(remark(
            "data::no-accuracy",
            Gravity::Lacking,
            "Nothing says how well these points were located; they are taken as exact.".to_owned(),
            Vec::new(),
            Some("State the plus or minus of the survey."),
        ));
    }
    let mut placed = Vec::new();
    let mut features = Vec::new();
    for point in points {
        let made = named(&mut names, point);
        features.extend(spot_level(&mut names, point, &made.name.value));
        placed.push(made);
    }
    Plan {
        source: source.clone(),
        site: SiteFacts {
            name: options.title.clone(),
            units: sheet_unit(unit),
            north: None,
            latitude: None,
            longitude: None,
            district: None,
            overlays: Vec::new(),
            filed: None,
            permit: None,
            by,
        },
        accuracy,
        points: placed,
        measurements: Vec::new(),
        lots,
        features,
        declared: BTreeMap::new(),
        sheet: Sheet::default(),
        ground: GroundFacts::default(),
        remarks,
    }
}

fn named(names: &mut Names, point: &SurveyPoint) -> NamedPoint {
    let span = point.span;
    NamedPoint {
        name: At { value: Name(names.id("", &point.name)), span },
        place: Place::At { x: written(point.easting), y: written(point.northing), span },
        by: None,
    }
}

/// The level of a point as a feature that stands on it, its code as the title.
fn spot_level(names: &mut Names, point: &SurveyPoint, name: &Name) -> Option<Feature> {
    let (level, span) = (point.level.clone()?, point.span);
    let stands_on = PointRef { owner: None, point: name.clone(), span };
    let level = level.map(|height| Level { term: None, height });
    let attribute = At { value: Attribute::Level(level), span };
    Some(Feature {
        id: At { value: Name(names.id("level-", &name.0)), span },
        title: point.code.clone(),
        kind: At { value: "spot-level".to_owned(), span },
        status: None,
        lot: None,
        geometry: Some(Geometry::Spot(Place::Point(stands_on))),
        by: None,
        attributes: BTreeMap::from([(Name("level".to_owned()), attribute)]),
        span,
    })
}

fn sheet_unit(unit: LinearUnit) -> SheetUnit {
    match unit {
        LinearUnit::Foot | LinearUnit::SurveyFoot | LinearUnit::Mile => SheetUnit::Feet,
        LinearUnit::Inch => SheetUnit::Inches,
        LinearUnit::Millimetre => SheetUnit::Millimetres,
        LinearUnit::Metre | LinearUnit::Centimetre | LinearUnit::Kilometre => SheetUnit::Metres,
    }
}

fn read_remark(points: &[SurveyPoint], lots: &[Lot], unit: LinearUnit) -> Remark {
    remark(
        "data::survey-file",
        Gravity::Noted,
        format!(
            "{} and {} read in {} ({} m): easting to the right, northing up, grid distances as they stand.",
            count(points.len(), "point"),
            count(lots.len(), "lot"),
            unit.name(),
            unit.one().metres()
        ),
        Vec::new(),
        Some("Grid north is not true north; add the north of the sheet where it matters."),
    )
}
