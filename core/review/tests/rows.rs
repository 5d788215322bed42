//! Rows on a plan: whom they are asked of, what weight they carry, and what is never silent.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops at what it did not expect")]
#![allow(clippy::float_cmp, reason = "exact figures are expected exactly")]

mod support;

use groundrule_plan::read_plan;
use support::{Case, check, feature, lines, pack, plan, plan_by, read, reviewed, rule, shed, source};

const YARD: &str = "check = \"ruler/yard\"\nto.lines = { kind = \"lot-line\", role = \"side\" }";

/// Scenario: a shed 4.0 ft from the line where 5 ft are asked for, read off an aerial picture to 1 ft, then
/// taped to 0.1 ft. It never meets.
#[test]
fn a_shed_near_the_line_at_two_accuracies() {
    let near = |by: &str, status: &str| plan_by(by, &shed("shed", 4.0, 40.0, status));
    let row = rule("side", YARD);
    for (status, weight, exit) in [
        ("status = \"existing\"", "noted", 0),
        ("status = \"proposed\"\nby = \"class\"", "required", 1),
        ("", "required", 1),
    ] {
        let far = "- t/side:shed:lot.se-ne meets required";
        check(&reviewed(&near("1 ft", status), &row), 1, &[far, "1 t/side:shed:lot.nw-sw verify required"]);
        let fails = format!("1 t/side:shed:lot.nw-sw fails {weight}");
        check(&reviewed(&near("0.1 ft", status), &row), exit, &[far, &fails]);
        check(&reviewed(&near("0", status), &row), exit, &[far, &fails]);
    }
}

#[test]
fn what_exists_and_fails_is_noted() {
    let row = rule("side", "with = { value = \"4 ft\" }");
    let counts = rule("side", "with = { value = \"4 ft\" }\nexisting_counts = true");
    let with = |status: &str| plan(&shed("shed", 4.0, 40.0, status));
    check(&reviewed(&with("status = \"proposed\""), &row), 1, &["1 t/side:shed fails required"]);
    check(&reviewed(&with("status = \"existing\""), &row), 0, &["1 t/side:shed fails noted"]);
    check(&reviewed(&with("status = \"existing\""), &counts), 1, &["1 t/side:shed fails required"]);
    let noted = reviewed(&with("status = \"existing\""), &row);
    assert_eq!(noted.findings[0].note.as_deref(), Some("An existing nonconformity."));
    assert_eq!((noted.counts().fails, noted.counts().advice), (0, 1));

    // What is to go is not asked unless it is named, and then it is noted.
    let named =
        rule("side", "with = { value = \"4 ft\" }\nsubject = { kind = \"shed\", status = \"remove\" }");
    check(&reviewed(&with("status = \"remove\""), &row), 0, &["- t/side not applicable required"]);
    check(&reviewed(&with("status = \"remove\""), &named), 0, &["1 t/side:shed fails noted"]);
}

#[test]
fn work_proposed_beside_it_counts() {
    let gap = "check = \"ruler/gap\"\nto.others = { kind = \"dwelling\" }";
    let row = rule("gap", gap);
    let both = |house: &str| {
        let house = feature("house", "dwelling", 52.0, 40.0, &format!("status = \"{house}\""));
        plan(&(shed("shed", 40.0, 40.0, "status = \"existing\"") + &house))
    };
    check(&reviewed(&both("existing"), &row), 0, &["1 t/gap:shed:house fails noted"]);
    check(&reviewed(&both("proposed"), &row), 1, &["1 t/gap:shed:house fails required"]);
}

#[test]
fn an_unlabelled_thing() {
    let unlabelled = plan(&shed("shed", 4.0, 40.0, ""));
    let any = reviewed(&unlabelled, &rule("side", "with = { value = \"4 ft\" }"));
    check(&any, 1, &["1 t/side:shed fails required"]);
    assert_eq!(
        any.findings[0].note.as_deref(),
        Some("Its status is not stated; it is judged as if proposed.")
    );
    let subject = "subject = { kind = \"shed\", status = \"proposed\" }\nwith = { value = \"4 ft\" }";
    let proposed = reviewed(&unlabelled, &rule("side", subject));
    check(&proposed, 1, &["1 t/side:shed missing required"]);
    assert_eq!(proposed.findings[0].needs[0].what, "the status of shed");
}

