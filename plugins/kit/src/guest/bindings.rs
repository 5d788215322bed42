//! Made from the interface in `plugins/wit` when the kit is compiled.
#![allow(missing_docs, clippy::all, clippy::pedantic, reason = "generated code")]

wit_bindgen::generate!({
    path: "../wit/0.1.2",
    world: "rule-module",
    pub_export_macro: true,
    default_bindings_module: "groundrule_kit::guest::bindings",
});
