//! Findings on the data and on stopped modules.

use groundrule_packs::RowId;
use groundrule_plan::Remark;
use groundrule_sandbox::Blame;
use groundrule_site::Mark;
use groundrule_survey::{Layout, Position};

use crate::finding::{DataFinding, FindingId, ToolFinding};
use crate::number::{Ids, joined};

/// Remarks as findings, in the order they were made; their places move to local coordinates.
pub(crate) fn findings(remarks: Vec<Remark>, layout: &Layout) -> Vec<DataFinding> {
    let mut ids = Ids::default();
    let local = |remark: &Remark| {
        let spot = |(x, y): &(_, _)| Mark::Spot(Position { x: *x - layout.shift.x, y: *y - layout.shift.y });
        remark.spots.iter().map(spot).collect()
    };
    remarks
        .into_iter()
        .map(|remark| DataFinding {
            id: ids.unique(joined(remark.code, &remark.about)),
            number: None,
            marks: local(&remark),
            remark,
        })
        .collect()
}

/// Stopped modules as findings: those that did not load with every rule that needed them, then each rule
/// that stopped one, in rule order. `checks` are the rows asked with their checks.
pub(crate) fn tools<'a>(
    stopped: Vec<Blame>,
    ran: impl IntoIterator<Item = Blame>,
    checks: &(impl Iterator<Item = (&'a RowId, &'a str)> + Clone),
) -> Vec<ToolFinding> {
    let mut ids = Ids::default();
    let mut tool = |blame: Blame, rules: Vec<RowId>| {
        let what = format!("tool:{}", blame.module);
        let what = blame.rule.as_ref().map_or_else(|| what.clone(), |rule| format!("{what}:{rule}"));
        let id: FindingId = ids.unique(what);
        ToolFinding { id, number: None, blame, rules }
    };
    let needing = |module: &str| -> Vec<RowId> {
        let needs = checks.clone().filter(|(_, check)| check.split('/').next() == Some(module));
        needs.map(|(rule, _)| rule.clone()).collect()
    };
    let mut findings = Vec::new();
    for blame in stopped {
        let rules = needing(&blame.module);
        findings.push(tool(blame, rules));
    }
    for blame in ran {
        let rules = blame.rule.iter().map(|rule| RowId(rule.clone())).collect();
        findings.push(tool(blame, rules));
    }
    findings
}
