//! Statements that are made as they are needed: for copying books, table by table.

use super::Conn;
use crate::error::StorageError;
use diesel::{prelude::*, sql_types::Text};

#[derive(QueryableByName)]
struct Row {
    #[diesel(sql_type = Text)]
    text: String,
}

/// Rows of a query with one column named `text`.
pub fn texts(conn: &mut Conn, query: &str) -> Result<Vec<String>, StorageError> {
    let rows: Vec<Row> = diesel::sql_query(query).load(conn)?;
    Ok(rows.into_iter().map(|row| row.text).collect())
}

/// Runs a statement with one text.
pub fn run_with(conn: &mut Conn, statement: &str, text: &str) -> Result<usize, StorageError> {
    Ok(diesel::sql_query(statement)
        .bind::<Text, _>(text)
        .execute(conn)?)
}
