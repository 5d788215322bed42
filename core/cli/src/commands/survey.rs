//! `groundrule survey`: the measured points, and what is the matter with the measurements.

use groundrule_report::terminal;

use crate::args::Survey;
use crate::input;
use crate::output::{self, Output};
use crate::trouble::{Exit, Trouble};

/// Lists the points of a plan with their plus-or-minus.
pub(crate) fn run(args: &Survey, output: &mut Output) -> Result<Exit, Trouble> {
    let loaded = input::load(&args.plan.file, &args.plan.import)?;
    let style = input::style(&args.plan.units, &loaded.plan);
    let surveyed =
        terminal::Surveyed { plan: &loaded.plan, layout: &loaded.layout, remarks: &loaded.remarks, style };
    output.print(&terminal::survey(&surveyed, output::width()))?;
    Ok(Exit::Clear)
}
