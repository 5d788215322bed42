//! A small plan in an invented town, and a review of it made by hand with one finding of every sort.

#![allow(
    dead_code,
    unreachable_pub,
    clippy::panic,
    clippy::unwrap_used,
    reason = "each test file uses its own part of this, and a sample that is wrong is a wrong test"
)]

use std::sync::Arc;

use groundrule_packs::{Provenance, RowId, Sense, Standing, Weight};
use groundrule_plan::{Gravity, KindTree, Name, Plan, Remark, Source, Span, read_plan};
use groundrule_report::Report;
use groundrule_review::{
    Citation, DataFinding, Finding, FindingId, PackUse, Remeasure, Required, Retake, Review, RuleRecord,
    Shown, ToolFinding, Verdict,
};
use groundrule_sandbox::{Blame, Failure};
use groundrule_site::{Mark, Need, Site};
use groundrule_survey::{Layout, Position, resolve};
use groundrule_units::{Length, Ratio, Style};

/// A lot of 60 by 90 ft, far from the origin so that its frame is shifted.
pub const HERON_LANE: &str = r#"
[site]
name  = "Heron Lane 3"
units = "ft"
north = "30 deg clockwise of up"
district = "TZ-1"
by    = "tape"

[accuracy]
tape = "2 in"

[lot]
corners = [[0, 0], [60, 0], [60, 90], [0, 90]]
names   = ["sw", "se", "ne", "nw"]
sides   = { sw-se = { role = "front", street = "Heron Lane" }, se-ne = { role = "side" }, ne-nw = { role = "rear" }, nw-sw = { role = "side" } }

[sheet]
date = 2026-03-02

[[feature]]
id = "house"
kind = "dwelling"
status = "existing"
outline = [[15, 25], [45, 25], [45, 55], [15, 55]]
eave = "2 ft"

[[feature]]
id = "shed"
kind = "shed"
status = "proposed"
outline = [[48, 74], [58, 74], [58, 84], [48, 84]]

[[feature]]
id = "hen-house"
kind = "playhouse"
status = "remove"
outline = [[6, 70], [12, 70], [12, 76], [6, 76]]

[[feature]]
id = "drain"
kind = "easement"
outline = [[0, 85], [60, 85], [60, 90], [0, 90]]

[[feature]]
id = "path"
kind = "walk"
status = "existing"
line = [[30, 0], [30, 25]]
width = "4 ft"

[[feature]]
id = "gate"
kind = "gate"
status = "existing"
line = [[28.5, 2], [31.5, 2]]

[[feature]]
id = "fence"
kind = "fence"
status = "existing"
line = [[1, 30], [1, 88]]

[[feature]]
id = "oak"
kind = "tree"
status = "existing"
at = [25, 68]
trunk = "18 in"
spread = "20 ft"
"#;

/// A plan with everything made of it.
pub struct Sample {
    pub plan: Plan,
    pub layout: Layout,
    pub site: Site,
    pub review: Review,
    pub style: Style,
}

impl Sample {
    /// Reads and resolves a plan; its review is empty.
    pub fn of(text: &str) -> Self {
        let source = Source { name: "heron-lane.toml".to_owned(), text: text.into() };
        let plan = read_plan(&source).unwrap_or_else(|faults| panic!("{faults}"));
        let (layout, _) = resolve(&plan).unwrap_or_else(|faults| panic!("{faults}"));
        let (site, _) = Site::build(&plan, &layout, KindTree::standard());
        let review = Review {
            plan: plan.site.name.clone(),
            findings: Vec::new(),
            data: Vec::new(),
            tool: Vec::new(),
            buildable: Vec::new(),
            packs: Vec::new(),
            rules: Vec::new(),
            retakes: Vec::new(),
            level: Ratio::from_fraction(0.95),
            judged_at: None,
        };
        Self { plan, layout, site, review, style: Style::FeetInches }
    }

