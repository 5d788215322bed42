//! Plans as people measure them in, places and findings out.

#![allow(clippy::panic, clippy::expect_used, reason = "a plan that does not resolve ends its test")]

mod angles_and_facts;
mod chains;
mod coordinates;
mod findings;
mod ground;
mod hostile;
mod levels;
mod robust;
mod support;
mod ties;
mod traverses;
