//! The modules inside the program, by what their code registers.

use groundrule_kit::{Info, Module};

/// Each module's name with what its code registers.
pub(crate) fn registered() -> Vec<(&'static str, &'static [Info])> {
    vec![
        ("fences", groundrule_fences::Module::checks()),
        ("grading", groundrule_grading::Module::checks()),
        ("plants", groundrule_plants::Module::checks()),
        ("pools", groundrule_pools::Module::checks()),
        ("runoff", groundrule_runoff::Module::checks()),
        ("setbacks", groundrule_setbacks::Module::checks()),
        ("sight", groundrule_sight::Module::checks()),
        ("stated", groundrule_stated::Module::checks()),
        ("submittal", groundrule_submittal::Module::checks()),
        ("utilities", groundrule_utilities::Module::checks()),
        ("walks", groundrule_walks::Module::checks()),
    ]
}