#[test]
fn advice_does_not_fail_a_plan() {
    let plan = plan(&shed("shed", 4.0, 40.0, "status = \"proposed\""));
    let advice = |standing: &str, with: &str| {
        rule("a", &format!("weight = \"advised\"\nstanding = \"{standing}\"\nwith = {{ {with} }}"))
    };
    let short = "value = \"4 ft\"";
    check(&reviewed(&plan, &advice("common practice", short)), 0, &["1 t/a:shed fails advised"]);
    check(&reviewed(&plan, &advice("from memory", short)), 0, &["1 t/a:shed fails advised"]);
    let close = "value = \"5 ft\", spread = \"1 ft\"";
    check(&reviewed(&plan, &advice("common practice", close)), 0, &["1 t/a:shed verify advised"]);
    let found = reviewed(&plan, &advice("common practice", short));
    assert_eq!(found.findings[0].action, "Consider at least 5 ft.");
}

#[test]
fn nobody_to_ask() {
    let row = |more: &str| {
        rule("r", &format!("subject = {{ kind = \"pool\" }}\nwith = {{ value = \"9 ft\" }}\n{more}"))
    };
    let declared = |said: &str| plan(&format!("[declared]\n{said}"));
    let verdict = |plan: &str, row: &str| {
        let review = reviewed(plan, row);
        let finding = review.findings[0].clone();
        (lines(&review)[0].clone(), finding.needs.first().map(|need| need.how.clone()))
    };
    let missing = "1 t/r missing required".to_owned();
    let not = "- t/r not applicable required".to_owned();
    let say_none = Some("Draw it, or say `pool = \"none\"` under [declared] if there is none.".to_owned());

    assert_eq!(verdict(&plan(""), &row("")), (missing.clone(), say_none.clone()));
    assert_eq!(verdict(&plan(""), &row("declared = \"pool\"")), (missing.clone(), say_none));
    assert_eq!(verdict(&declared("pool = \"none\""), &row("")), (not.clone(), None));
    assert_eq!(verdict(&declared("pool = \"none\""), &row("declared = \"pool\"")), (not.clone(), None));
    assert_eq!(verdict(&declared("pool = \"unknown\""), &row("")).0, missing);
    let (shown, how) = verdict(&declared("pool = \"shown\""), &row(""));
    assert_eq!(shown, missing, "shown, and nothing of it drawn");
    assert!(how.unwrap().contains("which says that all are shown"));

    // Wholly proposed work that nobody proposes.
    let proposed =
        rule("r", "subject = { kind = \"pool\", status = \"proposed\" }\nwith = { value = \"9 ft\" }");
    assert_eq!(verdict(&plan(""), &proposed), (not.clone(), None));

    // All structures are declared shown and some are drawn, so there is no gazebo.
    let gazebo = rule("r", "subject = { kind = \"gazebo\" }\nwith = { value = \"9 ft\" }");
    let with_shed = |said: &str| plan(&format!("{}\n[declared]\n{said}", shed("shed", 4.0, 40.0, "")));
    assert_eq!(verdict(&with_shed("accessory_structures = \"shown\""), &gazebo).0, not);
    let (line, how) = verdict(&with_shed("pool = \"none\""), &gazebo);
    assert_eq!(line, missing);
    assert_eq!(
        how.unwrap(),
        "Draw it, or say `accessory_structures = \"shown\"` under [declared] if there is none."
    );
}

#[test]
fn nothing_to_measure_to() {
    let row = rule(
        "clear",
        "check = \"ruler/gap\"\nto.others = { kind = \"easement\" }\nlimit = { at_least = \"0 ft\" }\ndeclared = \"easements\"",
    );
    let with = |said: &str| plan(&(shed("shed", 4.0, 40.0, "status = \"proposed\"") + said));
    check(&reviewed(&with(""), &row), 1, &["1 t/clear missing required"]);
    check(
        &reviewed(&with("[declared]\neasements = \"none\""), &row),
        0,
        &["- t/clear not applicable required"],
    );
    let easement = feature("strip", "utility-easement", 12.0, 35.0, "");
    check(&reviewed(&with(&easement), &row), 1, &["1 t/clear:shed:strip fails required"]);
}

