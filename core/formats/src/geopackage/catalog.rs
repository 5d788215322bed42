//! What a GeoPackage says it holds: its feature tables and their coordinate systems.

use rusqlite::{Connection, OptionalExtension, params};

/// A feature table.
pub(super) struct Layer {
    pub(super) table: String,
    /// The column of its primary key.
    pub(super) key: String,
    /// The column of its geometry.
    pub(super) shape: String,
    pub(super) columns: Vec<String>,
    /// Its `srs_id`.
    pub(super) system: i64,
    pub(super) rows: usize,
}

/// A coordinate system as the file defines it.
pub(super) enum Reference {
    /// -1 or 0: undefined Cartesian, undefined geographic.
    Undefined,
    Named {
        /// The EPSG code, if EPSG is the authority.
        code: Option<u32>,
        definition: String,
        name: String,
    },
    /// Not in the file's own list.
    Missing,
}

/// All feature tables that are plain tables with a key and a geometry, in name order; else why not.
pub(super) fn layers(connection: &Connection) -> Result<Vec<Layer>, String> {
    for table in ["gpkg_contents", "gpkg_geometry_columns", "gpkg_spatial_ref_sys"] {
        match is_plain_table(connection, table) {
            Ok(true) => {}
            Ok(false) => return Err(format!("it has no table `{table}`")),
            Err(error) => return Err(error.to_string()),
        }
    }
    feature_tables(connection).map_err(|error| error.to_string())
}

fn feature_tables(connection: &Connection) -> rusqlite::Result<Vec<Layer>> {
    let mut found = connection.prepare(
        "SELECT c.table_name, g.column_name, g.srs_id FROM gpkg_contents c
         JOIN gpkg_geometry_columns g ON g.table_name = c.table_name
         WHERE c.data_type = 'features' ORDER BY c.table_name",
    )?;
    let rows: Vec<(String, String, i64)> = found
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?
        .collect::<rusqlite::Result<_>>()?;
    let mut layers = Vec::new();
    for (table, shape, system) in rows {
        if !is_plain_table(connection, &table)? {
            continue;
        }
        let (key, columns) = columns(connection, &table)?;
        let count: i64 =
            connection
                .query_row(&format!("SELECT count(*) FROM {}", quoted(&table)), [], |row| row.get(0))?;
        let rows = usize::try_from(count).unwrap_or(0);
        if columns.contains(&shape) {
            layers.push(Layer { table, key, shape, columns, system, rows });
        }
    }
    Ok(layers)
}

/// Views and virtual tables run what their author wrote; a plain table only holds rows.
fn is_plain_table(connection: &Connection, table: &str) -> rusqlite::Result<bool> {
    let sql: Option<Option<String>> = connection
        .query_row(
            "SELECT sql FROM sqlite_master WHERE type = 'table' AND name = ?1",
            params![table],
            |row| row.get(0),
        )
        .optional()?;
    let Some(Some(sql)) = sql else { return Ok(false) };
    Ok(!sql.to_ascii_uppercase().starts_with("CREATE VIRTUAL"))
}

/// The primary key, the row number if there is none, and all columns but generated ones.
fn columns(connection: &Connection, table: &str) -> rusqlite::Result<(String, Vec<String>)> {
    let mut info = connection.prepare("SELECT name, pk FROM pragma_table_info(?1)")?;
    let rows: Vec<(String, i64)> = info
        .query_map(params![table], |row| Ok((row.get(0)?, row.get(1)?)))?
        .collect::<rusqlite::Result<_>>()?;
    let key = rows.iter().find(|(_, key)| *key == 1).map_or("rowid", |(name, _)| name).to_owned();
    Ok((key, rows.into_iter().map(|(name, _)| name).collect()))
}

/// The definition of a system.
pub(super) fn reference(connection: &Connection, system: i64) -> Reference {
    if matches!(system, -1 | 0) {
        return Reference::Undefined;
    }
    let row = connection.query_row(
        "SELECT organization, organization_coordsys_id, definition, srs_name
         FROM gpkg_spatial_ref_sys WHERE srs_id = ?1",
        params![system],
        |row| {
            Ok((
                row.get::<_, String>(0)?,
                row.get::<_, i64>(1)?,
                row.get::<_, String>(2)?,
                row.get::<_, String>(3)?,
            ))
        },
    );
    match row {
        Ok((organization, code, definition, name)) => {
            let code =
                if organization.eq_ignore_ascii_case("EPSG") { u32::try_from(code).ok() } else { None };
            Reference::Named { code, definition, name }
        }
        Err(_) => Reference::Missing,
    }
}

/// A name as SQL quotes it.
pub(super) fn quoted(name: &str) -> String {
    format!("\"{}\"", name.replace('"', "\"\""))
}
