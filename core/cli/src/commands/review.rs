//! `groundrule review`: plans against packs, to a verdict each.

use std::path::Path;

use groundrule_formats::geojson::Marked;
use groundrule_plan::KindTree;
use groundrule_report::{Report, drawing, html, json, terminal};

use crate::args::Review;
use crate::engine;
use crate::input;
use crate::judged::{Judged, judge};
use crate::output::{self, Output};
use crate::trouble::{Exit, Trouble};
use crate::{files, gravest};

/// Reviews every plan; a plan that cannot be used does not stop the others.
pub(crate) fn run(args: &Review, output: &mut Output) -> Result<Exit, Trouble> {
    if args.plans.len() > 1
        && !args.write.is_empty()
        && !args.write.iter().all(|file| kind(file) == Some(Kind::Json))
    {
        return Err(Trouble::input(
            "Several plans cannot go into one report file.",
            "Review them one at a time, or write JSON, which holds them all.",
        ));
    }
    for file in &args.write {
        kind(file).ok_or_else(|| {
            Trouble::input(
                format!("{} does not say what kind of report to write.", file.display()),
                "Let its name end in .html, .json, .svg, .geojson or .txt.",
            )
        })?;
    }
    let packs = engine::packs(&args.packs.packs, &KindTree::standard())?;
    let progress = progress(args);

    let mut exits = Vec::new();
    let mut plans = Vec::new();
    for path in &args.plans {
        progress.set_message(path.display().to_string());
        match input::load(path, &args.import) {
            Ok(loaded) => plans.push(loaded),
            Err(trouble) => {
                progress.suspend(|| output.trouble(&trouble));
                exits.push(trouble.exit());
            }
        }
    }
    // What a module may use grows with the largest plan it is asked about.
    let features = plans.iter().map(|loaded| loaded.site.len()).max().unwrap_or(0);
    let modules = engine::modules(&packs, &args.sandbox, features)?;
    let mut done = Vec::new();
    for loaded in plans {
        progress.set_message(loaded.plan.site.name.clone());
        let style = input::style(&args.units, &loaded.plan);
        let mut result = judge(loaded, &args.judging, style, &packs, &modules);
        result.error_figures = args.drawn.error_figures;
        exits.push(result.exit());
        done.push(result);
        progress.inc(1);
    }
    progress.finish_and_clear();

    let reports: Vec<Report<'_>> = done.iter().map(Judged::report).collect();
    if args.json {
        output::print_raw(json::v1::reports(&reports).as_bytes())?;
    } else {
        for report in &reports {
            output.print(&terminal::review(report, output::width(), args.all))?;
        }
    }
    for file in &args.write {
        write(file, &reports, &done)?;
        if !args.quiet {
            output.tell(&format!("Wrote {}.", file.display()));
        }
    }
    // The program ends here: to free a whole town piece by piece would only take time.
    std::mem::forget(done);
    Ok(gravest(exits))
}

/// The kinds of report file.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Html,
    Json,
    Svg,
    GeoJson,
    Text,
}

fn kind(file: &Path) -> Option<Kind> {
    match file.extension()?.to_str()?.to_ascii_lowercase().as_str() {
        "html" | "htm" => Some(Kind::Html),
        "json" => Some(Kind::Json),
        "svg" => Some(Kind::Svg),
        "geojson" => Some(Kind::GeoJson),
        "txt" => Some(Kind::Text),
        _ => None,
    }
}

fn write(file: &Path, reports: &[Report<'_>], done: &[Judged]) -> Result<(), Trouble> {
    let Some(kind) = kind(file) else { return Ok(()) };
    if kind == Kind::Json {
        return files::write(file, json::v1::reports(reports).as_bytes());
    }
    let (Some(report), Some(one)) = (reports.first(), done.first()) else { return Ok(()) };
    let text = match kind {
        Kind::Html => html::page(report),
        Kind::Svg => drawing::review(report),
        Kind::GeoJson => geojson(one),
        Kind::Text => anstream::adapter::strip_str(&terminal::review(report, 80, true)).to_string(),
        Kind::Json => return Ok(()),
    };
    files::write(file, text.as_bytes())
}

/// The plan and its open findings as a map.
fn geojson(done: &Judged) -> String {
    let marked: Vec<Marked<'_>> = done
        .review
        .findings
        .iter()
        .filter(|finding| finding.number.is_some())
        .map(|finding| Marked {
            id: finding.id.0.clone(),
            properties: [
                ("verdict", finding.verdict.word().to_owned()),
                ("title", finding.title.to_string()),
                ("message", finding.message.clone()),
            ]
            .into_iter()
            .map(|(name, value)| (name.to_owned(), value))
            .collect(),
            marks: &finding.marks,
        })
        .collect();
    groundrule_formats::geojson::write(&done.loaded.plan, &done.loaded.layout, &done.loaded.site, &marked)
}

/// Progress over several plans, where somebody can see it.
fn progress(args: &Review) -> indicatif::ProgressBar {
    if args.quiet || args.plans.len() < 2 || !output::shows_progress() {
        return indicatif::ProgressBar::hidden();
    }
    let bar = indicatif::ProgressBar::new(args.plans.len() as u64);
    if let Ok(style) = indicatif::ProgressStyle::with_template("{pos}/{len} {bar:20} {msg}") {
        bar.set_style(style);
    }
    bar
}
