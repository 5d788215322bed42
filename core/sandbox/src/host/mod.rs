//! The imports of a module, one file per interface, each function charged before it works.
//!
//! Everything here runs on the module's own thread. Runs are what the program does in parallel: a thread
//! pool that waited inside a call could pick up another run on top of this one's stack.

mod amounts;
mod area;
mod call;
mod distance;
mod enclosure;
mod flow;
mod region;
mod runoff;
mod site;
mod task;
mod terrain;
mod trouble;
mod width;

use wasmtime::Engine;
use wasmtime::component::Linker;

use crate::state::State;

/// A name with the package and the newest version. A module built for an older version of the same 0.1 finds what it
/// imports under these names too: versions that differ in their last number are compatible by the component
/// model's rules, and the engine links them so.
macro_rules! interface {
    ($name:literal) => {
        concat!("groundrule:rules/", $name, "@0.1.2")
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
    region::link(&mut linker.instance(interface!("region"))?)?;
    enclosure::link(&mut linker.instance(interface!("enclosure"))?)?;
    terrain::link(&mut linker.instance(interface!("terrain"))?)?;
    flow::link(&mut linker.instance(interface!("flow"))?)?;
    runoff::link(&mut linker.instance(interface!("runoff"))?)?;
    task::link(&mut linker.instance(interface!("task"))?)?;
    trouble::link(&mut linker.instance(interface!("trouble"))?)?;
    Ok(linker)
}
