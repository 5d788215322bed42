//! `enclosure`: what stands all the way around something.

use std::collections::BTreeSet;

use groundrule_site::FeatureId;
use wasmtime::StoreContextMut;
use wasmtime::component::LinkerInstance;

use super::call::Call;
use crate::bindings::enclosure::Ring;
use crate::cost;
use crate::state::{self, State};

pub(super) fn link(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    interface.func_wrap(
        "widest-opening",
        |store: StoreContextMut<'_, State>, (around, pieces): (u32, Vec<u32>)| {
            let call = Call::begin(store, pieces.len().saturating_add(1))?;
            Ok((widest(call, around, &pieces)?,))
        },
    )
}

fn widest(mut call: Call<'_>, around: u32, pieces: &[u32]) -> wasmtime::Result<Option<Ring>> {
    let site = call.site()?;
    let (around, _) = state::feature(&site, around)?;
    let mut ids: Vec<FeatureId> = Vec::with_capacity(pieces.len());
    let mut vertices = site.vertices(around) as u64;
    // A piece named again is no other piece.
    for number in pieces.iter().copied().collect::<BTreeSet<_>>() {
        let (id, _) = state::feature(&site, number)?;
        vertices = vertices.saturating_add(site.vertices(id) as u64);
        ids.push(id);
    }
    call.charge(cost::ring(vertices))?;
    match site.widest_opening(around, &ids) {
        Some(found) => Ok(Some(Ring {
            opening: call.hand(found.opening)?,
            pieces: found.pieces.into_iter().map(|id| id.0).collect(),
        })),
        None => Ok(None),
    }
}
