//! `site`: what the plan says of its features.

use groundrule_site::{Fact, Feature};
use groundrule_survey::{Point, Shape};
use wasmtime::StoreContextMut;
use wasmtime::component::LinkerInstance;

use super::call::{Call, Handle, vertices};
use super::task::size;
use crate::bindings::types::Value;
use crate::state::{self, State};
use crate::{convert, cost};

type Features = Vec<u32>;

pub(super) fn link(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    interface.func_wrap("label", |store: StoreContextMut<'_, State>, (features,): (Features,)| {
        Ok((each(Call::begin(store, features.len())?, &features, 0, |it| it.title.clone(), text_size)?,))
    })?;
    interface.func_wrap(
        "is-a",
        |store: StoreContextMut<'_, State>, (features, kind): (Features, String)| {
            let call = Call::begin(store, features.len())?;
            let site = call.site()?;
            let is_a = |it: &Feature| site.kinds().is_a(&it.kind, &kind);
            Ok((each(call, &features, cost::lookup(&kind), is_a, |_| 0)?,))
        },
    )?;
    interface.func_wrap("shapes", |store: StoreContextMut<'_, State>, (features,): (Features,)| {
        let shape = |it: &Feature| convert::shape(&it.shape);
        Ok((each(Call::begin(store, features.len())?, &features, 0, shape, |_| 0)?,))
    })?;
    interface.func_wrap("lot-of", |store: StoreContextMut<'_, State>, (features,): (Features,)| {
        let lot = |it: &Feature| it.lot.map(|lot| lot.0);
        Ok((each(Call::begin(store, features.len())?, &features, 0, lot, |_| 0)?,))
    })?;
    interface.func_wrap(
        "fact",
        |store: StoreContextMut<'_, State>, (features, name): (Features, String)| {
            let call = Call::begin(store, features.len())?;
            let value = |it: &Feature| fact(it, &name);
            let size = |value: &Option<Value>| value.as_ref().map_or(0, size);
            Ok((each(call, &features, cost::lookup(&name), value, size)?,))
        },
    )?;
    interface.func_wrap(
        "stated",
        |store: StoreContextMut<'_, State>, (features, name): (Features, String)| {
            Ok((stated(Call::begin(store, features.len())?, &features, &name)?,))
        },
    )?;
    interface.func_wrap(
        "stated-each",
        |store: StoreContextMut<'_, State>, (features, name): (Features, String)| {
            Ok((stated_each(Call::begin(store, features.len())?, &features, &name)?,))
        },
    )?;
    interface.func_wrap("outline", |store: StoreContextMut<'_, State>, (number,): (u32,)| {
        let mut call = Call::begin(store, 1)?;
        let site = call.site()?;
        let (id, feature) = state::feature(&site, number)?;
        call.charge(cost::ITEM.saturating_mul(vertices(&site, id)))?;
        Ok((outline(&feature.shape),))
    })
}

/// Looks something up of each feature: `units` for each look, and what `size` says for each result.
fn each<T>(
    mut call: Call<'_>,
    features: &[u32],
    units: u64,
    look: impl Fn(&Feature) -> T,
    size: impl Fn(&T) -> u64,
) -> wasmtime::Result<Vec<T>> {
    let site = call.site()?;
    let mut found = Vec::with_capacity(features.len());
    for &number in features {
        let (_, feature) = state::feature(&site, number)?;
        call.charge(units)?;
        let result = look(feature);
        call.charge(size(&result))?;
        found.push(result);
    }
    Ok(found)
}

#[allow(clippy::ptr_arg, reason = "the size of exactly what is handed over, a string")]
fn text_size(text: &String) -> u64 {
    cost::BYTE.saturating_mul(text.len() as u64)
}

/// A stated fact; kind and status are facts of every feature.
fn fact(feature: &Feature, name: &str) -> Option<Value> {
    match (feature.facts.get(name), name) {
        (Some(fact), _) => Some(convert::fact_value(fact)),
        (None, "kind") => Some(Value::Text(feature.kind.clone())),
        (None, "status") => feature.status.map(|status| Value::Text(convert::status(status).to_owned())),
        (None, _) => None,
    }
}

fn stated(mut call: Call<'_>, features: &[u32], name: &str) -> wasmtime::Result<Vec<Option<Handle>>> {
    let site = call.site()?;
    let mut found = Vec::with_capacity(features.len());
    for &number in features {
        let (_, feature) = state::feature(&site, number)?;
        call.charge(cost::lookup(name))?;
        found.push(match feature.facts.get(name) {
            Some(Fact::Amount(amount)) => Some(call.hand(amount.as_ref().clone())?),
            _ => None,
        });
    }
    Ok(found)
}

fn stated_each(mut call: Call<'_>, features: &[u32], name: &str) -> wasmtime::Result<Vec<Vec<Handle>>> {
    let site = call.site()?;
    let mut found = Vec::with_capacity(features.len());
    for &number in features {
        let (_, feature) = state::feature(&site, number)?;
        call.charge(cost::lookup(name))?;
        let amounts = match feature.facts.get(name) {
            Some(Fact::Amounts(amounts)) => amounts.as_slice(),
            _ => &[],
        };
        let handles =
            amounts.iter().map(|amount| call.hand(amount.clone())).collect::<wasmtime::Result<_>>()?;
        found.push(handles);
    }
    Ok(found)
}

fn outline(shape: &Shape) -> Vec<f64> {
    let flat = |points: &[Point]| -> Vec<f64> {
        points.iter().flat_map(|point| [point.at.x.metres(), point.at.y.metres()]).collect()
    };
    match shape {
        Shape::Outline { ring, .. } => flat(ring),
        Shape::Line { path, .. } => flat(path),
        Shape::Spot(point) | Shape::Disc { centre: point, .. } => flat(std::slice::from_ref(point)),
        Shape::Absent => Vec::new(),
    }
}
