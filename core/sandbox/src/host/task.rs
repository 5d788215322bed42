//! `task`: what the running check is asked.

use groundrule_site::{Measured, Parameter};
use wasmtime::StoreContextMut;
use wasmtime::component::LinkerInstance;

use super::call::Call;
use crate::bindings::types::Value;
use crate::convert;
use crate::cost;
use crate::state::State;

pub(super) fn link(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    interface.func_wrap("subjects", |store: StoreContextMut<'_, State>, (): ()| {
        let mut call = Call::begin(store, 0)?;
        let subjects = numbers(&call.state().task()?.subjects);
        call.charge(cost::ITEM.saturating_mul(subjects.len() as u64))?;
        Ok((subjects,))
    })?;
    interface.func_wrap("group", |store: StoreContextMut<'_, State>, (name,): (String,)| {
        let mut call = Call::begin(store, 1)?;
        let group = call.state().task()?.groups.get(&name).map(|ids| numbers(ids)).unwrap_or_default();
        call.charge(cost::ITEM.saturating_mul(group.len() as u64))?;
        Ok((group,))
    })?;
    interface.func_wrap("parameter", |store: StoreContextMut<'_, State>, (name,): (String,)| {
        let mut call = Call::begin(store, 1)?;
        let value = call.state().task()?.parameters.get(&name).map(convert::parameter);
        call.charge(cost::lookup(&name).saturating_add(value.as_ref().map_or(0, size)))?;
        Ok((value,))
    })?;
    interface.func_wrap("parameter-amount", |store: StoreContextMut<'_, State>, (name,): (String,)| {
        let mut call = Call::begin(store, 1)?;
        call.charge(cost::lookup(&name))?;
        let amount = match call.state().task()?.parameters.get(&name) {
            Some(Parameter::Quantity(quantity)) => Some(Measured::exact(*quantity)),
            _ => None,
        };
        Ok((amount.map(|amount| call.hand(amount)).transpose()?,))
    })
}

fn numbers(ids: &[groundrule_site::FeatureId]) -> Vec<u32> {
    ids.iter().map(|id| id.0).collect()
}

/// Units for handing a value over.
pub(super) fn size(value: &Value) -> u64 {
    let bytes = match value {
        Value::Text(text) => text.len(),
        Value::Texts(texts) => texts.iter().map(String::len).sum(),
        Value::Quantity(_) | Value::Count(_) | Value::Flag(_) => 0,
    };
    cost::ITEM.saturating_add(cost::BYTE.saturating_mul(bytes as u64))
}
