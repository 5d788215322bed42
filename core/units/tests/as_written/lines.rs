use groundrule_units::{LineTerm, SheetUnit, read_line_note};

use crate::{asks, close, refuses};

#[track_caller]
fn reads(text: &str, term: LineTerm, feet: Option<f64>) {
    let note =
        read_line_note(text, Some(SheetUnit::Feet)).unwrap_or_else(|unread| panic!("{text}: {unread}")).value;
    assert_eq!(note.term, term, "{text}");
    assert_eq!(note.width.is_some(), feet.is_some(), "{text}");
    if let (Some(width), Some(feet)) = (note.width, feet) {
        close(text, width.feet(), feet);
    }
}

#[test]
fn abbreviations_and_words() {
    reads("PUE", LineTerm::PublicUtilityEasement, None);
    reads("10' PUE", LineTerm::PublicUtilityEasement, Some(10.0));
    reads("10' P.U.E.", LineTerm::PublicUtilityEasement, Some(10.0));
    reads("8 UE", LineTerm::UtilityEasement, Some(8.0));
    reads("15' DE", LineTerm::DrainageEasement, Some(15.0));
    reads("15' drainage easement", LineTerm::DrainageEasement, Some(15.0));
    reads("25' BSBL", LineTerm::BuildingSetbackLine, Some(25.0));
    reads("25'BRL", LineTerm::BuildingRestrictionLine, Some(25.0));
    reads("ROW", LineTerm::RightOfWay, None);
    reads("50' R/W", LineTerm::RightOfWay, Some(50.0));
    reads("row", LineTerm::RightOfWay, None);
    reads("overhead wires", LineTerm::OverheadWires, None);
    reads("POB", LineTerm::PointOfBeginning, None);
}

#[test]
fn two_meanings_ask() {
    asks("OHW", |text| read_line_note(text, None), &["overhead wires", "ordinary high water"]);
    asks("10 DE", |text| read_line_note(text, None), &["10 ft DE", "10 in DE", "10 m DE", "10 mm DE"]);
}

#[test]
fn every_short_form_reads_or_asks() {
    for term in LineTerm::ALL {
        let read = read_line_note(term.short(), None);
        assert!(read.is_ok() || term.short() == "OHW", "{}: {read:?}", term.short());
        assert_eq!(read_line_note(term.meaning(), None).map(|note| note.value.term), Ok(*term));
    }
}

#[test]
fn refused_notes() {
    refuses("10' XYZ", |text| read_line_note(text, None), "no abbreviation");
    refuses("ten PUE", |text| read_line_note(text, None), "number");
}
