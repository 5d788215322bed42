//! `distance`: between features, and who is near whom.

use groundrule_site::{FeatureId, Site};
use groundrule_units::Length;
use wasmtime::StoreContextMut;
use wasmtime::component::LinkerInstance;

use super::call::{Call, Pair, vertices};
use crate::cost;
use crate::state::{self, State};
use crate::stop::Stop;

/// The most edge pairs that one search may look at before what it found is charged for; a search that could
/// be larger is made in pieces.
const PIECE: u64 = 1 << 28;

type Features = Vec<u32>;

pub(super) fn link(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    interface.func_wrap("between", |store: StoreContextMut<'_, State>, (pairs,): (Vec<Pair>,)| {
        Ok((Call::begin(store, pairs.len())?.measure_pairs(&pairs, cost::against, Site::distance)?,))
    })?;
    interface.func_wrap("clearance", |store: StoreContextMut<'_, State>, (pairs,): (Vec<Pair>,)| {
        Ok((Call::begin(store, pairs.len())?.measure_pairs(&pairs, cost::against, Site::clearance)?,))
    })?;
    interface.func_wrap("yard", |store: StoreContextMut<'_, State>, (pairs,): (Vec<Pair>,)| {
        Ok((Call::begin(store, pairs.len())?.measure_pairs(&pairs, cost::against, Site::yard)?,))
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

fn near(mut call: Call<'_>, from: &[u32], to: &[u32], reach: f64) -> wasmtime::Result<Vec<Pair>> {
    if !reach.is_finite() || reach < 0.0 {
        return Err(Stop::misuse(format!("It searched within {reach} metres.")).into());
    }
    let site = call.site()?;
    let known = |features: &[u32]| -> Result<Vec<FeatureId>, Stop> {
        features.iter().map(|&number| Ok(state::feature(&site, number)?.0)).collect()
    };
    let (mut from, to) = (known(from)?, known(to)?);
    // In the order that the search itself gives, so that pieces do not show.
    from.sort_unstable();
    from.dedup();
    call.charge(cost::search(from.len()))?;
    let size = |id: &FeatureId| vertices(&site, *id).max(4);
    let whole: u64 = to.iter().map(size).sum();
    let mut found = Vec::new();
    let mut rest = from.as_slice();
    while !rest.is_empty() {
        let (piece, after) = rest.split_at(piece(rest, |id| size(id).saturating_mul(whole)));
        rest = after;
        let pairs = site.near(piece, &to, Length::from_metres(reach));
        for (a, b) in pairs {
            let against = cost::against(vertices(&site, a), vertices(&site, b));
            call.charge(cost::FOUND.saturating_add(against))?;
            found.push((a.0, b.0));
        }
    }
    Ok(found)
}

/// How many of the features make one piece of work; at least one.
fn piece(features: &[FeatureId], work: impl Fn(&FeatureId) -> u64) -> usize {
    let mut total = 0_u64;
    let fit = features
        .iter()
        .take_while(|id| {
            total = total.saturating_add(work(id));
            total <= PIECE
        })
        .count();
    fit.max(1)
}

fn facing(mut call: Call<'_>, features: &[u32]) -> wasmtime::Result<Vec<Vec<Option<u32>>>> {
    let site = call.site()?;
    let mut all = Vec::with_capacity(features.len());
    for &number in features {
        let (id, _) = state::feature(&site, number)?;
        call.charge(cost::VERTEX_SEARCH.saturating_mul(vertices(&site, id)))?;
        all.push(site.facing(id).into_iter().map(|side| Some(side.line?.0)).collect());
    }
    Ok(all)
}
