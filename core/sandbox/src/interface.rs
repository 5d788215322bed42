//! Which interface a module was built for, read from the names it imports and exports before anything is
//! compiled or linked, so that the words for a misfit are ours.

use wasmparser::{Encoding, Parser, Payload};

use crate::Failure;
use crate::stop::Stop;

/// The package that modules import from and export to.
const PACKAGE: &str = "groundrule:rules/";
/// The interface that makes a component a rule module.
const EXPORT: &str = "checks";
/// What a module of the newest version may import.
const IMPORTS: [&str; 13] = [
    "types",
    "amounts",
    "site",
    "distance",
    "area",
    "width",
    "region",
    "enclosure",
    "terrain",
    "flow",
    "runoff",
    "task",
    "trouble",
];
/// The oldest version that still runs.
const OLDEST: Version = Version(0, 1, 0);
/// The newest version known.
const NEWEST: Version = Version(0, 1, 2);

/// A version of the interface.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Version(u64, u64, u64);

impl Version {
    fn read(text: &str) -> Option<Self> {
        let mut parts = text.split('.').map(|part| part.parse().ok());
        let version = Self(parts.next()??, parts.next()??, parts.next()??);
        parts.next().is_none().then_some(version)
    }
}

/// The names at the outer edge of a component.
#[derive(Default)]
struct Edge {
    imports: Vec<String>,
    exports: Vec<String>,
}

/// Checks that these bytes are a rule module this program can run.
pub(crate) fn check(bytes: &[u8]) -> Result<(), Stop> {
    fit(&read(bytes)?)
}

fn read(bytes: &[u8]) -> Result<Edge, Stop> {
    let broken = |_| Stop::new(Failure::NotAModule, "It is not WebAssembly, or the file is damaged.");
    let mut edge = Edge::default();
    // How deep inside nested modules and components the reader stands.
    let mut depth = 0_usize;
    for payload in Parser::new(0).parse_all(bytes) {
        match payload.map_err(broken)? {
            Payload::Version { encoding: Encoding::Module, .. } if depth == 0 => {
                return Err(Stop::new(
                    Failure::NotAModule,
                    "It is a bare WebAssembly module; wrap it as a component with the interface of rule modules.",
                ));
            }
            Payload::ModuleSection { .. } | Payload::ComponentSection { .. } => depth += 1,
            Payload::End(_) => depth = depth.saturating_sub(1),
            Payload::ComponentImportSection(section) if depth == 0 => {
                for import in section {
                    edge.imports.push(import.map_err(broken)?.name.name.to_owned());
                }
            }
            Payload::ComponentExportSection(section) if depth == 0 => {
                for export in section {
                    edge.exports.push(export.map_err(broken)?.name.name.to_owned());
                }
            }
            _ => {}
        }
    }
    Ok(edge)
}

fn fit(edge: &Edge) -> Result<(), Stop> {
    for name in edge.imports.iter().chain(&edge.exports) {
        let Some((_, version)) = ours(name) else { continue };
        match Version::read(version) {
            Some(known) if (OLDEST..=NEWEST).contains(&known) => {}
            Some(old) if old < OLDEST => return Err(misfit(Failure::TooOld, version)),
            _ => return Err(misfit(Failure::TooNew, version)),
        }
    }
    if !edge.exports.iter().any(|name| ours(name).is_some_and(|(interface, _)| interface == EXPORT)) {
        return Err(Stop::new(
            Failure::NotAModule,
            format!(
                "It is a component, but it does not export {PACKAGE}{EXPORT}, so it has no checks to run."
            ),
        ));
    }
    let foreign: Vec<String> = edge
        .imports
        .iter()
        .filter(|name| !ours(name).is_some_and(|(interface, _)| IMPORTS.contains(&interface)))
        .map(|name| crate::neutral(name))
        .collect();
    if foreign.is_empty() { Ok(()) } else { Err(stranger(&foreign)) }
}

/// The interface and version of a name of our package.
fn ours(name: &str) -> Option<(&str, &str)> {
    name.strip_prefix(PACKAGE)?.split_once('@')
}

fn misfit(failure: Failure, version: &str) -> Stop {
    let version = crate::text::cut(version, 40);
    let message = if failure == Failure::TooOld {
        format!(
            "It was built for interface {version}, and the oldest this program runs is {}; get a newer module, or build it again with the current kit.",
            show(OLDEST)
        )
    } else {
        format!(
            "It was built for interface {version}, and the newest this program knows is {}; get a newer Groundrule, or an older module.",
            show(NEWEST)
        )
    };
    Stop::new(failure, crate::neutral(&message))
}

fn stranger(foreign: &[String]) -> Stop {
    const SHOWN: usize = 5;
    let names =
        foreign.iter().take(SHOWN).map(|name| crate::text::cut(name, 80)).collect::<Vec<_>>().join(", ");
    let more = match foreign.len().saturating_sub(SHOWN) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    Stop::new(
        Failure::ForeignImport,
        format!(
            "It asks for {names}{more}; a rule module gets the interfaces of {} and nothing else: no files, network, clock or random numbers.",
            PACKAGE.trim_end_matches('/')
        ),
    )
}

fn show(version: Version) -> String {
    format!("{}.{}.{}", version.0, version.1, version.2)
}

#[cfg(test)]
mod tests {
    use super::{Edge, check, fit};
    use crate::Failure;

    #[test]
    fn the_version_is_read_from_the_names() {
        let check = |imports: &[&str], exports: &[&str], expected: Option<Failure>| {
            let own = |names: &[&str]| names.iter().map(|&name| name.to_owned()).collect();
            let found = fit(&Edge { imports: own(imports), exports: own(exports) });
            assert_eq!(
                found.as_ref().err().map(|stop| stop.failure),
                expected,
                "{imports:?} {exports:?} {found:?}"
            );
        };
        let good = "groundrule:rules/checks@0.1.0";
        check(&["groundrule:rules/site@0.1.0"], &[good], None);
        check(&[], &[good], None);
        check(&["groundrule:rules/site@0.0.9"], &[good], Some(Failure::TooOld));
        check(&["groundrule:rules/region@0.1.1"], &["groundrule:rules/checks@0.1.2"], None);
        check(&["groundrule:rules/site@0.1.1"], &[good], None);
        check(&["groundrule:rules/site@0.1.3"], &[good], Some(Failure::TooNew));
        check(&["groundrule:rules/terrain@0.2.0"], &["groundrule:rules/checks@0.2.0"], Some(Failure::TooNew));
        check(&[], &["groundrule:rules/checks@1.0.0-draft"], Some(Failure::TooNew));
        check(&["groundrule:rules/landfill@0.1.0"], &[good], Some(Failure::ForeignImport));
        check(&["wasi:clocks/wall-clock@0.2.0"], &[good], Some(Failure::ForeignImport));
        check(&["run"], &[good], Some(Failure::ForeignImport));
        check(&["groundrule:rules/site@0.1.0"], &[], Some(Failure::NotAModule));
        check(&[], &["groundrule:rules/site@0.1.0"], Some(Failure::NotAModule));
    }

    #[test]
    fn bytes_that_are_no_component_are_told_apart() {
        let kind = |bytes: &[u8]| check(bytes).map_err(|stop| (stop.failure, stop.message));
        // WebAssembly core specification 5.5.16: the preamble of a module.
        insta::assert_debug_snapshot!([
            kind(b""),
            kind(b"PK\x03\x04"),
            kind(b"\0asm\x01\0\0\0"),
            kind(b"\0asm\x0d\0\x01\0"),
            kind(b"\0asm\x0d\0\x01\0\xff\xff\xff"),
        ]);
    }
}
