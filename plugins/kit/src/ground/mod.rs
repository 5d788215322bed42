//! What a check stands on.
//!
//! One trait for each interface of `plugins/wit`, in the same words. A check is written once against
//! [`Ground`] and runs on any: the sandbox's host, a [`crate::Sketch`] in a test, a site natively.

mod amounts;
mod areas;
mod asked;
mod distances;
mod enclosures;
mod facts;
mod flow;
mod rain;
mod regions;
mod terrain;
mod widths;

pub use amounts::Amounts;
pub use areas::Areas;
pub use asked::Asked;
pub use distances::Distances;
pub use enclosures::{Enclosed, Enclosures};
pub use facts::Facts;
pub use flow::{Course, Drainage, Hollow, Outcome};
pub use rain::{Channel, Runoff, Water};
pub use regions::Regions;
pub use terrain::{Face, Figure, Grade, Moved, Terrain, WallFall};
pub use widths::Widths;

/// Everything a check may ask. Each call takes a batch and answers in its order: one call for a thousand
/// pairs costs hardly more than one for two.
pub trait Ground:
    Asked + Facts + Distances + Areas + Widths + Regions + Enclosures + Terrain + Drainage + Runoff
{
}

impl<G> Ground for G where
    G: Asked + Facts + Distances + Areas + Widths + Regions + Enclosures + Terrain + Drainage + Runoff
{
}
