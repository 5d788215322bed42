//! One call from a module: charging it, and passing amounts in and out.

use std::sync::Arc;

use groundrule_site::{FeatureId, Measured, Site};
use wasmtime::StoreContextMut;
use wasmtime::component::Resource;

use crate::cost;
use crate::state::{self, State};
use crate::stop::Stop;

/// A pair of features as a module hands it in.
pub(super) type Pair = (u32, u32);
/// An amount as a module holds it.
pub(super) type Handle = Resource<Measured>;

/// A call being answered.
pub(super) struct Call<'a> {
    store: StoreContextMut<'a, State>,
}

impl<'a> Call<'a> {
    /// Begins a call with a list of so many items, and charges for taking it in.
    pub(super) fn begin(store: StoreContextMut<'a, State>, items: usize) -> wasmtime::Result<Self> {
        let mut call = Self { store };
        call.charge(cost::CALL.saturating_add(cost::ITEM.saturating_mul(items as u64)))?;
        Ok(call)
    }

    /// Takes fuel; stops the module when there is not enough left.
    pub(super) fn charge(&mut self, units: u64) -> wasmtime::Result<()> {
        let left = self.store.get_fuel()?;
        let Some(rest) = left.checked_sub(units) else {
            self.store.set_fuel(0)?;
            return Err(Stop::fuel(&self.store.data().limits).into());
        };
        self.store.set_fuel(rest)
    }

    pub(super) fn state(&mut self) -> &mut State {
        self.store.data_mut()
    }

    pub(super) fn site(&self) -> wasmtime::Result<Arc<Site>> {
        Ok(self.store.data().site()?)
    }

    pub(super) fn amount(&self, handle: &Handle) -> wasmtime::Result<&Measured> {
        Ok(self.store.data().amount(handle)?)
    }

    /// Charges for a new amount and gives it to the module.
    pub(super) fn hand(&mut self, amount: Measured) -> wasmtime::Result<Handle> {
        self.charge(cost::AMOUNT.saturating_add(cost::TERM.saturating_mul(state::parts(&amount) as u64)))?;
        Ok(self.state().hand(amount)?)
    }

    /// Measures each feature, each charged by its own size.
    ///
    /// This and [`Call::measure_pairs`] are where a result could be remembered for the next module that
    /// asks the same of the same site: after the charge, before the work.
    pub(super) fn measure(
        &mut self,
        features: &[u32],
        cost: impl Fn(u64) -> u64,
        work: impl Fn(&Site, FeatureId) -> Measured,
    ) -> wasmtime::Result<Vec<Handle>> {
        let site = self.site()?;
        let mut handles = Vec::with_capacity(features.len());
        for &number in features {
            let (id, _) = state::feature(&site, number)?;
            self.charge(cost(vertices(&site, id)))?;
            handles.push(self.hand(work(&site, id))?);
        }
        Ok(handles)
    }

    /// Measures each pair, each charged by the size of both.
    pub(super) fn measure_pairs(
        &mut self,
        pairs: &[Pair],
        cost: impl Fn(u64, u64) -> u64,
        work: impl Fn(&Site, FeatureId, FeatureId) -> Measured,
    ) -> wasmtime::Result<Vec<Handle>> {
        let site = self.site()?;
        let mut handles = Vec::with_capacity(pairs.len());
        for &(a, b) in pairs {
            let ((a, _), (b, _)) = (state::feature(&site, a)?, state::feature(&site, b)?);
            self.charge(cost(vertices(&site, a), vertices(&site, b)))?;
            handles.push(self.hand(work(&site, a, b))?);
        }
        Ok(handles)
    }
}

/// The number of vertices that measuring a feature walks along; a disc counts as one.
pub(super) fn vertices(site: &Site, feature: FeatureId) -> u64 {
    site.vertices(feature) as u64
}
