//! Rows of packs asked of small plans, through the program.

use std::fmt::Write as _;
use std::fs;

use serde_json::Value;

use super::{groundrule_in, told};

/// A lot of 200 ft by 200 ft along one street.
pub(crate) const LOT: &str = r#"
[site]
name = "Row tests"
units = "ft"
north = "up"
district = "TZ-1"

[lot]
corners = [[0, 0], [200, 0], [200, 200], [0, 200]]
sides = { c1-c2 = { role = "front" }, c2-c3 = { role = "side" }, c3-c4 = { role = "rear" }, c4-c1 = { role = "side" } }
"#;

/// 200 ft by 200 ft, streets on the south and the west.
pub(crate) const CORNER: &str = r#"
[site]
name = "Row tests"
units = "ft"
north = "up"
district = "TZ-1"
overlays = ["wildfire", "france", "high-hedges", "lake"]

[lot]
corners = [[0, 0], [200, 0], [200, 200], [0, 200]]
sides = { c1-c2 = { role = "front", street = "Linnet Street", street_width = "50 ft" }, c2-c3 = { role = "side" }, c3-c4 = { role = "rear" }, c4-c1 = { role = "street_side", street = "Plover Way", street_width = "50 ft" } }
"#;

/// 200 ft by 200 ft, one street on the south.
pub(crate) const INTERIOR: &str = r#"
[site]
name = "Row tests"
units = "ft"
north = "up"
district = "TZ-1"
overlays = ["wildfire", "france", "high-hedges", "lake"]

[lot]
corners = [[0, 0], [200, 0], [200, 200], [0, 200]]
sides = { c1-c2 = { role = "front", street = "Linnet Street" }, c2-c3 = { role = "side" }, c3-c4 = { role = "rear" }, c4-c1 = { role = "side" } }
"#;

/// A plan with features written one to a line as `id kind what-else; what-else`.
pub(crate) fn plan(features: &str) -> String {
    plan_on(LOT, features)
}

/// The same after other lines of a plan file: the site, the lot.
pub(crate) fn plan_on(ground: &str, features: &str) -> String {
    let mut plan = ground.to_owned();
    for line in features.lines().map(str::trim).filter(|line| !line.is_empty()) {
        let (id, rest) = line.split_once(' ').unwrap();
        let (kind, rest) = rest.split_once(' ').unwrap();
        let status = if rest.contains("status = ") { "" } else { "status = \"proposed\"\n" };
        let rest = rest.replace("; ", "\n");
        let _ = write!(plan, "\n[[feature]]\nid = \"{id}\"\nkind = \"{kind}\"\n{status}{rest}\n");
    }
    plan
}

/// The findings on a plan by these packs, each a name or a file's text.
pub(crate) fn findings(plan: &str, packs: &[&str]) -> Vec<Value> {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("plan.toml"), plan).unwrap();
    let mut args = vec!["review".to_owned(), "plan.toml".into(), "--write".into(), "r.json".into()];
    args.push("--quiet".to_owned());
    for (at, pack) in packs.iter().enumerate() {
        args.push("--pack".to_owned());
        if pack.contains('\n') {
            fs::write(folder.path().join(format!("pack{at}.toml")), pack).unwrap();
            args.push(format!("pack{at}.toml"));
        } else {
            args.push((*pack).to_owned());
        }
    }
    let args: Vec<&str> = args.iter().map(String::as_str).collect();
    let output = groundrule_in(folder.path(), &args, &[]);
    let report = fs::read_to_string(folder.path().join("r.json"))
        .unwrap_or_else(|why| panic!("{why}: {}\n{plan}", told(&output)));
    let report: Value = serde_json::from_str(&report).unwrap();
    let findings = report["plans"][0]["findings"].as_array();
    findings.unwrap_or_else(|| panic!("no findings: {}\n{plan}", told(&output))).clone()
}

/// The findings of one rule of the built-in packs on features written as for [`plan`].
pub(crate) fn of_rule(rule: &str, features: &str) -> Vec<Value> {
    let sheet = Sheet { ground: LOT, packs: &["common-practice", "tern-hollow"] };
    sheet.findings(rule, features)
}

/// The verdicts of a rule on features written as for [`plan`].
pub(crate) fn verdicts(rule: &str, features: &str) -> Vec<String> {
    of_rule(rule, features).iter().map(|finding| finding["verdict"].as_str().unwrap().to_owned()).collect()
}

/// The row gives `meets` for the first plan and `fails` for the second.
#[track_caller]
pub(crate) fn check(rule: &str, meets: &str, fails: &str) {
    assert_eq!(verdicts(rule, meets), ["meets"], "{rule} on\n{meets}");
    assert_eq!(verdicts(rule, fails), ["fails"], "{rule} on\n{fails}");
}

/// A water pipe up the sheet, and something else in the same words with its place left open.
#[track_caller]
pub(crate) fn beside(rule: &str, fixed: &str, moved: &str, far: &str, near: &str) {
    let plan = |at: &str| format!("{fixed}\n{}", moved.replace('@', at));
    check(rule, &plan(far), &plan(near));
}

/// Ground to put features on, and the packs to ask, each a name or a file's text.
#[derive(Clone, Copy)]
pub(crate) struct Sheet<'a> {
    /// What stands in the file before the features: the site, the lot.
    pub(crate) ground: &'a str,
    /// The packs.
    pub(crate) packs: &'a [&'a str],
}

impl Sheet<'_> {
    /// The findings of a rule on features written as for [`plan`].
    pub(crate) fn findings(&self, rule: &str, features: &str) -> Vec<Value> {
        let all = findings(&plan_on(self.ground, features), self.packs);
        all.into_iter().filter(|finding| finding["rule"] == rule).collect()
    }

    /// The verdicts of a rule.
    pub(crate) fn verdicts(&self, rule: &str, features: &str) -> Vec<String> {
        let findings = self.findings(rule, features);
        findings.iter().map(|finding| finding["verdict"].as_str().unwrap().to_owned()).collect()
    }

    /// The row gives `meets` for a plan with its figure `@` as first said, `fails` as then said, leaving aside what it
    /// does not apply to.
    #[track_caller]
    pub(crate) fn turns(&self, rule: &str, plan: &str, meets: &str, fails: &str) {
        for (figure, expected) in [(meets, "meets"), (fails, "fails")] {
            let plan = plan.replace('@', figure);
            let mut found = self.verdicts(rule, &plan);
            found.retain(|verdict| verdict != "not_applicable");
            assert_eq!(found, [expected], "{rule} on\n{plan}");
        }
    }
}
