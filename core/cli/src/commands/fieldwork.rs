//! `groundrule fieldwork`: what to take in the field, as a list or as a sheet to take along.

use std::path::Path;

use groundrule_plan::KindTree;
use groundrule_report::{fieldsheet, terminal};

use crate::args::Fieldwork;
use crate::judged::judge;
use crate::output::{self, Output};
use crate::trouble::{Exit, Trouble};
use crate::{engine, files, input};

/// The kinds of file.
#[derive(Clone, Copy)]
enum Kind {
    Page,
    Sketch,
}

/// Lists what to take, or writes the sheet when a file is named.
pub(crate) fn run(args: &Fieldwork, output: &mut Output) -> Result<Exit, Trouble> {
    let file = args.write.as_deref().map(|file| kind(file).map(|kind| (file, kind))).transpose()?;
    let packs = engine::packs(&args.packs.packs, &KindTree::standard())?;
    let loaded = input::load(&args.plan.file, &args.plan.import)?;
    let modules = engine::modules(&packs, &args.sandbox, loaded.site.len())?;
    let style = input::style(&args.plan.units, &loaded.plan);
    let judged = judge(loaded, &args.judging, style, &packs, &modules);
    let report = judged.report();
    match file {
        None => output.print(&terminal::fieldwork(&report, output::width()))?,
        Some((file, kind)) => {
            let text = match kind {
                Kind::Page => fieldsheet::page(&report),
                Kind::Sketch => fieldsheet::sketch(&report),
            };
            files::write(file, text.as_bytes())?;
            output.tell(&format!("Wrote {}.", file.display()));
        }
    }
    // Things to take are no fault of the plan; a stopped module leaves some of them out.
    Ok(if judged.exit() == Exit::Tool { Exit::Tool } else { Exit::Clear })
}

fn kind(file: &Path) -> Result<Kind, Trouble> {
    match file.extension().and_then(|ending| ending.to_str()).map(str::to_ascii_lowercase).as_deref() {
        Some("html" | "htm") => Ok(Kind::Page),
        Some("svg") => Ok(Kind::Sketch),
        _ => Err(Trouble::input(
            format!("{} is no field sheet.", file.display()),
            "Let its name end in .html, or in .svg for the sketch alone.",
        )),
    }
}
