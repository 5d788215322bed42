//! `distance`: between features, and who is near whom.

use groundrule_site::{Feature, FeatureId, Site};
use groundrule_units::Length;
use wasmtime::StoreContextMut;
use wasmtime::component::LinkerInstance;

use super::call::{Call, Pair};
use crate::cost;
use crate::state::{self, State};
use crate::stop::Stop;

/// The most pairs that one search may find before they are charged for; a search that could find more is
/// made in pieces.
const PIECE: usize = 1 << 24;

type Features = Vec<u32>;

pub(super) fn link(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    interface.func_wrap("between", |store: StoreContextMut<'_, State>, (pairs,): (Vec<Pair>,)| {
        Ok((Call::begin(store, pairs.len())?.measure_pairs(&pairs, against, Site::distance)?,))
    })?;
    interface.func_wrap("clearance", |store: StoreContextMut<'_, State>, (pairs,): (Vec<Pair>,)| {
        Ok((Call::begin(store, pairs.len())?.measure_pairs(&pairs, against, Site::clearance)?,))
    })?;
    interface.func_wrap("yard", |store: StoreContextMut<'_, State>, (pairs,): (Vec<Pair>,)| {
        Ok((Call::begin(store, pairs.len())?.measure_pairs(&pairs, against, Site::yard)?,))
    })?;
    interface.func_wrap(
        "near",
        |store: StoreContextMut<'_, State>, (from, to, reach): (Features, Features, f64)| {
            let call = Call::begin(store, from.len().saturating_add(to.len()))?;
            Ok((near(call, &from, &to, reach)?,))
        },
    )?;
    interface.func_wrap("facing", |store: StoreContextMut<'_, State>, (features,): (Features,)| {
        let call = Call::begin(store, features.len())?;
        Ok((facing(call, &features)?,))
    })
}

fn against(a: &Feature, b: &Feature) -> u64 {
    cost::against(cost::vertices(a), cost::vertices(b))
}

fn near(mut call: Call<'_>, from: &[u32], to: &[u32], reach: f64) -> wasmtime::Result<Vec<Pair>> {
    if !reach.is_finite() || reach < 0.0 {
        return Err(Stop::misuse(format!("It searched within {reach} metres.")).into());
    }
    let site = call.site()?;
    let known = |features: &[u32]| -> Result<Vec<FeatureId>, Stop> {
        features.iter().map(|&number| Ok(state::feature(&site, number)?.0)).collect()
    };
    let (from, to) = (known(from)?, known(to)?);
    let mut found = Vec::new();
    for piece in from.chunks((PIECE / to.len().max(1)).max(1)) {
        call.charge(cost::search(piece.len().saturating_add(to.len())))?;
        let pairs = site.near(piece, &to, Length::from_metres(reach));
        call.charge(cost::FOUND.saturating_mul(pairs.len() as u64))?;
        found.extend(pairs.into_iter().map(|(a, b)| (a.0, b.0)));
    }
    Ok(found)
}

fn facing(mut call: Call<'_>, features: &[u32]) -> wasmtime::Result<Vec<Vec<Option<u32>>>> {
    let site = call.site()?;
    let mut all = Vec::with_capacity(features.len());
    for &number in features {
        let (id, feature) = state::feature(&site, number)?;
        call.charge(cost::VERTEX_SEARCH.saturating_mul(cost::vertices(feature)))?;
        all.push(site.facing(id).into_iter().map(|side| Some(side.line?.0)).collect());
    }
    Ok(all)
}
