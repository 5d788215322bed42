//! Builds the guests that the tests run.

use groundrule_build_guest::{GuestError, build};

fn main() -> Result<(), GuestError> {
    build("groundrule-misfit")?;
    build("groundrule-witness")?;
    Ok(())
}
