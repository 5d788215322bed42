//! What one run holds: its site, its task, its amounts, and how much of its limits it has used.

use std::sync::Arc;

use groundrule_site::ground::{Face, FaceDraft};
use groundrule_site::region::Draft;
use groundrule_site::{Feature, FeatureId, Mark, Measured, Site};
use wasmtime::ResourceLimiter;
use wasmtime::component::{Resource, ResourceTable, ResourceTableError};

use crate::stop::Stop;
use crate::{Failure, Limits, Task};

/// How much an amount may carry on average; without a bound, adding an amount to itself thirty times would
/// fill the host's memory.
const PARTS_PER_AMOUNT: usize = 20;
/// How many vertices a region may be made of on average, for the same reason.
const VERTICES_PER_REGION: usize = 200;

/// The data of one store. Nothing of it outlives the run.
pub(crate) struct State {
    pub(crate) limits: Limits,
    /// The site and what is asked of it; none while a module only describes itself.
    asked: Option<(Arc<Site>, Task)>,
    amounts: ResourceTable,
    /// Parts of all amounts held.
    parts: usize,
    /// Regions made, and their vertices.
    regions: (usize, usize),
    /// The module's last words.
    pub(crate) panic: Option<String>,
    memory: usize,
    table_elements: usize,
}

impl State {
    pub(crate) fn new(limits: Limits, asked: Option<(Arc<Site>, Task)>) -> Self {
        let mut amounts = ResourceTable::new();
        amounts.set_max_capacity(limits.amounts);
        Self { limits, asked, amounts, parts: 0, regions: (0, 0), panic: None, memory: 0, table_elements: 0 }
    }

    /// The site; its handle is cloned so that the store can be changed while the site is read.
    pub(crate) fn site(&self) -> Result<Arc<Site>, Stop> {
        Ok(Arc::clone(&self.asked()?.0))
    }

    pub(crate) fn task(&self) -> Result<&Task, Stop> {
        Ok(&self.asked()?.1)
    }

    fn asked(&self) -> Result<&(Arc<Site>, Task), Stop> {
        self.asked.as_ref().ok_or_else(unasked)
    }

    /// Makes a region of a draft for this run; none where nothing is left of it. The module has been charged.
    pub(crate) fn region(&mut self, draft: &Draft) -> Result<Option<FeatureId>, Stop> {
        self.room(1, draft.vertices())?;
        let made = self.own_site()?.region(draft);
        self.regions.0 += usize::from(made.is_some());
        Ok(made)
    }

    /// Makes the lines of a face features of this run.
    pub(crate) fn face(&mut self, draft: &FaceDraft) -> Result<Face, Stop> {
        self.room(2, draft.vertices())?;
        let face = self.own_site()?.face(draft);
        self.regions.0 += 2;
        Ok(face)
    }

    /// Sees that so many more regions of so many vertices may be made, and counts the vertices.
    fn room(&mut self, more: usize, vertices: usize) -> Result<(), Stop> {
        let limit = self.limits.regions;
        let (count, held) = self.regions;
        if count.saturating_add(more) > limit {
            return Err(Stop::new(
                Failure::Memory,
                format!("It made more regions than the limit of {limit}; make each one once."),
            ));
        }
        if held.saturating_add(vertices) > limit.saturating_mul(VERTICES_PER_REGION) {
            return Err(Stop::new(
                Failure::Memory,
                format!(
                    "Its regions took more vertices than {VERTICES_PER_REGION} for each of the {limit} it may make."
                ),
            ));
        }
        self.regions.1 = held.saturating_add(vertices);
        Ok(())
    }

    /// The site of this run: the one that all runs share stays as it is, and this shares everything but its regions.
    fn own_site(&mut self) -> Result<&mut Site, Stop> {
        let (site, _) = self.asked.as_mut().ok_or_else(unasked)?;
        Ok(Arc::make_mut(site))
    }

