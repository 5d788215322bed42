//! The registration of a module's checks.

/// Makes a module of checks: `module! { checks: [LotLineDistance, Separation] }`.
///
/// The list is the whole registration. It defines `pub struct Module`, which runs the checks by name natively,
/// and in a build for the sandbox it exports them, with the crate's own version.
#[macro_export]
macro_rules! module {
    (checks: [$($check:path),+ $(,)?]) => {
        /// The checks of this module.
        #[derive(Clone, Copy, Debug)]
        pub struct Module;

        impl $crate::Module for Module {
            const VERSION: &'static str = env!("CARGO_PKG_VERSION");

            fn checks() -> &'static [$crate::Info] {
                const { &[$(<$check as $crate::Check>::INFO),+] }
            }

            fn run<G: $crate::Ground>(
                check: &str,
                ground: &G,
            ) -> ::core::result::Result<::std::vec::Vec<$crate::Reading<G::Amount>>, $crate::Refusal> {
                $(
                    if check == <$check as $crate::Check>::INFO.name {
                        return <$check as $crate::Check>::run(ground);
                    }
                )+
                Err($crate::no_such_check(check, <Self as $crate::Module>::checks()))
            }
        }

        #[cfg(target_family = "wasm")]
        mod exported {
            type Guest = $crate::guest::Exported<super::Module>;
            $crate::guest::bindings::export!(Guest with_types_in $crate::guest::bindings);
        }
    };
}
