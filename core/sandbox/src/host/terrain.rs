//! `terrain`: the surface of the ground.

use groundrule_site::ground::{Figure, WallFall};
use groundrule_site::{FeatureId, Measured, Site};
use groundrule_survey::Surface;
use groundrule_units::{Length, Ratio};
use wasmtime::StoreContextMut;
use wasmtime::component::LinkerInstance;

use super::call::{Call, Handle, vertices};
use crate::bindings::terrain as words;
use crate::cost;
use crate::state::{self, State};
use crate::stop::Stop;

type Features = Vec<u32>;
type Store<'a> = StoreContextMut<'a, State>;

/// The longest length that may be asked for, in metres.
const LONGEST: f64 = 100_000.0;
/// The shortest interval of contours, in metres.
const LEAST_INTERVAL: f64 = 0.01;

pub(super) fn link(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    interface.func_wrap("known", |store: Store<'_>, (of,): (words::Ground,)| {
        Ok((Call::begin(store, 0)?.site()?.ground(surface(of)).is_some(),))
    })?;
    interface.func_wrap(
        "level",
        |store: Store<'_>, (of, features, figure): (words::Ground, Features, words::Figure)| {
            let work = |site: &Site, id| site.level(surface(of), id, self::figure(figure));
            Ok((each(store, of, &features, false, work)?,))
        },
    )?;
    interface.func_wrap(
        "slope-over",
        |store: Store<'_>, (of, areas, figure): (words::Ground, Features, words::Figure)| {
            let work = |site: &Site, id| site.slope_over(surface(of), id, self::figure(figure));
            Ok((each(store, of, &areas, true, work)?,))
        },
    )?;
    interface.func_wrap("aspect", |store: Store<'_>, (of, areas): (words::Ground, Features)| {
        Ok((aspects(Call::begin(store, areas.len())?, of, &areas)?,))
    })?;
    interface.func_wrap(
        "slope-along",
        |store: Store<'_>,
         (of, lines, figure, from, to): (words::Ground, Features, words::Figure, f64, f64)| {
            let stations = (length(from)?, length(to)?);
            let work = |site: &Site, id| site.slope_along(surface(of), id, self::figure(figure), stations);
            Ok((each(store, of, &lines, false, work)?,))
        },
    )?;
    interface.func_wrap(
        "slope-across",
        |store: Store<'_>, (of, lines, figure): (words::Ground, Features, words::Figure)| {
            let work = |site: &Site, id| site.slope_across(surface(of), id, self::figure(figure));
            Ok((each(store, of, &lines, false, work)?,))
        },
    )?;
    interface.func_wrap(
        "slope-break",
        |store: Store<'_>, (of, lines, stretch): (words::Ground, Features, f64)| {
            let stretch = length(stretch)?;
            Ok((each(store, of, &lines, false, |site, id| site.slope_break(surface(of), id, stretch))?,))
        },
    )?;
    interface.func_wrap(
        "contour-length",
        |store: Store<'_>, (of, areas, interval): (words::Ground, Features, f64)| {
            let interval = at_least(interval, LEAST_INTERVAL)?;
            Ok((each(store, of, &areas, true, |site, id| site.contour_length(surface(of), id, interval))?,))
        },
    )?;
    interface.func_wrap(
        "falls",
        |store: Store<'_>,
         (of, building, run, barriers, hard): (words::Ground, u32, f64, Features, Features)| {
            let items = barriers.len().saturating_add(hard.len());
            Ok((falls(Call::begin(store, items)?, of, building, run, (&barriers, &hard))?,))
        },
    )?;
    interface.func_wrap("faces", |store: Store<'_>, (of, within, steeper): (words::Ground, u32, f64)| {
        Ok((faces(Call::begin(store, 1)?, of, within, steeper)?,))
    })?;
    interface.func_wrap("earthwork", |store: Store<'_>, (areas,): (Features,)| {
        Ok((earthwork(Call::begin(store, areas.len())?, &areas)?,))
    })
}

pub(super) fn surface(of: words::Ground) -> Surface {
    match of {
        words::Ground::Existing => Surface::Existing,
        words::Ground::Proposed => Surface::Proposed,
    }
}

fn figure(figure: words::Figure) -> Figure {
    match figure {
        words::Figure::Least => Figure::Least,
        words::Figure::Greatest => Figure::Greatest,
        words::Figure::Mean => Figure::Mean,
        words::Figure::Steepest => Figure::Steepest,
        words::Figure::Flattest => Figure::Flattest,
    }
}

fn length(metres: f64) -> Result<Length, Stop> {
    at_least(metres, 0.0)
}

