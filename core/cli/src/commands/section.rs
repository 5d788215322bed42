//! `groundrule section`: the ground along a line, as a drawing.

use groundrule_report::section::{View, svg};

use crate::args::Section;
use crate::output::{self, Output};
use crate::trouble::{Exit, Trouble};
use crate::{files, input, line};

/// Draws a section to a file or to standard output.
pub(crate) fn run(args: &Section, output: &mut Output) -> Result<Exit, Trouble> {
    if let Some(file) = &args.write
        && file.extension().is_none_or(|ending| !ending.eq_ignore_ascii_case("svg"))
    {
        return Err(Trouble::input(
            format!("{} is no drawing.", file.display()),
            "Let its name end in .svg.",
        ));
    }
    let loaded = input::load(&args.plan.file, &args.plan.import)?;
    let line = line::find(&args.line, &loaded)?;
    let section = loaded.site.section(&line.path).map_err(|need| {
        Trouble::input(
            format!("There is no section along {}: the plan lacks {}.", line.name, need.what),
            format!("To draw one, {}.", need.how),
        )
    })?;
    let view = View {
        plan: &loaded.plan,
        site: &loaded.site,
        section: &section,
        name: &line.name,
        ends: (&line.ends.0, &line.ends.1),
        style: input::style(&args.plan.units, &loaded.plan),
    };
    let svg = svg(&view);
    match &args.write {
        Some(file) => {
            files::write(file, svg.as_bytes())?;
            output.tell(&format!("Wrote {}.", file.display()));
        }
        None => output::print_raw(svg.as_bytes())?,
    }
    Ok(Exit::Clear)
}
