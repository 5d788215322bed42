//! `amounts`: arithmetic that keeps covariance, always in the host.

use groundrule_site::{AmountError, Measured};
use groundrule_units::Ratio;
use wasmtime::StoreContextMut;
use wasmtime::component::{LinkerInstance, Resource, ResourceType};

use super::call::{Call, Handle};
use crate::state::{State, parts};
use crate::stop::Stop;
use crate::{convert, cost};

type Pairs = Vec<(Handle, Handle)>;
type Both = fn(&Measured, &Measured) -> Result<Measured, AmountError>;
type Many = fn(Vec<&Measured>) -> Result<Option<Measured>, AmountError>;

pub(super) fn link(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    interface.resource("measured", ResourceType::host::<Measured>(), |mut store, handle| {
        store.data_mut().take(Resource::new_own(handle))?;
        Ok(())
    })?;
    interface.func_wrap("values", |store: StoreContextMut<'_, State>, (items,): (Vec<Handle>,)| {
        let call = Call::begin(store, items.len())?;
        let value = |item| Ok(convert::quantity(call.amount(item)?.value()));
        Ok((items.iter().map(value).collect::<wasmtime::Result<Vec<_>>>()?,))
    })?;
    interface.func_wrap("lacks", |store: StoreContextMut<'_, State>, (items,): (Vec<Handle>,)| {
        let call = Call::begin(store, items.len())?;
        let lacks = |item| Ok(!call.amount(item)?.needs.is_empty());
        Ok((items.iter().map(lacks).collect::<wasmtime::Result<Vec<_>>>()?,))
    })?;
    interface.func_wrap("add", |store: StoreContextMut<'_, State>, (pairs,): (Pairs,)| {
        Ok((both(Call::begin(store, pairs.len())?, &pairs, Measured::add)?,))
    })?;
    interface.func_wrap("subtract", |store: StoreContextMut<'_, State>, (pairs,): (Pairs,)| {
        Ok((both(Call::begin(store, pairs.len())?, &pairs, Measured::subtract)?,))
    })?;
    interface.func_wrap("ratio", |store: StoreContextMut<'_, State>, (pairs,): (Pairs,)| {
        Ok((ratio(Call::begin(store, pairs.len())?, &pairs)?,))
    })?;
    interface.func_wrap("scale", |store: StoreContextMut<'_, State>, (items,): (Vec<(Handle, f64)>,)| {
        Ok((scale(Call::begin(store, items.len())?, &items)?,))
    })?;
    interface.func_wrap("sum", |store: StoreContextMut<'_, State>, (items,): (Vec<Handle>,)| {
        Ok((many(Call::begin(store, items.len())?, &items, |all| Measured::sum(all))?,))
    })?;
    interface.func_wrap("least", |store: StoreContextMut<'_, State>, (items,): (Vec<Handle>,)| {
        Ok((many(Call::begin(store, items.len())?, &items, |all| Measured::least(all))?,))
    })?;
    interface.func_wrap("greatest", |store: StoreContextMut<'_, State>, (items,): (Vec<Handle>,)| {
        Ok((many(Call::begin(store, items.len())?, &items, |all| Measured::greatest(all))?,))
    })
}

fn both(mut call: Call<'_>, pairs: &[(Handle, Handle)], work: Both) -> wasmtime::Result<Vec<Handle>> {
    let mut results = Vec::with_capacity(pairs.len());
    for (first, second) in pairs {
        charge(&mut call, &[first, second])?;
        let result = work(call.amount(first)?, call.amount(second)?).map_err(unfit)?;
        results.push(keep(&mut call, result)?);
    }
    Ok(results)
}

fn ratio(mut call: Call<'_>, pairs: &[(Handle, Handle)]) -> wasmtime::Result<Vec<Option<Handle>>> {
    let mut results = Vec::with_capacity(pairs.len());
    for (first, second) in pairs {
        charge(&mut call, &[first, second])?;
        results.push(match call.amount(first)?.ratio(call.amount(second)?) {
            Ok(result) => Some(keep(&mut call, result)?),
            Err(AmountError::ZeroDivisor) => None,
            Err(error @ AmountError::Mismatch { .. }) => return Err(unfit(error).into()),
        });
    }
    Ok(results)
}

fn scale(mut call: Call<'_>, items: &[(Handle, f64)]) -> wasmtime::Result<Vec<Handle>> {
    let mut results = Vec::with_capacity(items.len());
    for (item, factor) in items {
        if !factor.is_finite() {
            return Err(Stop::misuse(format!("It scaled an amount by {factor}.")).into());
        }
        charge(&mut call, &[item])?;
        let result = call.amount(item)?.scale(Ratio::from_fraction(*factor));
        results.push(keep(&mut call, result)?);
    }
    Ok(results)
}

fn many(mut call: Call<'_>, items: &[Handle], work: Many) -> wasmtime::Result<Option<Handle>> {
    charge(&mut call, &items.iter().collect::<Vec<_>>())?;
    let amounts = items.iter().map(|item| call.amount(item)).collect::<wasmtime::Result<Vec<_>>>()?;
    let result = work(amounts).map_err(unfit)?;
    result.map(|amount| keep(&mut call, amount)).transpose()
}

/// Charges for an amount made from these: what it carries over is no more than all of them carry.
fn charge(call: &mut Call<'_>, operands: &[&Handle]) -> wasmtime::Result<()> {
    let mut carried = 0;
    for operand in operands {
        carried += parts(call.amount(operand)?);
    }
    call.charge(cost::AMOUNT.saturating_add(cost::TERM.saturating_mul(carried as u64)))
}

/// Gives a result to the module, which has been charged for it.
fn keep(call: &mut Call<'_>, result: Measured) -> wasmtime::Result<Handle> {
    if !result.value().si().is_finite() || !result.spread().si().is_finite() {
        return Err(Stop::misuse("Its arithmetic left the range of numbers.").into());
    }
    Ok(call.state().hand(result)?)
}

fn unfit(error: AmountError) -> Stop {
    Stop::misuse(format!("It combined amounts that do not go together: {error}."))
}
