//! `trouble`: a module's last words.

use wasmtime::StoreContextMut;
use wasmtime::component::LinkerInstance;

use super::call::Call;
use crate::state::State;
use crate::text;

pub(super) fn link(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    interface.func_wrap(
        "panicked",
        |store: StoreContextMut<'_, State>, (message, file, line): (String, String, u32)| {
            let mut call = Call::begin(store, 1)?;
            let state = call.state();
            let room = state.limits.text;
            let words = format!("{} (at {}:{line})", text::cut(&message, room), text::cut(&file, room));
            // The first panic is the cause; what panics after it is its wake.
            state.panic.get_or_insert(words);
            Ok(())
        },
    )
}
