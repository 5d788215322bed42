//! Packs and modules made ready: the built-in ones and those the user names.

use std::path::Path;
use std::sync::Arc;

use groundrule_packs::{Pack, read_pack};
use groundrule_plan::{KindTree, Source};
use groundrule_sandbox::{Blame, CodeCache, Limits, Module, Sandbox};
use rayon::prelude::*;

use crate::cache::FolderCache;
use crate::files;
use crate::trouble::Trouble;

/// The packs of these names, built in or files.
pub(crate) fn packs(names: &[String], kinds: &KindTree) -> Result<Vec<Pack>, Trouble> {
    let mut packs: Vec<Pack> = Vec::new();
    for name in names {
        let pack = read_pack(&source(name)?, kinds)?;
        if packs.iter().all(|known| known.name != pack.name) {
            packs.push(pack);
        }
    }
    Ok(packs)
}

fn source(name: &str) -> Result<Source, Trouble> {
    if let Some(pack) = groundrule_rules::packs().iter().find(|pack| pack.name == name) {
        return Ok(Source { name: pack.file.to_owned(), text: Arc::from(pack.text) });
    }
    let path = Path::new(name);
    if !path.exists() {
        let known: Vec<&str> = groundrule_rules::packs().iter().map(|pack| pack.name).collect();
        return Err(Trouble::input(
            format!("There is no rule pack `{name}`, neither built in nor as a file."),
            format!("Built in are {}; a pack of your own is named by its file.", known.join(", ")),
        ));
    }
    Ok(Source { name: name.to_owned(), text: Arc::from(files::read_text(path)?) })
}

/// The modules these packs ask for, and what stopped the others.
pub(crate) struct Modules {
    pub(crate) loaded: Vec<Module>,
    pub(crate) stopped: Vec<Blame>,
}

/// Loads the built-in modules that the packs use, and the user's own, for plans of so many features.
pub(crate) fn modules(
    packs: &[Pack],
    args: &crate::args::Sandbox,
    features: usize,
) -> Result<Modules, Trouble> {
    let cache = if args.no_cache { None } else { FolderCache::of_user() };
    let cache = cache.map(|cache| Box::new(cache) as Box<dyn CodeCache>);
    let sandbox = Sandbox::new(limits(args, features), cache).map_err(Trouble::Module)?;

    let asked = |name: &str| {
        packs.iter().flat_map(|pack| &pack.rows).any(|row| row.check.split('/').next() == Some(name))
    };
    let mut wanted: Vec<(String, Vec<u8>)> = groundrule_rules::modules()
        .iter()
        .filter(|module| asked(module.name))
        .map(|module| (module.name.to_owned(), module.wasm.to_vec()))
        .collect();
    for path in &args.modules {
        let name =
            path.file_stem().map_or_else(|| path.display().to_string(), |s| s.to_string_lossy().into_owned());
        wanted.retain(|(known, _)| *known != name);
        wanted.push((name, files::read(path)?));
    }
    let results: Vec<Result<Module, Blame>> =
        wanted.par_iter().map(|(name, bytes)| sandbox.load(name, bytes)).collect();
    let mut modules = Modules { loaded: Vec::new(), stopped: Vec::new() };
    for result in results {
        match result {
            Ok(module) => modules.loaded.push(module),
            Err(blame) => modules.stopped.push(blame),
        }
    }
    Ok(modules)
}

fn limits(args: &crate::args::Sandbox, features: usize) -> Limits {
    let standard = Limits::for_features(features);
    Limits {
        fuel: args.fuel.unwrap_or(standard.fuel),
        memory: args.memory.map_or(standard.memory, |mib| mib.saturating_mul(1 << 20)),
        ..standard
    }
}