    /// Gives an amount to the module.
    pub(crate) fn hand(&mut self, amount: Measured) -> Result<Resource<Measured>, Stop> {
        let limit = self.limits.amounts;
        self.parts = self.parts.saturating_add(parts(&amount));
        if self.parts > limit.saturating_mul(PARTS_PER_AMOUNT) {
            return Err(Stop::new(
                Failure::Memory,
                format!(
                    "Its amounts carried more error terms, marks and needs than {PARTS_PER_AMOUNT} for each of the {limit} it may hold."
                ),
            ));
        }
        self.amounts.push(amount).map_err(|error| match error {
            ResourceTableError::Full => Stop::new(
                Failure::Memory,
                format!("It held more amounts at one time than the limit of {limit}; let go of those no longer needed."),
            ),
            _ => unheld(),
        })
    }

    /// An amount the module holds.
    pub(crate) fn amount(&self, handle: &Resource<Measured>) -> Result<&Measured, Stop> {
        self.amounts.get(handle).map_err(|_| unheld())
    }

    /// Takes an amount back from the module.
    pub(crate) fn take(&mut self, handle: Resource<Measured>) -> Result<Measured, Stop> {
        let amount = self.amounts.delete(handle).map_err(|_| unheld())?;
        self.parts = self.parts.saturating_sub(parts(&amount));
        Ok(amount)
    }
}

/// The size of an amount: its error terms, what it draws and what it needs.
pub(crate) fn parts(amount: &Measured) -> usize {
    let drawn = |mark: &Mark| match mark {
        Mark::Spot(_) => 1,
        Mark::Span(..) => 2,
        Mark::Region(places) => places.len(),
    };
    amount.terms().len() + amount.marks.iter().map(drawn).sum::<usize>() + amount.needs.len()
}

fn unasked() -> Stop {
    Stop::misuse("It asked about a site while it was only asked what checks it has.")
}

fn unheld() -> Stop {
    Stop::misuse("It used an amount that it does not hold.")
}

/// The feature of a number that a module handed in.
pub(crate) fn feature(site: &Site, number: u32) -> Result<(FeatureId, &Feature), Stop> {
    let id = FeatureId(number);
    site.feature(id).map(|feature| (id, feature)).ok_or_else(|| {
        Stop::misuse(format!("It named feature {number}, and the plan has none of that number."))
    })
}

// The engine's own limiter bounds each memory and table; here all of them count together, and whoever
// asks for too much is stopped and not told no, since being told no is a difference a module could see.
impl ResourceLimiter for State {
    fn memory_growing(&mut self, current: usize, desired: usize, _: Option<usize>) -> wasmtime::Result<bool> {
        self.memory = self.memory.saturating_add(desired.saturating_sub(current));
        if self.memory > self.limits.memory {
            return Err(Stop::new(
                Failure::Memory,
                format!("It needed more than the memory limit of {} bytes.", self.limits.memory),
            )
            .into());
        }
        Ok(true)
    }

    fn memory_grow_failed(&mut self, _: wasmtime::Error) -> wasmtime::Result<()> {
        Err(Stop::new(Failure::Memory, "It needed more memory than a module can have.").into())
    }

    fn table_growing(&mut self, current: usize, desired: usize, _: Option<usize>) -> wasmtime::Result<bool> {
        self.table_elements = self.table_elements.saturating_add(desired.saturating_sub(current));
        if self.table_elements > self.limits.table_elements {
            return Err(Stop::new(
                Failure::Memory,
                format!("It needed more than the limit of {} table elements.", self.limits.table_elements),
            )
            .into());
        }
        Ok(true)
    }

    fn table_grow_failed(&mut self, _: wasmtime::Error) -> wasmtime::Result<()> {
        Err(Stop::new(Failure::Memory, "It needed more table elements than a module can have.").into())
    }

    fn instances(&self) -> usize {
        self.limits.instances
    }

    fn tables(&self) -> usize {
        self.limits.instances
    }

    fn memories(&self) -> usize {
        self.limits.instances
    }
}
