//! The surface against figures from outside, odd input, and what must hold for any input.
#![allow(clippy::expect_used, clippy::panic, reason = "a test that lacks its data has failed")]

mod amounts;
mod analytic;
mod any;
mod helper;
mod odd;
mod real;
