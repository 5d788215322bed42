//! The engine's settings, and the thread behind its safety net.

use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::time::Duration;

use wasmparser::WasmFeatures;
use wasmtime::{Config, Engine, OptLevel, Strategy};

use crate::Limits;

/// How often the safety net looks.
const TICK: Duration = Duration::from_millis(100);

/// All of WebAssembly that a module may use: what compilers emit by default, and nothing whose results may
/// differ between machines (relaxed SIMD, threads) or that the limits do not reach (garbage collection,
/// exceptions, wider or further memories). Whatever a later engine adds stays off until it is added here.
const FEATURES: WasmFeatures = WasmFeatures::MUTABLE_GLOBAL
    .union(WasmFeatures::SATURATING_FLOAT_TO_INT)
    .union(WasmFeatures::SIGN_EXTENSION)
    .union(WasmFeatures::REFERENCE_TYPES)
    .union(WasmFeatures::MULTI_VALUE)
    .union(WasmFeatures::BULK_MEMORY)
    .union(WasmFeatures::EXTENDED_CONST)
    .union(WasmFeatures::FLOATS)
    .union(WasmFeatures::SIMD)
    .union(WasmFeatures::COMPONENT_MODEL);

/// An engine on which the same module does the same for the same fuel everywhere.
pub(crate) fn build(limits: &Limits) -> wasmtime::Result<Engine> {
    let mut config = Config::new();
    config.wasm_features(WasmFeatures::all(), false).wasm_features(FEATURES, true);
    config.strategy(Strategy::Cranelift).cranelift_opt_level(OptLevel::Speed).parallel_compilation(true);
    // The bits of a NaN are the one thing in which plain float arithmetic may differ.
    config.cranelift_nan_canonicalization(true);
    config.consume_fuel(true).epoch_interruption(true);
    // Nothing here is asynchronous, but the engine holds the one stack against the other.
    config.max_wasm_stack(limits.stack).async_stack_size(limits.stack.max(2 << 20));
    // Mapping a module's data instead of copying it costs no fuel, but only some systems can.
    config.memory_init_cow(false);
    // A blame carries the module's own words; a trace of its addresses would help nobody.
    config.wasm_backtrace_max_frames(None);
    Engine::new(&config)
}

/// The number of looks of the safety net in so many seconds, and one for the look that is about to come.
pub(crate) fn ticks(seconds: u64) -> u64 {
    let per_second = Duration::from_secs(1).as_millis() / TICK.as_millis();
    seconds.saturating_mul(u64::try_from(per_second).unwrap_or(1)).saturating_add(1)
}

/// The thread that counts for the safety net. It ends when this is dropped.
pub(crate) struct Watch {
    _alive: Sender<()>,
}

impl Watch {
    /// Starts counting for an engine.
    pub(crate) fn start(engine: &Engine) -> std::io::Result<Self> {
        let (alive, ended) = channel::<()>();
        let engine = engine.weak();
        std::thread::Builder::new().name("groundrule-watch".to_owned()).spawn(move || {
            while ended.recv_timeout(TICK) == Err(RecvTimeoutError::Timeout) {
                match engine.upgrade() {
                    Some(engine) => engine.increment_epoch(),
                    None => break,
                }
            }
        })?;
        Ok(Self { _alive: alive })
    }
}
