//! Every row about utilities, through the program: one thing that meets it and one that does not.

mod support;

use support::rows::{beside, check, verdicts};

#[test]
fn separations() {
    let line = |kind: &str| format!("line {kind} line = [[50, 0], [50, 90]]");
    beside(
        "water-sewer-beside",
        &line("sewer-lateral"),
        "w water-line line = [[@, 0], [@, 90]]",
        "55",
        "54.5",
    );
    beside("gas-power-beside", &line("buried-power"), "g gas-line line = [[@, 0], [@, 90]]", "51", "50.5");
    beside("well-to-gas", &line("gas-line"), "w well at = [@, 40]", "60", "59");
    let pool = "p pool box = { corner = \"sw\", at = [@, 40], size = [\"20 ft\", \"10 ft\"] }";
    beside("pool-to-cable", &line("buried-power"), pool, "55", "54");
    beside("built-over-line", &line("storm-drain"), pool, "55", "40");
    beside("pool-to-lines", &line("storm-drain"), pool, "56", "55.9");
    beside("tree-to-cables-and-gas", &line("gas-line"), "t tree at = [@, 40]", "60", "59");
    let small = "t tree at = [@, 40]; mature_height = \"20 ft\"";
    beside("tree-to-cables-and-gas", &line("gas-line"), small, "55", "54");
}

#[test]
fn a_tree_stays_its_grown_height_from_the_field() {
    // 22 ft off, for a tree that grows 25 ft tall, is too near by its height and by the flat 25 ft.
    let field = "f drain-field box = { corner = \"sw\", at = [100, 40], size = [\"20 ft\", \"10 ft\"] }";
    beside("tree-to-drain-field", field, "t tree at = [@, 45]; mature_height = \"25 ft\"", "75", "78");
    beside("tree-to-drain-field", field, "t tree at = [@, 45]", "75", "78");
}

#[test]
fn water_crosses_over_the_sewer() {
    let sewer = "s sewer-lateral line = [[50, 0], [50, 90]]; cover = \"60 in\"";
    let water = "w water-line line = [[0, 20], [90, 20]]; diameter = \"2 in\"; cover = \"@ in\"";
    beside("water-over-sewer", sewer, water, "40", "41");
    // The crossing has no earth beside it to be measured.
    let crossing = format!("{sewer}\n{}", water.replace('@', "40"));
    assert_eq!(verdicts("water-sewer-beside", &crossing), ["not_applicable"]);
    let bare = "s sewer-lateral line = [[50, 0], [50, 90]]\nw water-line line = [[0, 20], [90, 20]]";
    assert_eq!(verdicts("water-over-sewer", bare), ["missing"]);
}

#[test]
fn digging() {
    // A post hole 12 in wide, from edge to edge 23.5 in from a pipe: short of a strip of 24 in, clear of it at 24.5 in.
    let gas = "g gas-line line = [[50, 0], [50, 90]]; located = \"marked\"; status = \"existing\"";
    let post = "p arbor box = { corner = \"sw\", at = [@, 40], size = [\"1 ft\", \"1 ft\"] }";
    beside("dig-by-hand", gas, post, "52.05", "51.95");
    beside("dig-conflict-posts", gas, post, "52.05", "51.95");
    let deep = format!("{gas}; cover = \"60 in\"");
    check(
        "dig-conflict-posts",
        &format!("{deep}\n{}", post.replace('@', "51")),
        &format!("{gas}\n{}", post.replace('@', "51")),
    );
    // However deep the line lies, its strip stays.
    assert_eq!(verdicts("dig-by-hand", &format!("{deep}\n{}", post.replace('@', "51"))), ["fails"]);
    let unlocated = "g gas-line line = [[50, 0], [50, 90]]; status = \"existing\"";
    assert_eq!(verdicts("dig-by-hand", &format!("{unlocated}\n{}", post.replace('@', "51"))), ["missing"]);
    let of = |kind: &str| {
        format!("p {kind} box = {{ corner = \"sw\", at = [@, 40], size = [\"1 ft\", \"1 ft\"] }}")
    };
    beside("dig-conflict-footings", gas, &of("shed"), "53", "51");
    beside("dig-conflict-trees", gas, "t tree at = [@, 40]", "53", "51");
    beside("dig-conflict-paving", gas, &of("patio"), "53", "51");
    beside("dig-conflict-trench", gas, "i irrigation-line line = [[@, 0], [@, 90]]", "53", "51");
}

#[test]
fn wires_overhead() {
    let wire = "w overhead-wire line = [[50, 0], [50, 190]]; ground_clearance = \"20 ft\"";
    let shed =
        "s shed box = { corner = \"sw\", at = [@, 40], size = [\"10 ft\", \"10 ft\"] }; height = \"10 ft\"";
    beside("wire-to-building", wire, shed, "55", "54");
    let under =
        "s shed box = { corner = \"sw\", at = [45, 40], size = [\"10 ft\", \"10 ft\"] }; height = \"@ ft\"";
    beside("wire-over-roof", wire, under, "12", "13");
    // 8 ft from the wall: 18 ft up are 19.70 ft along the slant, 22 ft up are 23.41 ft.
    let pool = "p pool box = { corner = \"sw\", at = [58, 40], size = [\"20 ft\", \"10 ft\"] }";
    let hung = "w overhead-wire line = [[50, 0], [50, 190]]; ground_clearance = \"@ ft\"";
    beside("wire-to-pool", pool, hung, "22", "18");
    let out = pool.replace("58", "62");
    assert_eq!(verdicts("wire-to-pool", &format!("{out}\n{}", hung.replace('@', "18"))), ["not_applicable"]);
    let tree = "t tree at = [@, 40]; mature_height = \"30 ft\"; mature_spread = \"24 ft\"";
    beside("tree-to-wire", wire, tree, "70", "69");
    beside("crown-to-wire", wire, tree, "72", "71");
}

#[test]
fn meters_hydrants_and_the_like() {
    let shrub = "s shrub at = [@, 40]";
    for (rule, kind, far, near) in [
        ("gas-meter-clear", "gas-meter", "53", "52.9"),
        ("electric-meter-clear", "electric-meter", "53", "52.9"),
        ("water-meter-clear", "water-meter", "52", "51.9"),
        ("transformer-clear", "transformer", "53", "52.9"),
        ("transformer-front", "transformer", "60", "59.9"),
        ("hydrant-clear", "hydrant", "53", "52.9"),
        ("valve-clear", "valve", "53", "52.9"),
    ] {
        beside(rule, &format!("m {kind} at = [50, 40]"), shrub, far, near);
    }
    beside("tree-hydrant", "m hydrant at = [50, 40]", "t tree at = [@, 40]", "60", "59");
    beside("tree-meter", "m water-meter at = [50, 40]", "t tree at = [@, 40]", "55", "54");
    let room = "m working-space box = { corner = \"sw\", at = [40, 40], size = [\"10 ft\", \"10 ft\"] }";
    beside("working-space-clear", room, "s shrub at = [@, 45]", "51", "49");
}
