//! From a review to what version 1 says of it.

use groundrule_packs as packs;
use groundrule_plan as plan;
use groundrule_plan::KindTree;
use groundrule_review as review;
use groundrule_survey::Position;
use groundrule_units::{Dimension, Quantity, Ratio};

use super::{
    Amount, At, Authority, Beside, Blamed, Buildable, Counts, DataFinding, FieldItem, Finding, Gravity,
    Listed, Mark, Measure, Need, Pack, PlanReport, Required, Rule, Sense, Taking, ToolFinding, Unit, Verdict,
    Weight,
};
use crate::lines::Lines;
use crate::{Report, marking};

/// Standard uncertainty to a 95 % half width: the 0.975 quantile of the normal distribution.
const HALF_WIDTH_95: f64 = 1.959_963_984_540_054;

impl From<&Report<'_>> for PlanReport {
    fn from(report: &Report<'_>) -> Self {
        let Report { plan, layout, site, review, .. } = report;
        let lines = Lines::of(&plan.source);
        let from = Places { lines: &lines, shift: layout.shift, kinds: site.kinds() };
        Self {
            plan: review.plan.clone(),
            file: plan.source.name.clone(),
            judged_at: review.judged_at.clone(),
            level: review.level.fraction(),
            counts: counts(&review.counts()),
            findings: review.findings.iter().map(|finding| from.finding(finding)).collect(),
            data_findings: review.data.iter().map(|finding| from.data(finding)).collect(),
            tool_findings: review.tool.iter().map(tool).collect(),
            fieldwork: review.retakes.iter().map(|retake| from.retake(retake)).collect(),
            buildable: review.buildable.iter().map(|lot| Buildable::of(lot, layout.shift)).collect(),
            packs: review.packs.iter().map(pack).collect(),
            rules: review.rules.iter().map(rule).collect(),
        }
    }
}

/// What places are told by.
struct Places<'a> {
    lines: &'a Lines<'a>,
    shift: Position,
    kinds: &'a KindTree,
}

impl Places<'_> {
    fn finding(&self, finding: &review::Finding) -> Finding {
        Finding {
            id: finding.id.0.clone(),
            number: finding.number,
            rule: finding.rule.0.clone(),
            pack: finding.pack.to_string(),
            title: finding.title.to_string(),
            verdict: verdict(finding.verdict),
            weight: weight(finding.weight),
            features: finding.names.iter().map(|name| name.0.clone()).collect(),
            place: finding.place.clone(),
            shown: finding.shown.as_ref().filter(|_| finding.needs.is_empty()).map(measure),
            beside: finding
                .beside
                .iter()
                .map(|beside| Beside { what: beside.what.clone(), amount: measure(&beside.shown) })
                .collect(),
            listed: finding.listed.iter().map(|listed| self.listed(listed)).collect(),
            answer: finding.answer.clone(),
            required: finding.required.as_ref().map(required),
            probability: finding.conformity.map(Ratio::fraction),
            needs: finding.needs.iter().map(|n| Need { what: n.what.clone(), how: n.how.clone() }).collect(),
            marks: self.marks(&finding.marks),
            authority: authority(&finding.citation),
            why: finding.why.to_string(),
            message: finding.message.clone(),
            action: finding.action.clone(),
            referral: finding.referral.clone(),
            in_dispute: finding.in_dispute.iter().map(|name| name.0.clone()).collect(),
            note: finding.note.clone(),
            at: self.at(finding.span),
        }
    }

    fn listed(&self, listed: &review::Listed) -> Listed {
        let kind = listed.words.get("kind");
        let letters =
            kind.map(|kind| marking::letters(self.kinds, kind)).filter(|letters| !letters.is_empty());
        let color = kind.and_then(|kind| marking::color(self.kinds, kind));
        let others = listed.words.iter().filter(|(what, _)| !matches!(what.as_str(), "name" | "kind"));
        Listed {
            name: listed.words.get("name").cloned(),
            kind: kind.cloned(),
            letters: letters.map(str::to_owned),
            color: color.map(|color| color.name().to_owned()),
            words: others.map(|(what, word)| (what.clone(), word.clone())).collect(),
            amounts: listed.amounts.iter().map(|(what, shown)| (what.clone(), measure(shown))).collect(),
        }
    }

    fn data(&self, finding: &review::DataFinding) -> DataFinding {
        let remark = &finding.remark;
        DataFinding {
            id: finding.id.0.clone(),
            number: finding.number,
            code: remark.code.to_owned(),
            gravity: gravity(remark.gravity),
            message: remark.message.clone(),
            about: remark.about.iter().map(|name| name.0.clone()).collect(),
            marks: self.marks(&finding.marks),
            help: remark.help.clone(),
            at: self.at(remark.span),
        }
    }

    fn retake(&self, retake: &review::Retake) -> FieldItem {
        let ids = |ids: &[review::FindingId]| ids.iter().map(|id| id.0.clone()).collect();
        let (how, advice) = match &retake.how {
            review::Remeasure::Directly { .. } => (Taking::Length, None),
            review::Remeasure::Again { .. } => (Taking::Reading, None),
            review::Remeasure::Disputed { .. } => (Taking::Disputed, None),
            review::Remeasure::Supply { how, measured: true } => (Taking::Measured, Some(how)),
            review::Remeasure::Supply { how, measured: false } => (Taking::Stated, Some(how)),
        };
        FieldItem {
            how,
            what: retake.what.clone(),
            from: retake.from.clone(),
            to: retake.to.clone(),
            plus_minus: retake.plus_minus().map(amount),
            now: retake.now.clone(),
            advice: advice.cloned(),
            settles_count: retake.settles.len(),
            settles: ids(&retake.settles),
            helps: ids(&retake.helps),
            marks: self.marks(&retake.marks),
            at: self.at(retake.span),
        }
    }

    fn marks(&self, marks: &[groundrule_site::Mark]) -> Vec<Mark> {
        marks.iter().map(|mark| Mark::of(mark, self.shift)).collect()
    }

    fn at(&self, span: plan::Span) -> Option<At> {
        self.lines.find(span).map(At::of)
    }
}

