//! For other programs: versioned JSON with types of its own.

pub mod v1;