    /// The sample plan with one finding of every sort.
    pub fn reviewed() -> Self {
        let mut sample = Self::of(HERON_LANE);
        let findings = findings(&sample);
        let review = &mut sample.review;
        review.findings = findings;
        review.data = vec![
            data("data::no-diagonal", Gravity::Lacking, Some(9), "Nothing checks the right angles of shed."),
            data("data::round-figures", Gravity::Noted, None, "All coordinates are whole feet."),
        ];
        review.tool = vec![ToolFinding {
            id: FindingId("tool:walks".to_owned()),
            number: Some(10),
            blame: Blame {
                module: "walks".to_owned(),
                version: Some("0.1.0".to_owned()),
                rule: Some("walk-width".to_owned()),
                failure: Failure::Fuel,
                message: "It used all the fuel it was given; raise the limit or ask its author.".to_owned(),
                fuel_used: Some(2_000_000),
            },
            rules: vec![RowId("walk-width".to_owned())],
        }];
        review.packs = vec![PackUse {
            name: "heron".to_owned(),
            title: "Heron zoning".to_owned(),
            version: "1.2.0".to_owned(),
            agency: "Heron planning desk".to_owned(),
            note: Some("Heron is invented.".to_owned()),
            not_encoded: vec!["Height of fences: 6 ft".to_owned()],
        }];
        review.rules = vec![RuleRecord {
            rule: RowId("shed-yard".to_owned()),
            pack: "heron".to_owned(),
            subjects: 1,
            fuel: 1234,
        }];
        review.retakes = vec![
            Retake {
                what: "house to lot.se-ne".to_owned(),
                from: Some("house".to_owned()),
                to: Some("lot.se-ne".to_owned()),
                how: Remeasure::Directly { features: Vec::new(), plus_minus: Length::from_inches(0.5) },
                settles: vec![FindingId("2".to_owned())],
                helps: vec![],
                now: Some("15'-0\"".to_owned()),
                marks: vec![Mark::Span(feet(45.0, 40.0), feet(60.0, 40.0))],
                span: Span::default(),
            },
            Retake {
                what: "clear opening of gate".to_owned(),
                from: None,
                to: None,
                how: Remeasure::Supply { how: "Measure it with the leaf open.".to_owned(), measured: true },
                settles: vec![FindingId("3".to_owned())],
                helps: vec![FindingId("6".to_owned())],
                now: None,
                marks: vec![Mark::Spot(feet(30.0, 2.0))],
                span: Span::default(),
            },
            Retake {
                what: "position of corner sw of house".to_owned(),
                from: None,
                to: None,
                how: Remeasure::Again {
                    plus_minus: Length::from_inches(2.0).into(),
                    enough: Length::from_inches(0.75).into(),
                },
                settles: vec![FindingId("7".to_owned())],
                helps: vec![],
                now: Some("x 15'-0\", y 25'-0\"".to_owned()),
                marks: vec![Mark::Spot(feet(15.0, 25.0))],
                span: Span::default(),
            },
        ];
        review.judged_at = Some("2026-05-04".to_owned());
        sample
    }

    pub fn report(&self) -> Report<'_> {
        Report {
            plan: &self.plan,
            layout: &self.layout,
            site: &self.site,
            review: &self.review,
            style: self.style,
            error_figures: false,
        }
    }
}

fn feet(x: f64, y: f64) -> Position {
    Position { x: Length::from_feet(x), y: Length::from_feet(y) }
}

