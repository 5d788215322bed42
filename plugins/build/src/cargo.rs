//! Calling cargo for the guest.

use std::env;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::{GuestError, TARGET};

/// Settings of the outer build that must not reach the guest: its flags, its wrapper (clippy), its target.
const OUTER: [&str; 10] = [
    "RUSTFLAGS",
    "CARGO_BUILD_RUSTFLAGS",
    "CARGO_BUILD_TARGET",
    "CARGO_BUILD_TARGET_DIR",
    "CARGO_TARGET_DIR",
    "RUSTC_WORKSPACE_WRAPPER",
    "CARGO_BUILD_RUSTC_WORKSPACE_WRAPPER",
    "CARGO_PROFILE_RELEASE_LTO",
    "CARGO_PROFILE_RELEASE_OPT_LEVEL",
    "CARGO_PROFILE_RELEASE_DEBUG",
];

/// How every guest is compiled, whatever profile the outer build has: small, one unit, no unwinding.
const PROFILE: [&str; 6] = [
    "profile.release.opt-level=\"s\"",
    "profile.release.codegen-units=1",
    "profile.release.lto=\"fat\"",
    "profile.release.panic=\"abort\"",
    "profile.release.debug=false",
    "profile.release.strip=\"symbols\"",
];

/// One guest to build.
pub struct Order {
    /// The package's name in the workspace.
    pub package: String,
    /// The cargo to call.
    pub cargo: PathBuf,
    /// A manifest of the workspace that the package belongs to.
    pub manifest: PathBuf,
    /// Where the finished component goes; the guests' target folder is made inside.
    pub folder: PathBuf,
}

impl Order {
    /// What cargo told the build script that is running.
    pub fn from_build_script(package: &str) -> Result<Self, GuestError> {
        let get = |variable: &'static str| {
            env::var_os(variable).map(PathBuf::from).ok_or(GuestError::NotABuildScript { variable })
        };
        Ok(Self {
            package: package.to_owned(),
            cargo: get("CARGO")?,
            manifest: get("CARGO_MANIFEST_DIR")?.join("Cargo.toml"),
            folder: get("OUT_DIR")?,
        })
    }

    /// The workspace's lock file, if there is one.
    pub(crate) fn lock(&self) -> Option<PathBuf> {
        self.manifest.ancestors().skip(1).map(|folder| folder.join("Cargo.lock")).find(|file| file.is_file())
    }
}

/// Compiles the guest and returns the path of its core module.
pub(crate) fn compile(order: &Order) -> Result<PathBuf, GuestError> {
    let target_dir = order.folder.join("guests");
    let mut command = Command::new(&order.cargo);
    command.args(["build", "--release", "--lib", "--target", TARGET, "-p", &order.package]);
    command.arg("--manifest-path").arg(&order.manifest).arg("--target-dir").arg(&target_dir);
    for setting in PROFILE {
        command.args(["--config", setting]);
    }
    let lock = order.lock();
    if lock.is_some() {
        command.arg("--locked");
    }
    for variable in OUTER {
        command.env_remove(variable);
    }
    command.env("CARGO_ENCODED_RUSTFLAGS", plain_paths(lock.as_deref().and_then(Path::parent)));
    let output =
        command.output().map_err(|source| GuestError::Start { program: order.cargo.clone(), source })?;
    if !output.status.success() {
        let log = String::from_utf8_lossy(&output.stderr).into_owned();
        return Err(if lacks_target(&log) {
            GuestError::NoTarget
        } else {
            GuestError::Compile { package: order.package.clone(), log }
        });
    }
    Ok(target_dir.join(TARGET).join("release").join(format!("{}.wasm", order.package.replace('-', "_"))))
}

/// Flags that keep this machine's folders out of the module's panic locations, so that its bytes and its
/// hash are the same wherever it is built.
fn plain_paths(root: Option<&Path>) -> String {
    let home = env::var_os("CARGO_HOME")
        .map(PathBuf::from)
        .or_else(|| env::home_dir().map(|home| home.join(".cargo")));
    [(home.as_deref(), "cargo"), (root, ".")]
        .into_iter()
        .filter_map(|(from, to)| Some(format!("--remap-path-prefix={}={to}", from?.display())))
        .collect::<Vec<_>>()
        .join("\u{1f}")
}

/// True when the compiler's words mean that the guest target's standard library is missing.
fn lacks_target(log: &str) -> bool {
    log.contains(&format!("the `{TARGET}` target may not be installed"))
}

#[cfg(test)]
mod tests {
    use super::lacks_target;

    #[test]
    fn a_missing_target_is_told_from_a_mistake_in_the_guest() {
        let check = |log: &str, expected: bool| assert_eq!(lacks_target(log), expected, "{log}");
        // What rustc 1.95 prints without the target, and for a misspelt type.
        check(
            "error[E0463]: can't find crate for `core`\n  |\n  = note: the `wasm32-unknown-unknown` target may not be installed",
            true,
        );
        check("error[E0412]: cannot find type `Readng` in this scope", false);
        check("error[E0463]: can't find crate for `gardn`", false);
    }
}
