//! Formulas: what they give, what they refuse, and how error passes through them.

use std::collections::BTreeMap;

use groundrule_plan::KindTree;
use groundrule_site::{Fact, Measured, Terms};
use groundrule_units::{Angle, Area, Dimension, Length, Quantity, Ratio};

use super::{Facts, Formula, FormulaError, Scope, Sort};

/// Facts by name.
struct Known(Vec<(&'static str, Fact)>);

impl Facts for Known {
    fn fact(&self, name: &str) -> Option<Fact> {
        self.0.iter().find(|(known, _)| *known == name).map(|(_, fact)| fact.clone())
    }
}

fn amount(value: impl Into<Quantity>) -> Fact {
    Fact::Amount(Box::new(Measured::exact(value)))
}

/// The invented plan every case is asked of.
fn plan() -> Known {
    Known(vec![
        ("site.district", Fact::Text("TZ-1".to_owned())),
        ("site.latitude", amount(Angle::from_degrees(45.0))),
        ("lot.area", amount(Area::from_square_feet(8000.0))),
        ("reading.width", amount(Length::from_feet(80.0))),
        ("line.assumed", Fact::Flag(false)),
        ("reading.height", amount(Length::from_feet(14.0))),
        ("reading.share", amount(Ratio::from_percent(30.0))),
        ("reading.risers", Fact::Count(4)),
        ("reading.heights", Fact::Amounts(vec![Measured::exact(Length::from_feet(6.0))])),
    ])
}

fn read(text: &str) -> Result<Formula, Vec<super::Wrong>> {
    let reading: BTreeMap<String, Sort> = [
        ("height", Sort::Metres(1)),
        ("gap", Sort::Metres(1)),
        ("width", Sort::Metres(1)),
        ("share", Sort::PLAIN),
        ("risers", Sort::PLAIN),
        ("note", Sort::Text),
        ("heights", Sort::Lengths),
    ]
    .map(|(name, sort)| (name.to_owned(), sort))
    .into();
    Formula::read(text, &Scope { kinds: &KindTree::default(), subject: &[], other: &[], reading: &reading })
}

fn check(text: &str, dimension: Dimension, expected: f64) {
    let formula = read(text).unwrap_or_else(|wrong| panic!("{text}: {wrong:?}"));
    assert_eq!(formula.dimension(), Some(dimension), "{text}");
    let given = formula.amount(&plan()).unwrap_or_else(|error| panic!("{text}: {error:?}"));
    assert!((given.value().si() - expected).abs() <= 1e-12 * expected.abs(), "{text}: {given:?}");
}

#[test]
fn amounts() {
    let feet = |feet: f64| Length::from_feet(feet).metres();
    check("feet(5)", Dimension::Length, 1.524);
    check("feet(5) + inches(6)", Dimension::Length, 1.6764);
    check("greatest(feet(5), reading.height / 2)", Dimension::Length, feet(7.0));
    check("least(feet(5), reading.height / 2, metres(1))", Dimension::Length, 1.0);
    check("lot.area * percent(35)", Dimension::Area, Area::from_square_feet(2800.0).square_metres());
    check("lot.area / reading.width", Dimension::Length, feet(100.0));
    check("reading.share + 0.05", Dimension::Ratio, 0.35);
    check("-feet(1) + 2 * feet(2)", Dimension::Length, feet(3.0));
    check("feet(reading.risers)", Dimension::Length, feet(4.0));
    check("site.latitude + degrees(5)", Dimension::Angle, Angle::from_degrees(50.0).radians());
    check(
        "reading.width * reading.width * reading.width",
        Dimension::Volume,
        feet(80.0) * feet(80.0) * feet(80.0),
    );
    check(
        "lot.area * inches_per_hour(1) * 0.4",
        Dimension::Flow,
        0.4 * Area::from_square_feet(8000.0).square_metres() * 0.0254 / 3600.0,
    );
    check("lot.area * inches(1)", Dimension::Volume, Area::from_square_feet(8000.0).square_metres() * 0.0254);
    check(
        "cubic_feet_per_second(2) * hours(1)",
        Dimension::Volume,
        7200.0 * feet(1.0) * feet(1.0) * feet(1.0),
    );
    check("cubic_feet_per_second(2) / square_feet(4)", Dimension::Speed, feet(0.5));
    check("cubic_feet(10) / cubic_feet_per_second(2)", Dimension::Time, 5.0);
    check("hours(24) * inches_per_hour(0.25)", Dimension::Length, 0.1524);
    check("site.district == 'TZ-1' ? feet(5) : feet(7)", Dimension::Length, 1.524);
    // A side yard by lot width in straight pieces that join at 75 ft with 6.7 ft: the pattern of a published ordinance.
    let pieces =
        "reading.width <= feet(75) ? 0.068 * reading.width + feet(1.6) : 0.132 * reading.width - feet(3.2)";
    check(pieces, Dimension::Length, feet(0.132 * 80.0 - 3.2));
    check(&pieces.replace("reading.width", "feet(75)"), Dimension::Length, feet(6.7));
    // Seven feet or a tenth of the width, whichever is less, and never below five.
    check("greatest(feet(5), least(feet(7), reading.width / 10))", Dimension::Length, feet(7.0));
}

/// A formula of the lot's width, depth or a height, in feet to feet.
#[track_caller]
fn of_feet(text: &str, name: &'static str, cases: &[(f64, f64)]) {
    let formula = read(text).unwrap_or_else(|wrong| panic!("{text}: {wrong:?}"));
    for (given, expected) in cases {
        let facts = Known(vec![(name, amount(Length::from_feet(*given)))]);
        let found = formula.amount(&facts).unwrap_or_else(|error| panic!("{text}: {error:?}"));
        let found = found.value().si() / 0.3048;
        assert!((found - expected).abs() < 1e-9, "{text} at {given}: {found} is not {expected}");
    }
}

/// How local texts build their side yards, as the catalogue of rules found them; figures recomputed there (T60-T64).
#[test]
fn yards_by_width_depth_and_height() {
    // Straight pieces that join at 5, 6.7, 10 and 15 ft.
    of_feet(
        "lot.width <= feet(50) ? feet(5) \
         : lot.width <= feet(75) ? 0.068 * lot.width + feet(1.6) \
         : lot.width <= feet(100) ? 0.132 * lot.width - feet(3.2) \
         : lot.width <= feet(125) ? 0.2 * lot.width - feet(10) : feet(15)",
        "lot.width",
        &[
            (40.0, 5.0),
            (60.0, 5.68),
            (75.0, 6.7),
            (90.0, 8.68),
            (100.0, 10.0),
            (110.0, 12.0),
            (125.0, 15.0),
            (150.0, 15.0),
        ],
    );
    of_feet(
        "lot.width <= feet(100) ? lot.width * percent(20) : lot.width * percent(30)",
        "lot.width",
        &[
            (40.0, 8.0),
            (60.0, 12.0),
            (75.0, 15.0),
            (90.0, 18.0),
            (100.0, 20.0),
            (110.0, 33.0),
            (125.0, 37.5),
            (150.0, 45.0),
        ],
    );
    // The lesser of 7 ft and a tenth of the width, never below 5.
    of_feet(
        "greatest(feet(5), least(feet(7), lot.width * percent(10)))",
        "lot.width",
        &[(45.0, 5.0), (60.0, 6.0), (90.0, 7.0)],
    );
    // Both together a fifth of the width, no more than 16 asked for, and each at least 5.
    of_feet(
        "greatest(2 * feet(5), least(feet(16), lot.width * percent(20)))",
        "lot.width",
        &[(45.0, 10.0), (60.0, 12.0), (80.0, 16.0), (100.0, 16.0)],
    );
    // A quarter of the depth, no more than 25 asked for.
    of_feet("least(feet(25), lot.depth / 4)", "lot.depth", &[(80.0, 20.0), (120.0, 25.0)]);
    // A sixth of the height.
    of_feet("greatest(feet(5), reading.height / 6)", "reading.height", &[(36.0, 6.0), (24.0, 5.0)]);
    // One foot for every two above two storeys: part steps count, or whole ones only.
    of_feet("feet(30) + reading.height / 2", "reading.height", &[(9.0, 34.5)]);
    of_feet(
        "feet(30) + round_down(reading.height / 2, feet(1))",
        "reading.height",
        &[(9.0, 34.0), (10.0, 35.0)],
    );
}

/// A share of the required rear yard: 30 % of 25 ft across a lot 60 ft wide (T68 of the catalogue).
#[test]
fn a_share_of_a_required_yard() {
    let facts = Known(vec![("lot.width", amount(Length::from_feet(60.0)))]);
    let formula = read("lot.width * feet(25) * percent(30)").unwrap_or_else(|wrong| panic!("{wrong:?}"));
    let found = formula.amount(&facts).unwrap_or_else(|error| panic!("{error:?}"));
    let expected = Area::from_square_feet(450.0).square_metres();
    assert!((found.value().si() - expected).abs() < 1e-9, "{found:?}");
}

#[test]
fn whole_steps() {
    of_feet(
        "round_up(reading.width, feet(5))",
        "reading.width",
        &[
            (275.6, 280.0),
            (238.9, 240.0),
            (280.0, 280.0),
            (280.000_003, 280.000_003),
            (280.000_01, 285.0),
            (0.0, 0.0),
        ],
    );
    of_feet(
        "round_down(reading.width, feet(5))",
        "reading.width",
        &[(279.9, 275.0), (280.0, 280.0), (-1.0, -5.0)],
    );
    check("round_up(7.2, 0.5)", Dimension::Ratio, 7.5);
    check(
        "round_up(lot.area, square_feet(1000))",
        Dimension::Area,
        Area::from_square_feet(8000.0).square_metres(),
    );
}

#[test]
fn truths() {
    let check = |text: &str, expected: Result<bool, FormulaError>| {
        assert_eq!(
            read(text).unwrap_or_else(|wrong| panic!("{text}: {wrong:?}")).holds(&plan()),
            expected,
            "{text}"
        );
    };
    let missing = |name: &str| Err(FormulaError::Missing(name.to_owned()));
    check("site.district == 'TZ-1'", Ok(true));
    check("site.district in ['R-1', 'TZ-1']", Ok(true));
    check("site.district.startsWith('TZ')", Ok(true));
    check("reading.height > feet(15)", Ok(false));
    check("reading.risers >= 4 && !line.assumed", Ok(true));
    check("reading.risers == 4", Ok(true));
    check("has(reading.height)", Ok(true));
    check("has(reading.gap)", Ok(false));
    check("has(reading.heights)", Ok(true));
    check("reading.gap > feet(1)", missing("reading.gap"));
    check("has(reading.gap) && reading.gap > feet(1)", Ok(false));
    // A fact that is not known does not matter where the other one decides.
    check("reading.gap > feet(1) || reading.height > feet(10)", Ok(true));
    check("reading.gap > feet(1) && reading.height > feet(10)", missing("reading.gap"));
}

/// Every refusal names the place in the formula.
#[test]
fn refusals() {
    let check = |text: &str, place: &str, message: &str| {
        let wrong = read(text).map(|formula| format!("{formula:?}")).expect_err(text);
        let shown: Vec<_> =
            wrong.iter().map(|w| (text.get(w.at.clone()).unwrap_or("?"), w.message.as_str())).collect();
        assert!(shown == [(place, message)], "{text}: {shown:?}");
    };
    check("feet(5) + 3", "feet(5) + 3", "`+` stands between a length and a plain number");
    check("lot.area > feet(5)", "lot.area > feet(5)", "`>` stands between an area and a length");
    check("lot.area == lot.area", "lot.area == lot.area", "`==` stands between an area and an area");
    check("feet(feet(5))", "feet(5)", "`feet` takes a plain number, and this is a length");
    check("lot.aera * 2", "lot.aera", "`lot` has no `aera`");
    check("lto.area * 2", "lto.area", "nothing is called `lto` here");
    check("height", "height", "`height` is not a name of this formula");
    check("reading.hight + feet(1)", "reading.hight", "the row does not say that a reading carries `hight`");
    check("foot(5)", "foot(5)", "there is no function `foot` for these values");
    check("greatest(feet(1))", "greatest(feet(1))", "`greatest` compares two or more amounts");
    check("round_up(feet(1))", "round_up(feet(1))", "`round_up` takes an amount and a step");
    check(
        "round_up(feet(1), 5)",
        "round_up(feet(1), 5)",
        "`round_up` brings a length to steps of a plain number",
    );
    check("lot.widht * 2", "lot.widht", "`lot` has no `widht`");
    check(
        "line.assumed + line.assumed",
        "line.assumed + line.assumed",
        "`+` stands between a yes or no and a yes or no",
    );
    let list = "`reading.heights` is a list of lengths, which no formula takes";
    check("reading.heights", "reading.heights", list);
    check("feet(1) + reading.heights", "reading.heights", list);
    check("line.assumed ? reading.heights : feet(5)", "reading.heights", list);
    check("[1, 2].all(site, 1)", "[1, 2].all(site, 1)", "`.all(...)` is not for limits");
    check("{'a': 1}", "{", "formulas of limits use no maps and no loops");
    check("feet(5", "feet(5", "the formula cannot be read from here");
    check("", "", "the formula cannot be read from here");
    check("null", "null", "only numbers, texts, true and false can stand here");
    check("lot.area.more", "lot.area.more", "names have two parts, as `subject.height`");
    check("site.district in ['R', 2]", "2", "a text is looked for among a plain number");
    check("true ? feet(1) : 1", "true ? feet(1) : 1", "one answer is a length and the other a plain number");
}

/// All mistakes of one formula are told, not the first.
#[test]
fn all_mistakes_at_once() {
    let wrong = read("lot.aera * 2 + site.distict").map(|f| format!("{f:?}")).expect_err("two mistakes");
    assert_eq!(wrong.len(), 2, "{wrong:?}");
}

#[test]
fn running_out_of_range_is_told() {
    for text in [
        "round_up(feet(1), feet(0))",
        "round_down(feet(1), -feet(1))",
        "feet(1) / 0",
        "reading.width / (reading.width - reading.width)",
        "1e308 * 1e308",
    ] {
        let given = read(text).expect(text).amount(&plan());
        assert!(matches!(given, Err(FormulaError::Failed(_))), "{text}: {given:?}");
    }
}

#[test]
fn a_fact_of_another_sort_is_told() {
    let facts = Known(vec![("reading.height", amount(Area::from_square_metres(2.0)))]);
    let given = read("reading.height + feet(1)").expect("reads").amount(&facts);
    assert_eq!(given, Err(FormulaError::Failed("`reading.height` is an area here, not a length".to_owned())));
}

/// Hostile texts end quickly in a refusal.
#[test]
fn bounds() {
    for text in [
        "(".repeat(900),
        "[".repeat(900),
        "!".repeat(900),
        "-".repeat(900),
        "f(".repeat(450),
        "a.".repeat(450),
        "a?".repeat(450),
        "1+".repeat(450),
    ] {
        assert!(read(&text).is_err(), "{}", &text[..4]);
        assert!(read(&format!("{text}1{}", ")".repeat(90))).is_err(), "{}", &text[..4]);
    }
    let long = read(&"1 + ".repeat(300)).expect_err("long");
    assert_eq!(long[0].message, "the formula is too long");
    let sum = format!("{}1.0", "1.0 + ".repeat(150));
    assert!(
        (read(&sum).expect("a long sum reads").amount(&plan()).expect("runs").value().si() - 151.0).abs()
            < 1e-9
    );
}

mod spread {
    //! Error passes through a formula to first order, with its correlations.

    use super::*;
    use groundrule_survey::SourceId;

    fn measured(value: impl Into<Quantity>, terms: &[(u32, f64)]) -> Fact {
        let terms: Terms = terms.iter().map(|(source, term)| (SourceId(*source), *term)).collect();
        Fact::Amount(Box::new(Measured::new(value.into(), terms)))
    }

    fn terms(text: &str, facts: &Known) -> Vec<(u32, f64)> {
        let given = read(text).expect(text).amount(facts).expect(text);
        given.terms().iter().map(|(source, term)| (source.0, *term)).collect()
    }

    fn check(text: &str, facts: Vec<(&'static str, Fact)>, expected: &[(u32, f64)]) {
        let given = terms(text, &Known(facts));
        assert_eq!(given.len(), expected.len(), "{text}: {given:?}");
        for (given, expected) in given.iter().zip(expected) {
            assert_eq!(given.0, expected.0, "{text}");
            assert!(
                (given.1 - expected.1).abs() <= 1e-9 * expected.1.abs().max(1e-3),
                "{text}: {given:?} {expected:?}"
            );
        }
    }

    #[test]
    fn first_order() {
        let metres = Length::from_metres;
        // Half a height carries half its error.
        check(
            "reading.height / 2",
            vec![("reading.height", measured(metres(4.0), &[(1, 0.1)]))],
            &[(1, 0.05)],
        );
        // What two names share cancels in their difference: only their own errors stay.
        let shared = vec![
            ("reading.height", measured(metres(4.0), &[(1, 0.1), (2, 0.03)])),
            ("reading.gap", measured(metres(1.0), &[(1, 0.1), (3, 0.04)])),
        ];
        check("reading.height - reading.gap", shared, &[(2, 0.03), (3, -0.04)]);
        // d(w h) = h dw + w dh.
        let sides = vec![
            ("reading.height", measured(metres(4.0), &[(1, 0.1)])),
            ("reading.width", measured(metres(20.0), &[(2, 0.2)])),
        ];
        check("reading.height * reading.width", sides, &[(1, 2.0), (2, 0.8)]);
        // A figure that does not decide carries no error.
        check(
            "greatest(feet(50), reading.height)",
            vec![("reading.height", measured(metres(4.0), &[(1, 0.1)]))],
            &[],
        );
    }

    /// A step within reach of the error is worth half a step each way, one out of reach nothing.
    #[test]
    fn a_step_within_reach() {
        let at = |width: f64| {
            let facts = Known(vec![("lot.width", measured(Length::from_metres(width), &[(1, 0.1)]))]);
            terms("round_up(lot.width, metres(1))", &facts)
        };
        assert_eq!(at(4.5), []);
        for width in [4.0, 4.05] {
            let given = at(width);
            assert!(given.len() == 1 && (given[0].1 - 0.5).abs() < 1e-9, "{given:?}");
        }
    }

    /// Where the other side of a `greatest` lies within the error, the limit is not exact.
    #[test]
    fn a_turn_within_reach_is_uncertain() {
        let facts = Known(vec![("reading.height", measured(Length::from_metres(3.99), &[(1, 0.1)]))]);
        let given = terms("greatest(metres(4), reading.height)", &facts);
        assert!(given.iter().any(|(_, term)| *term > 0.01), "{given:?}");
    }

    #[test]
    fn conditions_too_close_to_call() {
        let at =
            |height: f64| Known(vec![("reading.height", measured(Length::from_feet(height), &[(1, 0.1)]))]);
        let formula = read("reading.height > feet(15)").expect("reads");
        assert_eq!(formula.settled(&at(15.2)), Ok(false));
        assert_eq!(formula.settled(&at(16.0)), Ok(true));
        assert_eq!(formula.settled(&at(14.0)), Ok(true));
    }
}
