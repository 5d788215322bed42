//! Lists of things, in words that terminal and page share: of what lies near a piece of work, of the parts of a sum.

use groundrule_review::{Finding, Listed};
use groundrule_site::Site;
use groundrule_units::{Style, show, show_with_spread};

use crate::marking;

/// What is said of one thing: `gas service (yellow, G)`, and the rest of what is known.
pub(crate) struct Line {
    pub(crate) name: String,
    pub(crate) known: String,
}

/// True for a list of what lies near a piece of work, whose things have a kind; other lists are parts of what was measured.
pub(crate) fn is_of_digging(finding: &Finding) -> bool {
    finding.listed.iter().any(|listed| listed.words.contains_key("kind"))
}

/// The things a finding lists.
pub(crate) fn lines(finding: &Finding, site: &Site, style: Style) -> Vec<Line> {
    let digging = is_of_digging(finding);
    let one = |listed| if digging { line(listed, site, style) } else { part(listed, style) };
    finding.listed.iter().map(one).collect()
}

/// A part: its amounts, then what else is said of it, each by its name.
fn part(listed: &Listed, style: Style) -> Line {
    let plain = |name: &str| name.replace('_', " ");
    let amounts = listed
        .amounts
        .iter()
        .map(|(name, it)| format!("{} {}", plain(name), show_with_spread(it.value, it.spread, style)));
    let words = listed.words.iter().filter(|(name, _)| *name != "name");
    let words = words.map(|(name, text)| format!("{} {text}", plain(name)));
    let name = listed.words.get("name").cloned().unwrap_or_else(|| "a part without a name".to_owned());
    Line { name, known: amounts.chain(words).collect::<Vec<_>>().join(", ") }
}

fn line(listed: &Listed, site: &Site, style: Style) -> Line {
    let word = |name: &str| listed.words.get(name).map(String::as_str);
    let amount = |name: &str| listed.amounts.get(name);
    let name = word("name").unwrap_or("a thing without a name");
    let marked = word("kind").and_then(|kind| {
        let color = marking::color(site.kinds(), kind)?;
        Some(format!(" ({}, {})", color.name(), marking::letters(site.kinds(), kind)))
    });
    let mut known = Vec::new();
    match amount("gap") {
        Some(gap) if gap.value.si() > 0.0 => {
            known.push(format!("{} away", show_with_spread(gap.value, gap.spread, style)));
        }
        Some(_) => known.push("crossed or touched by the work".to_owned()),
        None => known.push("not drawn, so it may be anywhere".to_owned()),
    }
    if let Some(located) = word("located") {
        known.push(match located {
            "marked" => "marked on the ground".to_owned(),
            "record" => "known from a record".to_owned(),
            "guessed" => "drawn by guess".to_owned(),
            _ => "nobody says how its place is known".to_owned(),
        });
    }
    if let Some(strip) = amount("strip") {
        known.push(format!("dug by hand {} each side", show(strip.value, style)));
    }
    if let Some(cover) = amount("cover") {
        let basis = match word("cover_basis") {
            Some("assumed") => "earth over it not stated, may be as little as",
            _ => "earth over it stated as",
        };
        known.push(format!("{basis} {}", show(cover.value, style)));
    }
    Line { name: format!("{name}{}", marked.unwrap_or_default()), known: known.join("; ") }
}
