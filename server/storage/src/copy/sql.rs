//! The statements of copying, in either dialect.

use crate::error::StorageError;
use crate::table::{Column, Kind, Table};
use crate::tx::Tx;

/// A row: each column as text, in one form for both dialects.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Row(Vec<Option<String>>);

impl Row {
    /// As it is hashed and sent: a JSON array.
    pub(super) fn text(&self) -> String {
        serde_json::to_string(&self.0).expect("texts can be written as JSON")
    }
}

fn is_sqlite(tx: &Tx<'_>) -> bool {
    matches!(tx, Tx::Sqlite(_))
}

/// A column as text.
fn column_as_text(sqlite: bool, column: &Column) -> String {
    let Column { name, kind } = column;
    match (kind, sqlite) {
        (Kind::Text, _) | (Kind::Date | Kind::Timestamp, true) => (*name).to_owned(),
        (Kind::BigInt, _) => format!("CAST({name} AS TEXT)"),
        (Kind::Bool, _) => format!("CASE WHEN {name} THEN '1' WHEN NOT {name} THEN '0' END"),
        (Kind::Date, false) => format!("to_char({name}, 'YYYY-MM-DD')"),
        (Kind::Timestamp, false) => format!("to_char({name}, 'YYYY-MM-DD HH24:MI:SS.US')"),
    }
}

/// SQL that turns a text from a list back into a column's value.
fn kept(sqlite: bool, place: usize, column: &Column) -> String {
    match (column.kind, sqlite) {
        (Kind::BigInt | Kind::Bool, true) => {
            format!("CAST(json_extract(value, '$[{place}]') AS INTEGER)")
        }
        (_, true) => format!("json_extract(value, '$[{place}]')"),
        (Kind::Text, false) => format!("value ->> {place}"),
        (Kind::BigInt, false) => format!("(value ->> {place})::bigint"),
        (Kind::Bool, false) => format!("(value ->> {place})::boolean"),
        (Kind::Date, false) => format!("(value ->> {place})::date"),
        (Kind::Timestamp, false) => format!("(value ->> {place})::timestamp"),
    }
}

/// Fractions of a second are written without trailing zeros, as SQLite's rows may hold them.
fn trimmed(text: String) -> String {
    match text.split_once('.') {
        Some((whole, fraction)) => match fraction.trim_end_matches('0') {
            "" => whole.to_owned(),
            fraction => format!("{whole}.{fraction}"),
        },
        None => text,
    }
}

/// A key's value as SQL takes it.
fn literal(kind: Kind, text: &str) -> String {
    match kind {
        Kind::BigInt => text.to_owned(),
        _ => format!("'{}'", text.replace('\'', "''")),
    }
}

/// The next rows of a table in the order of its key; texts are ordered byte by byte in both dialects.
pub(super) fn read_rows(
    tx: &mut Tx<'_>,
    table: &Table,
    after: Option<&Row>,
    limit: usize,
) -> Result<Vec<Row>, StorageError> {
    let sqlite = is_sqlite(tx);
    let place = |name: &str| {
        table
            .columns
            .iter()
            .position(|column| column.name == name)
            .unwrap_or_default()
    };
    let ordered = |name: &&str| match table.columns.get(place(name)).map(|column| column.kind) {
        Some(Kind::Text) if !sqlite => format!("{name} COLLATE \"C\""),
        _ => (*name).to_owned(),
    };
    let key = table.key.iter().map(ordered).collect::<Vec<_>>().join(", ");
    let columns = table
        .columns
        .iter()
        .map(|column| column_as_text(sqlite, column))
        .collect::<Vec<_>>()
        .join(", ");
    let list = if sqlite {
        "json_array"
    } else {
        "json_build_array"
    };
    let text = if sqlite { "" } else { "::text" };
    let from = after.map_or_else(String::new, |row| {
        let value = |name: &&str| {
            let place = place(name);
            let kind = table
                .columns
                .get(place)
                .map_or(Kind::Text, |column| column.kind);
            literal(
                kind,
                row.0
                    .get(place)
                    .and_then(Option::as_deref)
                    .unwrap_or_default(),
            )
        };
        let last = table.key.iter().map(value).collect::<Vec<_>>().join(", ");
        format!("WHERE ({key}) > ({last}) ")
    });
    let name = table.name;
    let query = format!(
        "SELECT {list}({columns}){text} AS text FROM {name} {from}ORDER BY {key} LIMIT {limit}"
    );
    tx.texts(&query)?
        .iter()
        .map(|text| parse(table, text))
        .collect()
}

fn parse(table: &Table, text: &str) -> Result<Row, StorageError> {
    let mut row: Vec<Option<String>> = serde_json::from_str(text).map_err(|error| {
        StorageError::Damaged(format!("a row of {} cannot be read: {error}", table.name))
    })?;
    for (value, column) in row.iter_mut().zip(table.columns) {
        if column.kind == Kind::Timestamp {
            *value = value.take().map(trimmed);
        }
    }
    Ok(Row(row))
}

/// Writes rows.
pub(super) fn write(tx: &mut Tx<'_>, table: &Table, rows: &[Row]) -> Result<(), StorageError> {
    let sqlite = is_sqlite(tx);
    let names = table
        .columns
        .iter()
        .map(|column| column.name)
        .collect::<Vec<_>>()
        .join(", ");
    let values = table
        .columns
        .iter()
        .enumerate()
        .map(|(place, column)| kept(sqlite, place, column))
        .collect::<Vec<_>>()
        .join(", ");
    let source = if sqlite {
        "json_each(?)"
    } else {
        "json_array_elements($1::json) AS row(value)"
    };
    let name = table.name;
    let statement = format!("INSERT INTO {name} ({names}) SELECT {values} FROM {source}");
    let rows: Vec<&Vec<Option<String>>> = rows.iter().map(|row| &row.0).collect();
    let text = serde_json::to_string(&rows).expect("texts can be written as JSON");
    tx.run_with(&statement, &text)?;
    Ok(())
}

/// Lets the ledger's own numbering go on after the last movement; SQLite's does by itself.
pub(super) fn number_on(tx: &mut Tx<'_>) -> Result<(), StorageError> {
    if !is_sqlite(tx) {
        tx.texts(
            "SELECT setval(pg_get_serial_sequence('movements', 'sequence'), \
             COALESCE(MAX(sequence), 1), MAX(sequence) IS NOT NULL)::text AS text FROM movements",
        )?;
    }
    Ok(())
}
