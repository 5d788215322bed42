//! Compiled code, kept in the user's own cache folder.

use std::fmt::Write;
use std::hash::{Hash, Hasher};

use sha2::{Digest, Sha256};
use wasmtime::Engine;
use wasmtime::component::Component;

/// Bytes of a SHA-256 digest.
const DIGEST: usize = 32;

/// Where compiled code may be kept. The program implements it on the user's own cache folder.
///
/// Never on a folder that a pack, a plan or another user can write to: whoever can put code here runs it.
pub trait CodeCache: Send + Sync {
    /// The bytes kept under a key, if any.
    fn load(&self, key: &str) -> Option<Vec<u8>>;
    /// Keeps bytes under a key; failing quietly is allowed.
    fn store(&self, key: &str, bytes: &[u8]);
}

/// Compiles a module, or takes its code from the cache. Whatever is wrong with what the cache holds, the
/// module is compiled again and nobody is troubled.
pub(crate) fn component(
    engine: &Engine,
    cache: Option<&dyn CodeCache>,
    wasm: &[u8],
) -> wasmtime::Result<Component> {
    let Some(cache) = cache else { return Component::from_binary(engine, wasm) };
    let key = key(engine, wasm);
    if let Some(kept) = cache.load(&key)
        && let Some(code) = unseal(&key, &kept)
        && let Some(component) = revive(engine, code)
    {
        return Ok(component);
    }
    let component = Component::from_binary(engine, wasm)?;
    if let Ok(code) = component.serialize() {
        cache.store(&key, &seal(&key, &code));
    }
    Ok(component)
}

/// The name of a module's code: of its bytes, and of the engine's version, target and settings.
fn key(engine: &Engine, wasm: &[u8]) -> String {
    let mut hasher = Digester(Sha256::new_with_prefix(b"groundrule compiled code 1\0"));
    engine.precompile_compatibility_hash().hash(&mut hasher);
    hasher.0.update(Sha256::digest(wasm));
    hasher.0.finalize().iter().fold(String::new(), |mut text, byte| {
        // Writing to a string cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}

/// The code with a digest before it. The digest covers the key too, so that code kept under another name,
/// for another module or another engine, is as good as damaged.
fn seal(key: &str, code: &[u8]) -> Vec<u8> {
    [digest(key, code).as_slice(), code].concat()
}

/// The code, if its digest is right.
fn unseal<'a>(key: &str, kept: &'a [u8]) -> Option<&'a [u8]> {
    let (stated, code) = kept.split_at_checked(DIGEST)?;
    (stated == digest(key, code)).then_some(code)
}

fn digest(key: &str, code: &[u8]) -> [u8; DIGEST] {
    Sha256::new_with_prefix(key).chain_update(code).finalize().into()
}

/// Code back to a component; none when this engine does not take it.
#[allow(unsafe_code, reason = "the one place where kept machine code is trusted; argued below")]
fn revive(engine: &Engine, code: &[u8]) -> Option<Component> {
    // SAFETY: `deserialize` requires bytes that `serialize` of a compatible engine produced, unchanged.
    // These were found under a key that only `component` above stores under, in a cache that by the
    // contract of `CodeCache` is the user's own folder, never a pack's. `unseal` has just compared their
    // digest, so that they are what was stored for this very module and this engine's version and settings,
    // not torn, rotten or renamed. They are in our memory, so nobody changes them while they are read.
    // What is left is someone who can already write as this user.
    unsafe { Component::deserialize(engine, code) }.ok()
}

/// Feeds whatever is hashed to SHA-256, whose result, unlike the standard library's, is the same for ever.
struct Digester(Sha256);

impl Hasher for Digester {
    fn write(&mut self, bytes: &[u8]) {
        self.0.update(bytes);
    }

    fn finish(&self) -> u64 {
        let digest: [u8; DIGEST] = self.0.clone().finalize().into();
        digest.iter().take(8).fold(0, |number, byte| number << 8 | u64::from(*byte))
    }
}

#[cfg(test)]
mod tests {
    use wasmtime::{Config, Engine};

    use super::{key, seal, unseal};

    #[test]
    fn other_bytes_and_other_settings_have_other_keys() {
        let engine = |fuel| Engine::new(Config::new().consume_fuel(fuel)).expect("it starts");
        let (plain, fuelled) = (engine(false), engine(true));
        assert_eq!(key(&plain, b"a"), key(&engine(false), b"a"));
        assert_ne!(key(&plain, b"a"), key(&plain, b"b"));
        assert_ne!(key(&plain, b"a"), key(&fuelled, b"a"));
    }

    #[test]
    fn only_what_was_sealed_is_unsealed() {
        let sealed = seal("key", b"code");
        assert_eq!(unseal("key", &sealed), Some(b"code".as_slice()));
        assert_eq!(unseal("other", &sealed), None);
        assert_eq!(unseal("key", b""), None);
        assert_eq!(unseal("key", &sealed[..sealed.len() - 1]), None);
        for place in 0..sealed.len() {
            let mut flipped = sealed.clone();
            flipped[place] ^= 1;
            assert_eq!(unseal("key", &flipped), None, "byte {place}");
        }
    }
}
