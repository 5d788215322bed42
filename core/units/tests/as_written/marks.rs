use groundrule_units::{Mark, SheetUnit, read_length};

use crate::{asks, close};

#[track_caller]
fn reads(text: &str, feet: f64, mark: Mark) {
    let written =
        read_length(text, Some(SheetUnit::Feet)).unwrap_or_else(|unread| panic!("{text}: {unread}"));
    close(text, written.value.feet(), feet);
    assert_eq!(written.mark, mark, "{text}");
    assert_eq!(written.text, text);
}

#[test]
fn record_measured_and_approximate() {
    reads("66.00'", 66.0, Mark::Plain);
    reads("66.00' (R)", 66.0, Mark::Record);
    reads("66.00'(R)", 66.0, Mark::Record);
    reads("66.00 (Rec.)", 66.0, Mark::Record);
    reads("65.8' (M)", 65.8, Mark::Measured);
    reads("65.8 (meas)", 65.8, Mark::Measured);
    reads("65.8' ±", 65.8, Mark::Approximate);
    reads("65.8'+/-", 65.8, Mark::Approximate);
    reads("+/- 65.8'", 65.8, Mark::Approximate);
    reads("~65.8'", 65.8, Mark::Approximate);
    reads("65.8' more or less", 65.8, Mark::Approximate);
    reads("approx. 65.8", 65.8, Mark::Approximate);
}

#[test]
fn a_mark_stays_on_every_choice() {
    let read = |text: &str| read_length(text, None);
    asks("66 (R)", read, &["66 ft (R)", "66 in (R)", "66 m (R)", "66 mm (R)"]);
    asks("~66", read, &["~66 ft", "~66 in", "~66 m", "~66 mm"]);
}

#[test]
fn two_figures_or_two_marks_ask() {
    let read = |text: &str| read_length(text, None);
    asks("66.00' (R) 65.8' (M)", read, &["66.00' (R)", "65.8' (M)"]);
    asks("66.00' (R), 65.8' (M)", read, &["66.00' (R)", "65.8' (M)"]);
    asks("66.00' ± (R)", read, &["66.00' (R)", "~66.00'"]);
}
