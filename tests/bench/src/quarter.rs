//! A quarter of equal lots with a house on each, and the question how far each house stays from its lot's lines.

use std::collections::BTreeMap;
use std::fmt::Write;

use groundrule_plan::{KindTree, Source, read_plan};
use groundrule_sandbox::Task;
use groundrule_site::{FeatureId, Site};
use groundrule_survey::resolve;

/// Lots side by side in one row.
const ROW: usize = 50;

/// The plan of a quarter with so many lots, every place read to 20 mm.
pub fn plan(lots: usize) -> String {
    let mut text = String::from(
        "[site]\nname = \"Quarter\"\nunits = \"m\"\nby = \"survey\"\n\n[accuracy]\nsurvey = \"20 mm\"\n",
    );
    for i in 0..lots {
        let (x, y) = (20 * (i % ROW), 40 * (i / ROW));
        // Writing to a text cannot fail.
        let _ = write!(
            text,
            "\n[[lot]]\nid = \"lot-{i}\"\ncorners = [[{x}, {y}], [{}, {y}], [{}, {}], [{x}, {}]]\n\
             names = [\"sw\", \"se\", \"ne\", \"nw\"]\n\
             sides = {{ sw-se = {{ role = \"front\" }}, se-ne = {{ role = \"side\" }}, ne-nw = {{ role = \"rear\" }}, \
             nw-sw = {{ role = \"side\" }} }}\n",
            x + 20,
            x + 20,
            y + 40,
            y + 40,
        );
        let (left, low) = (x + 3 + i % 4, y + 8 + i % 7);
        let _ = write!(
            text,
            "\n[[feature]]\nid = \"house-{i}\"\nkind = \"dwelling\"\nstatus = \"existing\"\neave = \"0.5 m\"\n\
             outline = [[{left}, {low}], [{}, {low}], [{}, {}], [{left}, {}]]\n",
            left + 11,
            left + 11,
            low + 9,
            low + 9,
        );
    }
    text
}

/// The site of a quarter.
///
/// # Errors
/// The faults of the plan, in words; [`plan`] gives none.
pub fn site(lots: usize) -> Result<Site, String> {
    let source = Source { name: "quarter.toml".to_owned(), text: plan(lots).into() };
    let plan = read_plan(&source).map_err(|faults| format!("{faults:?}"))?;
    let (layout, _) = resolve(&plan).map_err(|faults| format!("{faults:?}"))?;
    Ok(Site::build(&plan, &layout, KindTree::standard()).0)
}

/// Every house to every line of its lot.
pub fn yards(site: &Site) -> Task {
    let of = |kind: &str| -> Vec<FeatureId> {
        site.features().filter(|(_, feature)| feature.kind == kind).map(|(id, _)| id).collect()
    };
    Task {
        check: "lot-line-distance".to_owned(),
        rule: "bench".to_owned(),
        subjects: of("dwelling"),
        groups: BTreeMap::from([("lines".to_owned(), of("lot-line"))]),
        parameters: BTreeMap::new(),
    }
}
