//! Runs the program the way a person does.

#![allow(
    dead_code,
    unreachable_pub,
    clippy::disallowed_methods,
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "each test file uses its part, and without the program there is no test"
)]

pub(crate) mod rows;

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// The program, with nothing of the developer's own environment.
pub(crate) fn groundrule(args: &[&str]) -> Output {
    groundrule_in(&root(), args, &[])
}

/// The program in a folder, with further environment.
pub(crate) fn groundrule_in(folder: &Path, args: &[&str], environment: &[(&str, &str)]) -> Output {
    let cache = cache();
    let mut command = Command::new(env!("CARGO_BIN_EXE_groundrule"));
    command
        .current_dir(folder)
        .args(args)
        .env_remove("NO_COLOR")
        .env_remove("CLICOLOR_FORCE")
        .env("COLUMNS", "80");
    command.env("XDG_CACHE_HOME", cache).envs(environment.iter().copied());
    command.output().expect("the program runs")
}

/// A cache folder of the tests' own, so that no test touches the developer's.
fn cache() -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join("cache")
}

/// The top of the repository.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Standard output as text.
pub(crate) fn out(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

/// Standard error as text.
pub(crate) fn err(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// Output, errors and exit code in one text, for snapshots.
pub(crate) fn told(output: &Output) -> String {
    let code = output.status.code().map_or_else(|| "none".to_owned(), |code| code.to_string());
    let (out, err) = (out(output), err(output));
    let err = if err.is_empty() { String::new() } else { format!("\n--- standard error\n{err}") };
    format!("exit code {code}\n{out}{err}")
}
