//! Open formats.
