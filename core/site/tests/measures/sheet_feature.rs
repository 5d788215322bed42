//! The sheet as a feature: what it states, and what follows from that and from the drawing.

use groundrule_plan::{KindTree, Source, read_plan};
use groundrule_site::{Fact, Feature, Site};
use groundrule_survey::{Shape, resolve};
use groundrule_units::Dimension;

/// The site of a plan in feet with these lines under `[site]`, and these tables.
fn site(of_site: &str, tables: &str) -> Site {
    let text = format!("[site]\nname = \"Heron Lane\"\nunits = \"ft\"\n{of_site}\n{tables}\n");
    let source = Source { name: "heron-lane.toml".to_owned(), text: text.into() };
    let plan = read_plan(&source).unwrap_or_else(|faults| panic!("{faults:?}"));
    let (layout, _) = resolve(&plan).unwrap_or_else(|faults| panic!("{faults:?}"));
    Site::build(&plan, &layout, KindTree::standard()).0
}

fn sheet(site: &Site) -> &Feature {
    let sheets: Vec<&Feature> =
        site.features().map(|(_, feature)| feature).filter(|feature| feature.kind == "sheet").collect();
    assert_eq!(sheets.len(), 1, "a plan has one sheet");
    sheets[0]
}

/// A fact in words: feet to a hundredth and degrees to a tenth, with the plus-or-minus at 95 % where there is one.
fn fact(site: &Site, name: &str) -> String {
    match sheet(site).facts.get(name) {
        None => "not stated".to_owned(),
        Some(Fact::Text(text)) => text.clone(),
        Some(Fact::Flag(flag)) => flag.to_string(),
        Some(Fact::Count(count)) => count.to_string(),
        Some(Fact::Amounts(amounts)) => format!("{} amounts", amounts.len()),
        Some(Fact::Amount(amount)) => {
            let (scale, unit) = match amount.value().dimension() {
                Dimension::Length => (1.0 / 0.3048, "ft"),
                Dimension::Angle => (1.0_f64.to_degrees(), "deg"),
                _ => (1.0, ""),
            };
            let around = 1.959_964 * amount.spread().si() * scale + 0.0;
            format!("{:.2} +- {around:.3} {unit}", amount.value().si() * scale)
        }
    }
}

#[track_caller]
fn check(of_site: &str, tables: &str, facts: &[(&str, &str)]) {
    let site = site(of_site, tables);
    for (name, expected) in facts {
        assert_eq!(fact(&site, name), *expected, "{name} of {tables}");
    }
}

#[test]
fn it_is_there_whatever_the_plan_says() {
    let site = site("", "");
    let sheet = sheet(&site);
    assert_eq!((sheet.id.0.as_str(), &sheet.shape, sheet.lot), ("sheet", &Shape::Absent, None));
    assert!(sheet.facts.is_empty(), "{:?}", sheet.facts);
    assert!(site.is_empty(), "a sheet alone is nothing on a site");
}

#[test]
fn a_thing_of_the_same_name_keeps_it() {
    let site = site("", "[[feature]]\nid = \"sheet\"\nkind = \"tree\"\nstatus = \"existing\"");
    let found = site.find("sheet").and_then(|id| site.feature(id)).expect("the tree");
    assert_eq!(found.kind, "tree");
}

#[test]
fn what_is_stated_is_a_fact() {
    check(
        "",
        "[sheet]\ndate = 2026-04-18\nscale = \"1 in = 20 ft\"\nsize = [\"24 in\", \"18 in\"]\nlegend = true\nright_of_way = 60",
        &[
            ("date", "2026-04-18"),
            ("scale", "1 in = 20 ft"),
            ("sheet_size", "24 in x 18 in"),
            ("legend", "true"),
            ("right_of_way", "60.00 +- 0.000 ft"),
            ("inch_stated", "20.00 +- 0.000 ft"),
            ("inch_printed", "not stated"),
            ("arrow_off_north", "not stated"),
        ],
    );
}