fn at_least(metres: f64, least: f64) -> Result<Length, Stop> {
    if (least..=LONGEST).contains(&metres) {
        return Ok(Length::from_metres(metres));
    }
    Err(Stop::misuse(format!(
        "It asked for ground by {metres} metres; lengths from {least} to {LONGEST} will do."
    )))
}

/// The number of vertices of a surface.
pub(super) fn size(site: &Site, of: words::Ground) -> u64 {
    site.ground(surface(of)).map_or(0, |ground| ground.tin().vertices().len() as u64)
}

/// Measures each feature against the ground, over the whole of the surface where asked.
fn each(
    store: Store<'_>,
    of: words::Ground,
    features: &[u32],
    whole: bool,
    work: impl Fn(&Site, FeatureId) -> Measured,
) -> wasmtime::Result<Vec<Handle>> {
    let call = Call::begin(store, features.len())?;
    let mut call = call;
    let surface = if whole { size(&*call.site()?, of) } else { 0 };
    let charge = |vertices: u64| cost::ground(vertices).saturating_add(cost::surface(surface));
    call.measure(features, charge, work)
}

fn aspects(mut call: Call<'_>, of: words::Ground, areas: &[u32]) -> wasmtime::Result<Vec<Option<Handle>>> {
    let site = call.site()?;
    let whole = cost::surface(size(&site, of));
    let mut all = Vec::with_capacity(areas.len());
    for &number in areas {
        let (id, _) = state::feature(&site, number)?;
        call.charge(whole.saturating_add(cost::ground(vertices(&site, id))))?;
        all.push(site.aspect(surface(of), id).map(|aspect| call.hand(aspect)).transpose()?);
    }
    Ok(all)
}

fn falls(
    mut call: Call<'_>,
    of: words::Ground,
    building: u32,
    run: f64,
    (barriers, hard): (&[u32], &[u32]),
) -> wasmtime::Result<Vec<words::WallFall>> {
    let (site, run) = (call.site()?, at_least(run, 0.01)?);
    let (building, _) = state::feature(&site, building)?;
    let known = |features: &[u32]| -> Result<Vec<FeatureId>, Stop> {
        features.iter().map(|&number| Ok(state::feature(&site, number)?.0)).collect()
    };
    let (barriers, hard) = (known(barriers)?, known(hard)?);
    let met: u64 = barriers.iter().chain(&hard).map(|id| vertices(&site, *id)).sum();
    let rays = vertices(&site, building).saturating_mul(8);
    call.charge(cost::ground(rays).saturating_add(cost::against(rays, met.saturating_add(8))))?;
    let found = site.falls(surface(of), building, run, &barriers, &hard);
    found.into_iter().map(|fall| wall_fall(&mut call, fall)).collect()
}

fn wall_fall(call: &mut Call<'_>, found: WallFall) -> wasmtime::Result<words::WallFall> {
    Ok(words::WallFall {
        slope: call.hand(found.slope)?,
        fall: call.hand(found.fall)?,
        run: call.hand(found.run)?,
        hard: found.hard.map(|id| id.0),
        cut_short: found.cut_short.map(|id| id.0),
    })
}

fn faces(
    mut call: Call<'_>,
    of: words::Ground,
    within: u32,
    steeper: f64,
) -> wasmtime::Result<Vec<words::Face>> {
    if !(steeper > 0.0 && steeper.is_finite()) {
        return Err(Stop::misuse(format!("It asked for faces steeper than {steeper}.")).into());
    }
    let site = call.site()?;
    let (within, _) = state::feature(&site, within)?;
    call.charge(cost::surface(size(&site, of)))?;
    // Where there is no ground there are no faces; whoever asks looks at `known` first.
    let drafts = site.faces(surface(of), within, Ratio::from_fraction(steeper)).unwrap_or_default();
    let mut faces = Vec::with_capacity(drafts.len());
    for draft in &drafts {
        call.charge(cost::ground(draft.vertices() as u64))?;
        let face = call.state().face(draft)?;
        faces.push(words::Face {
            toe: face.toe.0,
            crest: face.crest.0,
            height: call.hand(face.height)?,
            slope: call.hand(face.slope)?,
        });
    }
    Ok(faces)
}

fn earthwork(mut call: Call<'_>, areas: &[u32]) -> wasmtime::Result<Vec<words::Moved>> {
    let site = call.site()?;
    let surfaces = size(&site, words::Ground::Existing).saturating_add(size(&site, words::Ground::Proposed));
    let mut all = Vec::with_capacity(areas.len());
    for &number in areas {
        let (area, _) = state::feature(&site, number)?;
        call.charge(cost::surface(surfaces).saturating_add(cost::ground(vertices(&site, area))))?;
        let earth = site.earth(area);
        all.push(words::Moved { cut: call.hand(earth.cut)?, fill: call.hand(earth.fill)? });
    }
    Ok(all)
}
