//! GeoJSON (RFC 7946): features in, features and finding marks out.

mod read;
mod shapes;
mod write;

#[cfg(test)]
mod tests;

pub use read::read;
pub use write::{Marked, write};