#[test]
fn the_scale_of_the_print_is_as_good_as_the_ruler() {
    let checked =
        |more: &str| format!("[sheet]\nchecked = {{ true = \"100 ft\", on_paper = \"6.25 in\"{more} }}");
    // 1/32 in of 6.25 in are 0.5 %, and 0.5 % of 16 ft are 0.08 ft.
    check(
        "",
        &checked(""),
        &[("inch_printed", "16.00 +- 0.080 ft"), ("checked", "100 ft is 6.25 in on paper")],
    );
    check("", &checked(", by = { plus_minus = \"1/8 in\" }"), &[("inch_printed", "16.00 +- 0.320 ft")]);
    check("", &checked(", by = \"design\""), &[("inch_printed", "16.00 +- 0.000 ft")]);
    let own = format!("[accuracy]\nruler = \"1/16 in\"\n\n{}", checked(""));
    check("", &own, &[("inch_printed", "16.00 +- 0.160 ft")]);
}

#[test]
fn the_arrow_is_held_against_north() {
    for (north, arrow, expected) in [
        ("up", "up", "0.00 +- 0.000 deg"),
        ("up", "left", "90.00 +- 0.000 deg"),
        ("up is N 4°30' E", "left", "85.50 +- 0.000 deg"),
        ("170 deg clockwise of up", "170 deg counterclockwise of up", "20.00 +- 0.000 deg"),
        ("down", "up", "180.00 +- 0.000 deg"),
    ] {
        let of_site = format!("north = \"{north}\"");
        check(&of_site, &format!("[sheet]\narrow = \"{arrow}\""), &[("arrow_off_north", expected)]);
    }
    check("", "[sheet]\narrow = \"up\"", &[("arrow", "up"), ("arrow_off_north", "not stated")]);
}

#[test]
fn what_is_declared_is_said_and_what_is_not_known_is_not() {
    check(
        "",
        "[declared]\nwells = \"none\"\neasements = { presence = \"shown\", said_by = \"owner\" }\npool = \"unknown\"",
        &[
            ("declared.wells", "none"),
            ("declared.easements", "shown"),
            ("declared.pool", "not stated"),
            ("declared.septic", "not stated"),
        ],
    );
}

#[test]
fn bearings_and_levels_are_counted() {
    check("", "", &[("bearings", "not stated"), ("levels", "not stated")]);
    check(
        "north = \"up\"\nby = \"survey\"",
        "[points]\na = [0, 0]\nbm = [5, 5]\n\n[[traverse]]\nfrom = \"a\"\ncalls = [{ to = \"b\", bearing = \"N 45° E\", distance = \"50 ft\" }, \
         { to = \"c\", bearing = \"due north\", distance = \"20 ft\" }]\n\n[[level]]\npoint = \"bm\"\nheight = \"100 ft\"\n\n\
         [[feature]]\nid = \"sill\"\nkind = \"spot-level\"\nat = [1, 1]\nlevel = \"100.5 ft\"",
        &[("bearings", "2"), ("levels", "2")],
    );
    // Of the ground at corners and points, one for a contour, and of a benchmark; what follows from them is not counted.
    check(
        "by = \"survey\"",
        "[points]\noak = [5, 5]\n\n[ground]\nlevels = { oak = [\"EG 99\", \"FG 100\"] }\n\n\
         [[feature]]\nid = \"bm\"\nkind = \"benchmark\"\nat = [1, 1]\nlevel = \"BM 100\"\n\n\
         [[feature]]\nid = \"c\"\nkind = \"contour\"\nline = [[1, 1], [4, 9], [9, 9]]\nlevel = \"EG 100\"\n\n\
         [[feature]]\nid = \"walk\"\nkind = \"walk\"\nline = [[1, 1], [4, 9], [9, 9]]\nlevels = [100, \"-\", 101]",
        &[("levels", "6")],
    );
}