/// What differs between the findings of the sample.
struct Draft<'a> {
    title: &'a str,
    verdict: Verdict,
    weight: Weight,
    names: [&'a str; 2],
    shown: Option<(f64, f64)>,
    required: Option<(f64, &'a str)>,
    marks: Vec<Mark>,
}

fn findings(sample: &Sample) -> Vec<Finding> {
    use Verdict::{Accepted, Fails, Meets, Missing, NotApplicable, Verify};
    use Weight::{Advised, Noted, Required as Must};

    let span = |ax, ay, bx, by| vec![Mark::Span(feet(ax, ay), feet(bx, by))];
    let draft = |title, verdict, weight, names, shown, required, marks| Draft {
        title,
        verdict,
        weight,
        names,
        shown,
        required,
        marks,
    };
    let five = Some((5.0, "5 ft"));
    let drafts = [
        draft(
            "Shed to side line",
            Fails,
            Must,
            ["shed", "lot.se-ne"],
            Some((2.0, 0.085)),
            five,
            span(58.0, 79.0, 60.0, 79.0),
        ),
        draft(
            "House to side line",
            Verify,
            Must,
            ["house", "lot.se-ne"],
            Some((15.0, 0.085)),
            Some((15.0, "15 ft")),
            span(45.0, 40.0, 60.0, 40.0),
        ),
        draft("Clear opening of gate", Missing, Must, ["gate", ""], None, Some((2.5, "30 in")), vec![]),
        draft(
            "Path to side line",
            Fails,
            Advised,
            ["path", "lot.sw-se"],
            Some((1.0, 0.0)),
            five,
            span(30.0, 12.0, 60.0, 12.0),
        ),
        draft(
            "Old shed to line",
            Fails,
            Noted,
            ["hen-house", "lot.nw-sw"],
            Some((6.0, 0.1)),
            Some((10.0, "10 ft")),
            vec![],
        ),
        draft("Fence height", Missing, Advised, ["fence", ""], None, None, vec![]),
        draft(
            "Oak canopy over drain",
            Verify,
            Advised,
            ["oak", "drain"],
            Some((7.0, 0.5)),
            Some((7.0, "7 ft")),
            vec![Mark::Region(vec![feet(22.0, 77.0), feet(28.0, 77.0), feet(25.0, 78.0)])],
        ),
        draft("Levels at the house", Missing, Must, ["", ""], None, None, vec![]),
        draft(
            "House to front line",
            Meets,
            Must,
            ["house", "lot.sw-se"],
            Some((25.0, 0.085)),
            Some((20.0, "20 ft")),
            vec![],
        ),
        draft(
            "Shed to house",
            Accepted,
            Must,
            ["shed", "house"],
            Some((19.0, 0.1)),
            Some((20.0, "20 ft")),
            vec![],
        ),
        draft("Pool barrier", NotApplicable, Must, ["", ""], None, None, vec![]),
    ];
    drafts.into_iter().enumerate().map(|(i, draft)| finding(sample, i, draft)).collect()
}

fn finding(sample: &Sample, i: usize, draft: Draft<'_>) -> Finding {
    let n = u32::try_from(i).unwrap() + 1;
    let asks = matches!(draft.verdict, Verdict::Fails | Verdict::Verify | Verdict::Missing);
    let names: Vec<&str> = draft.names.into_iter().filter(|name| !name.is_empty()).collect();
    let place = if names.is_empty() { "the whole plan".to_owned() } else { names.join(" to ") };
    let needs = match draft.verdict {
        Verdict::Missing => vec![Need {
            what: format!("a figure for {place}"),
            how: format!("Measure {place} and write it into the plan."),
        }],
        _ => Vec::new(),
    };
    let (source, section, standing) = match draft.weight {
        Weight::Required => ("Heron zoning text", Some("4.2 (a)"), Standing::Illustrative),
        _ => ("Trade habit", None, Standing::CommonPractice),
    };
    Finding {
        id: FindingId(n.to_string()),
        number: asks.then_some(n),
        rule: RowId(draft.title.to_lowercase().replace(' ', "-")),
        pack: "heron".into(),
        title: draft.title.into(),
        verdict: draft.verdict,
        weight: draft.weight,
        features: names.iter().filter_map(|name| sample.site.find(name)).collect(),
        names: names.iter().map(|name| Name((*name).to_owned())).collect(),
        place: place.clone(),
        shown: draft.shown.map(|(value, spread)| Shown {
            value: Length::from_feet(value).into(),
            spread: Length::from_feet(spread).into(),
        }),
        measured: None,
        beside: Vec::new(),
        listed: Vec::new(),
        answer: None,
        required: draft.required.map(|(value, text)| Required {
            sense: Sense::AtLeast,
            text: text.to_owned(),
            value: Some(Length::from_feet(value).into()),
            upper: None,
            said: None,
        }),
        conformity: draft.shown.map(|_| {
            Ratio::from_fraction(match draft.verdict {
                Verdict::Meets => 0.999,
                Verdict::Verify => 0.5,
                _ => 0.001,
            })
        }),
        needs,
        marks: draft.marks,
        citation: Arc::new(Citation {
            source: source.to_owned(),
            section: section.map(str::to_owned),
            standing,
            provenance: Provenance {
                pack: "heron".to_owned(),
                version: "1.2.0".to_owned(),
                file: "heron/pack.toml".to_owned(),
                line: 20 + n,
                span: Span::default(),
                overrides: vec![],
            },
        }),
        why: "A yard keeps light and air between neighbors.".into(),
        message: format!("What is said of {place}."),
        action: if asks { "Change the plan, or measure again.".to_owned() } else { String::new() },
        referral: asks.then(|| "Heron planning desk".to_owned()),
        in_dispute: Vec::new(),
        note: (draft.weight == Weight::Noted).then(|| "It stands already.".to_owned()),
        span: Span { start: 10, end: 12 },
    }
}

fn data(code: &'static str, gravity: Gravity, number: Option<u32>, message: &str) -> DataFinding {
    DataFinding {
        id: FindingId(code.to_owned()),
        number,
        remark: Remark {
            code,
            gravity,
            message: message.to_owned(),
            about: vec![Name("shed".to_owned())],
            spots: vec![],
            span: Span { start: 60, end: 64 },
            help: Some("Measure a diagonal.".to_owned()),
        },
        marks: if number.is_some() { vec![Mark::Spot(feet(48.0, 74.0))] } else { vec![] },
    }
}
