//! The site built from a plan and its layout.

use groundrule_plan::{Attribute, Gravity, Name, Role, Status};
use groundrule_site::{Fact, Measured};
use groundrule_survey::Shape;
use groundrule_units::{Length, Mark, Written};

use crate::sheet::{Built, Sheet, at, attribute, metres, standing};

fn two_lots() -> Sheet {
    let mut sheet = Sheet::new();
    let roles = [Some(Role::Front), Some(Role::StreetSide), Some(Role::Rear), None];
    sheet.lot("west", &[[0.0, 0.0], [20.0, 0.0], [20.0, 30.0], [0.0, 30.0]], &roles, 0.05);
    sheet.lot("east", &[[20.0, 0.0], [50.0, 0.0], [50.0, 30.0], [35.0, 12.0], [20.0, 30.0]], &[], 0.05);
    sheet
}

fn lot_of(built: &Built, name: &str) -> Option<String> {
    let lot = built.site.feature(built.id(name))?.lot?;
    built.site.feature(lot).map(|lot| lot.id.0.clone())
}

#[test]
fn features_come_first_and_each_lot_with_its_lines() {
    let mut sheet = two_lots();
    sheet.spot("oak", [1.0, 1.0], 0.0);
    sheet.outline("shed", &[[1.0, 1.0], [3.0, 1.0], [3.0, 3.0]], 0.0);
    let built = sheet.build();
    let ids: Vec<&str> = built.site.features().map(|(_, feature)| feature.id.0.as_str()).collect();
    assert_eq!(
        ids,
        [
            "oak", "shed", "west", "west.a-b", "west.b-c", "west.c-d", "west.d-a", "east", "east.a-b",
            "east.b-c", "east.c-d", "east.d-e", "east.e-a", "sheet"
        ]
    );
    assert_eq!(built.site.len(), 14);
    let lots: Vec<_> = built.site.lots().collect();
    assert_eq!(lots, [built.id("west"), built.id("east")]);
    let lines: Vec<_> = built.site.lines_of(lots[1]).filter_map(|id| built.site.feature(id)).collect();
    assert_eq!(lines.len(), 5);
    assert!(lines.iter().all(|line| line.kind == "lot-line" && line.lot == Some(lots[1])));
    assert_eq!(built.site.lines_of(built.id("oak")).count(), 0);
    assert_eq!(built.site.lines_of(built.id("west.a-b")).count(), 0);
    assert_eq!(built.site.find("elm"), None);
}

#[test]
fn lot_lines_state_what_they_are() {
    let mut sheet = two_lots();
    sheet.layout.lots[0].sides[1].assumed = true;
    let built = sheet.build();
    for (name, fact, expected) in [
        ("west.a-b", "role", Some(Fact::Text("front".to_owned()))),
        ("west.a-b", "street", Some(Fact::Text("Alder Row".to_owned()))),
        ("west.a-b", "assumed", Some(Fact::Flag(false))),
        ("west.b-c", "role", Some(Fact::Text("street_side".to_owned()))),
        ("west.b-c", "assumed", Some(Fact::Flag(true))),
        ("west.b-c", "street", None),
        ("west.d-a", "role", None),
    ] {
        let feature = built.site.feature(built.id(name)).unwrap();
        assert_eq!(feature.facts.get(fact), expected.as_ref(), "{fact} of {name}");
    }
    let title = |name| built.site.feature(built.id(name)).unwrap().title.clone();
    assert_eq!(title("west.a-b"), "front lot line a-b of west along Alder Row");
    assert_eq!(title("west.b-c"), "street side lot line b-c of west");
    assert_eq!(title("west.d-a"), "lot line d-a of west");
}

#[test]
fn attributes_become_facts() {
    let mut sheet = two_lots();
    let gate = sheet.line("gate", &[[1.0, 1.0], [2.0, 1.0]], 0.0, 0.0);
    let written = Written { value: Length::from_inches(36.0), text: "36\"".to_owned(), mark: Mark::Plain };
    attribute(gate, "clear-opening", Attribute::Length(written));
    attribute(gate, "leaves", Attribute::Count(2));
    attribute(gate, "self-closing", Attribute::Flag(true));
    attribute(gate, "material", Attribute::Text("cedar".to_owned()));
    standing(gate, Status::Proposed);
    let built = sheet.build();
    let facts = &built.site.feature(built.id("gate")).unwrap().facts;
    let names: Vec<&str> = facts.keys().map(String::as_str).collect();
    assert_eq!(names, ["clear-opening", "leaves", "material", "self-closing", "status"]);
    assert_eq!(facts.get("clear-opening"), Some(&Fact::Amount(Box::new(Measured::exact(metres(0.9144))))));
    assert_eq!(facts.get("leaves"), Some(&Fact::Count(2)));
    assert_eq!(facts.get("self-closing"), Some(&Fact::Flag(true)));
    assert_eq!(facts.get("status"), Some(&Fact::Text("proposed".to_owned())));
    assert_eq!(facts.get("colour"), None);
}

