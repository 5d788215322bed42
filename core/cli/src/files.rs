//! Files in and out. Nothing is ever half-written.

use std::io::Write as _;
use std::path::Path;

use crate::trouble::Trouble;

/// The most bytes of any file that will be read.
const LARGEST: u64 = 256 << 20;

/// The bytes of a file.
#[allow(clippy::disallowed_methods, reason = "this is the room where the program reads files")]
pub(crate) fn read(path: &Path) -> Result<Vec<u8>, Trouble> {
    let name = path.display();
    let about = std::fs::metadata(path).map_err(|error| {
        Trouble::input(format!("{name} could not be opened: {error}."), "Check the spelling and the folder.")
    })?;
    if about.is_dir() {
        return Err(Trouble::input(format!("{name} is a folder."), "Name a plan file inside it."));
    }
    if about.len() > LARGEST {
        let size = about.len() >> 20;
        return Err(Trouble::input(
            format!("{name} has {size} MiB, more than the {} MiB that are read.", LARGEST >> 20),
            "Cut out the part around the lot and try again.",
        ));
    }
    std::fs::read(path).map_err(|error| {
        Trouble::input(format!("{name} could not be read: {error}."), "Check its permissions.")
    })
}

/// The text of a file.
pub(crate) fn read_text(path: &Path) -> Result<String, Trouble> {
    String::from_utf8(read(path)?).map_err(|error| {
        Trouble::input(
            format!(
                "{} is not text: byte {} is not UTF-8.",
                path.display(),
                error.utf8_error().valid_up_to()
            ),
            "A plan is a TOML text file; `groundrule begin` writes one to begin from.",
        )
    })
}

/// Writes a file whole or not at all.
pub(crate) fn write(path: &Path, bytes: &[u8]) -> Result<(), Trouble> {
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let place = || -> std::io::Result<()> {
        let mut file = tempfile::Builder::new().prefix(".groundrule-").tempfile_in(folder)?;
        file.write_all(bytes)?;
        readable(file.as_file())?;
        file.persist(path).map_err(|error| error.error)?;
        Ok(())
    };
    place().map_err(|error| {
        Trouble::input(
            format!("{} could not be written: {error}.", path.display()),
            "Name a folder that is there and that you may write to.",
        )
    })
}

/// Temporary files are private; what a user asked for follows the usual permissions.
#[cfg(unix)]
fn readable(file: &std::fs::File) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt as _;
    file.set_permissions(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn readable(_: &std::fs::File) -> std::io::Result<()> {
    Ok(())
}