#[test]
fn lines_without_a_role() {
    let lot = |sides: &str| {
        let plan = plan(&shed("shed", 40.0, 40.0, "status = \"proposed\""));
        let from = plan.find("sides").unwrap();
        let until = from + plan[from..].find('\n').unwrap();
        format!("{}sides = {{ {sides} }}{}", &plan[..from], &plan[until..])
    };
    let row = |role: &str| {
        rule("y", &format!("check = \"ruler/yard\"\nto.lines = {{ kind = \"lot-line\", role = \"{role}\" }}"))
    };
    let all = "sw-se = { role = \"front\" }, se-ne = { role = \"side\" }, ne-nw = { role = \"rear\" }, nw-sw = { role = \"side\" }";
    check(&reviewed(&lot(all), &row("front")), 0, &["- t/y:shed:lot.sw-se meets required"]);
    // An inside lot has no street side.
    check(&reviewed(&lot(all), &row("street_side")), 0, &["- t/y:shed not applicable required"]);
    // A role that nobody stated is proposed from the front, and the finding says so.
    let some = "sw-se = { role = \"front\" }, se-ne = { role = \"side\" }, ne-nw = { role = \"rear\" }";
    check(&reviewed(&lot(some), &row("street_side")), 0, &["- t/y:shed not applicable required"]);
    let review = reviewed(&lot(some), &row("side"));
    check(&review, 0, &["- t/y:shed:lot.se-ne meets required", "- t/y:shed:lot.nw-sw meets required"]);
    assert_eq!(
        review.findings[1].note.as_deref(),
        Some("Its role is assumed, not stated: side line lot.nw-sw.")
    );
    // Without a front nothing is proposed, and a line without a role could be any.
    let unsaid = "se-ne = { role = \"side\" }, ne-nw = { role = \"rear\" }, sw-se = { role = \"side\" }";
    check(&reviewed(&lot(unsaid), &row("street_side")), 1, &["1 t/y:shed missing required"]);
    check(
        &reviewed(&lot(unsaid), &row("rear")),
        1,
        &["- t/y:shed:lot.ne-nw meets required", "1 t/y:lot.nw-sw missing required"],
    );
    // Every lot fronts something.
    let no_front = "sw-se = { role = \"side\" }, se-ne = { role = \"side\" }, ne-nw = { role = \"rear\" }, nw-sw = { role = \"side\" }";
    let review = reviewed(&lot(no_front), &row("front"));
    check(&review, 1, &["1 t/y:shed missing required"]);
    assert_eq!(review.findings[0].needs[0].what, "the front line of lot");
}

#[test]
fn an_assumed_role_is_said() {
    let text = plan(&shed("shed", 40.0, 40.0, "status = \"proposed\""));
    let mut plan = read(read_plan(&source(&text)));
    plan.lots[0].sides[1].assumed = true;
    let review = Case::default().review_plan(&plan, &[pack("t", &rule("side", YARD))]);
    let notes: Vec<_> = review.findings.iter().map(|finding| finding.note.as_deref()).collect();
    assert_eq!(notes, [Some("Its role is assumed, not stated: side line lot.se-ne."), None]);
}

#[test]
fn districts_and_overlays() {
    let row = |more: &str| rule("r", &format!("with = {{ value = \"9 ft\" }}\n{more}"));
    let here = plan(&shed("shed", 40.0, 40.0, ""));
    check(&reviewed(&here, &row("district = \"D\"")), 0, &["- t/r:shed meets required"]);
    check(&reviewed(&here, &row("district = \"E\"")), 0, &["- t/r not applicable required"]);
    check(&reviewed(&here, &row("overlay = \"hillside\"")), 0, &["- t/r not applicable required"]);
    let nowhere = here.replace("district = \"D\"\n", "");
    check(&reviewed(&nowhere, &row("district = \"D\"")), 1, &["1 t/r missing required"]);
    let overlaid = here.replace("district = \"D\"\n", "district = \"D\"\noverlays = [\"hillside\"]\n");
    check(&reviewed(&overlaid, &row("overlay = \"hillside\"")), 0, &["- t/r:shed meets required"]);
}

#[test]
fn classes_are_decided_once() {
    let class = "[[class]]\nname = \"tall\"\nsubject = { kind = \"shed\" }\nfact = \"height\"\nlimit = { more_than = \"10 ft\" }\n\n[[class]]\nname = \"low\"\nsubject = { kind = \"shed\" }\nfact = \"height\"\nlimit = { at_most = \"10 ft\" }\n\n";
    let of = |id: &str, class: &str, limit: &str| {
        rule(
            id,
            &format!(
                "subject = {{ kind = \"shed\", class = \"{class}\" }}\nwith = {{ value = \"6 ft\" }}\nlimit = {{ at_least = \"{limit}\" }}"
            ),
        )
    };
    let rows =
        |tall: &str, low: &str| format!("{class}{}{}", of("tall", "tall", tall), of("low", "low", low));
    let high = |height: &str| plan(&shed("shed", 40.0, 40.0, &format!("status = \"proposed\"\n{height}")));

    check(
        &reviewed(&high("height = \"12 ft\""), &rows("5 ft", "7 ft")),
        0,
        &["- t/tall:shed meets required", "- t/low not applicable required"],
    );
    check(
        &reviewed(&high("height = \"10 ft\""), &rows("5 ft", "7 ft")),
        1,
        &["- t/tall not applicable required", "1 t/low:shed fails required"],
    );
    // Without the height nobody knows which rule is the shed's.
    let unknown = reviewed(&high(""), &rows("5 ft", "7 ft"));
    check(&unknown, 1, &["1 t/tall:shed missing required", "2 t/low:shed missing required"]);
    assert_eq!(unknown.findings[0].needs[0].what, "the height of shed");
}

