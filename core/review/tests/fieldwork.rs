//! What to take in the field: the list keeps its promise, and what is in dispute is settled first.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops at what it did not expect")]

mod support;

use std::collections::BTreeSet;

use groundrule_plan::{Gravity, Measurement, Name, Plan, Remark, Span, read_plan};
use groundrule_review::{Remeasure, Review};
use groundrule_site::FeatureId;
use groundrule_survey::{
    Dispute, ErrorTerms, Layout, Owner, Point, Reading, Shape, SourceId, SourceOwner, resolve,
};
use groundrule_units::{Length, Quantity};
use support::{Case, feature, pack, plan_by, read, rule, shed, source};

const YARD: &str = "check = \"ruler/yard\"\nto.lines = { kind = \"lot-line\" }";
const GAP: &str = "check = \"ruler/gap\"\nto.others = { kind = \"structure\" }";

/// A garden with things read in several ways, some of them near the limits of [`rules`].
fn garden(class: &str) -> Plan {
    let text = plan_by(
        class,
        &(shed("barn", 4.2, 40.0, "status = \"existing\"")
            + &shed("hut", 85.7, 60.0, "status = \"existing\"\nby = { plus_minus = \"2 in\" }")
            + &shed("new", 40.0, 84.8, "status = \"proposed\"")
            + &shed("next", 16.5, 42.0, "status = \"proposed\"")
            + &shed("at-it", 60.0, 5.0, "status = \"existing\"")
            + &shed("twin", 18.9, 70.0, "status = \"existing\"\nby = { plus_minus = \"0.5 ft\" }")
            + &feature("house", "dwelling", 34.0, 60.0, "status = \"existing\"\nby = \"exact\"")),
    );
    read(read_plan(&source(&text)))
}

fn rules() -> Vec<String> {
    let class = "[[class]]\nname = \"large\"\nsubject = { kind = \"shed\" }\nfact = \"area\"\nlimit = { more_than = \"101 sq ft\" }\n\n[[class]]\nname = \"small\"\nsubject = { kind = \"shed\" }\nfact = \"area\"\nlimit = { at_most = \"101 sq ft\" }\n\n";
    let of = |name: &str, limit: &str| {
        let subject = format!("subject = {{ kind = \"shed\", class = \"{name}\" }}");
        rule(name, &format!("{YARD}\n{subject}\nlimit = {{ at_least = \"{limit}\" }}"))
    };
    let condition = "[[rule.exception]]\nwhen = \"subject.area < square_feet(103)\"\nlimit = { at_least = \"3 ft\" }\nsource = \"Text, small\"";
    let rows = rule("side", YARD)
        + &rule("gap", &format!("{GAP}\nlimit = {{ at_least = \"3 ft\" }}"))
        + &of("large", "6 ft")
        + &of("small", "4 ft")
        + &rule("exception", &format!("{YARD}\nlimit = {{ at_least = \"5 ft\" }}\n{condition}"))
        + &rule("range", &format!("{YARD}\nlimit = {{ between = [\"4 ft\", \"5.5 ft\"] }}"));
    vec![pack("t", &format!("{class}{rows}"))]
}

fn verify(review: &Review) -> Vec<&str> {
    review.findings.iter().filter(|f| f.verdict.word() == "verify").map(|f| f.id.0.as_str()).collect()
}

/// Takes the errors of these runs of sources out of every point.
fn made_exact(layout: &mut Layout, runs: &BTreeSet<usize>) {
    let owners = layout.sources.clone();
    let exact = |source: SourceId| runs.contains(&(owners.partition_point(|o| o.first <= source) - 1));
    let settle = |point: &mut Point| {
        let left: Vec<_> = point.error.terms().into_iter().filter(|term| !exact(term.source)).collect();
        point.error = if left.is_empty() { ErrorTerms::Exact } else { ErrorTerms::Sum(left.into()) };
    };
    layout.named.values_mut().for_each(settle);
    for lot in &mut layout.lots {
        lot.ring.iter_mut().chain(lot.sides.iter_mut().flat_map(|side| &mut side.path)).for_each(settle);
    }
    for shape in &mut layout.shapes {
        shape.points_mut().for_each(settle);
    }
}

