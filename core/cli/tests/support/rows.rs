//! Rows of packs asked of small plans, through the program.

use std::fmt::Write as _;
use std::fs;

use serde_json::Value;

use super::{groundrule_in, told};

/// A plan to put features on, and the packs to ask.
pub struct Sheet<'a> {
    /// What stands in the file before the features: the site, the lot.
    pub ground: &'a str,
    /// The packs, by name.
    pub packs: &'a [&'a str],
    /// A pack written for the test, asked as well.
    pub own_pack: Option<&'a str>,
}

impl Sheet<'_> {
    /// The findings of a rule on features written one to a line as `id kind what-else; what-else`.
    pub fn findings(&self, rule: &str, features: &str) -> Vec<Value> {
        let mut plan = self.ground.to_owned();
        for line in features.lines().map(str::trim).filter(|line| !line.is_empty()) {
            let (id, rest) = line.split_once(' ').unwrap();
            let (kind, rest) = rest.split_once(' ').unwrap();
            let status = if rest.contains("status = ") { "" } else { "status = \"proposed\"\n" };
            let rest = rest.replace("; ", "\n");
            let _ = write!(plan, "\n[[feature]]\nid = \"{id}\"\nkind = \"{kind}\"\n{status}{rest}\n");
        }
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("plan.toml"), &plan).unwrap();
        let mut args = vec!["review", "plan.toml", "--write", "r.json", "--quiet"];
        for pack in self.packs {
            args.extend(["--pack", pack]);
        }
        if let Some(pack) = self.own_pack {
            fs::write(folder.path().join("own.toml"), pack).unwrap();
            args.extend(["--pack", "own.toml"]);
        }
        let output = groundrule_in(folder.path(), &args, &[]);
        let report = fs::read_to_string(folder.path().join("r.json"))
            .unwrap_or_else(|why| panic!("{why}: {}\n{plan}", told(&output)));
        let report: Value = serde_json::from_str(&report).unwrap();
        let findings = report["plans"][0]["findings"].as_array();
        let findings = findings.unwrap_or_else(|| panic!("no findings: {}\n{plan}", told(&output)));
        findings.iter().filter(|finding| finding["rule"] == rule).cloned().collect()
    }

    /// The verdicts of a rule.
    pub fn verdicts(&self, rule: &str, features: &str) -> Vec<String> {
        let findings = self.findings(rule, features);
        findings.iter().map(|finding| finding["verdict"].as_str().unwrap().to_owned()).collect()
    }

    /// The row gives `meets` for the first plan and `fails` for the second, leaving aside what it does not apply to.
    #[track_caller]
    pub fn check(&self, rule: &str, meets: &str, fails: &str) {
        for (plan, expected) in [(meets, "meets"), (fails, "fails")] {
            let mut found = self.verdicts(rule, plan);
            found.retain(|verdict| verdict != "not_applicable");
            assert_eq!(found, [expected], "{rule} on\n{plan}");
        }
    }

    /// The same, for one plan with its place or figure left open as `@`.
    #[track_caller]
    pub fn turns(&self, rule: &str, plan: &str, meets: &str, fails: &str) {
        self.check(rule, &plan.replace('@', meets), &plan.replace('@', fails));
    }
}
