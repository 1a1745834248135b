//! A handle on an open book, whichever database it is in.

use crate::error::StorageError;
use crate::job::{Answer, Stop, TxJob};
#[cfg(feature = "postgresql")]
use crate::postgresql::PostgresqlBook;
use crate::sqlite::{SqliteBook, path_of};
use crate::tx::Tx;
#[cfg(feature = "postgresql")]
use diesel::r2d2::{ManageConnection, Pool, PooledConnection};
use std::time::Duration;

/// How to open a book.
#[derive(Debug, Clone)]
pub struct OpenOptions {
    /// Make the book when there is none, and bring an older one up to date.
    pub create: bool,
    /// Connections at most.
    pub connections: u32,
    /// How long to wait for others.
    pub busy: Duration,
    /// Nobody else may have the book open; where it is a file that is seen to.
    pub alone: bool,
}

impl Default for OpenOptions {
    fn default() -> Self {
        Self {
            create: false,
            connections: 4,
            busy: Duration::from_secs(5),
            alone: false,
        }
    }
}

/// What a handle has written so far.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Written {
    /// Jobs that were kept.
    pub jobs: u64,
    /// Commits that they took.
    pub commits: u64,
}

/// A handle on an open book; clones share the pool.
#[derive(Clone)]
pub struct Db(Inner);

#[derive(Clone)]
enum Inner {
    Sqlite(SqliteBook),
    #[cfg(feature = "postgresql")]
    Postgresql(PostgresqlBook),
}

/// A job that writes. It may run more than once and must have no effect outside the transaction. When a connection goes
/// during the commit nobody knows whether it was kept: the job runs again, and must find out whether it had been
/// (the service does by the request's id).
pub type WriteJob<'a, T, E> = Box<dyn FnMut(&mut Tx<'_>) -> Result<T, E> + Send + 'a>;

impl Db {
    /// Opens the book of an address: `sqlite:///path/to/file` or `postgres://host/name`.
    ///
    /// # Errors
    /// [`StorageError::Address`] for any other address, [`StorageError::Absent`], [`StorageError::Newer`],
    /// [`StorageError::Older`], [`StorageError::Damaged`] or any other error of the database.
    pub fn open(url: &str, options: &OpenOptions) -> Result<Self, StorageError> {
        if let Some(path) = path_of(url) {
            return Ok(Self(Inner::Sqlite(SqliteBook::open(&path, options)?)));
        }
        #[cfg(feature = "postgresql")]
        if url.starts_with("postgres://") || url.starts_with("postgresql://") {
            return Ok(Self(Inner::Postgresql(PostgresqlBook::open(url, options)?)));
        }
        Err(StorageError::Address(url.to_owned()))
    }

    /// Runs a job in a write transaction: all of it is kept, or nothing. A job that an error of [`Tx`] reached must
    /// give an error back; PostgreSQL takes no more statements then and keeps nothing.
    ///
    /// # Errors
    /// The job's own, or an error of the database.
    pub fn write<T, E>(&self, mut job: WriteJob<'_, T, E>) -> Result<T, E>
    where
        E: From<StorageError> + JobError,
    {
        Answer::run(|answer| self.write_job(&mut |tx| answer.keep(job(tx))))
    }

    /// What this handle and its clones have written so far.
    #[must_use]
    pub fn written(&self) -> Written {
        match &self.0 {
            Inner::Sqlite(book) => book.written(),
            #[cfg(feature = "postgresql")]
            Inner::Postgresql(book) => book.written(),
        }
    }

    /// Whether the book could be written to: a file has room on its disk, a server takes writes.
    ///
    /// # Errors
    /// [`StorageError::Full`], [`StorageError::ReadOnly`], or any other error of the database.
    pub fn takes_writes(&self) -> Result<(), StorageError> {
        match &self.0 {
            Inner::Sqlite(book) => book.takes_writes(),
            #[cfg(feature = "postgresql")]
            Inner::Postgresql(book) => book.takes_writes(),
        }
    }

    /// Ends all work on the book, for this handle and its clones. What was booked in a file is in that one file then, unless
    /// others have it open.
    ///
    /// # Errors
    /// Errors of the database; nothing that was answered is lost then.
    pub fn close(&self) -> Result<(), StorageError> {
        match &self.0 {
            Inner::Sqlite(book) => book.close(),
            #[cfg(feature = "postgresql")]
            Inner::Postgresql(_) => Ok(()),
        }
    }

    /// Runs a job on one snapshot of the book.
    ///
    /// # Errors
    /// [`StorageError::ReadOnly`] for a job that writes, the job's own, or an error of the database.
    pub fn read<T, E>(&self, mut job: impl FnMut(&mut Tx<'_>) -> Result<T, E>) -> Result<T, E>
    where
        E: From<StorageError> + JobError,
    {
        Answer::run(|answer| self.read_job(&mut |tx| answer.keep(job(tx))))
    }

    fn read_job(&self, job: TxJob<'_>) -> Result<(), Stop> {
        match &self.0 {
            Inner::Sqlite(book) => book.read(&mut |conn| job(&mut Tx::Sqlite(conn))),
            #[cfg(feature = "postgresql")]
            Inner::Postgresql(book) => book.read(&mut |conn| job(&mut Tx::Postgresql(conn))),
        }
    }

    fn write_job(&self, job: TxJob<'_>) -> Result<(), Stop> {
        match &self.0 {
            Inner::Sqlite(book) => book.write(&mut |conn| job(&mut Tx::Sqlite(conn))),
            #[cfg(feature = "postgresql")]
            Inner::Postgresql(book) => book.write(&mut |conn| job(&mut Tx::Postgresql(conn))),
        }
    }
}

#[cfg(feature = "postgresql")]
/// A connection of a pool; busy when all are in use until the deadline.
pub(crate) fn check_out<M: ManageConnection>(
    pool: &Pool<M>,
) -> Result<PooledConnection<M>, StorageError> {
    pool.get().map_err(|error| {
        let state = pool.state();
        if state.idle_connections == 0 && state.connections >= pool.max_size() {
            return StorageError::Busy(format!("all {} connections are in use", state.connections));
        }
        StorageError::Unreachable(error.to_string())
    })
}

/// What a job may fail with: its own refusals, and failures of the database.
pub trait JobError {
    /// The database's failure, when it is one.
    fn storage(&self) -> Option<&StorageError>;
}

impl JobError for StorageError {
    fn storage(&self) -> Option<&StorageError> {
        Some(self)
    }
}