/// The layout after every entry of the list was taken and its value held, with the lengths that were measured.
fn taken(plan: &Plan, mut layout: Layout, review: &Review) -> (Layout, Vec<Vec<FeatureId>>) {
    let (mut runs, mut sure) = (BTreeSet::new(), Vec::new());
    for retake in &review.retakes {
        match &retake.how {
            Remeasure::Directly { features, .. } => sure.push(features.clone()),
            Remeasure::Again { .. } => {
                let found = layout.sources.iter().position(|s| retake.what == s.describe(plan));
                runs.insert(found.unwrap_or_else(|| panic!("no reading {}", retake.what)));
            }
            Remeasure::Disputed { measurement, .. } => {
                layout.disputed.remove(measurement);
                let own =
                    |(_, source): &(usize, &SourceOwner)| source.owner == Owner::Measurement(*measurement);
                runs.extend(layout.sources.iter().enumerate().filter(own).map(|(at, _)| at));
            }
            Remeasure::Supply { .. } => {}
        }
    }
    made_exact(&mut layout, &runs);
    (layout, sure)
}

/// If the values hold, the list leaves nothing to verify, in one pass; and it is shorter than all there is to read.
fn check(plan: &Plan, layout: Layout, packs: &[String], least: usize) -> Review {
    let review = Case::default().review_layout(plan, &layout, packs, Vec::new());
    let open = verify(&review).len();
    assert!(open >= least, "only {open} to verify");
    let mut named = BTreeSet::new();
    for retake in &review.retakes {
        assert!(retake.plus_minus().is_none_or(|enough| enough.si() > 0.0), "{retake:#?}");
        for id in &retake.settles {
            assert!(named.insert(id.0.clone()), "{} is settled twice", id.0);
        }
    }
    for id in verify(&review) {
        assert!(named.contains(id), "nothing settles {id}: {:#?}", review.retakes);
    }
    let all = layout.sources.len();
    let (settled, sure) = taken(plan, layout, &review);
    let after = Case::default().review_layout(plan, &settled, packs, sure);
    assert_eq!(verify(&after), Vec::<&str>::new(), "after {:#?}", review.retakes);
    assert!(review.retakes.len() < all, "{} entries of {all} readings", review.retakes.len());
    review
}

#[test]
fn the_list_leaves_nothing_to_verify() {
    for class in ["0.2 ft", "0.5 ft", "1 ft", "2 ft", "5 ft"] {
        let plan = garden(class);
        let layout = read(resolve(&plan)).0;
        check(&plan, layout, &rules(), 4);
    }
}

/// What settles more stands first.
#[test]
fn the_best_come_first() {
    let one = shed("one", 4.0, 40.0, "status = \"existing\"");
    let two = shed("two", 84.6, 60.0, "status = \"existing\"");
    let plan = read(read_plan(&source(&plan_by("1 ft", &(two + &one)))));
    let rows = rule("side", YARD) + &rule("more", &format!("{YARD}\nlimit = {{ at_least = \"3.2 ft\" }}"));
    let review = check(&plan, read(resolve(&plan)).0, &[pack("t", &rows)], 3);
    let counts: Vec<usize> = review.retakes.iter().map(|retake| retake.settles.len()).collect();
    assert_eq!(counts, [2, 1], "{:#?}", review.retakes);
}

