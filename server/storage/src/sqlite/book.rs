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
    ops::{Deref, DerefMut},
    path::{Path, PathBuf},
    sync::{Arc, Mutex, OnceLock, PoisonError},
    time::Duration,
};

/// A book in a SQLite file: a pool of connections and one writer at a time.
///
/// The connection that opened the book is used first and the pool, with its threads, made only when a second one is
/// wanted at the same time: a command that asks once opens its file once.
#[derive(Clone)]
pub(crate) struct SqliteBook {
    first: Arc<Mutex<Option<Conn>>>,
    pool: Arc<OnceLock<Pool<ConnectionManager<Conn>>>>,
    /// The file itself: gone, nothing may be written to what its connections still hold.
    path: PathBuf,
    uri: String,
    options: OpenOptions,
    writer: Arc<Mutex<()>>,
    /// Held shared as long as the book is open.
    _lock: Arc<BookLock>,
}

#[derive(Debug)]
struct Settings {
    busy: Duration,
}

/// What every connection is told before it is used.
pub(super) fn settle(conn: &mut Conn, busy: Duration) -> diesel::QueryResult<()> {
    let busy = busy.as_millis();
    conn.batch_execute(&format!(
        "PRAGMA busy_timeout = {busy}; PRAGMA foreign_keys = ON; PRAGMA synchronous = FULL;"
    ))
}

impl CustomizeConnection<Conn, diesel::r2d2::Error> for Settings {
    fn on_acquire(&self, conn: &mut Conn) -> Result<(), diesel::r2d2::Error> {
        settle(conn, self.busy).map_err(diesel::r2d2::Error::QueryError)
    }
}

/// A connection in use: the first one, which goes home when it is dropped, or one of the pool.
enum Lent<'a> {
    First { conn: Option<Conn>, home: &'a Mutex<Option<Conn>> },
    Pooled(PooledConnection<ConnectionManager<Conn>>),
}

const LENT: &str = "a connection is in its place until it goes home";

impl Deref for Lent<'_> {
    type Target = Conn;
    fn deref(&self) -> &Conn {
        match self {
            Self::First { conn, .. } => conn.as_ref().expect(LENT),
            Self::Pooled(conn) => conn,
        }
    }
}

impl DerefMut for Lent<'_> {
    fn deref_mut(&mut self) -> &mut Conn {
        match self {
            Self::First { conn, .. } => conn.as_mut().expect(LENT),
            Self::Pooled(conn) => conn,
        }
    }
}

impl Drop for Lent<'_> {
    fn drop(&mut self) {
        if let Self::First { conn, home } = self
            && let Some(mut conn) = conn.take()
            // After a panic or a failed rollback its transaction is still open: such a one is not used again.
            && matches!(AnsiTransactionManager::transaction_manager_status_mut(&mut conn).transaction_depth(), Ok(None))
        {
            *home.lock().unwrap_or_else(PoisonError::into_inner) = Some(conn);
        }
    }
}

impl SqliteBook {
    /// Opens, and with `create` makes and migrates, the book in a file.
    pub(crate) fn open(path: &Path, options: &OpenOptions) -> Result<Self, StorageError> {
        super::open::open(path, options)
    }

    /// A book on a file that was looked at by its first connection.
    pub(super) fn new(
        path: PathBuf,
        uri: String,
        mut first: Conn,
        lock: BookLock,
        options: &OpenOptions,
    ) -> Result<Self, StorageError> {
        settle(&mut first, options.busy)?;
        // One connection at most: then the pool has it, which waits for it.
        let first = (options.connections > 1).then_some(first);
        Ok(Self {
            first: Arc::new(Mutex::new(first)),
            pool: Arc::new(OnceLock::new()),
            path,
            uri,
            options: options.clone(),
            writer: Arc::new(Mutex::new(())),
            _lock: Arc::new(lock),
        })
    }

    fn connection(&self) -> Result<Lent<'_>, StorageError> {
        if !self.path.exists() {
            return Err(StorageError::Unreachable(format!("{} is gone", self.path.display())));
        }
        let first = self.first.lock().unwrap_or_else(PoisonError::into_inner).take();
        if first.is_some() {
            return Ok(Lent::First { conn: first, home: &self.first });
        }
        let pool = self.pool.get_or_init(|| {
            Pool::builder()
                .max_size(self.options.connections.saturating_sub(1).max(1))
                .min_idle(Some(0))
                .connection_timeout(self.options.busy)
                .test_on_check_out(false)
                .connection_customizer(Box::new(Settings { busy: self.options.busy }))
                .build_unchecked(ConnectionManager::<Conn>::new(&self.uri))
        });
        crate::db::check_out(pool).map(Lent::Pooled)
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
