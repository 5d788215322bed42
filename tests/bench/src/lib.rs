//! Bench inputs.
