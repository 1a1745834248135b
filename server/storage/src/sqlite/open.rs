//! Opening a book in a SQLite file: address, lock file, application id, schema version.

use super::{Conn, book::SqliteBook};
use crate::db::OpenOptions;
use crate::error::StorageError;
use crate::lock::BookLock;
use crate::migration::{self, MIGRATIONS_KNOWN, SQLITE_MIGRATIONS};
use crate::owner;
use diesel::{
    connection::SimpleConnection,
    prelude::*,
    sql_types::{BigInt, Text},
};
use diesel_migrations::MigrationHarness;
use std::{
    path::{MAIN_SEPARATOR_STR, Path, PathBuf},
    time::{Duration, Instant},
};

/// `Ellw` in ASCII: marks a SQLite file as a book of ours.
const APPLICATION_ID: i64 = 0x456c_6c77;

#[derive(QueryableByName)]
struct Number {
    #[diesel(sql_type = BigInt)]
    number: i64,
}

/// What `wal_checkpoint` answers.
#[derive(QueryableByName)]
struct Checkpoint {
    #[diesel(sql_type = BigInt)]
    busy: i64,
}

#[derive(QueryableByName)]
struct JournalMode {
    #[diesel(sql_type = Text)]
    journal_mode: String,
}

fn pragma(conn: &mut Conn, name: &str) -> Result<i64, StorageError> {
    let query = format!("SELECT {name} AS number FROM pragma_{name}");
    Ok(diesel::sql_query(query).get_result::<Number>(conn)?.number)
}

/// File of a `sqlite://` address: `sqlite:///home/me/book.sqlite3`, `sqlite://book.sqlite3`.
pub(crate) fn path_of(url: &str) -> Option<PathBuf> {
    let path = url.strip_prefix("sqlite://")?;
    (!path.is_empty() && !path.ends_with('/')).then(|| PathBuf::from(path))
}

/// How long one try for the lock alone may last, before the schema is looked at again.
const TURN: Duration = Duration::from_millis(50);

/// Address for SQLite: a URI, because a bare path would create the file again whenever it has gone.
pub(super) fn uri(path: &Path, mode: &str) -> Result<String, StorageError> {
    let text = path
        .to_str()
        .ok_or_else(|| StorageError::Address(path.display().to_string()))?;
    let text = text
        .replace(MAIN_SEPARATOR_STR, "/")
        .replace('%', "%25")
        .replace('?', "%3f")
        .replace('#', "%23");
    let root = if text.starts_with('/') { "" } else { "/" };
    Ok(format!("file:{root}{text}?mode={mode}"))
}

/// Opens, and with `create` makes and migrates, the book in a file.
pub(super) fn open(path: &Path, options: &OpenOptions) -> Result<SqliteBook, StorageError> {
    // The pool connects later too, when the working folder may be another one.
    let path = &std::path::absolute(path).map_err(|error| unreachable(path, &error))?;
    let there = path
        .try_exists()
        .map_err(|error| unreachable(path, &error))?;
    if !there && !options.create {
        return Err(StorageError::Absent(path.display().to_string()));
    }
    if !there {
        if has_log(path) {
            return Err(without_its_log(path));
        }
        path.parent().map_or(Ok(()), make_folder)?;
        begin_private(path).map_err(|error| unreachable(path, &error))?;
    }
    let until = Instant::now() + options.busy;
    let lock = BookLock::shared(path, until)?;
    check_log(path)?;
    let mut conn = connect(
        &uri(path, if options.create { "rwc" } else { "rw" })?,
        options.busy,
    )?;
    let lock = match schema_of(&mut conn, path)? {
        MIGRATIONS_KNOWN => lock,
        found if !options.create => {
            return Err(StorageError::Older {
                found,
                known: MIGRATIONS_KNOWN,
            });
        }
        _ => {
            drop(lock);
            migrate_alone(&mut conn, path, until)?
        }
    };
    let lock = if options.alone {
        drop(lock);
        BookLock::alone(path, until)?
    } else {
        lock
    };
    log_ahead(&mut conn)?;
    SqliteBook::new(path.clone(), uri(path, "rw")?, conn, lock, options)
}

/// Makes a folder, and those that it lies in.
fn make_folder(folder: &Path) -> Result<(), StorageError> {
    let missing: Vec<&Path> = folder
        .ancestors()
        .take_while(|folder| !folder.exists())
        .collect();
    std::fs::create_dir_all(folder).map_err(|error| unreachable(folder, &error))?;
    missing.into_iter().rev().for_each(owner::as_its_folder);
    Ok(())
}

/// Makes the file, closed to strangers: it will hold prices and names. What SQLite keeps beside it has the same mode.
pub(super) fn begin_private(path: &Path) -> std::io::Result<()> {
    let mut options = std::fs::OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o660);
    match options.open(path) {
        // Another opener was faster.
        Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => Ok(()),
        done => done.map(|_| owner::as_its_folder(path)),
    }
}

