//! What the benches run on. Everything here is made the same way every time, from a seed.

pub mod adjustment;
pub mod levelled;
pub mod native;
pub mod neighbourhood;
pub mod pairs;
pub mod quarter;
pub mod typical;
