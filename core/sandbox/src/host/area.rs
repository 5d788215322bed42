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
        Ok((call.measure(&features, |it| cost::clip(cost::vertices(it)), Site::area)?,))
    })?;
    interface.func_wrap(
        "covered",
        |store: StoreContextMut<'_, State>, (features, within): (Features, Option<u32>)| {
            Ok((covered(Call::begin(store, features.len())?, &features, within)?,))
        },
    )?;
    interface.func_wrap("overlap", |store: StoreContextMut<'_, State>, (pairs,): (Vec<Pair>,)| {
        let mut call = Call::begin(store, pairs.len())?;
        let cost = |a: &_, b: &_| cost::clip(cost::vertices(a).saturating_add(cost::vertices(b)));
        Ok((call.measure_pairs(&pairs, cost, Site::overlap)?,))
    })?;
    interface.func_wrap("length", |store: StoreContextMut<'_, State>, (features,): (Features,)| {
        let mut call = Call::begin(store, features.len())?;
        Ok((call.measure(&features, |it| cost::walk(cost::vertices(it)), Site::length)?,))
    })?;
    interface.func_wrap("length-inside", |store: StoreContextMut<'_, State>, (pairs,): (Vec<Pair>,)| {
        let mut call = Call::begin(store, pairs.len())?;
        let cost = |a: &_, b: &_| cost::against(cost::vertices(a), cost::vertices(b));
        Ok((call.measure_pairs(&pairs, cost, Site::length_inside)?,))
    })
}

fn covered(mut call: Call<'_>, features: &[u32], within: Option<u32>) -> wasmtime::Result<Handle> {
    let site = call.site()?;
    let mut ids = Vec::with_capacity(features.len());
    let mut vertices = 0_u64;
    // A feature named again covers nothing more.
    for number in features.iter().copied().collect::<BTreeSet<_>>() {
        let (id, feature) = state::feature(&site, number)?;
        vertices = vertices.saturating_add(cost::vertices(feature));
        ids.push(id);
    }
    let within = match within {
        Some(number) => {
            let (id, feature) = state::feature(&site, number)?;
            vertices = vertices.saturating_add(cost::vertices(feature));
            Some(id)
        }
        None => None,
    };
    call.charge(cost::clip(vertices))?;
    call.hand(site.covered(&ids, within))
}
