//! One file per sub-command.

pub(crate) mod areas;
pub(crate) mod begin;
pub(crate) mod draw;
pub(crate) mod fieldwork;
pub(crate) mod review;
pub(crate) mod rules;
pub(crate) mod section;
pub(crate) mod shell;
pub(crate) mod survey;
pub(crate) mod why;
