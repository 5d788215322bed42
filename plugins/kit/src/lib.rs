//! What a rule module is written with.
//!
//! A check measures; it never sees a limit and never says what passes. Packs set limits, the core judges.
//! A whole module is this much, with `crate-type = ["cdylib", "rlib"]` in its `Cargo.toml`:
//!
//! ```
//! use groundrule_kit::{Answer, Check, Dimension, Ground, Info, Reading, Refusal, module};
//!
//! /// How long each subject is.
//! pub struct Run;
//!
//! impl Check for Run {
//!     const INFO: Info = Info {
//!         name: "run",
//!         summary: "The length of each subject.",
//!         dimension: Some(Dimension::Length),
//!         parameters: &[],
//!         groups: &[],
//!     };
//!
//!     fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
//!         let subjects = ground.subjects();
//!         let lengths = ground.length(&subjects);
//!         Ok(subjects.into_iter().zip(lengths).map(|(subject, length)| Reading::amount(subject, length)).collect())
//!     }
//! }
//!
//! module! { checks: [Run] }
//!
//! // The same code runs in a plain test, on a sketch of upright rectangles.
//! use groundrule_kit::{Rect, Sketch};
//! let sketch = Sketch::new().feature("fence", "fence", Rect::metres(0.0, 0.0, 12.0, 0.0)).subjects(&["fence"]);
//! let readings = Run::run(&sketch)?;
//! assert!(matches!(&readings[0].answer, Answer::Amount(length) if length.value().si() == 12.0));
//! # Ok::<(), Refusal>(())
//! ```
//!
//! Built for `wasm32-unknown-unknown` and wrapped as a component, it imports nothing but the interface in
//! `plugins/wit`: there is no clock, no randomness, no file and no network to reach. A panic carries its
//! message and source line out to the report.

mod check;
mod drawn;
mod ground;
mod lots;
mod module;
mod parameter;
mod reading;
mod words;

#[cfg(target_family = "wasm")]
pub mod guest;
#[cfg(not(target_family = "wasm"))]
mod sketch;

pub use check::{Check, Info, Module, ParameterInfo, no_such_check};
pub use drawn::{drawn_or_not, drawn_subjects, not_drawn};
pub use ground::{
    Amounts, Areas, Asked, Channel, Course, Distances, Drainage, Enclosed, Enclosures, Face, Facts, Figure,
    Grade, Ground, Hollow, Moved, Outcome, Regions, Runoff, Terrain, WallFall, Water, Widths,
};
pub use groundrule_hydrology::{channel::Constant, graphical::Storm, rational::Form};
pub use groundrule_units::{Angle, Area, Dimension, Flow, Length, Quantity, Ratio, Speed, Time, Volume};
pub use lots::{OnLot, by_lot, in_no_pair, on_one_lot};
pub use parameter::{Choice, LengthParameter};
pub use reading::{Answer, Fact, Reading};
#[cfg(not(target_family = "wasm"))]
pub use sketch::{Exact, Rect, Sketch};
pub use words::{Feature, Mark, Need, Place, Refusal, Shape, Value};
