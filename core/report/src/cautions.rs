//! What every report tells its reader besides its findings.

/// A caution, in every report in this order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Caution {
    /// What it is about, in a word or two.
    pub subject: &'static str,
    /// What to do, in one or two sentences.
    pub text: &'static str,
}

/// Before any digging, in every output.
pub(crate) const DIGGING: &str =
    "Call the local one-call service before any digging. Utilities as drawn are not locations.";

/// The usual cautions of the trade (common practice), and to whom every finding defers.
pub const CAUTIONS: [Caution; 6] = [
    Caution {
        subject: "Codes",
        text: "The locally adopted code and the agency that enforces it decide. Where they differ from what is \
               said here, they govern.",
    },
    Caution {
        subject: "Boundaries",
        text: "Lot lines are drawn as the plan file states them. Only a licensed surveyor establishes a boundary.",
    },
    Caution { subject: "Digging", text: DIGGING },
    Caution {
        subject: "Structures and walls",
        text: "Structures, decks and retaining walls are for a licensed engineer or architect wherever the local \
               code asks for one.",
    },
    Caution {
        subject: "Septic and electrical",
        text: "Septic systems and wells are for the health authority, and electrical work for the electrical \
               authority and the utility.",
    },
    Caution {
        subject: "Measurements",
        text: "Every plus-or-minus here is at 95 % and follows from the accuracies the plan file states. Where \
               those are wrong, so is the verdict.",
    },
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_authority_is_named() {
        let all: String = CAUTIONS.iter().map(|caution| caution.text).collect();
        for name in [
            "one-call service",
            "licensed surveyor",
            "licensed engineer",
            "health authority",
            "electrical",
            "agency",
        ] {
            assert!(all.contains(name), "{name}");
        }
    }
}
