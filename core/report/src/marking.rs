//! The colors that lines are marked with on the ground, and the letters that stand for the same.
//!
//! Colors: the uniform color code of the American Public Works Association, which uses the safety colors of
//! ANSI Z535.1; Michigan prints the same list in MCL 460.727(2). Letters: common practice on utility plans. It is
//! the custom of one country, and every legend says so.

use groundrule_plan::KindTree;

/// A color of the code.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Color {
    /// Electric power.
    Red,
    /// Gas, oil, steam.
    Yellow,
    /// Communication, alarm, signal.
    Orange,
    /// Drinking water.
    Blue,
    /// Reclaimed water, irrigation, slurry.
    Purple,
    /// Sewers and drains.
    Green,
}

impl Color {
    /// All, in the order the code lists them.
    pub(crate) const ALL: [Self; 6] =
        [Self::Red, Self::Yellow, Self::Orange, Self::Blue, Self::Purple, Self::Green];

    /// Its name, which is also its class on the drawing.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Red => "red",
            Self::Yellow => "yellow",
            Self::Orange => "orange",
            Self::Blue => "blue",
            Self::Purple => "purple",
            Self::Green => "green",
        }
    }

    /// What is marked in it.
    pub(crate) const fn of(self) -> &'static str {
        match self {
            Self::Red => "power",
            Self::Yellow => "gas",
            Self::Orange => "communication",
            Self::Blue => "drinking water",
            Self::Purple => "irrigation, reclaimed",
            Self::Green => "sewer, drain",
        }
    }
}

/// Kinds with their letters and color; the first that a kind stands under governs.
const KINDS: [(&str, &str, Option<Color>); 21] = [
    ("low-voltage-cable", "LV", Some(Color::Red)),
    ("buried-power", "E", Some(Color::Red)),
    ("gas-line", "G", Some(Color::Yellow)),
    ("communication-line", "C", Some(Color::Orange)),
    ("irrigation-line", "I", Some(Color::Purple)),
    ("water-line", "W", Some(Color::Blue)),
    ("storm-drain", "SD", Some(Color::Green)),
    ("sewer-lateral", "S", Some(Color::Green)),
    ("buried-line", "U", None),
    ("communication-wire", "OHC", None),
    ("overhead-wire", "OHW", None),
    ("gas-meter", "GM", Some(Color::Yellow)),
    ("gas-vent", "GV", Some(Color::Yellow)),
    ("electric-meter", "EM", Some(Color::Red)),
    ("street-light", "SL", Some(Color::Red)),
    ("transformer", "T", Some(Color::Red)),
    ("water-meter", "WM", Some(Color::Blue)),
    ("hydrant", "FH", Some(Color::Blue)),
    ("backflow-preventer", "BF", Some(Color::Blue)),
    ("septic", "S", Some(Color::Green)),
    ("meter", "M", None),
];

/// Letters of what is not marked on the ground.
const OTHERS: [(&str, &str); 6] = [
    ("valve", "V"),
    ("pole", "PP"),
    ("well", "WELL"),
    ("benchmark", "BM"),
    ("downspout", "DS"),
    ("drain-outlet", "DO"),
];

/// The letters that name a kind on a drawing, so that color is never needed.
pub(crate) fn letters(kinds: &KindTree, kind: &str) -> &'static str {
    let other =
        || OTHERS.iter().find(|(ancestor, _)| kinds.is_a(kind, ancestor)).map(|(_, letters)| *letters);
    found(kinds, kind).map(|(_, letters, _)| *letters).or_else(other).unwrap_or("")
}

/// The color a kind is marked in, if it is marked at all.
pub(crate) fn color(kinds: &KindTree, kind: &str) -> Option<Color> {
    found(kinds, kind)?.2
}

fn found(kinds: &KindTree, kind: &str) -> Option<&'static (&'static str, &'static str, Option<Color>)> {
    KINDS.iter().find(|(ancestor, ..)| kinds.is_a(kind, ancestor))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_buried_line_has_letters_and_every_named_one_a_color() {
        let kinds = KindTree::standard();
        let check = |kind: &str, expected: &str, named: Option<Color>| {
            assert_eq!((letters(&kinds, kind), color(&kinds, kind)), (expected, named), "{kind}");
        };
        // APWA code: red power, yellow gas, orange communication, blue drinking water, purple irrigation, green sewers.
        check("buried-power", "E", Some(Color::Red));
        check("low-voltage-cable", "LV", Some(Color::Red));
        check("gas-line", "G", Some(Color::Yellow));
        check("communication-line", "C", Some(Color::Orange));
        check("water-line", "W", Some(Color::Blue));
        check("irrigation-line", "I", Some(Color::Purple));
        check("sewer-lateral", "S", Some(Color::Green));
        check("septic-line", "S", Some(Color::Green));
        check("storm-drain", "SD", Some(Color::Green));
        check("buried-line", "U", None);
        for kind in kinds.iter().filter(|kind| kinds.is_a(&kind.name, "utility") && kind.name != "utility") {
            assert!(kind.name == "sprinkler" || !letters(&kinds, &kind.name).is_empty(), "{}", kind.name);
        }
    }

    #[test]
    fn no_letters_stand_for_two_colors() {
        for (kind, letters, color) in KINDS {
            for (other, same, different) in KINDS {
                assert!(letters != same || color == different, "{kind} and {other}");
            }
        }
    }
}
