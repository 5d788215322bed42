//! The modules.

/// A module of rules.
#[derive(Clone, Copy, Debug)]
pub struct BuiltIn {
    /// Its name, the first half of `setbacks/lot-line-distance`.
    pub name: &'static str,
    /// The component.
    pub wasm: &'static [u8],
}

/// All of them, by name.
pub fn modules() -> &'static [BuiltIn] {
    include!(concat!(env!("OUT_DIR"), "/modules.rs"))
}
