//! A copy of a file made by SQLite, whatever of it is still in the log beside it.

use super::open::{begin_private, check_log, connect, has_log, schema_of, unreachable, uri};
use crate::error::StorageError;
use diesel::{RunQueryDsl, sql_types::Text};
use std::{path::Path, time::Duration};

/// How long others are waited for.
const BUSY: Duration = Duration::from_secs(5);

/// Copies the book in a file into a new file, which alone holds everything. The first one stays as it is.
///
/// # Errors
/// [`StorageError::Damaged`] for what is no book, or any other error of the database.
pub fn snapshot(from: &Path, to: &Path) -> Result<(), StorageError> {
    check_log(from)?;
    // Without a log nothing has it open, and nothing need be written beside it in order to read it.
    let mode = if has_log(from) {
        "ro"
    } else {
        "ro&immutable=1"
    };
    let absolute =
        |path: &Path| std::path::absolute(path).map_err(|error| unreachable(path, &error));
    let mut conn = connect(&uri(&absolute(from)?, mode)?, BUSY)?;
    schema_of(&mut conn, from)?;
    let to = absolute(to)?;
    let name = to
        .to_str()
        .ok_or_else(|| StorageError::Address(to.display().to_string()))?;
    // SQLite fills an empty file, and would make one that strangers can read.
    begin_private(&to).map_err(|error| unreachable(&to, &error))?;
    diesel::sql_query("VACUUM INTO ?")
        .bind::<Text, _>(name)
        .execute(&mut conn)?;
    Ok(())
}
