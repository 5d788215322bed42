//! Tables as written, and points read back.

use groundrule_plan::{KindTree, Source};
use groundrule_survey::resolve;

use super::*;
use crate::points::{SurveyOptions, read_csv};

fn source(text: &str) -> Source {
    Source { name: "points.csv".to_owned(), text: text.into() }
}

#[test]
fn points_written_are_points_read() {
    let text =
        "point,northing (us ft),easting (us ft)\n101,5000.1230,10000000.0000\n102,-12.5000,5000.0000\n";
    let plan = read_csv(&source(text), &SurveyOptions::new("")).expect("a plan");
    let (layout, _) = resolve(&plan).expect("a layout");
    assert_eq!(points_csv(&layout, LinearUnit::SurveyFoot), text);
    for unit in [LinearUnit::Metre, LinearUnit::Foot, LinearUnit::Millimetre] {
        let other = points_csv(&layout, unit);
        let again = read_csv(&source(&other), &SurveyOptions::new("")).expect("a plan");
        let (again, _) = resolve(&again).expect("a layout");
        assert_eq!(points_csv(&again, unit), other);
    }
}

#[test]
fn areas_stand_with_their_plus_or_minus() {
    // A rectangle whose corners err by 0.05 m in each coordinate: to first order the area errs by that times
    // the diagonal (closed form: the gradient at each corner is half the other diagonal).
    let text = r#"{"type":"FeatureCollection","features":[
        {"type":"Feature","id":"A","properties":{},"geometry":{"type":"Polygon","coordinates":
        [[[-93.0,45.0],[-92.9998,45.0],[-92.9998,45.0001],[-93.0,45.0001],[-93.0,45.0]]]}}]}"#;
    let layers = crate::Layers::Only(crate::Use::Buildings);
    let mut options = crate::Options::new("", layers);
    options.accuracy.value = Length::from_metres(0.05 * 1.959_963_984_540_054);
    let mut plan = crate::geojson::read(&source(text), &options).expect("a plan");
    plan.features[0].title = Some("=1+1, \"the house\"".to_owned());
    let (layout, _) = resolve(&plan).expect("a layout");
    let (site, _) = Site::build(&plan, &layout, KindTree::standard());
    let table = areas_csv(&site);
    let row = table.lines().nth(1).expect("one row");
    // pyproj 3.7.2, Geod(ellps='WGS84'): sides 15.76935 and 11.11318 m, area 175.247628 m2.
    let around = 1.959_963_984_540_054 * 0.05 * libm::hypot(15.769_35, 11.113_18);
    let square_foot = 0.3048 * 0.3048;
    let expected = format!(
        "building-A,\"'=1+1, \"\"the house\"\"\",dwelling,,175.25,{around:.2},{:.1},{:.1}",
        175.247_628 / square_foot,
        around / square_foot
    );
    assert_eq!(row, expected);
}
