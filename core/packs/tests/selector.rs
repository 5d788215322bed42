//! Whom selectors choose, on an invented plan of a few features.

use std::sync::Arc;

use groundrule_packs::{Classed, Having, Pack, Selector, read_pack};
use groundrule_plan::{KindTree, Role, Source, Status, read_plan};
use groundrule_site::Site;

const PLAN: &str = r#"
[site]
name = "Selector"
units = "ft"

[accuracy]
tape = "1/2 in"

[lot]
corners = [[0, 0], [60, 0], [60, 100], [0, 100]]
names = ["sw", "se", "ne", "nw"]
sides = { sw-se = { role = "front" }, se-ne = { role = "side" }, ne-nw = { role = "rear" }, nw-sw = { role = "side" } }
by = "tape"

[[feature]]
id = "house"
kind = "dwelling"
status = "existing"
outline = [[10, 30], [50, 30], [50, 60], [10, 60]]
by = "tape"

[[feature]]
id = "shed"
kind = "shed"
status = "proposed"
outline = [[4, 88], [14, 88], [14, 96], [4, 96]]
height = "12 ft"
use = "tools"
by = "tape"

[[feature]]
id = "old-shed"
kind = "shed"
status = "remove"
outline = [[30, 88], [40, 88], [40, 96], [30, 96]]
by = "tape"

[[feature]]
id = "deck"
kind = "deck"
outline = [[20, 60], [40, 60], [40, 70], [20, 70]]
height_above_grade = "3 ft"
by = "tape"

[[feature]]
id = "fence"
kind = "fence"
status = "existing"
line = [[0.5, 60], [0.5, 99]]
solid = true
by = "tape"
"#;

#[allow(clippy::panic, reason = "the plan of this test is good, or the test is wrong")]
fn site() -> Site {
    let source = Source { name: "plan.toml".to_owned(), text: Arc::from(PLAN) };
    let plan = read_plan(&source).unwrap_or_else(|faults| panic!("{faults}"));
    let (layout, _) = groundrule_survey::resolve(&plan).unwrap_or_else(|faults| panic!("{faults}"));
    Site::build(&plan, &layout, KindTree::standard()).0
}

fn of(kinds: &[&str]) -> Selector {
    Selector { kinds: kinds.iter().map(|kind| (*kind).to_owned()).collect(), ..Selector::default() }
}

fn chosen(site: &Site, selector: &Selector, classes: &Classed) -> Vec<String> {
    let ids = selector.select(site, classes);
    ids.into_iter().filter_map(|id| site.feature(id)).map(|feature| feature.id.0.clone()).collect()
}

#[test]
fn selectors_choose() {
    let site = site();
    let check = |selector: Selector, expected: &[&str]| {
        assert_eq!(chosen(&site, &selector, &Classed::default()), expected, "{}", selector.words());
    };
    let having = |kind: &str, fact: &str, having: Having| Selector {
        having: [(fact.to_owned(), having)].into(),
        ..of(&[kind])
    };
    check(of(&["dwelling"]), &["house"]);
    // A kind chooses all below it; what is to be removed is left out, what has no status is taken.
    check(of(&["structure"]), &["house", "shed", "deck", "fence"]);
    check(of(&["fence", "shed"]), &["shed", "fence"]);
    check(
        Selector { except: vec!["attached-structure".to_owned()], ..of(&["structure"]) },
        &["house", "shed", "fence"],
    );
    check(Selector { status: vec![Status::Remove], ..of(&["shed"]) }, &["old-shed"]);
    check(Selector { status: vec![Status::Proposed], ..of(&["structure"]) }, &["shed", "deck"]);
    check(Selector { roles: vec![Role::Front], ..of(&["lot-line"]) }, &["lot.sw-se"]);
    check(
        Selector { roles: vec![Role::Side, Role::Rear], ..of(&["lot-line"]) },
        &["lot.se-ne", "lot.ne-nw", "lot.nw-sw"],
    );
    check(of(&["lot"]), &["lot"]);
    check(having("structure", "height", Having::Stated), &["shed"]);
    check(having("shed", "height", Having::Absent), &[]);
    check(having("shed", "use", Having::Text("tools".to_owned())), &["shed"]);
    check(having("shed", "use", Having::Text("sauna".to_owned())), &[]);
    check(having("fence", "solid", Having::Flag(true)), &["fence"]);
    check(having("fence", "solid", Having::Flag(false)), &[]);
}

#[test]
fn classes_choose() {
    let site = site();
    let raised = Selector { classes: vec!["raised-deck".to_owned()], ..of(&["deck"]) };
    let mut classes = Classed::default();
    assert!(chosen(&site, &raised, &classes).is_empty());
    for deck in of(&["deck"]).select(&site, &classes) {
        classes.put("raised-deck", deck);
    }
    assert_eq!(chosen(&site, &raised, &classes), ["deck"]);
    for deck in of(&["deck"]).select(&site, &classes) {
        classes.take("raised-deck", deck);
    }
    assert!(chosen(&site, &raised, &classes).is_empty());
}

/// The rows of a pack choose what their authors meant on the same plan.
#[test]
fn rows_of_the_sample_jurisdiction_choose() {
    let site = site();
    let text = include_str!("../../../rules/packs/tern-hollow/pack.toml");
    let source = Source { name: "tern-hollow".to_owned(), text: Arc::from(text) };
    let pack: Pack = read_pack(&source, site.kinds()).unwrap_or_else(|faults| panic!("{faults}"));
    let check = |id: &str, expected: &[&str]| {
        let row = pack.rows.iter().find(|row| row.id.0 == id).unwrap_or_else(|| panic!("{id}"));
        assert_eq!(chosen(&site, &row.subject, &Classed::default()), expected, "{id}");
    };
    check("front-yard", &["house", "shed"]);
    check("side-yard", &["house"]);
    check("accessory-yard", &["shed"]);
    check("tall-accessory-yard", &["shed"]);
    check("raised-deck-yard", &[]);
    check("building-coverage", &["lot"]);
    check("easement-clear", &["house", "shed", "deck", "fence"]);
}
