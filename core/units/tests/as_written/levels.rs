use groundrule_units::LevelTerm::{
    self, BenchMark, FinishedFloorElevation, FlowLine, Invert, Rim, TopOfWall,
};
use groundrule_units::{Mark, SheetUnit, read_level};

use crate::{asks, close, refuses};

#[track_caller]
fn reads(text: &str, term: impl Into<Option<LevelTerm>>, feet: f64) {
    let written = read_level(text, Some(SheetUnit::Feet)).unwrap_or_else(|unread| panic!("{text}: {unread}"));
    assert_eq!(written.value.term, term.into(), "{text}");
    close(text, written.value.height.feet(), feet);
}

#[test]
fn every_abbreviation_before_and_behind_the_figure() {
    for short in ["FFE", "FF", "FG", "EG", "TW", "BW", "TC", "FL", "HP", "LP", "RIM", "INV", "BM"] {
        let term = LevelTerm::ALL.iter().copied().find(|term| term.short() == short);
        assert!(term.is_some(), "{short}");
        for text in [
            format!("{short} 100.50"),
            format!("{short}=100.50'"),
            format!("{short}: 100.50 ft"),
            format!("100.50 {short}"),
            format!("{} 100.50", short.to_lowercase()),
        ] {
            reads(&text, term, 100.5);
        }
    }
}

#[test]
fn other_spellings() {
    reads("F.F.E. = 100.50", FinishedFloorElevation, 100.5);
    reads("finished floor elevation 100.5", FinishedFloorElevation, 100.5);
    reads("T.W. EL. 102.3", TopOfWall, 102.3);
    reads("BM #1 100.00", BenchMark, 100.0);
    reads("INV. 98.20", Invert, 98.2);
    reads("RIM 101.2 ±", Rim, 101.2);
    reads("99.4' FL", FlowLine, 99.4);
    reads("+100.5", None, 100.5);
    reads("EL 100.5", None, 100.5);
    reads("-2.5", None, -2.5);
    reads("0.00", None, 0.0);
    reads("FFE 0'-0\"", FinishedFloorElevation, 0.0);
    reads("10.02 m", None, 10.02 / 0.3048);
}

#[test]
fn the_datum_is_not_approximate() {
    let datum = read_level("±0.00", Some(SheetUnit::Metres)).expect("the datum reads");
    assert_eq!(datum.mark, Mark::Plain);
    let rough = read_level("100.5 ±", Some(SheetUnit::Feet)).expect("an approximate level reads");
    assert_eq!(rough.mark, Mark::Approximate);
}

#[test]
fn truncated_levels_ask() {
    let feet = |text: &str| read_level(text, Some(SheetUnit::Feet));
    asks("00.50", feet, &["100.50", "0.50"]);
    asks("+00.50", feet, &["+100.50", "+0.50"]);
    asks("TW 02.30", feet, &["TW 102.30", "TW 2.30"]);
    asks("00.50 FL", feet, &["100.50 FL", "0.50 FL"]);
    asks("00.50", |text| read_level(text, None), &["100.50 ft", "0.50 ft", "100.50 m", "0.50 m"]);
    asks("00.50'", feet, &["100.50'", "0.50'"]);
}

#[test]
fn levels_without_a_unit_ask() {
    asks("100.5", |text| read_level(text, None), &["100.5 ft", "100.5 m"]);
    asks("TW 100.5", |text| read_level(text, Some(SheetUnit::Inches)), &["TW 100.5 ft", "TW 100.5 in"]);
    asks("+100.5", |text| read_level(text, Some(SheetUnit::Millimetres)), &["+100.5 m", "+100.5 mm"]);
}

#[test]
fn refused_levels() {
    let feet = |text: &str| read_level(text, Some(SheetUnit::Feet));
    refuses("TW", feet, "number");
    refuses("XX 100.5", feet, "number");
    refuses("TW 100.5 BW", feet, "two kinds");
    refuses("TW 100.5 furlongs", feet, "furlongs");
}