#[test]
fn a_thing_stands_on_the_lot_that_holds_most_of_it() {
    let mut sheet = two_lots();
    sheet.outline("inside", &[[1.0, 1.0], [3.0, 1.0], [3.0, 3.0]], 0.1);
    sheet.outline("mostly west", &[[15.0, 1.0], [22.0, 1.0], [22.0, 3.0], [15.0, 3.0]], 0.1);
    sheet.outline("half and half", &[[18.0, 1.0], [22.0, 1.0], [22.0, 3.0], [18.0, 3.0]], 0.1);
    sheet.outline("street", &[[-5.0, -9.0], [50.0, -9.0], [50.0, -1.0], [-5.0, -1.0]], 0.1);
    // All its corners are on the east lot, which is notched; most of it is not.
    sheet.outline("over the notch", &[[21.0, 26.0], [49.0, 26.0], [49.0, 28.0], [21.0, 28.0]], 0.1);
    sheet.line("fence", &[[19.0, 5.0], [30.0, 5.0]], 0.0, 0.1);
    sheet.line("walk", &[[1.0, 5.0], [5.0, 5.0], [5.0, 10.0]], 1.2, 0.1);
    sheet.spot("post", [40.0, 3.0], 0.1);
    sheet.spot("post in the notch", [35.0, 20.0], 0.1);
    sheet.disc("oak", [19.0, 9.0], 4.0, 0.1);
    sheet.add("septic", Shape::Absent);
    let built = sheet.build();
    for (name, expected) in [
        ("inside", Some("west")),
        ("mostly west", Some("west")),
        ("half and half", None),
        ("street", None),
        ("over the notch", None),
        ("fence", Some("east")),
        ("walk", Some("west")),
        ("post", Some("east")),
        ("post in the notch", None),
        ("oak", Some("west")),
        ("septic", None),
        ("west", Some("west")),
        ("east.b-c", Some("east")),
    ] {
        assert_eq!(lot_of(&built, name).as_deref(), expected, "{name}");
    }
    assert!(built.remarks.is_empty());
}

#[test]
fn the_stated_lot_holds_and_a_doubt_is_said() {
    let mut sheet = two_lots();
    sheet.outline("shed", &[[1.0, 1.0], [3.0, 1.0], [3.0, 3.0]], 0.1).lot = Some(at(Name("east".to_owned())));
    sheet.outline("street", &[[1.0, -1.0], [3.0, -1.0], [3.0, -3.0]], 0.1).lot =
        Some(at(Name("east".to_owned())));
    let built = sheet.build();
    assert_eq!(lot_of(&built, "shed").as_deref(), Some("east"));
    assert_eq!(lot_of(&built, "street").as_deref(), Some("east"));
    let [remark] = built.remarks.as_slice() else { panic!("{:?}", built.remarks) };
    assert_eq!((remark.code, remark.gravity), ("data::other-lot", Gravity::Suspect));
    assert_eq!(remark.message, "shed is said to be on east, but most of it stands on west");
}

#[test]
fn what_is_only_stated_stands_on_the_only_lot() {
    let mut sheet = Sheet::new();
    sheet.lot("lot", &[[0.0, 0.0], [20.0, 0.0], [20.0, 30.0], [0.0, 30.0]], &[], 0.05);
    sheet.add("septic", Shape::Absent);
    let built = sheet.build();
    assert_eq!(lot_of(&built, "septic").as_deref(), Some("lot"));
    let title = built.site.feature(built.id("lot.a-b")).unwrap().title.clone();
    assert_eq!(title, "lot line a-b");
}

#[test]
fn a_layout_that_lacks_shapes_builds_all_the_same() {
    let mut sheet = two_lots();
    sheet.spot("oak", [1.0, 1.0], 0.0);
    sheet.layout.shapes.clear();
    sheet.layout.lots.pop();
    let built = sheet.build();
    assert_eq!(built.site.lots().count(), 2);
    assert_eq!(built.distance("oak", "east").needs.len(), 2);
}

#[test]
fn nothing_at_all() {
    let built = Sheet::new().build();
    assert!(built.site.is_empty() && built.remarks.is_empty());
    assert!(built.site.near(&[], &[], metres(1.0)).is_empty());
}
