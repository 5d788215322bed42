//! What a module may use. Every limit is visible, can be raised, and is named when it is hit.

/// The limits of one run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Units of fuel for one run, host work included; about one per instruction.
    pub fuel: u64,
    /// Bytes of memory.
    pub memory: usize,
    /// Elements of all tables.
    pub table_elements: usize,
    /// Instances, memories and tables together.
    pub instances: usize,
    /// Bytes of stack.
    pub stack: usize,
    /// Bytes handed over in one call.
    pub result: usize,
    /// Bytes of any one text.
    pub text: usize,
    /// Amounts held at one time.
    pub amounts: usize,
    /// Regions made in one run.
    pub regions: usize,
    /// Seconds before the safety net stops it.
    pub seconds: u64,
    /// Bytes of a module that will be compiled.
    pub module: usize,
}

impl Limits {
    /// The limits of an ordinary run.
    pub const fn standard() -> Self {
        Self {
            fuel: 2_000_000_000,
            memory: 64 << 20,
            table_elements: 10_000,
            instances: 32,
            stack: 512 << 10,
            result: 32 << 20,
            text: 2_000,
            amounts: 200_000,
            regions: 10_000,
            seconds: 30,
            module: 16 << 20,
        }
    }

    /// The limits of a run on a plan of this many features: the standard ones to 10,000 features, and
    /// beyond that fuel, memory, results, amounts, regions and time in proportion.
    pub const fn for_features(count: usize) -> Self {
        let standard = Self::standard();
        let times = if count > 10_000 { count.div_ceil(10_000) } else { 1 };
        // Memory of a module is addressed by 32 bits.
        let memory = standard.memory.saturating_mul(times);
        Self {
            fuel: standard.fuel.saturating_mul(times as u64),
            memory: if memory > 4 << 30 { 4 << 30 } else { memory },
            result: standard.result.saturating_mul(times),
            amounts: standard.amounts.saturating_mul(times),
            regions: standard.regions.saturating_mul(times),
            seconds: standard.seconds.saturating_mul(times as u64),
            ..standard
        }
    }
}
