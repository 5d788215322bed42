use groundrule_units::SlopeSense::{Bank, Ramp};
use groundrule_units::{Style, read_ratio, read_slope, show};

use crate::{asks, close, refuses};

#[track_caller]
fn reads(text: &str, fraction: f64) {
    let written = read_ratio(text).unwrap_or_else(|unread| panic!("{text}: {unread}"));
    close(text, written.value.fraction(), fraction);
}

#[test]
fn percent() {
    for text in ["2%", "2 %", "2.0%", "2 percent", "2% slope", "~2%"] {
        reads(text, 0.02);
    }
    reads("-2%", -0.02);
    reads("0.5 %", 0.005);
    reads("1/2 %", 0.005);
    reads("35 %", 0.35);
    reads("1,200 %", 12.0);
    reads("0", 0.0);
}

#[test]
fn rise_in_run() {
    for text in [
        "1/4\"/ft",
        "1/4\" / ft",
        "1/4 in/ft",
        "1/4\" per ft",
        "1/4\" per foot",
        "¼”/ft",
        "1/4\"/ft (2.08%)",
        "1/4\"/1'",
    ] {
        reads(text, 0.25 / 12.0);
    }
    let quarter = read_ratio("1/4\"/ft").expect("a quarter inch per foot reads").value;
    assert_eq!(show(quarter.into(), Style::FeetInches), "2.1%");
    for text in
        ["6\" in 10'", "6 in in 10 ft", "6 in. in 10 ft", "6\" per 10'", "6\" over 10'", "0.5' in 10'"]
    {
        reads(text, 0.05);
    }
    reads("1 in 50", 0.02);
    reads("-1 in 50", -0.02);
    reads("3 cm per m", 0.03);
    reads("0.48 m in 4.8 m", 0.1);
    reads("3H:1V", 1.0 / 3.0);
    reads("1V:3H", 1.0 / 3.0);
}

#[test]
fn bare_numbers_ask_because_both_stand_in_percent_columns() {
    asks("0.02", read_ratio, &["0.02 %", "2 %"]);
    asks("2", read_ratio, &["2 %", "200 %"]);
    asks("0.005", read_ratio, &["0.005 %", "0.5 %"]);
    asks("-2", read_ratio, &["-2 %", "-200 %"]);
}

#[test]
fn ratios_ask_without_their_sense() {
    asks("3:1", read_ratio, &["3 in 1", "1 in 3"]);
    asks("1:3", read_ratio, &["1 in 3", "3 in 1"]);
    asks("1:12", read_ratio, &["1 in 12", "12 in 1"]);
    asks("1/12", read_ratio, &["1 in 12", "12 in 1"]);
    asks("3 to 1", read_ratio, &["3 in 1", "1 in 3"]);
    reads("1:1", 1.0);
}

#[test]
fn ratios_with_their_sense() {
    let ramp = |text: &str| read_slope(text, Ramp);
    let bank = |text: &str| read_slope(text, Bank);
    close("1:12", ramp("1:12").expect("a ramp").value.fraction(), 1.0 / 12.0);
    close("3:1", bank("3:1").expect("a bank").value.fraction(), 1.0 / 3.0);
    close("2.5:1", bank("2.5:1").expect("a bank").value.fraction(), 0.4);
    close("2%", ramp("2%").expect("percent").value.fraction(), 0.02);
    // Steeper than 1:1: the numbers may be swapped.
    asks("3:1", ramp, &["3 in 1", "1 in 3"]);
    asks("12:1", ramp, &["12 in 1", "1 in 12"]);
    asks("1:3", bank, &["1 in 3", "3 in 1"]);
    asks("0.02", ramp, &["0.02 %", "2 %"]);
}

#[test]
fn a_missing_unit_asks() {
    asks("1/4 per ft", read_ratio, &["1/4\" in 1 ft", "1/4' in 1 ft"]);
    asks("6 in 10 ft", read_ratio, &["6\" in 10 ft", "6' in 10 ft"]);
    asks("6\" in 10", read_ratio, &["6\" in 10'", "6\" in 10\""]);
    asks("11/4\"/ft", read_ratio, &["1 1/4\"/ft", "2 3/4\"/ft"]);
}

#[test]
fn a_note_that_disagrees_asks() {
    asks("1/4\"/ft (2.5%)", read_ratio, &["1/4\"/ft", "2.5%"]);
}

#[test]
fn refused_slopes() {
    refuses("steep", read_ratio, "number");
    refuses("5 ft", read_ratio, "does not make it a slope");
    refuses("1 in 0", read_ratio, "the run is zero");
    refuses("0:1", read_ratio, "zero");
    refuses("2% to 5%", read_ratio, "left over");
    refuses("1/4\"/ft (about)", read_ratio, "not a percentage");
}