fn counts(counts: &review::Counts) -> Counts {
    Counts {
        fails: counts.fails,
        advice: counts.advice,
        verify: counts.verify,
        missing: counts.missing,
        meets: counts.meets,
        not_applicable: counts.not_applicable,
        accepted: counts.accepted,
        data: counts.data,
        tool: counts.tool,
    }
}

fn tool(finding: &review::ToolFinding) -> ToolFinding {
    let blame = &finding.blame;
    ToolFinding {
        id: finding.id.0.clone(),
        number: finding.number,
        blame: Blamed {
            module: blame.module.clone(),
            version: blame.version.clone(),
            rule: blame.rule.clone(),
            failure: blame.failure.words().to_owned(),
            message: blame.message.clone(),
            fuel_used: blame.fuel_used,
        },
        rules: finding.rules.iter().map(|rule| rule.0.clone()).collect(),
    }
}

fn pack(pack: &review::PackUse) -> Pack {
    Pack {
        name: pack.name.clone(),
        title: pack.title.clone(),
        version: pack.version.clone(),
        agency: pack.agency.clone(),
        note: pack.note.clone(),
        not_checked: pack.not_encoded.clone(),
    }
}

fn rule(record: &review::RuleRecord) -> Rule {
    Rule {
        pack: record.pack.clone(),
        rule: record.rule.0.clone(),
        subjects: record.subjects,
        fuel: record.fuel,
    }
}

pub(super) fn measure(shown: &review::Shown) -> Measure {
    Measure {
        value: shown.value.si(),
        unit: unit(shown.value.dimension()),
        plus_minus_95: shown.spread.si().abs() * HALF_WIDTH_95,
    }
}

fn required(required: &review::Required) -> Required {
    Required {
        sense: sense(required.sense),
        text: required.text.clone(),
        value: required.value.map(amount),
        upper: required.upper.map(amount),
    }
}

fn amount(quantity: Quantity) -> Amount {
    Amount { value: quantity.si(), unit: unit(quantity.dimension()) }
}

fn authority(citation: &review::Citation) -> Authority {
    let provenance = &citation.provenance;
    Authority {
        source: citation.source.clone(),
        section: citation.section.clone(),
        standing: citation.standing.words().to_owned(),
        pack: provenance.pack.clone(),
        version: provenance.version.clone(),
        file: provenance.file.clone(),
        line: provenance.line,
        overrides: provenance.overrides.clone(),
    }
}

const fn unit(dimension: Dimension) -> Unit {
    match dimension {
        Dimension::Length => Unit::Metre,
        Dimension::Area => Unit::SquareMetre,
        Dimension::Volume => Unit::CubicMetre,
        Dimension::Angle => Unit::Radian,
        Dimension::Ratio => Unit::One,
        Dimension::Flow => Unit::CubicMetrePerSecond,
        Dimension::Speed => Unit::MetrePerSecond,
        Dimension::Time => Unit::Second,
    }
}

const fn verdict(verdict: review::Verdict) -> Verdict {
    match verdict {
        review::Verdict::Meets => Verdict::Meets,
        review::Verdict::Fails => Verdict::Fails,
        review::Verdict::Verify => Verdict::Verify,
        review::Verdict::Missing => Verdict::Missing,
        review::Verdict::NotApplicable => Verdict::NotApplicable,
        review::Verdict::Accepted => Verdict::Accepted,
    }
}

const fn weight(weight: packs::Weight) -> Weight {
    match weight {
        packs::Weight::Required => Weight::Required,
        packs::Weight::Advised => Weight::Advised,
        packs::Weight::Noted => Weight::Noted,
    }
}

const fn sense(sense: packs::Sense) -> Sense {
    match sense {
        packs::Sense::AtLeast => Sense::AtLeast,
        packs::Sense::MoreThan => Sense::MoreThan,
        packs::Sense::AtMost => Sense::AtMost,
        packs::Sense::LessThan => Sense::LessThan,
        packs::Sense::Between => Sense::Between,
        packs::Sense::Holds => Sense::Holds,
        packs::Sense::HoldsNot => Sense::HoldsNot,
    }
}

const fn gravity(gravity: plan::Gravity) -> Gravity {
    match gravity {
        plan::Gravity::Wrong => Gravity::Wrong,
        plan::Gravity::Suspect => Gravity::Suspect,
        plan::Gravity::Lacking => Gravity::Lacking,
        plan::Gravity::Noted => Gravity::Noted,
    }
}
