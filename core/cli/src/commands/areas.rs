//! `groundrule areas`: areas and lengths, with how well they are known.

use groundrule_report::terminal;

use crate::args::Areas;
use crate::output::{self, Output};
use crate::trouble::{Exit, Trouble};
use crate::{files, input};

/// Lists the areas of a plan, to a file as a table when one is named.
pub(crate) fn run(args: &Areas, output: &mut Output) -> Result<Exit, Trouble> {
    if let Some(file) = &args.write
        && file.extension().is_none_or(|ending| !ending.eq_ignore_ascii_case("csv"))
    {
        return Err(Trouble::input(format!("{} is no table.", file.display()), "Let its name end in .csv."));
    }
    let loaded = input::load(&args.plan, &args.import)?;
    if let Some(file) = &args.write {
        files::write(file, groundrule_formats::tables::areas_csv(&loaded.site).as_bytes())?;
        output.tell(&format!("Wrote {}.", file.display()));
    } else {
        let style = input::style(&args.units, &loaded.plan);
        output.print(&terminal::areas(&loaded.site, style, output::width()))?;
    }
    Ok(Exit::Clear)
}
