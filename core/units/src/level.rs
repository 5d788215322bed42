//! Levels: heights above the plan's datum.

use crate::{Length, LevelTerm};

/// A level as written on a grading plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Level {
    /// What it is the level of, if the text says.
    pub term: Option<LevelTerm>,
    /// Height above the plan's datum.
    pub height: Length,
}
