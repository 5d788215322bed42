//! The packs.

/// A pack of limits.
#[derive(Clone, Copy, Debug)]
pub struct BuiltInPack {
    /// Its name: that of its folder.
    pub name: &'static str,
    /// The file it comes from, as reports name it.
    pub file: &'static str,
    /// What the file says.
    pub text: &'static str,
}

/// All of them, by name.
pub fn packs() -> &'static [BuiltInPack] {
    include!(concat!(env!("OUT_DIR"), "/packs.rs"))
}
