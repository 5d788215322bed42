//! What is wrong with measurements, as findings of their own.

pub(crate) mod adjusted;
pub(crate) mod closing;
pub(crate) mod lacking;
pub(crate) mod sides;

use std::collections::{BTreeMap, BTreeSet};

use groundrule_plan::{Gravity, Measurement, Name, Plan, Remark};
use groundrule_units::{Length, Style, show};

use crate::Point;

/// A finding whose places are told by names, until these have their positions.
#[derive(Clone, Debug)]
pub(crate) struct Told {
    pub(crate) remark: Remark,
    /// The points to mark on the plan, by full name.
    pub(crate) at: Vec<String>,
}

impl Told {
    pub(crate) fn new(
        code: &'static str,
        gravity: Gravity,
        message: String,
        measurement: &Measurement,
    ) -> Self {
        let about = vec![measurement.id.clone()];
        let span = measurement.span;
        let remark = Remark { code, gravity, message, about, spots: Vec::new(), span, help: None };
        Self { remark, at: Vec::new() }
    }

    pub(crate) fn help(mut self, help: impl Into<String>) -> Self {
        self.remark.help = Some(help.into());
        self
    }

    pub(crate) fn at(mut self, names: impl IntoIterator<Item = String>) -> Self {
        self.at.extend(names);
        self
    }

    /// With points or features it concerns besides the measurement.
    pub(crate) fn about(mut self, names: impl IntoIterator<Item = Name>) -> Self {
        for name in names {
            if !self.remark.about.contains(&name) {
                self.remark.about.push(name);
            }
        }
        self
    }
}

impl Told {
    /// The finding with its places.
    pub(crate) fn remark_at(mut self, named: &BTreeMap<String, Point>) -> Remark {
        let mut marked = BTreeSet::new();
        for name in self.at.iter().filter(|name| marked.insert(name.as_str())) {
            self.remark.spots.extend(named.get(name).map(|point| (point.at.x, point.at.y)));
        }
        self.remark
    }
}

/// How lengths are written in findings: as the sheet has them.
fn style(plan: &Plan) -> Style {
    Style::from(plan.site.units)
}

pub(crate) fn length(plan: &Plan, metres: f64) -> String {
    show(Length::from_metres(metres).into(), style(plan))
}
