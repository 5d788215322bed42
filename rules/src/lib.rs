//! Built in.
