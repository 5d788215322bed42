//! A lot as levelled for a grading plan: a house, a drive, a swale and two hundred levels, as the text of a plan file.

use std::fmt::Write as _;

/// How many spot levels it has, besides those at corners.
pub const LEVELS: usize = 200;

const HEAD: &str = r#"[site]
name = "Levelled lot, Tern Hollow"
units = "ft"
north = "up"
by = "tape"

[ground]
datum = "100.00 on the step"
by = "builders_level"

[lot]
corners = [[0, 0], [80, 0], [80, 130], [0, 130]]
names = ["sw", "se", "ne", "nw"]
sides = { sw-se = { role = "front" }, se-ne = { role = "side" }, ne-nw = { role = "rear" }, nw-sw = { role = "side" } }

[[feature]]
id = "house"
kind = "dwelling"
status = "existing"
outline = [[20, 40], [60, 40], [60, 70], [20, 70]]
levels = [100.2, 100.1, 100.3, 100.4]

[[feature]]
id = "drive"
kind = "drive"
status = "existing"
line = [[66, 0], [66, 60]]
width = "10 ft"

[[feature]]
id = "swale"
kind = "swale"
status = "proposed"
line = [[10, 120], [8, 2]]
levels = ["FL 99.4", "FL 97.6"]
"#;

/// The text of the plan. Always the same: ground that falls to the street, a little uneven.
pub fn plan() -> String {
    let mut text = String::from(HEAD);
    let cells = (0..20).flat_map(|row| (0..14).map(move |column| (column, row)));
    let open = cells.filter(|(column, row)| !((3..11).contains(column) && (6..12).contains(row)));
    for (number, (column, row)) in open.take(LEVELS).enumerate() {
        let (x, y) = (1.0 + 6.0 * f64::from(column), 1.0 + 6.6 * f64::from(row));
        let uneven = f64::from((column * 7 + row * 11) % 5) * 0.04;
        let _ = writeln!(
            text,
            "[[feature]]\nid = 's{number}'\nkind = 'spot-level'\nat = [{x}, {y:.1}]\nlevel = {:.2}",
            97.5 + 0.02 * y + uneven
        );
    }
    text
}

#[cfg(test)]
mod tests {
    use groundrule_plan::{KindTree, Source, read_plan};
    use groundrule_site::Site;
    use groundrule_survey::{Surface, resolve};

    #[test]
    fn it_has_both_surfaces() {
        let source = Source { name: "levelled.toml".to_owned(), text: super::plan().into() };
        let plan = read_plan(&source).unwrap_or_else(|faults| panic!("{faults}"));
        let (layout, _) = resolve(&plan).unwrap_or_else(|faults| panic!("{faults}"));
        let (site, _) = Site::build(&plan, &layout, KindTree::standard());
        for which in [Surface::Existing, Surface::Proposed] {
            let ground = site.ground(which).expect("a surface");
            assert!(ground.tin().vertices().len() > super::LEVELS, "{which:?}");
        }
    }
}
