use groundrule_units::read_length;

use crate::{asks, close};

#[track_caller]
fn reads(text: &str, feet: f64) {
    let written = read_length(text, None).unwrap_or_else(|unread| panic!("{text}: {unread}"));
    close(text, written.value.feet(), feet);
}

/// Chain, link and rod after the table of NIST Handbook 44, appendix C, counted in international feet.
#[test]
fn chains_links_and_rods() {
    reads("1 chain", 66.0);
    reads("2.5 ch", 165.0);
    reads("1 link", 0.66);
    reads("50 lk", 33.0);
    reads("2 chains 30 links", 151.8);
    reads("2 ch. 30 lks.", 151.8);
    reads("1 rod", 16.5);
    reads("10 rods", 165.0);
    reads("10 poles", 165.0);
    reads("1 perch", 16.5);
    reads("4 perches", 66.0);
}

/// Texas by the statute of 1919 and the others after a surveyors' glossary (learncst.com/vara-definition).
#[test]
fn a_vara_needs_its_state() {
    reads("36 varas (TX)", 100.0);
    reads("36 Texas varas", 100.0);
    reads("12 Arizona varas", 33.0);
    reads("1000 varas (FL)", 2781.0);
    let read = |text: &str| read_length(text, None);
    asks("36 varas", read, &["36 varas (TX)", "36 varas (AZ)", "36 varas (FL)"]);
    asks("232 vrs.", read, &["232 vrs. (TX)", "232 vrs. (AZ)", "232 vrs. (FL)"]);
}

/// 1200/3937 m, the definition of the US survey foot (Mendenhall order, 1893).
#[test]
fn survey_feet() {
    let read = |text: &str| read_length(text, None).expect("survey feet read").value.metres();
    close("ftUS", read("3937 ftUS"), 1200.0);
    close("US survey feet", read("3937 US survey feet"), 1200.0);
    close("2 ppm", read("1000000 ftUS") - read("1000000 ft"), 1_200_000_000.0 / 3937.0 - 304_800.0);
}
