//! Tables as field software exports them, good and bad.

use groundrule_plan::{Place, Source};
use groundrule_units::{Length, Level, Mark, Written};

use proptest::prelude::*;

use super::*;
use crate::LinearUnit;

fn source(text: &str) -> Source {
    Source { name: "points.csv".to_owned(), text: text.into() }
}

fn options(unit: Option<LinearUnit>) -> SurveyOptions {
    SurveyOptions { unit, ..SurveyOptions::new("Back lot") }
}

/// `name easting northing` of every point, in metres to the millimetre.
fn places(text: &str, unit: Option<LinearUnit>) -> Vec<String> {
    let plan = read_csv(&source(text), &options(unit)).expect("a plan");
    let word = |point: &groundrule_plan::NamedPoint| match &point.place {
        Place::At { x, y, .. } => {
            format!("{} {:.3} {:.3}", point.name.value.0, x.value.metres(), y.value.metres())
        }
        other => panic!("{other:?}"),
    };
    plan.points.iter().map(word).collect()
}

#[test]
fn columns_are_found_by_their_headers_in_any_order() {
    let expected = ["101 15.240 30.480", "102 18.288 30.480"];
    let feet = Some(LinearUnit::Foot);
    for text in [
        "point,northing,easting,level,code\n101,100,50,12.5,IP\n102,100,60,,\n",
        "Code,E,N,Pt,Z\nIP,50,100,101,12.5\n,60,100,102,\n",
        "\u{feff}pt;y;x\r\n101;100;50\r\n102;100;60\r\n",
        "Point No.\tNorthing\tEasting\n101\t100\t50\n\n# a note\n102\t100\t60\n",
    ] {
        assert_eq!(places(text, feet), expected, "{text}");
    }
}

#[test]
fn the_header_may_name_the_unit() {
    for (header, metres) in [
        ("point,northing (ft),easting (ft)", "30.480"),
        ("point,northing_m,easting_m", "100.000"),
        ("point,N [us ft],E [us ft]", "30.480"),
        ("point,north usft,east usft", "30.480"),
    ] {
        let text = format!("{header}\n7,100,0\n");
        assert_eq!(places(&text, None), [format!("7 0.000 {metres}")], "{header}");
    }
    // 2,000,000 survey feet are 4 ft (1.219 m) more than as many international feet.
    let far = "point,northing (us ft),easting (us ft)\n7,0,2000000\n";
    assert_eq!(places(far, None), ["7 609601.219 0.000"]);
}

#[test]
fn levels_become_spot_levels_with_their_code() {
    let text = "point,northing,easting,level,code\n101,100,50,12.5,top of curb\n102,100,60,,IP\n";
    let plan = read_csv(&source(text), &options(Some(LinearUnit::Foot))).expect("a plan");
    let [feature] = plan.features.as_slice() else { panic!("{:?}", plan.features) };
    assert_eq!((feature.kind.value.as_str(), feature.id.value.0.as_str()), ("spot-level", "level-101"));
    assert_eq!(feature.title.as_deref(), Some("top of curb"));
    let level = feature.attributes.values().next().expect("a level");
    let height = Level { term: None, height: Length::from_feet(12.5) };
    let expected = Written { value: height, text: "12.5".to_owned(), mark: Mark::Plain };
    assert_eq!(level.value, groundrule_plan::Attribute::Level(expected));
    assert!(groundrule_plan::KindTree::standard().get("spot-level").is_some());
}

/// Every fault as `code at what it points to: message`.
fn faults(text: &str, unit: Option<LinearUnit>) -> Vec<String> {
    let faults = read_csv(&source(text), &options(unit)).expect_err("faults");
    crate::testing::lines(&faults)
}

#[test]
fn bad_tables_are_told_all_at_once() {
    let feet = Some(LinearUnit::Foot);
    crate::testing::snapshot!([
        faults("", feet),
        faults("\n\n", feet),
        faults("101,5000.00,5000.00,100.00,IP\n102,5010,5000,100,IP\n", feet),
        faults("point,latitude,longitude\n1,40,-100\n", feet),
        faults("point,northing,easting\n1,100,50\n", None),
        faults("point,northing (m),easting (ft)\n1,100,50\n", None),
        faults("point,northing,easting,n\n1,100,50,3\n", feet),
        faults("point,northing,easting\n1,1 200,NaN\n,3,4\n2,5,6\n2,inf,8\n3\n", feet),
        faults("point,northing,easting\n", feet),
        faults("PK\u{3}\u{4}\u{0}\u{0}binary", feet),
    ]);
}

proptest! {
    /// Any text ends in a plan or in faults.
    #[test]
    fn any_text_is_read_or_refused(text in "(point,northing,easting\n)?([0-9a-z .;,\t\"'\n\u{e9}-]{0,80})") {
        if let Err(faults) = read_csv(&source(&text), &options(Some(LinearUnit::Metre))) {
            crate::testing::lines(&faults);
        }
    }
}
