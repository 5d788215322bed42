//! Septic parts, and trees beside drains, lights, drives and corners.

mod support;

use support::rows::{beside, check, verdicts};

const FIELD: &str = "f drain-field box = { corner = \"sw\", at = [100, 40], size = [\"20 ft\", \"10 ft\"] }";
const TANK: &str = "k septic-tank box = { corner = \"sw\", at = [100, 40], size = [\"8 ft\", \"5 ft\"] }";

fn boxed(kind: &str, more: &str) -> String {
    format!("x {kind} box = {{ corner = \"se\", at = [@, 45], size = [\"10 ft\", \"4 ft\"] }}{more}")
}

#[test]
fn trees_and_plants_at_the_field() {
    beside("tree-field-flat", FIELD, "t tree at = [@, 45]; mature_height = \"20 ft\"", "75", "76");
    beside("tree-field-flat", FIELD, "t tree at = [@, 45]; mature_height = \"70 ft\"", "50", "51");
    beside("tree-septic-floor", TANK, "t tree at = [@, 42]", "95", "96");
    beside("field-edible", FIELD, &boxed("bed", "; edible = true"), "100", "101");
    let plain = boxed("bed", "").replace('@', "105");
    assert_eq!(verdicts("field-edible", &format!("{FIELD}\n{plain}")), ["not_applicable"]);
}

#[test]
fn nothing_covers_digs_or_waters_the_field() {
    beside("field-no-cover", FIELD, &boxed("patio", ""), "100", "101");
    let bed = |depth: &str| {
        format!("{FIELD}\n{}", boxed("bed", &format!("; dig_depth = \"{depth}\"")).replace('@', "105"))
    };
    check("field-dig", &bed("6 in"), &bed("7 in"));
    let sprinkler = "s sprinkler circle = { centre = [@, 45], radius = \"10 ft\" }";
    beside("field-sprinkler", FIELD, sprinkler, "80", "81");
}

#[test]
fn distances_of_tank_and_field() {
    beside("tank-house", TANK, &boxed("dwelling", ""), "95", "95.1");
    beside("field-house", FIELD, &boxed("dwelling", ""), "90", "90.1");
    beside("tank-well", TANK, "w well at = [@, 42]", "50", "51");
    beside("field-well", FIELD, "w well at = [@, 45]", "0", "1");
    let to_lines = |rule: &str, kind: &str, x: &str| {
        let all = verdicts(
            rule,
            &format!("x {kind} box = {{ corner = \"sw\", at = [{x}, 100], size = [\"8 ft\", \"5 ft\"] }}"),
        );
        (all.len(), all.iter().filter(|verdict| *verdict == "fails").count())
    };
    assert_eq!(
        [to_lines("tank-line", "septic-tank", "5"), to_lines("tank-line", "septic-tank", "4.9")],
        [(4, 0), (4, 1)]
    );
    assert_eq!(
        [to_lines("field-line", "drain-field", "10"), to_lines("field-line", "drain-field", "9.9")],
        [(4, 0), (4, 1)]
    );
}

#[test]
fn trees_beside_drains_lights_drives_and_corners() {
    let tree = "t tree at = [@, 40]";
    let thirsty = "t tree at = [@, 40]; species_group = \"thirsty\"";
    beside("tree-thirsty-drain", "l storm-drain line = [[50, 0], [50, 90]]", thirsty, "70", "69");
    beside("tree-light", "l street-light at = [50, 40]", tree, "60", "59");
    let drive = "d drive box = { corner = \"sw\", at = [40, 20], size = [\"10 ft\", \"60 ft\"] }";
    beside("tree-drive", drive, tree, "60", "59");
    beside("tree-corner", "c curb-corner at = [50, 40]", tree, "80", "79");
}