/// Entries say from where to where, how well, and what stands there now.
#[test]
fn entries_say_what_to_do() {
    let here = plan_by("1 ft", &shed("shed", 4.0, 40.0, "status = \"existing\""));
    let plan = read(read_plan(&source(&here)));
    let review = check(&plan, read(resolve(&plan)).0, &[pack("t", &rule("side", YARD))], 1);
    let [retake] = review.retakes.as_slice() else { panic!("{:#?}", review.retakes) };
    assert_eq!((retake.from.as_deref(), retake.to.as_deref()), (Some("shed"), Some("lot.nw-sw")));
    assert_eq!(retake.now.as_deref(), Some("4.00 ft"));
    assert_eq!(retake.marks.len(), 1);
    assert!(retake.is_measured());
}

/// A layout in which the west end of the shed was worked out from a chain of two readings.
fn chained(disputed: f64) -> (Plan, Layout) {
    let text = plan_by("0", &shed("shed", 4.0, 40.0, "status = \"existing\""));
    let mut plan = read(read_plan(&source(&text)));
    let reading = groundrule_plan::Reading::Fact(groundrule_plan::Fact::Straight(Vec::new()));
    plan.measurements.push(Measurement {
        id: Name("chain-west".to_owned()),
        reading,
        by: None,
        span: Span { start: 3, end: 9 },
    });
    let mut layout = read(resolve(&plan)).0;
    let sigma = Length::from_feet(0.01);
    let term =
        |source: u32| groundrule_survey::ErrorTerm { source: SourceId(source), x: sigma, y: Length::ZERO };
    let Shape::Outline { ring, .. } = &mut layout.shapes[0] else { panic!("no outline") };
    for point in ring {
        point.error = ErrorTerms::Sum([term(0), term(1)].into());
    }
    let run = |first: u32| SourceOwner {
        first: SourceId(first),
        owner: Owner::Measurement(0),
        reading: Reading::Figure(first),
        plus_minus: Quantity::from(sigma * 1.96),
        ends: Some(Box::new((Name("lot.sw".to_owned()), Name("lot.nw".to_owned())))),
    };
    layout.sources = vec![run(0), run(1)];
    if disputed > 0.0 {
        layout.disputed.insert(0, Dispute::Off(Length::from_feet(disputed).into()));
    }
    (plan, layout)
}

fn misclosure() -> Remark {
    Remark {
        code: "survey::misclosure",
        gravity: Gravity::Wrong,
        message: "chain-west does not add up by 1.00 ft.".to_owned(),
        about: vec![Name("chain-west".to_owned())],
        spots: Vec::new(),
        span: Span::default(),
        help: None,
    }
}

#[test]
fn a_verdict_on_a_disputed_measurement_waits() {
    let packs = [pack("t", &rule("side", YARD))];
    let review = |disputed, remarks| {
        let (plan, layout) = chained(disputed);
        Case { remarks, ..Case::default() }.review_layout(&plan, &layout, &packs, Vec::new())
    };
    let plain = review(0.0, Vec::new());
    assert_eq!(verify(&plain), Vec::<&str>::new());
    assert!(plain.findings.iter().all(|finding| finding.in_dispute.is_empty()));

    // East and west hang on the chain; south and north do not. Off by 2 ft it could overturn the west yard, which
    // fails by 1 ft; the east yard is wide enough to stand whatever it turns out to be, unless the chain is off by more.
    let gross = review(100.0, vec![misclosure()]);
    assert_eq!(verify(&gross), ["t/side:shed:lot.se-ne", "t/side:shed:lot.nw-sw"]);
    let waits = review(2.0, vec![misclosure()]);
    assert_eq!(verify(&waits), ["t/side:shed:lot.nw-sw"]);
    let finding = waits.findings.iter().find(|f| f.id.0 == "t/side:shed:lot.nw-sw").unwrap();
    assert_eq!(finding.in_dispute, [Name("chain-west".to_owned())]);
    let number = waits.data[0].number.unwrap();
    let note = finding.note.as_deref().unwrap();
    assert_eq!(
        note,
        format!(
            "It rests on chain-west, which is in dispute (finding {number}): no verdict until that is settled. If it does not meet, it is an existing nonconformity."
        )
    );
    assert_eq!(finding.action, "Measure chain-west again: it does not add up.");
    assert_eq!(finding.conformity, None);
    let [retake] = waits.retakes.as_slice() else { panic!("{:#?}", waits.retakes) };
    assert_eq!(retake.what, "chain-west again: it does not add up");
    assert_eq!(retake.settles.len(), 1);
    assert_eq!((retake.from.as_deref(), retake.to.as_deref()), (Some("lot.sw"), Some("lot.nw")));

    let (plan, layout) = chained(2.0);
    let packs = [pack("t", &rule("side", YARD))];
    let review = Case::default().review_layout(&plan, &layout, &packs, Vec::new());
    let (settled, sure) = taken(&plan, layout, &review);
    let after = Case::default().review_layout(&plan, &settled, &packs, sure);
    assert_eq!(verify(&after), Vec::<&str>::new());
}

