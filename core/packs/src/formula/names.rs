//! The names a formula may use, each with its sort.

use std::collections::BTreeMap;

use groundrule_plan::KindTree;

use super::Sort;
use groundrule_plan::reader::nearest;

/// Names every row has, besides the attributes of the kinds it is about. The roots `subject` and `other`
/// are the thing the row is about and the thing it was measured to; `line` is a lot line it was measured to.
pub(crate) const FIXED: [(&str, &str, Sort, &str); 17] = [
    ("subject", "kind", Sort::Text, "Its kind."),
    ("subject", "title", Sort::Text, "What the plan calls it."),
    ("subject", "area", Sort::Metres(2), "The area it covers on the plan."),
    ("other", "kind", Sort::Text, "The kind of what it was measured to."),
    ("other", "title", Sort::Text, "What the plan calls it."),
    ("line", "role", Sort::Text, "`front`, `side`, `street_side` or `rear`."),
    ("line", "street", Sort::Text, "The street along it."),
    ("line", "street_width", Sort::Metres(1), "The width of that street's right-of-way, where it is stated."),
    ("line", "assumed", Sort::Flag, "True when its role was proposed and not stated."),
    (
        "lot",
        "area",
        Sort::Metres(2),
        "The area of the lot the subject stands on; of a lot itself, ask `subject.area`.",
    ),
    (
        "lot",
        "position",
        Sort::Text,
        "How the lot lies to its streets: `interior`, `corner` (two of its street lines meet), `through` (none meet) \
         or `flag`.",
    ),
    ("lot", "frontage", Sort::Metres(1), "The length of its front line; of two fronts, the shorter."),
    (
        "lot",
        "depth",
        Sort::Metres(1),
        "From the middle of the chord of its front line, square to it, to the rear line. Where that way misses the \
         rear line, to the farthest place of it; where there is none, to the farthest place of the lot. The pole of a \
         flag lot does not count.",
    ),
    (
        "lot",
        "width",
        Sort::Metres(1),
        "Across it, parallel to the chord of its front line, halfway along its depth. The pole of a flag lot does not \
         count.",
    ),
    ("site", "district", Sort::Text, "The zoning district."),
    ("site", "permit", Sort::Text, "The type of permit asked for."),
    ("site", "latitude", Sort::Angle, "Latitude, positive north."),
];

const ROOTS: [&str; 6] = ["subject", "other", "line", "lot", "site", "reading"];

/// What the names of one formula are looked up in.
pub(crate) struct Scope<'a> {
    /// The kinds in force.
    pub(crate) kinds: &'a KindTree,
    /// The kinds the row is about.
    pub(crate) subject: &'a [String],
    /// The kinds it is measured to.
    pub(crate) other: &'a [String],
    /// The facts the row says its readings carry.
    pub(crate) reading: &'a BTreeMap<String, Sort>,
}

impl Scope<'_> {
    /// The sort of `root.field`, or what is wrong with the name and what to do.
    pub(crate) fn sort_of(&self, root: &str, field: &str) -> Result<Sort, (String, Option<String>)> {
        if !ROOTS.contains(&root) {
            return Err((format!("nothing is called `{root}` here"), suggestion(root, ROOTS)));
        }
        let fixed = FIXED.iter().find(|name| name.0 == root && name.1 == field);
        if let Some((.., sort, _)) = fixed {
            return Ok(*sort);
        }
        match root {
            "subject" => self.attribute("subject", self.subject, field),
            "other" => self.attribute("other", self.other, field),
            "reading" => self.reading.get(field).copied().ok_or_else(|| {
                let named = self.reading.keys().map(String::as_str);
                let help = suggestion(field, named).or_else(|| {
                    Some(format!("say what it is beside the check: `reading = {{ {field} = \"length\" }}`"))
                });
                (format!("the row does not say that a reading carries `{field}`"), help)
            }),
            _ => {
                let fields = FIXED.iter().filter(|name| name.0 == root).map(|name| name.1);
                let known: Vec<_> = fields.clone().map(|f| format!("`{root}.{f}`")).collect();
                let help =
                    suggestion(field, fields).or_else(|| Some(format!("known are {}", known.join(", "))));
                Err((format!("`{root}` has no `{field}`"), help))
            }
        }
    }

    /// The sort of an attribute of any of `kinds`, of a kind below one, or of an ancestor.
    fn attribute(&self, root: &str, kinds: &[String], field: &str) -> Result<Sort, (String, Option<String>)> {
        let attributes: BTreeMap<&str, Sort> = self
            .kinds
            .iter()
            .filter(|kind| {
                kinds.iter().any(|k| self.kinds.is_a(&kind.name, k) || self.kinds.is_a(k, &kind.name))
            })
            .flat_map(|kind| kind.attributes.iter())
            .map(|(name, kind)| (name.as_str(), Sort::from(*kind)))
            .collect();
        attributes.get(field).copied().ok_or_else(|| {
            let whose = match kinds {
                [] => "what the row measures to".to_owned(),
                kinds => kinds.iter().map(|k| format!("`{k}`")).collect::<Vec<_>>().join(" or "),
            };
            let named = attributes.keys().copied();
            let fixed = FIXED.iter().filter(|name| name.0 == root).map(|name| name.1);
            (format!("{whose} has no `{field}`"), suggestion(field, named.chain(fixed)))
        })
    }
}

fn suggestion<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    nearest(name, known).map(|near| format!("did you mean `{near}`?"))
}
