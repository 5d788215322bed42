//! LandXML, good and bad.

use groundrule_plan::{Place, Plan, Source};
use groundrule_survey::resolve;
use proptest::prelude::*;

use super::*;

fn source(text: &str) -> Source {
    Source { name: "lot.xml".to_owned(), text: text.into() }
}

fn file(units: &str, body: &str) -> String {
    format!(
        "<?xml version=\"1.0\"?>\n<LandXML xmlns=\"http://www.landxml.org/schema/LandXML-1.2\" version=\"1.2\">\n<Units>{units}</Units>\n{body}\n</LandXML>\n"
    )
}

const SURVEY_FEET: &str = "<Imperial linearUnit=\"USSurveyFoot\" areaUnit=\"squareFoot\"/>";
const METRES: &str = "<Metric linearUnit=\"meter\" areaUnit=\"squareMeter\"/>";

/// An invented lot of 60 by 100 ft with a corner rounded at 20 ft: 6000 - (4 - pi) / 4 * 400 sq ft.
const LOT: &str = r#"<CgPoints>
  <CgPoint name="1" code="IP">5000.0 5000.0 100.5</CgPoint>
  <CgPoint name="2">5000.0 5060.0</CgPoint>
  <CgPoint name="3">5100.0 5060.0</CgPoint>
</CgPoints>
<Parcels><Parcel name="Lot 7" area="5914.159">
  <Center>5050 5030</Center>
  <CoordGeom>
    <Line><Start>5020.0 5000.0</Start><End>5000.0 5020.0</End></Line>
    <Line><Start>5000.0 5020.0</Start><End pntRef="2"/></Line>
    <Line><Start pntRef="2"/><End pntRef="3"/></Line>
    <Line><Start pntRef="3"/><End>5100.0 5000.0</End></Line>
    <Line><Start>5100.0 5000.0</Start><End>5020.0 5000.0</End></Line>
  </CoordGeom>
</Parcel></Parcels>"#;

const CHORD: &str = "<Line><Start>5020.0 5000.0</Start><End>5000.0 5020.0</End></Line>";
const CURVE: &str = "<Curve rot=\"ccw\" radius=\"20\"><Start>5020 5000</Start><Center>5020 5020</Center><End>5000 5020</End></Curve>";

fn read_text(text: &str) -> Plan {
    read(&source(text), &SurveyOptions::new("Lot 7")).expect("a plan")
}

fn area(plan: &Plan) -> f64 {
    let (layout, _) = resolve(plan).expect("a layout");
    let ring: Vec<[f64; 2]> =
        layout.lots[0].ring.iter().map(|point| [point.at.x.metres(), point.at.y.metres()]).collect();
    crate::kernel::twice_area(&ring).abs() / 2.0
}

#[test]
fn points_are_northing_first_in_the_file_s_own_foot() {
    let plan = read_text(&file(SURVEY_FEET, LOT));
    let Place::At { x, y, .. } = &plan.points[1].place else { panic!("{:?}", plan.points[1]) };
    let foot = 1200.0 / 3937.0;
    assert!((x.value.metres() - 5060.0 * foot).abs() < 1e-9);
    assert!((y.value.metres() - 5000.0 * foot).abs() < 1e-9);
    let level = &plan.features[0];
    assert_eq!((level.id.value.0.as_str(), level.title.as_deref()), ("level-1", Some("IP")));
    assert_eq!(plan.lots[0].id.value.0, "lot-Lot-7");
    assert!(plan.lots[0].sides.iter().all(|side| side.role.is_none() && !side.assumed));
    assert!(plan.remarks.iter().any(|remark| remark.code == "data::front-unknown"));
}

#[test]
fn areas_agree_with_the_drawing_and_with_what_is_stated() {
    let foot = 1200.0 / 3937.0;
    let plan = read_text(&file(SURVEY_FEET, LOT));
    // The cut corner is a triangle of 20 by 20.
    assert!((area(&plan) - 5800.0 * foot * foot).abs() < 1e-6, "{}", area(&plan));
    let stated = plan.lots[0].stated_area.as_ref().expect("stated").value.value;
    assert!((stated.square_metres() - 5914.159 * foot * foot).abs() < 1e-9);
    // The rounded corner: a curve counts as short chords, good to some square inches.
    let plan = read_text(&file(SURVEY_FEET, &LOT.replace(CHORD, CURVE)));
    let expected = (6000.0 - (4.0 - std::f64::consts::PI) * 100.0) * foot * foot;
    assert!((area(&plan) - expected).abs() < 0.05, "{} {expected}", area(&plan));
    // Turning the other way the corner is bitten out.
    let bitten = CURVE.replace("ccw", "cw").replace("<Center>5020 5020", "<Center>5000 5000");
    let plan = read_text(&file(SURVEY_FEET, &LOT.replace(CHORD, &bitten)));
    let expected = (6000.0 - std::f64::consts::PI * 100.0) * foot * foot;
    assert!((area(&plan) - expected).abs() < 0.05, "{} {expected}", area(&plan));
}

