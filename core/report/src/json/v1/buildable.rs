//! Required setbacks and what they leave of a lot.

use groundrule_review as review;
use groundrule_survey::Position;
use schemars::JsonSchema;
use serde::Serialize;

use super::convert::measure;
use super::place::place;
use super::{Mark, Measure, Need};

/// What the required setbacks leave of one lot. Easements and other limits are not taken off.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Buildable {
    /// The lot.
    pub lot: String,
    /// The area left; none while something is lacking.
    pub area: Option<Measure>,
    /// What is lacking to know it.
    pub needs: Vec<Need>,
    /// The setback that governs on each lot line that has one.
    pub setbacks: Vec<Setback>,
    /// The regions left.
    pub regions: Vec<Mark>,
}

/// A required setback.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Setback {
    /// The lot line it is taken from.
    pub line: String,
    /// How far back of it the setback line lies.
    pub depth: Measure,
    /// The pack of the rule that asks for it.
    pub pack: String,
    /// The rule: of several, the one that asks for most.
    pub rule: String,
    /// The rule's title.
    pub title: String,
    /// True where the role of the lot line was proposed and not stated.
    pub assumed: bool,
    /// The stretches of the setback line that bound what is left: x and y of each vertex, in metres as the plan writes
    /// its coordinates.
    pub paths: Vec<Vec<[f64; 2]>>,
}

impl Buildable {
    /// What a review says of one lot, moved by the shift of the local origin.
    pub(super) fn of(lot: &review::Buildable, shift: Position) -> Self {
        let setback = |setback: &review::Setback| Setback {
            line: setback.name.0.clone(),
            depth: measure(&setback.depth),
            pack: setback.pack.to_string(),
            rule: setback.rule.0.clone(),
            title: setback.title.to_string(),
            assumed: setback.assumed,
            paths: setback
                .paths
                .iter()
                .map(|path| path.iter().map(|at| place(*at, shift)).collect())
                .collect(),
        };
        Self {
            lot: lot.name.0.clone(),
            area: lot.area.as_ref().map(measure),
            needs: lot.needs.iter().map(|n| Need { what: n.what.clone(), how: n.how.clone() }).collect(),
            setbacks: lot.setbacks.iter().map(setback).collect(),
            regions: lot.regions.iter().map(|mark| Mark::of(mark, shift)).collect(),
        }
    }
}
