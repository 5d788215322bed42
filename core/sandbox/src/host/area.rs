//! `area`: areas, overlaps and lengths.

use std::collections::BTreeSet;

use groundrule_site::Site;
use wasmtime::StoreContextMut;
use wasmtime::component::LinkerInstance;

use super::call::{Call, Handle, Pair};
use crate::cost;
use crate::state::{self, State};

type Features = Vec<u32>;

pub(super) fn link(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    interface.func_wrap("of", |store: StoreContextMut<'_, State>, (features,): (Features,)| {
        let mut call = Call::begin(store, features.len())?;
        Ok((call.measure(&features, cost::clip, Site::area)?,))
    })?;
    interface.func_wrap(
        "covered",
        |store: StoreContextMut<'_, State>, (features, within): (Features, Option<u32>)| {
            Ok((covered(Call::begin(store, features.len())?, &features, within)?,))
        },
    )?;
    interface.func_wrap("overlap", |store: StoreContextMut<'_, State>, (pairs,): (Vec<Pair>,)| {
        let mut call = Call::begin(store, pairs.len())?;
        let cost = |a: u64, b: u64| cost::clip(a.saturating_add(b));
        Ok((call.measure_pairs(&pairs, cost, Site::overlap)?,))
    })?;
    interface.func_wrap("length", |store: StoreContextMut<'_, State>, (features,): (Features,)| {
        let mut call = Call::begin(store, features.len())?;
        Ok((call.measure(&features, cost::walk, Site::length)?,))
    })?;
    interface.func_wrap("length-inside", |store: StoreContextMut<'_, State>, (pairs,): (Vec<Pair>,)| {
        let mut call = Call::begin(store, pairs.len())?;
        Ok((call.measure_pairs(&pairs, cost::against, Site::length_inside)?,))
    })
}

fn covered(mut call: Call<'_>, features: &[u32], within: Option<u32>) -> wasmtime::Result<Handle> {
    let site = call.site()?;
    let mut ids = Vec::with_capacity(features.len());
    let mut vertices = 0_u64;
    // A feature named again covers nothing more.
    for number in features.iter().copied().collect::<BTreeSet<_>>() {
        let (id, _) = state::feature(&site, number)?;
        vertices = vertices.saturating_add(super::call::vertices(&site, id));
        ids.push(id);
    }
    let within = match within {
        Some(number) => {
            let (id, _) = state::feature(&site, number)?;
            vertices = vertices.saturating_add(super::call::vertices(&site, id));
            Some(id)
        }
        None => None,
    };
    call.charge(cost::clip(vertices))?;
    call.hand(site.covered(&ids, within))
}
