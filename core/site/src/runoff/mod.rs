//! The methods of `groundrule_hydrology` on measured amounts: each keeps how well its inputs are known.
//!
//! Coefficients, curve numbers and roughness are plain numbers, exact as stated; what a plan measures comes as amounts.
//! A function gives nothing where its method has no answer.

mod ground;
mod peaks;
mod product;
mod stream;
mod times;

pub use ground::{composite, quality_volume, rounded, runoff_depth, with_hard_ground};
pub use groundrule_hydrology::channel::Constant;
pub use groundrule_hydrology::curve_number::{covers, of_cover};
pub use groundrule_hydrology::graphical::Storm;
pub use groundrule_hydrology::rational::Form;
pub use peaks::{graphical_peak, rational_peak};
pub use product::product;
pub use stream::{Channel, Stream, normal, stream, wetted_speed};
pub use times::{kirpich_time, shallow_speed, sheet_time};
