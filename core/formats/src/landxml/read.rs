//! The document: its units, its coordinate system and its points.

use std::collections::BTreeMap;

use groundrule_plan::{Faults, Plan, Source, Span};
use groundrule_units::Area;
use roxmltree::{Document, Node, ParsingOptions};

use super::parcels::lots;
use crate::LinearUnit;
use crate::gather::{Gather, span};
use crate::kernel::Xy;
use crate::survey_points::{SurveyOptions, SurveyPoint, level, plan};

/// A survey of a subdivision has some ten thousand elements; a surface of millions is not read here.
const MOST_NODES: u32 = 20_000_000;

/// What the file's `Units` say.
#[derive(Clone, Copy)]
pub(super) struct Units {
    pub(super) linear: LinearUnit,
    pub(super) area: Option<Area>,
}

/// Points by name, easting and northing in metres.
pub(super) type Known = BTreeMap<String, Xy>;

/// Reads the points (`CgPoints`) and parcels (`Parcels`) of a LandXML file.
///
/// A parcel's lines have no roles, since the file does not say which street it fronts; the plan says so. A
/// file whose coordinate system is Web Mercator or geographic is refused: its numbers are no ground lengths.
pub fn read(source: &Source, options: &SurveyOptions) -> Result<Plan, Faults> {
    let mut gather = Gather::new(source);
    let settings = ParsingOptions { nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = match Document::parse_with_options(&source.text, settings) {
        Ok(document) => document,
        Err(error) => {
            let at = offset(&source.text, error.pos());
            gather.add(
                "landxml::not-xml",
                format!("the file is no XML that can be read: {error}"),
                (span(at..at), "here"),
                "check that the export finished; a LandXML file starts with `<LandXML`",
            );
            return Err(gather.into_faults());
        }
    };
    let root = document.root_element();
    if root.tag_name().name() != "LandXML" {
        gather.add(
            "landxml::not-landxml",
            format!("the file is a `{}`, not a `LandXML`", root.tag_name().name()),
            (head(root), "its first element"),
            "export the points and parcels as LandXML",
        );
        return Err(gather.into_faults());
    }
    check_system(&mut gather, root);
    let Some(units) = units(&mut gather, root, options) else { return Err(gather.into_faults()) };
    let mut known = Known::new();
    let points = points(&mut gather, root, units, &mut known);
    let (lots, remarks) = lots(&mut gather, root, units, &known);
    if points.is_empty() && lots.is_empty() && gather.is_empty() {
        gather.add(
            "landxml::nothing-to-read",
            "the file has neither points (`CgPoint`) nor parcels (`Parcel`)",
            (head(root), "in here"),
            "export the coordinate points or the parcels too",
        );
    }
    let mut plan = gather.finish(()).map(|()| plan(source, &points, lots, units.linear, options))?;
    plan.remarks.extend(remarks);
    Ok(plan)
}

/// The opening tag of an element, or all of a short one.
pub(super) fn head(node: Node<'_, '_>) -> Span {
    let range = node.range();
    let text = node.document().input_text().get(range.clone()).unwrap_or_default();
    let width = text.find('>').map_or(text.len(), |end| end + 1);
    span(range.start..range.start + width)
}

/// Descendants of one name, whatever the namespace: LandXML 1.0, 1.1 and 1.2 differ in it.
pub(super) fn named<'a, 'i: 'a>(
    root: Node<'a, 'i>,
    name: &'static str,
) -> impl Iterator<Item = Node<'a, 'i>> {
    root.descendants().filter(move |node| node.is_element() && node.tag_name().name() == name)
}

fn check_system(gather: &mut Gather<'_>, root: Node<'_, '_>) {
    for system in named(root, "CoordinateSystem") {
        let code = system.attribute("epsgCode").unwrap_or_default();
        let code = code.rsplit(':').next().and_then(|code| code.trim().parse::<u32>().ok());
        let text = system.attribute("ogcWktCode").unwrap_or_default();
        let found = code
            .and_then(crate::plane::System::from_epsg)
            .or_else(|| (!text.is_empty()).then(|| crate::plane::System::from_wkt(text)));
        if let Some(Ok(found)) = found
            && (found.is_geographic() || found.is_web_mercator())
        {
            gather.add(
                "landxml::not-ground-lengths",
                format!(
                    "the file's coordinates are in {}, whose numbers are no lengths on the ground",
                    found.name()
                ),
                (head(system), "this system"),
                "export in a state plane, UTM or local system",
            );
        }
    }
}

