//! Vents, panels, boxes, backflow devices and wires: one thing that meets each row and one that does not.

mod support;

use support::rows::{beside, check, verdicts};

#[test]
fn gas_vents() {
    let vent = "v gas-vent at = [50, 40]";
    beside("gas-vent-ignition", vent, "m electric-meter at = [@, 40]", "53", "52.9");
    beside("gas-vent-ignition", vent, "g generator at = [@, 40]", "60", "59.9");
    let opening = |kind: &str, more: &str| format!("o {kind} at = [@, 40]{more}");
    beside("gas-vent-opening", vent, &opening("window", ""), "53", "52.9");
    beside("gas-vent-opening", vent, &opening("window", "; use = \"forced intake\""), "60", "59.9");
    let fixed = opening("window", "; use = \"fixed\"").replace('@', "51");
    assert_eq!(verdicts("gas-vent-opening", &format!("{vent}\n{fixed}")), ["not_applicable"]);
}

#[test]
fn room_before_a_panel() {
    let room = "r working-space box = { corner = \"sw\", at = [40, 40], size = [\"3 ft\", \"3 ft\"] }; purpose = \"panel\"";
    for (rule, name, meets, fails) in [
        ("panel-depth", "depth", "36 in", "35 in"),
        ("panel-width", "width", "30 in", "29 in"),
        ("panel-height", "height", "6.5 ft", "6.4 ft"),
    ] {
        let stated = |figure: &str| format!("{room}; {name} = \"{figure}\"");
        check(rule, &stated(meets), &stated(fails));
        assert_eq!(verdicts(rule, room), ["missing"]);
    }
}

#[test]
fn transformers_hydrants_and_valve_boxes() {
    beside("transformer-opening", "t transformer at = [50, 40]", "d door at = [@, 40]", "58", "57.9");
    beside("hydrant-front", "h hydrant at = [50, 40]", "s shrub at = [@, 40]", "55", "54.9");
    let walk = "w walk box = { corner = \"sw\", at = [50, 30], size = [\"4 ft\", \"20 ft\"] }";
    beside("valve-box-paving", walk, "v valve at = [@, 40]; use = \"irrigation\"", "49", "51");
}

#[test]
fn backflow_devices() {
    let device = |word: &str, name: &str, inches: u32| {
        format!("b backflow-preventer at = [50, 40]; device = \"{word}\"; {name} = \"{inches} in\"")
    };
    for (rule, word, name, inches) in [
        ("backflow-pressure", "pressure", "height_above_outlets", 12),
        ("backflow-atmospheric", "atmospheric", "height_above_outlets", 6),
        ("backflow-reduced", "reduced-pressure", "height", 12),
    ] {
        check(rule, &device(word, name, inches), &device(word, name, inches - 1));
    }
    let house = "h dwelling box = { corner = \"sw\", at = [50, 30], size = [\"20 ft\", \"20 ft\"] }";
    beside("backflow-wall", house, "b backflow-preventer at = [@, 40]", "49", "49.1");
}

#[test]
fn wires_by_what_they_are_and_what_they_cross() {
    let wire = |more: &str, feet: &str| {
        format!("w overhead-wire line = [[50, 0], [50, 190]]; ground_clearance = \"{feet} ft\"{more}")
    };
    let over = |more: &str, meets: &str, fails: &str| {
        check("wire-over-ground", &wire(more, meets), &wire(more, fails));
    };
    // NFPA 70, 225.18: 12 ft over yards and drives to 300 V, 10 ft over walks to 150 V, 15 ft over 300 V, 18 ft over
    // streets; with its own metric figures, of which 3.7 m is more than 12 ft and 3.0 m less than 10 ft.
    over("", "12.2", "11.9");
    over("; crosses = \"walk\"; voltage_band = \"to-150-v\"", "10", "9.8");
    over("; voltage_band = \"to-750-v\"", "15", "14.7");
    over("; crosses = \"street\"", "18.1", "17.9");
    beside("wire-to-opening", &wire("", "20"), "d window at = [@, 40]", "53", "52.9");

    let shed =
        "s shed box = { corner = \"sw\", at = [@, 40], size = [\"10 ft\", \"10 ft\"] }; height = \"10 ft\"";
    beside("wire-to-building", &wire("; voltage_band = \"to-15-kv\"", "30"), shed, "57.5", "57");
    let steep = "s shed box = { corner = \"sw\", at = [45, 40], size = [\"10 ft\", \"10 ft\"] }; height = \"@ ft\"; roof_slope = \"40 %\"";
    beside("wire-over-roof", &wire("; voltage_band = \"to-300-v\"", "20"), steep, "17", "17.2");
    let pool = "p pool box = { corner = \"sw\", at = [58, 40], size = [\"20 ft\", \"10 ft\"] }";
    let hung = |kind: &str, more: &str| {
        format!("w {kind} line = [[58, 0], [58, 190]]; ground_clearance = \"@ ft\"{more}")
    };
    beside("wire-to-pool", pool, &hung("communication-wire", ""), "10", "9.9");
    beside("wire-to-pool", pool, &hung("overhead-wire", "; voltage_band = \"to-15-kv\""), "25", "24.9");
    beside("wire-to-pool", pool, &hung("overhead-wire", "; voltage_band = \"to-50-kv\""), "27", "26.9");
}
