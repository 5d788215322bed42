//! What a plan says of the levels of the ground beside those of its features.

use groundrule_units::{Level, Written};

use super::{Accuracy, PointRef};
use crate::{At, Span};

/// What is said of the levels of the ground.
#[derive(Clone, Debug, Default)]
pub struct GroundFacts {
    /// The one datum that all levels of the plan count from.
    pub datum: Option<At<String>>,
    /// How well levels of the ground as it lies were taken; the plan's default class when absent. Proposed ones are exact.
    pub by: Option<Accuracy>,
    /// Points whose heights are of something else than the ground.
    pub not_ground: Vec<PointRef>,
    /// Levels of the ground at points and corners, in file order.
    pub levels: Vec<GroundMark>,
    /// Where; empty when the plan has no `[ground]`.
    pub span: Span,
}

/// A level of the ground at a point.
#[derive(Clone, Debug)]
pub struct GroundMark {
    /// The point or corner.
    pub point: PointRef,
    /// The level there.
    pub level: At<Written<Level>>,
}
