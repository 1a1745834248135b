//! An open book in a SQLite file: a pool of connections, one writer at a time.

use super::Conn;
use crate::db::OpenOptions;
use crate::error::StorageError;
use crate::lock::BookLock;
use diesel::{
    connection::{AnsiTransactionManager, SimpleConnection, TransactionManager},
    r2d2::{ConnectionManager, CustomizeConnection, Pool, PooledConnection},
};
use std::{
    path::Path,
    sync::{Arc, Mutex, PoisonError},
    time::Duration,
};

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

impl SqliteBook {
    /// Opens, and with `create` makes and migrates, the book in a file.
    pub(crate) fn open(path: &Path, options: &OpenOptions) -> Result<Self, StorageError> {
        super::open::open(path, options)
    }

    /// A pool on a file that was looked at.
    pub(super) fn new(uri: String, lock: BookLock, options: &OpenOptions) -> Self {
        let pool = Pool::builder()
            .max_size(options.connections)
            .min_idle(Some(0))
            .connection_timeout(options.busy)
            .test_on_check_out(false)
            .connection_customizer(Box::new(Settings { busy: options.busy }))
            .build_unchecked(ConnectionManager::<Conn>::new(uri));
        Self { pool, writer: Arc::new(Mutex::new(())), _lock: Arc::new(lock) }
    }

    fn connection(&self) -> Result<PooledConnection<ConnectionManager<Conn>>, StorageError> {
        crate::db::check_out(&self.pool)
    }

    /// Runs a job in the one write transaction.
    pub(crate) fn write<T, E: From<StorageError>>(
        &self,
        job: &mut dyn FnMut(&mut Conn) -> Result<T, E>,
    ) -> Result<T, E> {
        let _writer = self.writer.lock().unwrap_or_else(PoisonError::into_inner);
        let mut conn = self.connection()?;
        begin(&mut conn, "PRAGMA query_only = OFF; BEGIN IMMEDIATE")?;
        finish(&mut conn, job)
    }

    /// Runs a job on one snapshot of the book; writes in it are refused.
    pub(crate) fn read<T, E: From<StorageError>>(
        &self,
        job: &mut dyn FnMut(&mut Conn) -> Result<T, E>,
    ) -> Result<T, E> {
        let mut conn = self.connection()?;
        begin(&mut conn, "PRAGMA query_only = ON; BEGIN")?;
        finish(&mut conn, job)
    }
}

/// Begins; a connection that comes from the pool has no transaction open, for the pool drops such ones.
fn begin(conn: &mut Conn, statement: &str) -> Result<(), StorageError> {
    Ok(AnsiTransactionManager::begin_transaction_sql(conn, statement)?)
}

fn finish<T, E: From<StorageError>>(
    conn: &mut Conn,
    job: &mut dyn FnMut(&mut Conn) -> Result<T, E>,
) -> Result<T, E> {
    match job(conn) {
        Ok(answer) => {
            AnsiTransactionManager::commit_transaction(conn).map_err(|error| E::from(error.into()))?;
            Ok(answer)
        }
        Err(error) => {
            // The answer is the job's error; a connection that cannot roll back is dropped by the pool.
            let _ = AnsiTransactionManager::rollback_transaction(conn);
            Err(error)
        }
    }
}
