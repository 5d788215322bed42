//! Builds the modules, reads the text of their checks, and lists the packs.
#![allow(
    clippy::disallowed_methods,
    clippy::disallowed_macros,
    clippy::print_stdout,
    reason = "a build script lives on files and environment, and talks to cargo by printing"
)]

use std::error::Error;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs};

#[path = "build/doc.rs"]
mod doc;

/// The families of modules inside the program.
const FAMILIES: [&str; 11] = [
    "fences",
    "grading",
    "plants",
    "pools",
    "runoff",
    "setbacks",
    "sight",
    "stated",
    "submittal",
    "utilities",
    "walks",
];

fn main() -> Result<(), Box<dyn Error>> {
    let here = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").ok_or("cargo names no folder")?);
    let out = PathBuf::from(env::var_os("OUT_DIR").ok_or("cargo names no output folder")?);
    fs::write(out.join("modules.rs"), modules()?)?;
    fs::write(out.join("docs.rs"), docs(&here)?)?;
    fs::write(out.join("packs.rs"), packs(&here)?)?;
    Ok(())
}

fn modules() -> Result<String, Box<dyn Error>> {
    let mut list = String::from("&[\n");
    for family in FAMILIES {
        let wasm = groundrule_build_guest::build(&format!("groundrule-{family}"))?;
        writeln!(list, "BuiltIn {{ name: {family:?}, wasm: include_bytes!({:?}) }},", text(&wasm)?)?;
    }
    Ok(list + "]\n")
}

fn docs(here: &Path) -> Result<String, Box<dyn Error>> {
    let mut list = String::from("&[\n");
    for family in FAMILIES {
        for file in entries(&here.join("modules").join(family).join("src/checks"))? {
            let stem = text(file.file_stem().map(Path::new).ok_or("a check's file has a name")?)?.to_owned();
            if stem == "mod" {
                continue;
            }
            let check = stem.replace('_', "-");
            let words = doc::of_check(&fs::read_to_string(&file)?)
                .ok_or_else(|| format!("{}: the check's struct has no doc comment", file.display()))?;
            writeln!(list, "CheckDoc {{ module: {family:?}, check: {check:?}, text: {words:?} }},")?;
        }
    }
    Ok(list + "]\n")
}

fn packs(here: &Path) -> Result<String, Box<dyn Error>> {
    let mut list = String::from("&[\n");
    let folder = here.join("packs");
    println!("cargo::rerun-if-changed={}", folder.display());
    for pack in if folder.is_dir() { entries(&folder)? } else { Vec::new() } {
        let file = pack.join("pack.toml");
        if !file.is_file() {
            continue;
        }
        println!("cargo::rerun-if-changed={}", file.display());
        let name = text(pack.file_name().map(Path::new).ok_or("a pack's folder has a name")?)?.to_owned();
        writeln!(
            list,
            "BuiltInPack {{ name: {name:?}, file: \"rules/packs/{name}/pack.toml\", text: include_str!({:?}) }},",
            text(&file)?
        )?;
    }
    Ok(list + "]\n")
}

/// What a folder holds, by name, so that the program's bytes do not depend on the file system's order.
fn entries(folder: &Path) -> Result<Vec<PathBuf>, Box<dyn Error>> {
    println!("cargo::rerun-if-changed={}", folder.display());
    let mut paths = fs::read_dir(folder)
        .map_err(|why| format!("{}: {why}", folder.display()))?
        .map(|entry| entry.map(|entry| entry.path()))
        .collect::<Result<Vec<_>, _>>()?;
    paths.sort();
    Ok(paths)
}

fn text(path: &Path) -> Result<&str, Box<dyn Error>> {
    path.to_str().ok_or_else(|| format!("{}: a path that is not Unicode", path.display()).into())
}
