//! The cover that a row assumes of a line that states none, by the kind of line.

use groundrule_kit::{Feature, Ground, LengthParameter, Refusal};

/// For lines of any other kind.
pub(crate) const ANY: LengthParameter = LengthParameter::new(
    "least_cover",
    "The cover of a line that states none and has no figure of its own kind; lacking when not given.",
);
pub(crate) const LOW_VOLTAGE: LengthParameter =
    LengthParameter::new("least_low_voltage", "The same for a cable of low voltage.");
pub(crate) const POWER: LengthParameter =
    LengthParameter::new("least_power", "The same for any other power cable.");
pub(crate) const GAS: LengthParameter = LengthParameter::new("least_gas", "The same for a gas pipe.");
pub(crate) const COMMUNICATION: LengthParameter =
    LengthParameter::new("least_communication", "The same for a telephone, television or data cable.");
pub(crate) const IRRIGATION: LengthParameter =
    LengthParameter::new("least_irrigation", "The same for a pipe that waters the garden.");
pub(crate) const SEWER: LengthParameter =
    LengthParameter::new("least_sewer", "The same for a drain to the sewer or a septic tank.");

/// Kinds with the name of their parameter; the first that a line is of governs.
const KINDS: [(&str, &str); 6] = [
    ("low-voltage-cable", "least_low_voltage"),
    ("buried-power", "least_power"),
    ("gas-line", "least_gas"),
    ("communication-line", "least_communication"),
    ("irrigation-line", "least_irrigation"),
    ("sewer-lateral", "least_sewer"),
];

/// Whether the row's figures can be used.
pub(crate) fn check<G: Ground>(ground: &G) -> Result<(), Refusal> {
    for parameter in [ANY, LOW_VOLTAGE, POWER, GAS, COMMUNICATION, IRRIGATION, SEWER] {
        parameter.read(ground)?;
    }
    Ok(())
}

/// What the row assumes of each line.
pub(crate) fn assumed<G: Ground>(ground: &G, lines: &[Feature]) -> Vec<Option<G::Amount>> {
    let by_kind: Vec<(Vec<bool>, &str)> =
        KINDS.iter().map(|(kind, name)| (ground.is_a(lines, kind), *name)).collect();
    let own = |at: usize| {
        by_kind
            .iter()
            .filter(|(is, _)| is.get(at) == Some(&true))
            .find_map(|(_, name)| ground.parameter_amount(name))
    };
    (0..lines.len()).map(|at| own(at).or_else(|| ground.parameter_amount("least_cover"))).collect()
}
