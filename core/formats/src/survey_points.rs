//! Points a surveyor measured, to a plan.

use std::collections::BTreeMap;

use groundrule_plan::{
    Accuracy, AccuracyClass, At, Gravity, Lot, Name, NamedPoint, Place, Plan, Remark, Sheet, SiteFacts,
    Source, Span,
};
use groundrule_units::{Length, SheetUnit, Written};

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
    pub(crate) level: Option<f64>,
    pub(crate) code: Option<String>,
    pub(crate) span: Span,
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
    let levels = points.iter().filter(|point| point.level.is_some()).count();
    let codes = points.iter().filter(|point| point.code.is_some()).count();
    if levels + codes > 0 {
        remarks.push(remark(
            "data::levels-and-codes",
            Gravity::Noted,
            format!(
                "{} and {} stand beside their points in the file; the plan holds places only.",
                count(levels, "level"),
                count(codes, "code")
            ),
            Vec::new(),
            Some("Add a feature of the right kind at a point to use its level or code."),
        ));
    }
    let accuracy: BTreeMap<Name, AccuracyClass> = options
        .accuracy
        .iter()
        .map(|plus_minus| {
            (Name(SURVEY.to_owned()), AccuracyClass { plus_minus: plus_minus.clone(), span: Span::default() })
        })
        .collect();
    let by = options
        .accuracy
        .as_ref()
        .map(|_| Accuracy::Class(At { value: Name(SURVEY.to_owned()), span: Span::default() }));
    if by.is_none() {
        remarks.push(remark(
            "data::accuracy-unstated",
            Gravity::Lacking,
            "Nothing says how well these points were located; they are taken as exact.".to_owned(),
            Vec::new(),
            Some("State the plus or minus of the survey."),
        ));
    }
    let points = points.iter().map(|point| named(&mut names, point)).collect();
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
        points,
        lots,
        features: Vec::new(),
        declared: BTreeMap::new(),
        sheet: Sheet::default(),
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