#[test]
fn one_lot_in_three_units_is_one_lot() {
    let metric = file(METRES, LOT);
    let areas: Vec<f64> = [
        (metric.clone(), 1.0),
        (metric.replace("\"meter\"", "\"millimeter\""), 1e-6),
        (file("<Imperial linearUnit=\"foot\"/>", LOT), 0.3048 * 0.3048),
    ]
    .iter()
    .map(|(text, square)| area(&read_text(text)) / square)
    .collect();
    for area in areas {
        assert!((area - 5800.0).abs() < 1e-4, "{area}");
    }
}

#[test]
fn an_irregular_line_may_or_may_not_repeat_its_ends() {
    for list in ["5000 5000 5000 5060 5100 5060", "5000 5060"] {
        let body = format!(
            "<Parcels><Parcel name=\"A\"><CoordGeom>
               <IrregularLine><Start>5000 5000</Start><End>5100 5060</End><PntList2D>{list}</PntList2D></IrregularLine>
               <Line><Start>5100 5060</Start><End>5000 5000</End></Line>
             </CoordGeom></Parcel></Parcels>"
        );
        let plan = read_text(&file(METRES, &body));
        assert!((area(&plan) - 3000.0).abs() < 1e-9, "{list}");
    }
}

fn faults(text: &str) -> Vec<String> {
    crate::testing::lines(&read(&source(text), &SurveyOptions::new("")).expect_err("faults"))
}

#[test]
fn bad_files_are_told_all_at_once() {
    let parcel = |pieces: &str| {
        file(
            METRES,
            &format!("<Parcels><Parcel name=\"A\"><CoordGeom>{pieces}</CoordGeom></Parcel></Parcels>"),
        )
    };
    crate::testing::snapshot!([
        faults(""),
        faults("<LandXML><Units>"),
        faults("<?xml version=\"1.0\"?><gpx/>"),
        faults("<!DOCTYPE x [<!ENTITY a \"b\">]><LandXML>&a;</LandXML>"),
        faults("<LandXML><CgPoints><CgPoint name=\"1\">1 2</CgPoint></CgPoints></LandXML>"),
        faults(&file("<Imperial linearUnit=\"cubit\"/>", LOT)),
        faults(&file(METRES, "")),
        faults(&file(
            METRES,
            "<CgPoints><CgPoint name=\"1\">1</CgPoint><CgPoint name=\"2\">1 NaN</CgPoint><CgPoint name=\"3\">1 2</CgPoint><CgPoint name=\"3\">1 2</CgPoint><CgPoint>1 2</CgPoint></CgPoints>"
        )),
        faults(&file(METRES, &format!("<CoordinateSystem epsgCode=\"3857\"/>{LOT}"))),
        faults(&file(METRES, &LOT.replace("pntRef=\"3\"", "pntRef=\"33\""))),
        faults(&file(METRES, &LOT.replace("<End>5100.0 5000.0</End>", "<End>5100.0 5001.0</End>"))),
        faults(&file(METRES, &LOT.replace(CHORD, &CURVE.replace("rot=\"ccw\"", "")))),
        faults(&file(METRES, &LOT.replace(CHORD, &CURVE.replace("5020 5020", "5020 5021")))),
        faults(&parcel("")),
        faults(&parcel("<Line><Start>0 0</Start></Line>")),
        faults(&parcel("<Spiral/>")),
    ]);
}

#[test]
fn deep_nesting_is_only_a_fault() {
    let text = format!("<LandXML>{}", "<a>".repeat(200_000));
    assert!(read(&source(&text), &SurveyOptions::new("")).is_err());
}

proptest! {
    /// Any damage to a good file ends in a plan or in faults.
    #[test]
    fn damage_never_panics(at in 0usize..1400, cut in 0usize..60, put in "\\PC{0,6}") {
        let mut text: Vec<char> = file(SURVEY_FEET, &LOT.replace(CHORD, CURVE)).chars().collect();
        let at = at.min(text.len());
        let end = (at + cut).min(text.len());
        text.splice(at..end, put.chars());
        let text: String = text.into_iter().collect();
        if let Err(faults) = read(&source(&text), &SurveyOptions::new("")) {
            crate::testing::lines(&faults);
        }
    }
}
