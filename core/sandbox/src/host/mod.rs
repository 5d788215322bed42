//! The imports of a module, one file per interface, each function charged before it works.
//!
//! Everything here runs on the module's own thread. Runs are what the program does in parallel: a thread
//! pool that waited inside a call could pick up another run on top of this one's stack.

mod amounts;
mod area;
mod call;
mod distance;
mod site;
mod task;
mod trouble;
mod width;

use wasmtime::Engine;
use wasmtime::component::Linker;

use crate::state::State;

/// The package and version that every import's name ends with.
macro_rules! interface {
    ($name:literal) => {
        concat!("groundrule:rules/", $name, "@0.1.0")
    };
}

/// Everything a module can reach.
pub(crate) fn linker(engine: &Engine) -> wasmtime::Result<Linker<State>> {
    let mut linker = Linker::new(engine);
    // Words only, no functions; a module may still name it.
    linker.instance(interface!("types"))?;
    amounts::link(&mut linker.instance(interface!("amounts"))?)?;
    site::link(&mut linker.instance(interface!("site"))?)?;
    distance::link(&mut linker.instance(interface!("distance"))?)?;
    area::link(&mut linker.instance(interface!("area"))?)?;
    width::link(&mut linker.instance(interface!("width"))?)?;
    task::link(&mut linker.instance(interface!("task"))?)?;
    trouble::link(&mut linker.instance(interface!("trouble"))?)?;
    Ok(linker)
}
