//! Guest kit.
