//! The packs inside the program read without a fault, and every row asks a check for what it takes.

#![allow(clippy::panic, reason = "helpers of tests")]

mod registered;

use groundrule_kit::Info;
use groundrule_packs::{Pack, read_pack};
use groundrule_plan::{KindTree, Source};
use groundrule_rules::BuiltInPack;
use registered::registered;

fn read(built_in: &BuiltInPack) -> Pack {
    let source = Source { name: built_in.file.to_owned(), text: built_in.text.into() };
    read_pack(&source, &KindTree::standard()).unwrap_or_else(|faults| panic!("{}: {faults:?}", built_in.file))
}

fn info(check: &str) -> Info {
    let (module, name) = check.split_once('/').unwrap_or_else(|| panic!("`{check}` names no module"));
    let found = registered().into_iter().find(|(known, _)| *known == module);
    let checks = found.unwrap_or_else(|| panic!("no module {module}")).1;
    *checks.iter().find(|info| info.name == name).unwrap_or_else(|| panic!("no check {check}"))
}

#[test]
fn a_pack_is_named_as_its_folder() {
    let names: Vec<&str> = groundrule_rules::packs().iter().map(|pack| pack.name).collect();
    assert_eq!(
        names,
        [
            "common-practice",
            "fire",
            "grading",
            "lot-practice",
            "stormwater",
            "submittal",
            "tern-hollow",
            "water-and-septic"
        ]
    );
    for built_in in groundrule_rules::packs() {
        assert_eq!(read(built_in).name, built_in.name);
    }
}

#[test]
fn every_row_asks_a_check_for_what_it_takes() {
    for built_in in groundrule_rules::packs() {
        for row in &read(built_in).rows {
            let info = info(&row.check);
            let at = format!("{}:{} {}", built_in.file, row.provenance.line, row.id.0);
            let groups: Vec<&str> = row.against.keys().map(String::as_str).collect();
            assert_eq!(groups, info.groups, "{at}: groups of {}", row.check);
            for name in row.with.keys() {
                let taken = info.parameters.iter().any(|parameter| parameter.name == name);
                assert!(taken, "{at}: {} takes no parameter `{name}`", row.check);
            }
        }
    }
}

#[test]
fn every_check_is_asked_by_a_row() {
    let asked: Vec<String> = groundrule_rules::packs()
        .iter()
        .flat_map(|built_in| read(built_in).rows.into_iter().map(|row| row.check))
        .collect();
    for (module, checks) in registered() {
        for check in checks {
            let name = format!("{module}/{}", check.name);
            assert!(asked.contains(&name), "no row asks {name}");
        }
    }
}
