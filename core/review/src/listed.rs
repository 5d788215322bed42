//! Lists among the facts of a reading: `item_2_cover` is the cover of the second thing.

use std::collections::BTreeMap;

use groundrule_sandbox::Reading;
use groundrule_site::Fact;

use crate::finding::{Listed, Shown};
use crate::words;

/// The things a reading lists, in the order it counts them.
pub(crate) fn listed(reading: &Reading) -> Vec<Listed> {
    let mut items: BTreeMap<u32, Listed> = BTreeMap::new();
    for (name, fact) in &reading.facts {
        let Some((at, name)) = parted(name) else { continue };
        let item = items.entry(at).or_default();
        let words = match fact {
            Fact::Amount(amount) if amount.needs.is_empty() => {
                let shown = Shown { value: amount.value(), spread: amount.spread() };
                item.amounts.insert(name.to_owned(), shown);
                continue;
            }
            Fact::Amount(_) | Fact::Amounts(_) => continue,
            Fact::Count(count) => count.to_string(),
            Fact::Flag(flag) => words::yes_or_no(*flag).to_owned(),
            Fact::Text(text) => text.clone(),
        };
        item.words.insert(name.to_owned(), words);
    }
    items.into_values().collect()
}

/// Whether a fact is about one thing of a list.
pub(crate) fn is_listed(name: &str) -> bool {
    parted(name).is_some()
}

/// Which thing a fact is about, and what it says of it.
fn parted(name: &str) -> Option<(u32, &str)> {
    let (at, name) = name.strip_prefix("item_")?.split_once('_')?;
    Some((at.parse().ok()?, name))
}

#[cfg(test)]
mod tests {
    use super::*;
    use groundrule_sandbox::Answer;

    #[test]
    fn facts_of_a_list_are_told_apart_from_others() {
        let check = |name: &str, expected: Option<(u32, &str)>| assert_eq!(parted(name), expected);
        check("item_3_cover_basis", Some((3, "cover_basis")));
        check("item_12_gap", Some((12, "gap")));
        check("item_cover", None);
        check("item", None);
        check("shared_area", None);
    }

    #[test]
    fn a_list_keeps_its_order_past_nine() {
        let facts = (1..=11).map(|at| (format!("item_{at}_name"), Fact::Text(at.to_string())));
        let reading = Reading {
            features: Vec::new(),
            answer: Answer::Count(11),
            marks: Vec::new(),
            facts: facts.collect(),
        };
        let names: Vec<String> =
            listed(&reading).into_iter().filter_map(|it| it.words.get("name").cloned()).collect();
        assert_eq!(names.last().map(String::as_str), Some("11"));
        assert_eq!(names.get(1).map(String::as_str), Some("2"));
    }
}
