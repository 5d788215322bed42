//! Telling cargo which files a guest was made from.

use std::io::Write;
use std::path::Path;

use crate::GuestError;

/// Announces the lock file and every source named in a dependency file that cargo wrote beside the module.
pub(crate) fn announce(dependency_file: &Path, lock: Option<&Path>) -> Result<(), GuestError> {
    let text = std::fs::read_to_string(dependency_file)
        .map_err(|source| GuestError::Read { path: dependency_file.to_path_buf(), source })?;
    let mut out = std::io::stdout().lock();
    let lock = lock.map(|path| path.display().to_string());
    for source in sources(&text).into_iter().chain(lock) {
        writeln!(out, "cargo::rerun-if-changed={source}")
            .map_err(|source| GuestError::Write { path: "standard output".into(), source })?;
    }
    Ok(())
}

/// The sources in a make-style dependency line, `module: source source`, where a space in a name is escaped.
fn sources(text: &str) -> Vec<String> {
    let Some((_, list)) = text.lines().next().and_then(|line| line.split_once(": ")) else {
        return Vec::new();
    };
    let mut names = vec![String::new()];
    let mut letters = list.chars().peekable();
    while let Some(letter) = letters.next() {
        match (letter, letters.peek()) {
            ('\\', Some(' ')) => {
                letters.next();
                if let Some(name) = names.last_mut() {
                    name.push(' ');
                }
            }
            (' ', _) => names.push(String::new()),
            _ => {
                if let Some(name) = names.last_mut() {
                    name.push(letter);
                }
            }
        }
    }
    names.retain(|name| !name.is_empty());
    names
}

#[cfg(test)]
mod tests {
    use super::sources;

    #[test]
    fn sources_are_read_from_the_dependency_line() {
        let check = |line: &str, expected: &[&str]| assert_eq!(sources(line), expected, "{line}");
        check("/t/a.wasm: /g/src/lib.rs /g/src/yard.rs\n", &["/g/src/lib.rs", "/g/src/yard.rs"]);
        check("/t/a.wasm: /my\\ garden/lib.rs\n", &["/my garden/lib.rs"]);
        check("C:\\t\\a.wasm: C:\\g\\lib.rs\n", &["C:\\g\\lib.rs"]);
        check("/t/a.wasm:\n", &[]);
    }
}
