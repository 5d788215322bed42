//! One check, one file.

mod amount;
mod any_flag;
mod share;
mod word;

pub use amount::Amount;
pub use any_flag::AnyFlag;
pub use share::Share;
pub use word::Word;
