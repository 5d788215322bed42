//! Compiled modules in the user's own cache folder.

use std::path::PathBuf;

use etcetera::BaseStrategy as _;
use groundrule_sandbox::CodeCache;

use crate::files;

/// A folder of compiled modules, one file per key.
pub(crate) struct FolderCache {
    folder: PathBuf,
}

impl FolderCache {
    /// The cache in the user's cache folder; none when the system names no such folder.
    pub(crate) fn of_user() -> Option<Self> {
        let base = etcetera::choose_base_strategy().ok()?.cache_dir();
        Some(Self { folder: base.join("groundrule").join("modules") })
    }

    /// Keys are hashes in hexadecimal; anything else names no file.
    fn file(&self, key: &str) -> Option<PathBuf> {
        (!key.is_empty() && key.bytes().all(|b| b.is_ascii_alphanumeric())).then(|| self.folder.join(key))
    }
}

impl CodeCache for FolderCache {
    fn load(&self, key: &str) -> Option<Vec<u8>> {
        files::read(&self.file(key)?).ok()
    }

    fn store(&self, key: &str, bytes: &[u8]) {
        // A cache that cannot be written costs time and nothing else.
        if let Some(file) = self.file(key)
            && make_private(&self.folder).is_ok()
        {
            let _ = files::write(&file, bytes);
        }
    }
}

#[cfg(unix)]
fn make_private(folder: &std::path::Path) -> std::io::Result<()> {
    use std::os::unix::fs::DirBuilderExt as _;
    std::fs::DirBuilder::new().recursive(true).mode(0o700).create(folder)
}

#[cfg(not(unix))]
fn make_private(folder: &std::path::Path) -> std::io::Result<()> {
    std::fs::create_dir_all(folder)
}
