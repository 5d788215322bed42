//! `groundrule rules`: the rules of the packs in force, or the packs themselves.

use groundrule_plan::KindTree;
use groundrule_report::terminal;

use crate::args::Rules;
use crate::engine;
use crate::output::{self, Output};
use crate::trouble::{Exit, Trouble};

/// Lists rules or packs.
pub(crate) fn run(args: &Rules, output: &mut Output) -> Result<Exit, Trouble> {
    let kinds = KindTree::standard();
    let text = if args.list_packs {
        let names: Vec<String> = groundrule_rules::packs().iter().map(|pack| pack.name.to_owned()).collect();
        terminal::packs(&engine::packs(&names, &kinds)?, output::width())
    } else {
        terminal::rules(&engine::packs(&args.packs.packs, &kinds)?, output::width())
    };
    output.print(&text)?;
    Ok(Exit::Clear)
}
