//! `width`: of walks and passages.

use groundrule_site::Site;
use wasmtime::StoreContextMut;
use wasmtime::component::LinkerInstance;

use super::call::Call;
use crate::cost;
use crate::state::State;

pub(super) fn link(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    interface.func_wrap("drawn", |store: StoreContextMut<'_, State>, (features,): (Vec<u32>,)| {
        let mut call = Call::begin(store, features.len())?;
        // Every edge is held against every other.
        let cost = |vertices| cost::against(vertices, vertices);
        Ok((call.measure(&features, cost, Site::drawn_width)?,))
    })
}