/// What makes the rule apply counts as well: a condition, or the class of the subject.
#[test]
fn a_condition_and_a_class_on_a_disputed_measurement_wait() {
    let given = "with = { value = \"6 ft\" }";
    let condition = "[[rule.exception]]\nwhen = \"subject.area < square_feet(80)\"\nlimit = { at_least = \"9 ft\" }\nsource = \"Text, small\"";
    let class = "[[class]]\nname = \"large\"\nsubject = { kind = \"shed\" }\nfact = \"area\"\nlimit = { more_than = \"80 sq ft\" }\n\n";
    let plain = rule("plain", given);
    let conditional =
        rule("conditional", &format!("{given}\nlimit = {{ at_least = \"5 ft\" }}\n{condition}"));
    let classed = rule("classed", &format!("{given}\nsubject = {{ kind = \"shed\", class = \"large\" }}"));
    let packs = [pack("t", &format!("{class}{plain}{conditional}{classed}"))];
    let review = |disputed| {
        let (plan, mut layout) = chained(disputed);
        // Only its west end hangs on the chain, so that its area does.
        let Shape::Outline { ring, .. } = &mut layout.shapes[0] else { panic!("no outline") };
        ring.iter_mut().filter(|p| p.at.x.feet() > 10.0).for_each(|point| point.error = ErrorTerms::Exact);
        Case::default().review_layout(&plan, &layout, &packs, Vec::new())
    };
    assert_eq!(verify(&review(0.0)), Vec::<&str>::new());
    assert_eq!(verify(&review(2.0)), ["t/conditional:shed", "t/classed:shed"]);
}

#[test]
fn what_is_lacking_is_listed_once() {
    let stated =
        |id: &str, fact: &str| rule(id, &format!("check = \"ruler/stated\"\nwith = {{ fact = \"{fact}\" }}"));
    let rows = stated("a", "eave") + &stated("b", "eave") + &stated("c", "brand") + &rule("side", YARD);
    let here = plan_by("1 ft", &shed("shed", 4.0, 40.0, "status = \"existing\""));
    let lacking = Remark {
        code: "survey::no-diagonal",
        gravity: Gravity::Lacking,
        message: "No diagonal of lot is measured.".to_owned(),
        about: vec![Name("lot".to_owned())],
        help: Some("Measure lot.sw to lot.ne.".to_owned()),
        ..misclosure()
    };
    let review = Case { remarks: vec![lacking], ..Case::default() }.review(&here, &[pack("t", &rows)]);
    let list: Vec<(&str, usize, bool)> =
        review.retakes.iter().map(|r| (r.what.as_str(), r.settles.len(), r.is_measured())).collect();
    assert_eq!(
        list,
        [
            ("eave of shed", 2, true),
            ("shed to side line lot.nw-sw", 1, true),
            ("brand of shed", 1, false),
            ("No diagonal of lot is measured", 0, true),
        ]
    );
    let Remeasure::Supply { how, .. } = &review.retakes[3].how else { panic!("{:#?}", review.retakes) };
    assert_eq!(how, "Measure lot.sw to lot.ne.");
}
