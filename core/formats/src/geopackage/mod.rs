//! GeoPackage (OGC 12-128) to a plan.
//!
//! The file is a database a stranger made. It is opened read-only, its schema is not trusted, only plain
//! tables are read (a view could run for ever), and rows beyond a size are refused.

mod blob;
mod catalog;

#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use groundrule_plan::{Faults, Plan, Source, Span};
use rusqlite::config::DbConfig;
use rusqlite::limits::Limit;
use rusqlite::types::ValueRef;
use rusqlite::{Connection, MAIN_DB};

use crate::assemble::assemble;
use crate::drawn::{Drawn, Frame};
use crate::gather::Gather;
use crate::plane::{PlaneError, System};
use crate::{Layers, Options, Use};
use catalog::{Layer, Reference};

/// No row of a footprint map comes near it; a larger one is a mistake or an attack.
const LARGEST_ROW: i32 = 64 * 1024 * 1024;

/// Reads a GeoPackage from its bytes. `name` is what messages call the file.
pub fn read_bytes(name: &str, bytes: &[u8], options: &Options) -> Result<Plan, Faults> {
    if !bytes.starts_with(b"SQLite format 3\0") {
        let source = source(name);
        let mut gather = Gather::new(&source);
        not_a_package(&mut gather, "it does not start as a database does");
        return Err(gather.into_faults());
    }
    let opened = Connection::open_in_memory().and_then(|mut connection| {
        connection.deserialize_read_exact(MAIN_DB, bytes, bytes.len(), true)?;
        Ok(connection)
    });
    match opened {
        Ok(connection) => read(name, &connection, options),
        Err(error) => {
            let source = source(name);
            let mut gather = Gather::new(&source);
            not_a_package(&mut gather, &error.to_string());
            Err(gather.into_faults())
        }
    }
}

/// Reads a GeoPackage from an open connection, as it is best done for large files: open it read-only.
pub fn read(name: &str, connection: &Connection, options: &Options) -> Result<Plan, Faults> {
    let source = source(name);
    let mut gather = Gather::new(&source);
    if let Err(error) = guard(connection) {
        not_a_package(&mut gather, &error.to_string());
        return Err(gather.into_faults());
    }
    let catalog = match catalog::layers(connection) {
        Ok(layers) => layers,
        Err(error) => {
            not_a_package(&mut gather, &error);
            return Err(gather.into_faults());
        }
    };
    let (chosen, left_out) = choose(&mut gather, &catalog, options);
    let frame = frame(&mut gather, connection, &chosen, options);
    let mut drawn = Vec::new();
    for (layer, role) in &chosen {
        if let Err(error) = read_layer(&mut gather, connection, layer, role, options, &mut drawn) {
            gather.add(
                "geopackage::broken-table",
                format!("table `{}` cannot be read: {error}", layer.table),
                (Span::default(), "the whole file"),
                "copy the layer into a new GeoPackage, or export it again",
            );
        }
    }
    match frame {
        Some(frame) => assemble(gather, &frame, drawn, &left_out, options),
        None => Err(gather.into_faults()),
    }
}

/// Messages name tables and rows; there is no text to point into.
fn source(name: &str) -> Source {
    Source { name: name.to_owned(), text: "".into() }
}

fn guard(connection: &Connection) -> rusqlite::Result<()> {
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_TRUSTED_SCHEMA, false)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
    connection.set_limit(Limit::SQLITE_LIMIT_LENGTH, LARGEST_ROW)?;
    Ok(())
}

fn not_a_package(gather: &mut Gather<'_>, why: &str) {
    gather.add(
        "geopackage::not-a-geopackage",
        format!("the file is no GeoPackage that can be read: {why}"),
        (Span::default(), "the whole file"),
        "check that the download finished and that the file is a `.gpkg` with feature tables",
    );
}

