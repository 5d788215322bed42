use groundrule_units::{Length, PlantNote, read_planting};

use crate::{asks, refuses};

#[track_caller]
fn reads(text: &str, notes: &[PlantNote]) {
    let written = read_planting(text).unwrap_or_else(|unread| panic!("{text}: {unread}"));
    assert_eq!(written.value, notes, "{text}");
}

fn inches(inches: f64) -> Length {
    Length::from_inches(inches)
}

#[test]
fn sizes_and_spacings() {
    reads("12\" DBH", &[PlantNote::TrunkAtBreastHeight(inches(12.0))]);
    reads("DBH 12\"", &[PlantNote::TrunkAtBreastHeight(inches(12.0))]);
    reads("DBH = 12 in", &[PlantNote::TrunkAtBreastHeight(inches(12.0))]);
    reads("2\" cal.", &[PlantNote::Caliper(inches(2.0))]);
    reads("2 1/2\" caliper", &[PlantNote::Caliper(inches(2.5))]);
    reads("18\" o.c.", &[PlantNote::OnCenter(inches(18.0))]);
    reads("3' OC", &[PlantNote::OnCenter(Length::from_feet(3.0))]);
    reads("8' OA", &[PlantNote::Overall(Length::from_feet(8.0))]);
    reads("B&B", &[PlantNote::BalledAndBurlapped]);
    reads("2\" cal. B&B", &[PlantNote::Caliper(inches(2.0)), PlantNote::BalledAndBurlapped]);
    reads(
        "8' OA, 2\" cal., B & B",
        &[
            PlantNote::Overall(Length::from_feet(8.0)),
            PlantNote::Caliper(inches(2.0)),
            PlantNote::BalledAndBurlapped,
        ],
    );
}

#[test]
fn containers_are_nominal_us_gallons() {
    let written = read_planting("5 gal.").expect("a container reads").value;
    let [PlantNote::Container(volume)] = written[..] else { panic!("{written:?}") };
    crate::close("5 gal.", volume.cubic_metres(), 5.0 * 0.003_785_411_784);
}

#[test]
fn a_size_without_a_unit_asks() {
    asks("12 DBH", read_planting, &["12\" DBH", "12 cm DBH"]);
    asks("DBH 12", read_planting, &["DBH 12\"", "DBH 12 cm"]);
    asks("2.5 cal. B&B", read_planting, &["2.5\" cal. B&B", "2.5 cm cal. B&B"]);
    asks("6 o.c.", read_planting, &["6' o.c.", "6\" o.c."]);
    asks("B&B, 8 OA", read_planting, &["B&B, 8' OA", "B&B, 8\" OA"]);
    asks("11/4\" cal.", read_planting, &["1 1/4\" cal.", "2 3/4\" cal."]);
}

#[test]
fn refused_notes() {
    refuses("big", read_planting, "no size");
    refuses("0\" cal.", read_planting, "more than zero");
    refuses("2' gal", read_planting, "number of gallons");
    refuses("4\" B&B", read_planting, "takes no size");
}