fn units(gather: &mut Gather<'_>, root: Node<'_, '_>, options: &SurveyOptions) -> Option<Units> {
    let given = named(root, "Units")
        .flat_map(|units| units.children())
        .find(|node| matches!(node.tag_name().name(), "Metric" | "Imperial"));
    let Some(node) = given else {
        if options.unit.is_none() {
            gather.add(
                "landxml::no-unit",
                "the file does not say its unit (`Units`)",
                (head(root), "in here"),
                "give the unit with the file: m, ft or survey ft",
            );
        }
        return options.unit.map(|linear| Units { linear, area: None });
    };
    let word = node.attribute("linearUnit").unwrap_or_default();
    // The words of the enumerations metLinear and impLinear of the LandXML schema.
    let linear = match word {
        "meter" => LinearUnit::Metre,
        "millimeter" => LinearUnit::Millimetre,
        "centimeter" => LinearUnit::Centimetre,
        "kilometer" => LinearUnit::Kilometre,
        "foot" => LinearUnit::Foot,
        "USSurveyFoot" => LinearUnit::SurveyFoot,
        "inch" => LinearUnit::Inch,
        "mile" => LinearUnit::Mile,
        _ => {
            gather.add(
                "landxml::unknown-unit",
                format!("`{word}` is no linear unit of LandXML"),
                (head(node), "this unit"),
                "write meter, foot or USSurveyFoot",
            );
            return None;
        }
    };
    // And of metArea and impArea.
    let square = |one: f64| Some(Area::from_square_metres(one));
    let area = match node.attribute("areaUnit").unwrap_or_default() {
        "squareMeter" => square(1.0),
        "squareMillimeter" => square(1e-6),
        "squareCentimeter" => square(1e-4),
        "hectare" => square(10_000.0),
        // Where the foot is the survey foot, so are its square and the acre of 43,560 of them.
        "squareFoot" => Some(foot(linear)),
        "acre" => Some(foot(linear) * 43_560.0),
        "squareInch" => Some(foot(linear) / 144.0),
        "squareMiles" => Some(foot(linear) * (5280.0 * 5280.0)),
        _ => None,
    };
    Some(Units { linear, area })
}

fn foot(linear: LinearUnit) -> Area {
    let foot = if linear == LinearUnit::SurveyFoot { linear } else { LinearUnit::Foot };
    foot.one() * foot.one()
}

/// All points with coordinates of their own; the others repeat one by reference.
fn points(gather: &mut Gather<'_>, root: Node<'_, '_>, units: Units, known: &mut Known) -> Vec<SurveyPoint> {
    let mut points = Vec::new();
    for node in named(root, "CgPoint").filter(|node| node.attribute("pntRef").is_none()) {
        let at = head(node);
        let name = node.attribute("name").or_else(|| node.attribute("oID")).unwrap_or_default().to_owned();
        let text = node.text().unwrap_or_default();
        let Some(numbers) = numbers(text).filter(|numbers| matches!(numbers.len(), 2 | 3)) else {
            gather.add(
                "landxml::bad-point",
                format!("point `{name}` is `{}`, not a northing and an easting", text.trim()),
                (at, "this point"),
                "write `northing easting level`, separated by spaces",
            );
            continue;
        };
        let one = units.linear.one().metres();
        let (northing, easting) = (numbers[0] * one, numbers[1] * one);
        if name.is_empty() {
            gather.add(
                "landxml::no-name",
                "a point has no name",
                (at, "this point"),
                "name it, so that it can be referred to",
            );
        } else if known.insert(name.clone(), [easting, northing]).is_some() {
            gather.add(
                "landxml::point-twice",
                format!("point `{name}` is there twice"),
                (at, "the second time"),
                "rename one of them, or take it out",
            );
        }
        let code = node.attribute("code").or_else(|| node.attribute("desc")).map(str::to_owned);
        let written = text.split_ascii_whitespace().nth(2).unwrap_or_default();
        let level = numbers.get(2).map(|number| level(number * one, written));
        points.push(SurveyPoint { name, northing, easting, level, code, span: at });
    }
    points
}

/// Numbers separated by white space; none if one of them is no finite number.
pub(super) fn numbers(text: &str) -> Option<Vec<f64>> {
    text.split_ascii_whitespace()
        .map(|word| word.parse::<f64>().ok().filter(|number| number.is_finite()))
        .collect()
}

fn offset(text: &str, at: roxmltree::TextPos) -> usize {
    let row = usize::try_from(at.row).unwrap_or(1).saturating_sub(1);
    let column = usize::try_from(at.col).unwrap_or(1).saturating_sub(1);
    let start: usize = text.split_inclusive('\n').take(row).map(str::len).sum();
    let line = text.get(start..).unwrap_or_default();
    start + line.char_indices().nth(column).map_or(line.len(), |(byte, _)| byte)
}