/// The layers to read with their use, and how many rows the others have.
fn choose<'a>(
    gather: &mut Gather<'_>,
    catalog: &'a [Layer],
    options: &Options,
) -> (Vec<(&'a Layer, Use)>, BTreeMap<String, usize>) {
    let there: Vec<String> = catalog.iter().map(|layer| format!("`{}`", layer.table)).collect();
    let help = if there.is_empty() {
        "the file has no feature tables".to_owned()
    } else {
        format!("there are: {}", there.join(", "))
    };
    let mut missing = |message: String, help: &str| {
        gather.add("formats::no-such-layer", message, (Span::default(), "the whole file"), help);
    };
    match &options.layers {
        Layers::Named(named) => {
            for layer in named.keys().filter(|name| !catalog.iter().any(|layer| layer.table == **name)) {
                missing(format!("there is no layer `{layer}`"), &help);
            }
            if named.is_empty() {
                missing("no layer was named".to_owned(), &help);
            }
        }
        Layers::Only(_) if catalog.len() != 1 => {
            missing(format!("the file has {} layers, not one", catalog.len()), &help);
        }
        Layers::Only(_) => {}
    }
    let chosen: Vec<(&Layer, Use)> =
        catalog.iter().filter_map(|layer| Some((layer, options.role_of(&layer.table)?.clone()))).collect();
    let left_out = catalog.iter().filter(|layer| options.role_of(&layer.table).is_none());
    (chosen, left_out.map(|layer| (layer.table.clone(), layer.rows)).collect())
}

/// The one system all chosen layers are in.
fn frame(
    gather: &mut Gather<'_>,
    connection: &Connection,
    chosen: &[(&Layer, Use)],
    options: &Options,
) -> Option<Frame> {
    let (first, _) = chosen.first()?;
    if let Some((other, _)) = chosen.iter().find(|(layer, _)| layer.system != first.system) {
        gather.add(
            "geopackage::two-systems",
            format!("layers `{}` and `{}` are in different coordinate systems", first.table, other.table),
            (Span::default(), "the whole file"),
            "export both in one system",
        );
        return None;
    }
    match catalog::reference(connection, first.system) {
        Reference::Undefined => {
            if options.unit.is_none() {
                gather.add(
                    "geopackage::undefined-system",
                    format!(
                        "layer `{}` says its coordinate system is undefined ({})",
                        first.table, first.system
                    ),
                    (Span::default(), "the whole file"),
                    "say the unit of its coordinates if it is a flat drawing, or export it with its system",
                );
            }
            options.unit.map(Frame::Flat)
        }
        Reference::Named { code, definition, name } => match system(code, &definition) {
            Ok(system) => Some(Frame::Earth(system)),
            Err(error) => {
                let why = match error {
                    PlaneError::Unusable(why) => why,
                    PlaneError::OutOfReach => "it has no image there".to_owned(),
                };
                gather.add(
                    "geopackage::unknown-system",
                    format!(
                        "the coordinate system `{name}` of layer `{}` cannot be used: {why}",
                        first.table
                    ),
                    (Span::default(), "the whole file"),
                    "export the layers in WGS 84, in UTM or in state plane coordinates",
                );
                None
            }
        },
        Reference::Missing => {
            gather.add(
                "geopackage::unknown-system",
                format!(
                    "layer `{}` is in system {}, which the file does not define",
                    first.table, first.system
                ),
                (Span::default(), "the whole file"),
                "export the layer again, with its coordinate system",
            );
            None
        }
    }
}

fn system(code: Option<u32>, definition: &str) -> Result<System, PlaneError> {
    match code.and_then(System::from_epsg) {
        Some(system) => system,
        None => System::from_wkt(definition),
    }
}

fn read_layer(
    gather: &mut Gather<'_>,
    connection: &Connection,
    layer: &Layer,
    role: &Use,
    options: &Options,
    drawn: &mut Vec<Drawn>,
) -> rusqlite::Result<()> {
    let named =
        *role != Use::Lots && *role != Use::Buildings && layer.columns.contains(&options.street_property);
    let name = if named { catalog::quoted(&options.street_property) } else { "NULL".to_owned() };
    let (key, shape) = (catalog::quoted(&layer.key), catalog::quoted(&layer.shape));
    let table = catalog::quoted(&layer.table);
    let mut rows = connection.prepare(&format!("SELECT {key}, {shape}, {name} FROM {table} ORDER BY 1"))?;
    let mut rows = rows.query([])?;
    while let Some(row) = rows.next()? {
        let id = match row.get_ref(0)? {
            ValueRef::Integer(number) => number.to_string(),
            other => String::from_utf8_lossy(other.as_bytes().unwrap_or(b"row")).into_owned(),
        };
        let name = match row.get_ref(2)? {
            ValueRef::Text(text) => Some(String::from_utf8_lossy(text).into_owned()),
            _ => None,
        };
        let parts = match row.get_ref(1)? {
            ValueRef::Blob(bytes) => blob::parts(bytes),
            ValueRef::Null => Err(("has no shape", "give it a shape, or delete the row")),
            _ => Err(("has something else in place of its shape", "export the layer again")),
        };
        match parts {
            Ok(parts) => {
                drawn.push(Drawn { role: role.clone(), id, name, parts, span: Span::default() });
            }
            Err((what, help)) => gather.add(
                "formats::bad-shape",
                format!("row {id} of table `{}` {what}", layer.table),
                (Span::default(), "the whole file"),
                help,
            ),
        }
    }
    Ok(())
}
