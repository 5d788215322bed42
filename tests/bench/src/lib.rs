//! What the benches run on. Everything here is made the same way every time, from a seed.

pub mod pairs;
