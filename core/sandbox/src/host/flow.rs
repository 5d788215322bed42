//! `flow`: where water runs on the ground.

use groundrule_site::ground::{Course, Hollow, Outcome};
use groundrule_site::{FeatureId, Site};
use groundrule_survey::Position;
use wasmtime::StoreContextMut;
use wasmtime::component::LinkerInstance;

use super::call::{Call, Handle, Pair, vertices};
use super::terrain::{size, surface};
use crate::bindings::flow as words;
use crate::bindings::terrain::Ground;
use crate::cost;
use crate::state::{self, State};
use crate::stop::Stop;

type Features = Vec<u32>;
type Store<'a> = StoreContextMut<'a, State>;

/// How often a surface is drawn for a chance, and for the spread of an area; what that costs is a multiple of it.
const DRAWS: u64 = 64;

pub(super) fn link(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    interface.func_wrap("hollows", |store: Store<'_>, (of, within, drains): (Ground, u32, Features)| {
        Ok((hollows(Call::begin(store, drains.len())?, of, within, &drains)?,))
    })?;
    interface.func_wrap(
        "deepest",
        |store: Store<'_>, (of, within, drains): (Ground, Features, Features)| {
            let mut call = Call::begin(store, within.len().saturating_add(drains.len()))?;
            let site = call.site()?;
            let (drains, surfaces) = (known(&site, &drains)?, cost::surface(size(&site, of)));
            let charge = |vertices: u64| surfaces.saturating_add(cost::ground(vertices));
            Ok((call.measure(&within, charge, |site, id| site.deepest(surface(of), id, &drains))?,))
        },
    )?;
    interface.func_wrap(
        "courses",
        |store: Store<'_>, (of, from, ends, past, overflow): (Ground, Features, Features, Features, bool)| {
            let items = from.len().saturating_add(ends.len()).saturating_add(past.len());
            Ok((courses(Call::begin(store, items)?, of, &from, (&ends, &past), overflow)?,))
        },
    )?;
    interface.func_wrap("keeps-clear", |store: Store<'_>, (of, pairs): (Ground, Vec<Pair>)| {
        let mut call = Call::begin(store, pairs.len())?;
        let drawn = cost::DRAWN.saturating_mul(size(&*call.site()?, of));
        let charge = |a: u64, b: u64| {
            let courses = cost::COURSE.saturating_mul(DRAWS).saturating_mul(a);
            drawn.saturating_add(courses).saturating_add(cost::against(a, b))
        };
        Ok((call.measure_pairs(&pairs, charge, |site, a, b| site.keeps_clear(surface(of), a, b))?,))
    })?;
    interface.func_wrap("leaves-over", |store: Store<'_>, (of, lot): (Ground, u32)| {
        Ok((leaves_over(Call::begin(store, 1)?, of, lot)?,))
    })?;
    interface.func_wrap("drained-area", |store: Store<'_>, (of, within, ends): (Ground, u32, Features)| {
        Ok((drained_area(Call::begin(store, ends.len())?, of, within, &ends)?,))
    })
}

fn known(site: &Site, features: &[u32]) -> Result<Vec<FeatureId>, Stop> {
    features.iter().map(|&number| Ok(state::feature(site, number)?.0)).collect()
}

fn pair(at: Position) -> (f64, f64) {
    (at.x.metres(), at.y.metres())
}

fn hollows(
    mut call: Call<'_>,
    of: Ground,
    within: u32,
    drains: &[u32],
) -> wasmtime::Result<Vec<words::Hollow>> {
    let site = call.site()?;
    let (within, _) = state::feature(&site, within)?;
    let drains = known(&site, drains)?;
    call.charge(cost::surface(size(&site, of)).saturating_add(cost::ground(vertices(&site, within))))?;
    // Where there is no ground there are no hollows; whoever asks looks at `known` first.
    let found = site.hollows(surface(of), within, &drains).unwrap_or_default();
    found.into_iter().map(|hollow| handed(&mut call, hollow)).collect()
}

fn handed(call: &mut Call<'_>, hollow: Hollow) -> wasmtime::Result<words::Hollow> {
    Ok(words::Hollow {
        depth: call.hand(hollow.depth)?,
        area: call.hand(hollow.area)?,
        volume: call.hand(hollow.volume)?,
        bottom: pair(hollow.bottom),
        spill: pair(hollow.spill),
        inside: hollow.inside.and_then(|i| u32::try_from(i).ok()),
    })
}

fn courses(
    mut call: Call<'_>,
    of: Ground,
    from: &[u32],
    (ends, past): (&[u32], &[u32]),
    overflow: bool,
) -> wasmtime::Result<Vec<Vec<words::Course>>> {
    let site = call.site()?;
    let (ends, past) = (known(&site, ends)?, known(&site, past)?);
    let mut all = Vec::with_capacity(from.len());
    for &number in from {
        let (id, _) = state::feature(&site, number)?;
        let places = cost::COURSE.saturating_mul(vertices(&site, id).saturating_add(1));
        call.charge(places.saturating_add(cost::surface(size(&site, of))))?;
        let found = site.courses(surface(of), id, &ends, &past, overflow).unwrap_or_default();
        let mut courses = Vec::with_capacity(found.len());
        for course in found {
            courses.push(told(&mut call, course)?);
        }
        all.push(courses);
    }
    Ok(all)
}

fn told(call: &mut Call<'_>, course: Course) -> wasmtime::Result<words::Course> {
    call.charge(cost::ITEM.saturating_mul(2 * course.path.len() as u64))?;
    Ok(words::Course {
        outcome: match course.outcome {
            Outcome::At(id) => words::Outcome::At(id.0),
            Outcome::Building(id) => words::Outcome::Building(id.0),
            Outcome::Stands => words::Outcome::Stands,
            Outcome::Over(id) => words::Outcome::Over(id.0),
            Outcome::BeyondLevels => words::Outcome::BeyondLevels,
            Outcome::Unknown => words::Outcome::Unknown,
        },
        length: call.hand(course.length)?,
        fall: call.hand(course.fall)?,
        path: course.path.into_iter().flat_map(|at| [at.x.metres(), at.y.metres()]).collect(),
        over: course.over.into_iter().map(|id| id.0).collect(),
    })
}

/// Charges for following water all over an area, on many surfaces.
fn charge_areas(call: &mut Call<'_>, site: &Site, of: Ground, area: FeatureId) -> wasmtime::Result<()> {
    let drawn = cost::DRAWN.saturating_mul(size(site, of));
    let places = cost::COURSE.saturating_mul(vertices(site, area).saturating_add(DRAWS));
    call.charge(drawn.saturating_add(places))
}

fn leaves_over(mut call: Call<'_>, of: Ground, lot: u32) -> wasmtime::Result<Vec<(u32, Handle)>> {
    let site = call.site()?;
    let (lot, _) = state::feature(&site, lot)?;
    charge_areas(&mut call, &site, of, lot)?;
    let found = site.leaves_over(surface(of), lot).unwrap_or_default();
    found.into_iter().map(|(line, area)| Ok((line.0, call.hand(area)?))).collect()
}

fn drained_area(mut call: Call<'_>, of: Ground, within: u32, ends: &[u32]) -> wasmtime::Result<Vec<Handle>> {
    let site = call.site()?;
    let ((within, _), ends) = (state::feature(&site, within)?, known(&site, ends)?);
    charge_areas(&mut call, &site, of, within)?;
    let found = site.drained_area(surface(of), within, &ends).unwrap_or_default();
    found.into_iter().map(|area| call.hand(area)).collect()
}
