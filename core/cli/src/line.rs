//! A line across the plan, by the name of one that is drawn or by points joined by commas.

use groundrule_plan::reader::{nearest, quote};
use groundrule_survey::{Position, Shape};

use crate::input::Loaded;
use crate::trouble::Trouble;

/// A line and what to call it.
pub(crate) struct Line {
    /// Its places, from left to right of the section.
    pub(crate) path: Vec<Position>,
    /// What it is called in the title.
    pub(crate) name: String,
    /// What its ends are called.
    pub(crate) ends: (String, String),
}

/// Finds the line of a plan that somebody named.
pub(crate) fn find(written: &str, loaded: &Loaded) -> Result<Line, Trouble> {
    let line = if written.contains(',') { through(written, loaded)? } else { drawn(written.trim(), loaded)? };
    let first = line.path.first().copied();
    if line.path.iter().all(|at| Some(*at) == first) {
        return Err(Trouble::input(
            format!("The line along {} has no length: all its points are at one place.", line.name),
            "Name points that lie apart.",
        ));
    }
    Ok(line)
}

/// The line through points.
fn through(written: &str, loaded: &Loaded) -> Result<Line, Trouble> {
    let names: Vec<&str> = written.split(',').map(str::trim).collect();
    let named = &loaded.layout.named;
    let unknown: Vec<&str> = names.iter().copied().filter(|name| !named.contains_key(*name)).collect();
    if !unknown.is_empty() {
        let told = |name: &&str| {
            let near = nearest(name, named.keys().map(String::as_str));
            near.map(|near| format!("Did you mean {} for {}?", quote(near), quote(name)))
        };
        let mut help: Vec<String> = unknown.iter().filter_map(told).collect();
        help.push(
            "Points are those of `[points]` and the corners of things: `house.ne`, `lot.sw`. `groundrule survey` \
             lists what was measured."
                .to_owned(),
        );
        let list: Vec<String> = unknown.iter().map(|name| quote(name)).collect();
        let what = if let [one] = list.as_slice() {
            format!("The plan has no point {one}.")
        } else {
            format!("The plan has no points {}.", list.join(", "))
        };
        return Err(Trouble::input(what, help.join(" ")));
    }
    let path = names.iter().filter_map(|name| named.get(*name)).map(|point| point.at).collect();
    let (first, last) = (names.first().copied().unwrap_or(""), names.last().copied().unwrap_or(""));
    let name = names.join(" to ");
    Ok(Line { path, name, ends: (first.to_owned(), last.to_owned()) })
}

/// A line that the plan draws.
fn drawn(name: &str, loaded: &Loaded) -> Result<Line, Trouble> {
    const HOW: &str = "Name a line of the plan by its `id`, such as a `section-line`, or two or more points joined by commas: \
         `house.ne,lot.se`.";
    let site = &loaded.site;
    if let Some(feature) = site.find(name).and_then(|id| site.feature(id)) {
        let Shape::Line { path, .. } = &feature.shape else {
            return Err(Trouble::input(format!("{} is no line.", quote(name)), HOW));
        };
        let path = path.iter().map(|point| point.at).collect();
        // A section is often called by both its ends: `a-a`.
        let letters = name.split_once('-').filter(|(a, b)| a == b && a.chars().count() <= 2);
        let ends = letters.map_or_else(
            || ("start".to_owned(), "end".to_owned()),
            |(letter, _)| (letter.to_uppercase(), format!("{}′", letter.to_uppercase())),
        );
        return Ok(Line { path, name: name.to_owned(), ends });
    }
    if loaded.layout.named.contains_key(name) {
        return Err(Trouble::input(format!("{} is one point; a line needs two.", quote(name)), HOW));
    }
    let lines = site.features().filter(|(_, feature)| matches!(feature.shape, Shape::Line { .. }));
    let near = nearest(name, lines.map(|(_, feature)| feature.id.0.as_str()));
    let help = near.map_or_else(|| HOW.to_owned(), |near| format!("Did you mean {}? {HOW}", quote(near)));
    Err(Trouble::input(format!("The plan has no line {}.", quote(name)), help))
}
