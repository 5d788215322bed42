//! `groundrule draw`: the plan as a drawing, without a review.

use groundrule_report::drawing;

use crate::args::Draw;
use crate::output::{self, Output};
use crate::trouble::{Exit, Trouble};
use crate::{files, input};

/// Draws a plan to a file or to standard output.
pub(crate) fn run(args: &Draw, output: &mut Output) -> Result<Exit, Trouble> {
    if let Some(file) = &args.write
        && file.extension().is_none_or(|ending| !ending.eq_ignore_ascii_case("svg"))
    {
        return Err(Trouble::input(
            format!("{} is no drawing.", file.display()),
            "Let its name end in .svg.",
        ));
    }
    let loaded = input::load(&args.plan.file, &args.plan.import)?;
    let style = input::style(&args.plan.units, &loaded.plan);
    let svg = if args.drawn.error_figures {
        drawing::plan_with_errors(&loaded.plan, &loaded.layout, &loaded.site, style)
    } else {
        drawing::plan(&loaded.plan, &loaded.site, style)
    };
    match &args.write {
        Some(file) => {
            files::write(file, svg.as_bytes())?;
            output.tell(&format!("Wrote {}.", file.display()));
        }
        None => output::print_raw(svg.as_bytes())?,
    }
    Ok(Exit::Clear)
}
