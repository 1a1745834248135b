//! Copying a whole book into an empty one, of the same or the other dialect, and proving that it is the same.
//!
//! Rows travel as lists of texts in one form for both dialects; what is hashed is that form, in the order of each table's
//! key.

mod sql;

use crate::db::Db;
use crate::error::StorageError;
use crate::schema::TABLES;
use crate::table::Table;
use crate::tx::Tx;
use sha2::{Digest, Sha256};
use sql::{Row, read_rows, write};

/// Rows that travel at a time.
const BATCH: usize = 2_000;

/// What a table holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TableContent {
    /// Its name.
    pub table: &'static str,
    /// Number of its rows.
    pub rows: u64,
    /// SHA-256 of its rows in the order of its key, in hexadecimal digits.
    pub hash: String,
}

/// Goes through a table in batches.
fn each_batch(
    tx: &mut Tx<'_>,
    table: &Table,
    mut take: impl FnMut(&[Row]) -> Result<(), StorageError>,
) -> Result<TableContent, StorageError> {
    let (mut hash, mut rows, mut after) = (Sha256::new(), 0_u64, None);
    loop {
        let batch = read_rows(tx, table, after.as_ref(), BATCH)?;
        for row in &batch {
            hash.update(row.text().as_bytes());
            hash.update(b"\n");
        }
        rows = rows.saturating_add(u64::try_from(batch.len()).unwrap_or(u64::MAX));
        if !batch.is_empty() {
            take(&batch)?;
        }
        if batch.len() < BATCH {
            let hash = hash
                .finalize()
                .iter()
                .map(|byte| format!("{byte:02x}"))
                .collect();
            return Ok(TableContent {
                table: table.name,
                rows,
                hash,
            });
        }
        after = batch.into_iter().next_back();
    }
}

impl Tx<'_> {
    /// What the book holds, table by table.
    ///
    /// # Errors
    /// [`StorageError`], when the database fails.
    pub fn content(&mut self) -> Result<Vec<TableContent>, StorageError> {
        TABLES
            .iter()
            .map(|table| each_batch(self, table, |_| Ok(())))
            .collect()
    }
}

impl Db {
    /// Copies everything into an empty book: all of it, proved by number and hash of each table's rows, or nothing. It is
    /// read from one snapshot, so that this book may be worked on meanwhile.
    ///
    /// # Errors
    /// [`StorageError::NotEmpty`] for a book that holds something, [`StorageError::Damaged`] for a copy that differs, whatever
    /// either database says.
    pub fn copy_into(&self, target: &Self) -> Result<Vec<TableContent>, StorageError> {
        self.read(|from| {
            target.write(Box::new(|to: &mut Tx<'_>| {
                if let Some(table) = to.content()?.iter().find(|content| content.rows > 0) {
                    let (rows, name) = (table.rows, table.table);
                    return Err(StorageError::NotEmpty(format!("{name} holds {rows} rows")));
                }
                let mut copied = Vec::with_capacity(TABLES.len());
                for table in TABLES {
                    copied.push(each_batch(from, table, |rows| write(to, table, rows))?);
                }
                sql::number_on(to)?;
                let there = to.content()?;
                match copied
                    .iter()
                    .zip(&there)
                    .find(|(copied, there)| copied != there)
                {
                    None => Ok(copied),
                    Some((copied, there)) => Err(StorageError::Damaged(format!(
                        "the copy of {} differs: {} rows of {}",
                        copied.table, there.rows, copied.rows
                    ))),
                }
            }))
        })
    }
}