#[test]
fn a_row_whose_check_cannot_be_run() {
    let ok = rule("ok", "with = { value = \"9 ft\" }");
    let here = plan(&shed("shed", 40.0, 40.0, ""));
    for (checked, id, words) in [
        ("ruler/stops", "tool:ruler:bad", "It broke."),
        ("ruler/silent", "tool:ruler:bad", "It left shed without an answer."),
        ("ruler/unheard-of", "tool:ruler:bad", "It has no check `unheard-of`"),
        ("nobody/given", "tool:nobody:bad", "No module `nobody` is loaded."),
    ] {
        let bad = rule("bad", &format!("check = \"{checked}\""));
        let review = reviewed(&here, &(bad + &ok));
        check(&review, 3, &["- t/ok:shed meets required"]);
        let tool = &review.tool[0];
        assert_eq!((tool.id.0.as_str(), tool.number), (id, Some(1)));
        assert!(tool.blame.message.starts_with(words), "{}", tool.blame.message);
        assert_eq!(tool.rules.len(), 1);
    }
    // An answer that the limit cannot judge.
    let review = reviewed(&here, &rule("bad", "with = { value = \"9 sq ft\" }"));
    check(&review, 3, &[]);
    assert!(
        review.tool[0].blame.message.contains("cannot judge its answers"),
        "{}",
        review.tool[0].blame.message
    );
}

#[test]
fn a_module_that_did_not_load() {
    let stopped = groundrule_sandbox::Blame {
        module: "broken".to_owned(),
        version: None,
        rule: None,
        failure: groundrule_sandbox::Failure::TooNew,
        message: "It is too new.".to_owned(),
        fuel_used: None,
    };
    let rows = rule("a", "check = \"broken/x\"") + &rule("b", "check = \"broken/y\"");
    let case = Case { stopped: vec![stopped], ..Case::default() };
    let review = case.review(&plan(&shed("shed", 40.0, 40.0, "")), &[pack("t", &rows)]);
    check(&review, 3, &[]);
    assert_eq!(review.tool.len(), 1);
    assert_eq!(review.tool[0].rules.iter().map(|rule| rule.0.as_str()).collect::<Vec<_>>(), ["a", "b"]);
}

/// Nothing is lacking for a row that is for another application: its condition comes before the search for what it
/// measures to.
#[test]
fn a_row_for_another_permit_lacks_nothing() {
    let row = |when: &str| {
        rule("gap", &format!("check = \"ruler/gap\"\nto.others = {{ kind = \"pool\" }}\nwhen = \"{when}\""))
    };
    let asked = |permit: &str, when: &str| {
        let plan = plan(&shed("shed", 4.0, 40.0, "status = \"proposed\""));
        lines(&reviewed(&plan.replacen("[site]", &format!("[site]\n{permit}"), 1), &row(when)))
    };
    let only_pool = "has(site.permit) && site.permit in ['pool']";
    let not_fence = "!has(site.permit) || !(site.permit in ['fence'])";
    let (pool, fence) = ("permit = \"pool\"", "permit = \"fence\"");
    let (missing, other) = ("1 t/gap missing required", "- t/gap not applicable required");
    for (permit, when, expected) in [
        (pool, only_pool, missing),
        (fence, only_pool, other),
        ("", only_pool, other),
        (pool, not_fence, missing),
        (fence, not_fence, other),
        ("", not_fence, missing),
        // Without a permit it cannot be told whether the row is asked, nor what it would be measured to.
        ("", "site.permit == 'pool'", missing),
    ] {
        assert_eq!(asked(permit, when), [expected], "{permit} {when}");
    }
}

/// The sheet is on every plan, and a row names it or does not see it.
#[test]
fn the_sheet_is_asked_by_its_kind() {
    let row = rule(
        "said",
        "check = \"ruler/stated\"\nsubject = { kind = \"sheet\" }\nwith = { fact = \"seal\" }\nlimit = { holds = true }",
    );
    check(&reviewed(&plan(""), &row), 1, &["1 t/said:sheet missing required"]);
    check(&reviewed(&plan("[sheet]\nseal = true"), &row), 0, &["- t/said:sheet meets required"]);
    check(&reviewed(&plan("[sheet]\nseal = false"), &row), 1, &["1 t/said:sheet fails required"]);
}
