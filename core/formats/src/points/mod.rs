//! A table of points as total stations and field apps write it.

mod read;

#[cfg(test)]
mod tests;

pub use crate::survey_points::SurveyOptions;
pub use read::read_csv;
