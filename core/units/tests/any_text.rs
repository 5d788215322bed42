//! No text makes a reader panic, and whatever is read is finite; whatever is asked can be answered.

#![allow(clippy::panic, reason = "a test fails by panicking, also in its helpers")]

use groundrule_units::{
    SheetUnit, SlopeSense, Unread, Written, read_angle, read_area, read_bearing, read_curve, read_latitude,
    read_length, read_level, read_line_note, read_longitude, read_orientation, read_planting, read_quantity,
    read_ratio, read_scale, read_slope, read_turn, read_volume,
};
use proptest::prelude::*;

/// Pieces that written quantities are made of, so that texts come close to sense.
const PIECES: &[&str] = &[
    "0",
    "1",
    "2",
    "4",
    "11",
    "12",
    "30",
    "00",
    "1,000",
    "0.5",
    ".",
    ",",
    "/",
    "-",
    "+",
    "±",
    "~",
    " ",
    " ",
    "'",
    "\"",
    "°",
    "½",
    "1/2",
    "11/4",
    "ft",
    "in",
    "m",
    "mm",
    "ac",
    "sf",
    "%",
    ":",
    "=",
    "#",
    "(",
    ")",
    "(R)",
    "(M)",
    "N",
    "E",
    "S",
    "W",
    "R=",
    "L=",
    "Δ=",
    "CH=",
    "deg",
    "clockwise",
    "of",
    "up",
    "is",
    "north",
    "TW",
    "OHW",
    "DBH",
    "cal.",
    "o.c.",
    "gal",
    "B&B",
    "in",
    "per",
    "to",
    "chains",
    "perches",
    "varas",
    "(TX)",
    "H",
    "V",
    "²",
    "é",
    "\u{0}",
    "\n",
    "𝟙",
];

fn text() -> impl Strategy<Value = String> {
    let pieces =
        proptest::collection::vec(proptest::sample::select(PIECES), 0..9).prop_map(|pieces| pieces.concat());
    prop_oneof![3 => pieces, 1 => "\\PC{0,24}"]
}

/// Reads, and checks that a question's choices read.
fn settled<T>(
    text: &str,
    read: impl Fn(&str) -> Result<Written<T>, Unread>,
) -> Result<Option<T>, TestCaseError> {
    match read(text) {
        Ok(written) => Ok(Some(written.value)),
        Err(Unread::Ask(question)) => {
            prop_assert!(question.choices.len() >= 2, "{:?}: {:?}", text, question);
            for choice in &question.choices {
                prop_assert!(read(choice).is_ok(), "{:?}: {:?} {:?}", text, choice, read(choice).err());
            }
            Ok(None)
        }
        Err(Unread::Malformed(why)) => {
            prop_assert!(why.contains("; write "), "{:?}: {:?}", text, why);
            Ok(None)
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_reader_settles(text in text()) {
        for sheet in [None, Some(SheetUnit::Feet), Some(SheetUnit::Inches), Some(SheetUnit::Metres), Some(SheetUnit::Millimetres)] {
            if let Some(length) = settled(&text, |text| read_length(text, sheet))? {
                prop_assert!(length.is_finite(), "{text:?}");
            }
            if let Some(area) = settled(&text, |text| read_area(text, sheet))? {
                prop_assert!(area.is_finite(), "{text:?}");
            }
            if let Some(level) = settled(&text, |text| read_level(text, sheet))? {
                prop_assert!(level.height.is_finite(), "{text:?}");
            }
            if let Some(curve) = settled(&text, |text| read_curve(text, sheet))? {
                prop_assert!(curve.radius.is_finite() && curve.chord.is_finite(), "{text:?}");
            }
            settled(&text, |text| read_line_note(text, sheet))?;
        }
        if let Some(ratio) = settled(&text, read_ratio)? {
            prop_assert!(ratio.is_finite(), "{text:?}");
        }
        for sense in [SlopeSense::Ramp, SlopeSense::Bank] {
            settled(&text, |text| read_slope(text, sense))?;
        }
        if let Some(scale) = settled(&text, read_scale)? {
            prop_assert!(scale.denominator().is_finite(), "{text:?}");
        }
        if let Some(quantity) = settled(&text, read_quantity)? {
            prop_assert!(quantity.si().is_finite(), "{text:?}");
        }
        if let Some(bearing) = settled(&text, read_bearing)? {
            prop_assert!((0.0..360.0).contains(&bearing.azimuth().degrees()), "{text:?}");
        }
        settled(&text, read_angle)?;
        settled(&text, read_latitude)?;
        settled(&text, read_longitude)?;
        settled(&text, read_turn)?;
        settled(&text, read_volume)?;
        settled(&text, read_orientation)?;
        settled(&text, read_planting)?;
    }
}