pub(super) fn connect(uri: &str, busy: Duration) -> Result<Conn, StorageError> {
    let mut conn =
        Conn::establish(uri).map_err(|error| StorageError::Unreachable(error.to_string()))?;
    conn.batch_execute(&format!("PRAGMA busy_timeout = {};", busy.as_millis()))?;
    Ok(conn)
}

/// The file in which SQLite keeps what is not yet in the book's own.
fn log_of(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push("-wal");
    PathBuf::from(name)
}

/// True when something of the book may be in the file beside it.
pub(super) fn has_log(path: &Path) -> bool {
    std::fs::metadata(log_of(path)).is_ok_and(|log| log.len() > 0)
}

/// Moves what is in the file beside the book into the book's own.
pub(super) fn move_log(conn: &mut Conn) -> Result<(), StorageError> {
    let done =
        diesel::sql_query("PRAGMA wal_checkpoint(TRUNCATE)").get_result::<Checkpoint>(conn)?;
    if done.busy == 0 {
        return Ok(());
    }
    Err(StorageError::InUse(
        "its log cannot be moved into the file".to_owned(),
    ))
}

/// Refuses a file without a byte beside a log: SQLite would throw the log away, and with it all that was booked.
pub(super) fn check_log(path: &Path) -> Result<(), StorageError> {
    let empty = std::fs::metadata(path).is_ok_and(|book| book.len() == 0);
    if empty && has_log(path) {
        Err(without_its_log(path))
    } else {
        Ok(())
    }
}

fn without_its_log(path: &Path) -> StorageError {
    let (book, log) = (path.display(), log_of(path));
    StorageError::Damaged(format!(
        "{book} has no tables, but {} beside it has the bookings; restore both from the same place",
        log.display()
    ))
}

/// The file's schema version: 0 for an empty file; never above what the program knows.
pub(super) fn schema_of(conn: &mut Conn, path: &Path) -> Result<i64, StorageError> {
    let (application, version) = (
        pragma(conn, "application_id")?,
        pragma(conn, "user_version")?,
    );
    let schema = "SELECT COUNT(*) AS number FROM sqlite_schema";
    let empty = diesel::sql_query(schema).get_result::<Number>(conn)?.number == 0;
    if application != APPLICATION_ID && !(empty && application == 0 && version == 0) {
        return Err(StorageError::Damaged(format!(
            "{} belongs to another program",
            path.display()
        )));
    }
    if version > MIGRATIONS_KNOWN {
        return Err(StorageError::Newer {
            found: version,
            known: MIGRATIONS_KNOWN,
        });
    }
    // A book has its tables in its own file before anything is booked.
    if empty && has_log(path) {
        return Err(without_its_log(path));
    }
    Ok(version)
}

/// Gets the lock alone and migrates. Another opener may have migrated meanwhile and keep the book open: then its
/// work is enough, and the lock is shared with it.
fn migrate_alone(conn: &mut Conn, path: &Path, until: Instant) -> Result<BookLock, StorageError> {
    loop {
        let soon = until.min(Instant::now() + TURN);
        match BookLock::alone(path, soon) {
            Ok(alone) => {
                migrate(conn, path)?;
                drop(alone);
            }
            Err(StorageError::InUse(_)) if Instant::now() < until => {}
            Err(error) => return Err(error),
        }
        let lock = BookLock::shared(path, until)?;
        if schema_of(conn, path)? == MIGRATIONS_KNOWN {
            return Ok(lock);
        }
    }
}

/// Brings the schema up to date, with the lock held alone: mark, tables and version in one commit, so that a run that was
/// killed leaves what was there before. A new file gets its write-ahead log only afterwards.
fn migrate(conn: &mut Conn, path: &Path) -> Result<(), StorageError> {
    if schema_of(conn, path)? == MIGRATIONS_KNOWN {
        return Ok(());
    }
    conn.batch_execute("PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;")?;
    conn.immediate_transaction(|conn| {
        conn.batch_execute(&format!("PRAGMA application_id = {APPLICATION_ID};"))?;
        conn.run_pending_migrations(SQLITE_MIGRATIONS)
            .map_err(StorageError::migrating)?;
        conn.batch_execute(&format!("PRAGMA user_version = {MIGRATIONS_KNOWN};"))?;
        Ok::<_, StorageError>(())
    })?;
    migration::check_known();
    Ok(())
}

/// Sees to it that the file has a write-ahead log: a copy of a book made by other tools may have lost it.
fn log_ahead(conn: &mut Conn) -> Result<(), StorageError> {
    let mode = diesel::sql_query("PRAGMA journal_mode")
        .get_result::<JournalMode>(conn)?
        .journal_mode;
    if mode == "wal" {
        return Ok(());
    }
    match conn
        .batch_execute("PRAGMA journal_mode = WAL;")
        .map_err(StorageError::from)
    {
        Err(StorageError::ReadOnly) | Ok(()) => Ok(()),
        Err(error) => Err(error),
    }
}

pub(super) fn unreachable(path: &Path, error: &std::io::Error) -> StorageError {
    match error.kind() {
        std::io::ErrorKind::StorageFull => StorageError::Full,
        _ => StorageError::Unreachable(format!("{}: {error}", path.display())),
    }
}
