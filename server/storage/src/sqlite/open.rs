//! Opening a book in a SQLite file: settings, lock file, application id, schema version.

use super::Conn;
use crate::db::OpenOptions;
use crate::error::StorageError;
use crate::lock::BookLock;
use crate::migration::{self, MIGRATIONS_KNOWN, SQLITE_MIGRATIONS};
use diesel::{
    connection::SimpleConnection,
    prelude::*,
    r2d2::{ConnectionManager, CustomizeConnection, Pool, PooledConnection},
    sql_types::BigInt,
};
use diesel_migrations::MigrationHarness;
use std::{
    path::{Path, PathBuf},
    sync::{Arc, Mutex, PoisonError},
    time::Duration,
};

/// `Ellw` in ASCII: marks a SQLite file as a book of ours.
const APPLICATION_ID: i64 = 0x456c_6c77;

/// A book in a SQLite file: a pool of connections and one writer at a time.
#[derive(Clone)]
pub(crate) struct SqliteBook {
    pool: Pool<ConnectionManager<Conn>>,
    writer: Arc<Mutex<()>>,
    /// Held shared as long as the book is open.
    _lock: Arc<BookLock>,
}

#[derive(Debug)]
struct Settings {
    busy: Duration,
}

impl CustomizeConnection<Conn, diesel::r2d2::Error> for Settings {
    fn on_acquire(&self, conn: &mut Conn) -> Result<(), diesel::r2d2::Error> {
        let busy = self.busy.as_millis();
        conn.batch_execute(&format!(
            "PRAGMA busy_timeout = {busy}; PRAGMA foreign_keys = ON; PRAGMA synchronous = FULL;"
        ))
        .map_err(diesel::r2d2::Error::QueryError)
    }
}

#[derive(QueryableByName)]
struct Number {
    #[diesel(sql_type = BigInt)]
    number: i64,
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

impl SqliteBook {
    /// Opens, and with `create` makes and migrates, the book in a file.
    pub(crate) fn open(path: &Path, options: &OpenOptions) -> Result<Self, StorageError> {
        let there = path.try_exists().map_err(|error| unreachable(path, &error))?;
        if !there && !options.create {
            return Err(StorageError::Absent(path.display().to_string()));
        }
        if !there && let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder).map_err(|error| unreachable(folder, &error))?;
        }
        let name = path.to_str().ok_or_else(|| StorageError::Address(path.display().to_string()))?;
        let lock = BookLock::shared(path)?;
        let mut conn = Conn::establish(name).map_err(|error| StorageError::Unreachable(error.to_string()))?;
        conn.batch_execute(&format!("PRAGMA busy_timeout = {};", options.busy.as_millis()))?;
        let lock = Self::bring_up(&mut conn, path, lock, options)?;
        drop(conn);
        let pool = Pool::builder()
            .max_size(options.connections)
            .min_idle(Some(0))
            .connection_timeout(options.busy)
            .test_on_check_out(false)
            .connection_customizer(Box::new(Settings { busy: options.busy }))
            .build_unchecked(ConnectionManager::<Conn>::new(name));
        Ok(Self { pool, writer: Arc::new(Mutex::new(())), _lock: Arc::new(lock) })
    }

    /// Compares the file's schema with the program's, and migrates where that was asked.
    fn bring_up(
        conn: &mut Conn,
        path: &Path,
        lock: BookLock,
        options: &OpenOptions,
    ) -> Result<BookLock, StorageError> {
        let (application, version) = (pragma(conn, "application_id")?, pragma(conn, "user_version")?);
        let empty = diesel::sql_query("SELECT COUNT(*) AS number FROM sqlite_schema")
            .get_result::<Number>(conn)?
            .number
            == 0;
        if application != APPLICATION_ID && !empty {
            return Err(StorageError::Damaged(format!("{} belongs to another program", path.display())));
        }
        if version > MIGRATIONS_KNOWN {
            return Err(StorageError::Newer { found: version, known: MIGRATIONS_KNOWN });
        }
        if version == MIGRATIONS_KNOWN {
            return Ok(lock);
        }
        if !options.create {
            return Err(StorageError::Older { found: version, known: MIGRATIONS_KNOWN });
        }
        drop(lock);
        let alone = BookLock::alone(path)?;
        conn.batch_execute("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;")?;
        conn.run_pending_migrations(SQLITE_MIGRATIONS).map_err(StorageError::Other)?;
        conn.batch_execute(&format!(
            "PRAGMA application_id = {APPLICATION_ID}; PRAGMA user_version = {MIGRATIONS_KNOWN};"
        ))?;
        migration::check_known();
        drop(alone);
        BookLock::shared(path)
    }

    pub(crate) fn connection(&self) -> Result<PooledConnection<ConnectionManager<Conn>>, StorageError> {
        self.pool.get().map_err(|error| StorageError::Unreachable(error.to_string()))
    }

    /// Runs a job in the one write transaction.
    pub(crate) fn write<T, E: From<StorageError>>(
        &self,
        job: &mut dyn FnMut(&mut Conn) -> Result<T, E>,
    ) -> Result<T, E> {
        let _writer = self.writer.lock().unwrap_or_else(PoisonError::into_inner);
        let mut conn = self.connection()?;
        begin(&mut conn, "BEGIN IMMEDIATE")?;
        finish(&mut conn, job)
    }

    /// Runs a job on one snapshot of the book.
    pub(crate) fn read<T, E: From<StorageError>>(
        &self,
        job: &mut dyn FnMut(&mut Conn) -> Result<T, E>,
    ) -> Result<T, E> {
        let mut conn = self.connection()?;
        begin(&mut conn, "BEGIN")?;
        finish(&mut conn, job)
    }
}

fn begin(conn: &mut Conn, statement: &str) -> Result<(), StorageError> {
    use diesel::connection::{AnsiTransactionManager, TransactionManager};
    // A panic in an earlier job leaves its transaction open: roll it back before it is built upon.
    if AnsiTransactionManager::transaction_manager_status_mut(conn).transaction_depth().is_ok_and(|d| d.is_some()) {
        let _ = AnsiTransactionManager::rollback_transaction(conn);
    }
    AnsiTransactionManager::begin_transaction_sql(conn, statement)?;
    Ok(())
}

fn finish<T, E: From<StorageError>>(
    conn: &mut Conn,
    job: &mut dyn FnMut(&mut Conn) -> Result<T, E>,
) -> Result<T, E> {
    use diesel::connection::{AnsiTransactionManager, TransactionManager};
    match job(conn) {
        Ok(answer) => {
            AnsiTransactionManager::commit_transaction(conn).map_err(|error| E::from(error.into()))?;
            Ok(answer)
        }
        Err(error) => {
            // The answer is the job's error; a rollback that fails leaves a connection that begins anew.
            let _ = AnsiTransactionManager::rollback_transaction(conn);
            Err(error)
        }
    }
}

fn unreachable(path: &Path, error: &std::io::Error) -> StorageError {
    StorageError::Unreachable(format!("{}: {error}", path.display()))
}
