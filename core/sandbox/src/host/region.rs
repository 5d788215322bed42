//! `region`: places constructed from what is drawn, features of this run from then on.

use std::sync::Arc;

use groundrule_site::region::Draft;
use groundrule_site::{FeatureId, Site};
use groundrule_units::Length;
use wasmtime::StoreContextMut;
use wasmtime::component::LinkerInstance;

use super::call::{Call, Pair};
use crate::cost;
use crate::state::{self, State};
use crate::stop::Stop;

/// The longest depth, reach or leg that may be asked for, in metres.
const LONGEST: f64 = 100_000.0;

type Features = Vec<u32>;
type Legs = (f64, f64);

pub(super) fn link(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    interface.func_wrap("lot-corners", |store: StoreContextMut<'_, State>, (lots,): (Features,)| {
        Ok((corners(Call::begin(store, lots.len())?, &lots)?,))
    })?;
    interface.func_wrap("strip", |store: StoreContextMut<'_, State>, (lines, depth): (Features, f64)| {
        let (mut call, depth) = (Call::begin(store, lines.len())?, length(depth)?);
        let made =
            lines.iter().map(|&line| one(&mut call, &[line], |site, ids| site.strip(id(ids, 0), depth)));
        Ok((made.collect::<wasmtime::Result<Vec<_>>>()?,))
    })?;
    interface.func_wrap(
        "around",
        |store: StoreContextMut<'_, State>, (features, reach, within_lot): (Features, f64, bool)| {
            let (mut call, reach) = (Call::begin(store, features.len())?, length(reach)?);
            let made = features.iter().map(|&feature| {
                one(&mut call, &[feature], |site, ids| site.around(id(ids, 0), reach, within_lot))
            });
            Ok((made.collect::<wasmtime::Result<Vec<_>>>()?,))
        },
    )?;
    interface.func_wrap(
        "corner-sight",
        |store: StoreContextMut<'_, State>,
         (pairs, first, second, from_centrelines): (Vec<Pair>, f64, f64, bool)| {
            let (mut call, legs) = (Call::begin(store, pairs.len())?, (length(first)?, length(second)?));
            let made = pairs.iter().map(|&(a, b)| {
                one(&mut call, &[a, b], |site, ids| {
                    site.corner_sight((id(ids, 0), id(ids, 1)), legs, from_centrelines)
                })
            });
            Ok((made.collect::<wasmtime::Result<Vec<_>>>()?,))
        },
    )?;
    interface.func_wrap(
        "drive-sight",
        |store: StoreContextMut<'_, State>, (pairs, along, into): (Vec<Pair>, f64, f64)| {
            let call = Call::begin(store, pairs.len())?;
            Ok((drives(call, &pairs, (along, into))?,))
        },
    )
}

fn length(metres: f64) -> Result<Length, Stop> {
    if (0.0..=LONGEST).contains(&metres) {
        return Ok(Length::from_metres(metres));
    }
    Err(Stop::misuse(format!(
        "It asked for a region by {metres} metres; lengths from nothing to {LONGEST} will do."
    )))
}

/// The place in a list of what was handed in, all of it known.
fn id(ids: &[FeatureId], at: usize) -> FeatureId {
    ids.get(at).copied().unwrap_or(FeatureId(u32::MAX))
}

/// Charges for constructing from features, and constructs.
fn draft<T>(
    call: &mut Call<'_>,
    numbers: &[u32],
    work: impl FnOnce(&Site, &[FeatureId]) -> T,
) -> wasmtime::Result<T> {
    let site = call.site()?;
    let mut ids = Vec::with_capacity(numbers.len());
    for &number in numbers {
        let (id, _) = state::feature(&site, number)?;
        call.charge(cost::VERTEX_SEARCH.saturating_mul(site.vertices(id) as u64))?;
        ids.push(id);
    }
    Ok(work(&site, &ids))
}

/// Charges for cutting a draft to shape, and makes the region.
fn made(call: &mut Call<'_>, draft: &Draft) -> wasmtime::Result<Option<u32>> {
    call.charge(cost::clip(draft.vertices() as u64))?;
    let Some(id) = call.state().region(draft)? else { return Ok(None) };
    let terms = call.site()?.error_terms(id) as u64;
    call.charge(cost::REGION_TERM.saturating_mul(terms))?;
    Ok(Some(id.0))
}

fn one(
    call: &mut Call<'_>,
    numbers: &[u32],
    work: impl FnOnce(&Site, &[FeatureId]) -> Option<Draft>,
) -> wasmtime::Result<Option<u32>> {
    match draft(call, numbers, work)? {
        Some(draft) => made(call, &draft),
        None => Ok(None),
    }
}

fn drives(mut call: Call<'_>, pairs: &[Pair], (along, into): Legs) -> wasmtime::Result<Vec<Features>> {
    let (along, into) = (length(along)?, length(into)?);
    let mut all = Vec::with_capacity(pairs.len());
    for &(drive, line) in pairs {
        let work = |site: &Site, ids: &[FeatureId]| site.drive_sight((id(ids, 0), id(ids, 1)), along, into);
        let drafts = draft(&mut call, &[drive, line], work)?;
        let mut regions = Vec::with_capacity(drafts.len());
        for draft in &drafts {
            regions.extend(made(&mut call, draft)?);
        }
        all.push(regions);
    }
    Ok(all)
}

fn corners(mut call: Call<'_>, lots: &[u32]) -> wasmtime::Result<Vec<Vec<Pair>>> {
    let site: Arc<Site> = call.site()?;
    let mut all = Vec::with_capacity(lots.len());
    for &number in lots {
        let (id, _) = state::feature(&site, number)?;
        let found = site.lot_corners(id);
        call.charge(cost::ITEM.saturating_mul(found.len() as u64))?;
        all.push(found.into_iter().map(|(a, b)| (a.0, b.0)).collect());
    }
    Ok(all)
}
