//! Opening a book in a SQLite file: address, lock file, application id, schema version.

use super::{Conn, book::SqliteBook};
use crate::db::OpenOptions;
use crate::error::StorageError;
use crate::lock::BookLock;
use crate::migration::{self, MIGRATIONS_KNOWN, SQLITE_MIGRATIONS};
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

/// What SQLite is told: a URI, for a bare path would make the file anew whenever it has gone.
fn uri(path: &Path, mode: &str) -> Result<String, StorageError> {
    let text = path.to_str().ok_or_else(|| StorageError::Address(path.display().to_string()))?;
    let text =
        text.replace(MAIN_SEPARATOR_STR, "/").replace('%', "%25").replace('?', "%3f").replace('#', "%23");
    let root = if text.starts_with('/') { "" } else { "/" };
    Ok(format!("file:{root}{text}?mode={mode}"))
}

/// Opens, and with `create` makes and migrates, the book in a file.
pub(super) fn open(path: &Path, options: &OpenOptions) -> Result<SqliteBook, StorageError> {
    // The pool connects later too, when the working folder may be another one.
    let path = &std::path::absolute(path).map_err(|error| unreachable(path, &error))?;
    let there = path.try_exists().map_err(|error| unreachable(path, &error))?;
    if !there && !options.create {
        return Err(StorageError::Absent(path.display().to_string()));
    }
    if !there && let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).map_err(|error| unreachable(folder, &error))?;
    }
    if !there {
        begin_private(path).map_err(|error| unreachable(path, &error))?;
    }
    let until = Instant::now() + options.busy;
    let lock = BookLock::shared(path, until)?;
    let mut conn = connect(&uri(path, if options.create { "rwc" } else { "rw" })?, options.busy)?;
    let lock = match schema_of(&mut conn, path)? {
        MIGRATIONS_KNOWN => lock,
        found if !options.create => return Err(StorageError::Older { found, known: MIGRATIONS_KNOWN }),
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

/// Makes the file, closed to strangers: it will hold prices and names. What SQLite keeps beside it has the same mode.
fn begin_private(path: &Path) -> std::io::Result<()> {
    let mut options = std::fs::OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o660);
    match options.open(path) {
        // Another opener was faster.
        Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => Ok(()),
        done => done.map(drop),
    }
}

pub(super) fn connect(uri: &str, busy: Duration) -> Result<Conn, StorageError> {
    let mut conn = Conn::establish(uri).map_err(|error| StorageError::Unreachable(error.to_string()))?;
    conn.batch_execute(&format!("PRAGMA busy_timeout = {};", busy.as_millis()))?;
    Ok(conn)
}

/// The file's schema version: 0 for an empty file; never above what the program knows.
fn schema_of(conn: &mut Conn, path: &Path) -> Result<i64, StorageError> {
    let (application, version) = (pragma(conn, "application_id")?, pragma(conn, "user_version")?);
    let schema = "SELECT COUNT(*) AS number FROM sqlite_schema";
    let empty = diesel::sql_query(schema).get_result::<Number>(conn)?.number == 0;
    if application != APPLICATION_ID && !(empty && application == 0 && version == 0) {
        return Err(StorageError::Damaged(format!("{} belongs to another program", path.display())));
    }
    if version > MIGRATIONS_KNOWN {
        return Err(StorageError::Newer { found: version, known: MIGRATIONS_KNOWN });
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

/// Brings the schema up to date, with the lock held alone. A run that was killed is taken up where it ended: the
/// file is marked as a book before its first table, and as migrated after its last.
fn migrate(conn: &mut Conn, path: &Path) -> Result<(), StorageError> {
    if schema_of(conn, path)? == MIGRATIONS_KNOWN {
        return Ok(());
    }
    conn.batch_execute("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;")?;
    conn.batch_execute(&format!("PRAGMA application_id = {APPLICATION_ID};"))?;
    conn.run_pending_migrations(SQLITE_MIGRATIONS).map_err(StorageError::migrating)?;
    conn.batch_execute(&format!("PRAGMA user_version = {MIGRATIONS_KNOWN};"))?;
    migration::check_known();
    Ok(())
}

/// Sees to it that the file has a write-ahead log: a copy of a book made by other tools may have lost it.
fn log_ahead(conn: &mut Conn) -> Result<(), StorageError> {
    let mode = diesel::sql_query("PRAGMA journal_mode").get_result::<JournalMode>(conn)?.journal_mode;
    if mode == "wal" {
        return Ok(());
    }
    match conn.batch_execute("PRAGMA journal_mode = WAL;").map_err(StorageError::from) {
        Err(StorageError::ReadOnly) | Ok(()) => Ok(()),
        Err(error) => Err(error),
    }
}

fn unreachable(path: &Path, error: &std::io::Error) -> StorageError {
    match error.kind() {
        std::io::ErrorKind::StorageFull => StorageError::Full,
        _ => StorageError::Unreachable(format!("{}: {error}", path.display())),
    }
}
