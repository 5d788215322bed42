//! Cover of lines in the ground, row by row and column by column of the printed tables.

mod support;

use support::rows::{beside, check, verdicts};

/// One figure of a table: met by itself, not by an inch less.
#[track_caller]
fn at_least(rule: &str, line: &str, inches: f64) {
    let with = |cover: f64| format!("{line}; cover = \"{cover} in\"");
    check(rule, &with(inches), &with(inches - 1.0));
}

const CABLE: &str = "e buried-power line = [[50, 0], [50, 90]]";

/// NFPA 70 (2023), Table 300.5(A), in inches: direct-buried cable, metal conduit, plastic conduit, house circuit of
/// 120 V and 20 A, low voltage.
const LAWN: [f64; 5] = [24.0, 6.0, 18.0, 12.0, 6.0];
const CONCRETE: [f64; 5] = [18.0, 6.0, 12.0, 6.0, 6.0];
const SLAB: [f64; 5] = [18.0, 4.0, 4.0, 6.0, 6.0];
const DRIVE: [f64; 5] = [18.0, 18.0, 18.0, 12.0, 18.0];

#[track_caller]
fn table(rule: &str, more: &str, under: &str, figures: [f64; 5]) {
    let columns = ["cable", "metal-conduit", "plastic-conduit", "branch-circuit"];
    for (wiring, figure) in columns.into_iter().zip(figures) {
        at_least(rule, &format!("{under}{CABLE}; wiring = \"{wiring}\"{more}"), figure);
    }
    let low = CABLE.replace("buried-power", "low-voltage-cable");
    at_least(rule, &format!("{under}{low}{more}"), figures[4]);
}

#[test]
fn power_cables_in_a_lawn() {
    table("cover-power", "", "", LAWN);
    // The source rounds for metres, and meeting either figure meets: 600 mm are less than 24 in.
    let metric = |mm: u32| format!("{CABLE}; wiring = \"cable\"; cover = \"{mm} mm\"");
    check("cover-power", &metric(600), &metric(599));
}

#[test]
fn power_cables_below_concrete_a_slab_and_a_drive() {
    table("cover-power-concrete", "; concrete_over = true", "", CONCRETE);
    let area = |kind: &str| {
        format!(
            "p {kind} box = {{ corner = \"sw\", at = [40, 40], size = [\"20 ft\", \"20 ft\"] }}; surface = \"concrete\"\n"
        )
    };
    table("cover-power-slab", "", &area("patio"), SLAB);
    table("cover-power-drive", "", &area("drive"), DRIVE);
    let beside = CABLE.replace("50,", "30,");
    assert_eq!(
        verdicts("cover-power-drive", &format!("{}{beside}; wiring = \"cable\"", area("drive"))),
        ["not_applicable"]
    );
}

#[test]
fn how_it_is_laid_must_be_said() {
    assert_eq!(verdicts("cover-power", &format!("{CABLE}; cover = \"30 in\"")), ["missing"]);
    assert_eq!(verdicts("cover-power", &format!("{CABLE}; wiring = \"cable\"")), ["missing"]);
    let concrete = format!("{CABLE}; wiring = \"cable\"; cover = \"18 in\"; concrete_over = true");
    assert_eq!(verdicts("cover-power", &concrete), ["not_applicable"]);
    let utility = format!("{CABLE}; wiring = \"utility\"; cover = \"18 in\"");
    assert_eq!(verdicts("cover-power", &utility), ["not_applicable"]);
    at_least("cover-power-utility", &format!("{CABLE}; wiring = \"utility\""), 24.0);
    at_least(
        "cover-power-utility",
        &format!("{CABLE}; wiring = \"utility\"; voltage_band = \"to-15-kv\""),
        30.0,
    );
}

#[test]
fn a_bare_cable_does_not_run_below_a_building() {
    let shed = "s shed box = { corner = \"sw\", at = [@, 40], size = [\"10 ft\", \"10 ft\"] }";
    beside("cable-under-building", &format!("{CABLE}; wiring = \"cable\""), shed, "51", "45");
}

#[test]
fn pipes() {
    let line = |kind: &str, more: &str| format!("l {kind} line = [[50, 0], [50, 90]]{more}");
    at_least("cover-gas", &line("gas-line", ""), 12.0);
    at_least("cover-gas", &line("gas-line", "; use = \"appliance\""), 8.0);
    at_least("cover-gas-service", &line("gas-line", "; use = \"service\""), 12.0);
    at_least("cover-gas-main", &line("gas-line", "; use = \"main\""), 24.0);
    let service = line("gas-line", "; use = \"service\"; cover = \"5 in\"");
    assert_eq!(verdicts("cover-gas", &service), ["not_applicable"]);
    at_least("cover-water", &line("water-line", ""), 12.0);
    at_least("cover-irrigation", &line("irrigation-line", ""), 6.0);
    at_least("cover-irrigation", &line("irrigation-line", "; use = \"main\""), 12.0);
    beside(
        "water-main-sewer-beside",
        &line("sewer-lateral", ""),
        "w water-line line = [[@, 0], [@, 90]]; use = \"main\"",
        "60",
        "59",
    );
}
