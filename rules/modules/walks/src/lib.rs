//! Guest.
