//! `groundrule why`: one rule explained, offline.

use groundrule_packs::{Pack, Row};
use groundrule_plan::KindTree;
use groundrule_report::terminal;

use crate::args::Why;
use crate::engine;
use crate::output::{self, Output};
use crate::trouble::{Exit, Trouble};

/// Explains a rule of the packs in force, or of any built-in pack when those do not have it.
pub(crate) fn run(args: &Why, output: &mut Output) -> Result<Exit, Trouble> {
    let kinds = KindTree::standard();
    let mut names = args.packs.packs.clone();
    names.extend(groundrule_rules::packs().iter().map(|pack| pack.name.to_owned()));
    let packs = engine::packs(&names, &kinds)?;
    let wanted = args.rule.as_str();
    let found: Vec<(&Pack, &Row)> = packs
        .iter()
        .flat_map(|pack| pack.rows.iter().map(move |row| (pack, row)))
        .filter(|(pack, row)| row.id.0 == wanted || format!("{}/{}", pack.name, row.id.0) == wanted)
        .collect();
    if found.is_empty() {
        return Err(unknown(wanted, &packs));
    }
    for (pack, row) in found {
        let (module, check) = row.check.split_once('/').unwrap_or((row.check.as_str(), ""));
        let doc = groundrule_rules::check_doc(module, check);
        output.print(&terminal::rule(pack, row, doc, output::width()))?;
    }
    Ok(Exit::Clear)
}

fn unknown(wanted: &str, packs: &[Pack]) -> Trouble {
    let all = packs.iter().flat_map(|pack| pack.rows.iter().map(|row| row.id.0.as_str()));
    let nearest = all.max_by(|a, b| {
        strsim::jaro_winkler(a, wanted).total_cmp(&strsim::jaro_winkler(b, wanted)).then_with(|| b.cmp(a))
    });
    let help = nearest.map_or_else(
        || "`groundrule rules` lists them all.".to_owned(),
        |id| format!("Did you mean `{id}`? `groundrule rules` lists them all."),
    );
    Trouble::input(format!("There is no rule `{wanted}` in these packs."), help)
}
