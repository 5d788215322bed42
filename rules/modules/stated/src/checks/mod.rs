//! One check, one file.

mod any_flag;
mod length;
mod share;
mod word;

pub use any_flag::AnyFlag;
pub use length::StatedLength;
pub use share::Share;
pub use word::Word;
