//! Types and calls made from the interface files.
#![allow(
    missing_docs,
    unreachable_pub,
    clippy::pedantic,
    clippy::allow_attributes_without_reason,
    reason = "written by a macro from plugins/wit, where everything is documented"
)]

wasmtime::component::bindgen!({
    path: "../../plugins/wit/0.1.2",
    world: "rule-module",
    imports: { default: trappable },
    with: { "groundrule:rules/amounts.measured": groundrule_site::Measured },
});

pub(crate) use exports::groundrule::rules::checks;
pub(crate) use groundrule::rules::{enclosure, flow, runoff, terrain, types};
