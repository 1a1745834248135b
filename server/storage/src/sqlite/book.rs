//! An open book in a SQLite file: one writer at a time, beside it readers.

use super::{Conn, open::connect, readers::Readers, writer::Writer};
use crate::db::{JobError, OpenOptions, Written};
use crate::error::StorageError;
use crate::lock::BookLock;
use diesel::connection::{AnsiTransactionManager, SimpleConnection, TransactionManager};
use std::{
    path::{Path, PathBuf},
    sync::{Arc, Mutex, PoisonError},
    time::Duration,
};

/// A book in a SQLite file: one connection that writes, others that read.
///
/// The connection that opened the book becomes the writer's or the first reader's, whichever comes first.
#[derive(Clone)]
pub(crate) struct SqliteBook {
    spare: Arc<Mutex<Option<Conn>>>,
    writer: Arc<Writer>,
    readers: Arc<Readers>,
    /// The file itself: gone, nothing may be written to what its connections still hold.
    path: PathBuf,
    uri: String,
    busy: Duration,
    /// Held shared as long as the book is open.
    _lock: Arc<BookLock>,
}

/// What every connection is told before it is used.
pub(super) fn settle(conn: &mut Conn, busy: Duration) -> diesel::QueryResult<()> {
    let busy = busy.as_millis();
    conn.batch_execute(&format!(
        "PRAGMA busy_timeout = {busy}; PRAGMA foreign_keys = ON; PRAGMA synchronous = FULL;"
    ))
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
        Ok(Self {
            spare: Arc::new(Mutex::new(Some(first))),
            writer: Arc::default(),
            readers: Arc::new(Readers::new(uri.clone(), options.clone())),
            path,
            uri,
            busy: options.busy,
            _lock: Arc::new(lock),
        })
    }

    fn is_there(&self) -> Result<(), StorageError> {
        if self.path.exists() {
            return Ok(());
        }
        Err(StorageError::Unreachable(format!("{} is gone", self.path.display())))
    }

    fn connect(&self) -> Result<Conn, StorageError> {
        let mut conn = connect(&self.uri, self.busy)?;
        settle(&mut conn, self.busy)?;
        Ok(conn)
    }

    /// Runs a job in the one write transaction; those who wait for it share its commit.
    pub(crate) fn write<T, E: From<StorageError> + JobError>(
        &self,
        job: &mut dyn FnMut(&mut Conn) -> Result<T, E>,
    ) -> Result<T, E> {
        self.is_there()?;
        self.writer.write(job, &|| {
            let spare = self.spare.lock().unwrap_or_else(PoisonError::into_inner).take();
            spare.map_or_else(|| self.connect(), Ok)
        })
    }

    /// Jobs that were written and the commits they took.
    pub(crate) fn written(&self) -> Written {
        self.writer.written()
    }

    /// Runs a job on one snapshot of the book; writes in it are refused.
    pub(crate) fn read<T, E: From<StorageError>>(
        &self,
        job: &mut dyn FnMut(&mut Conn) -> Result<T, E>,
    ) -> Result<T, E> {
        self.is_there()?;
        let mut conn = self.readers.lend(&self.spare)?;
        begin(&mut conn, "BEGIN")?;
        finish(&mut conn, job)
    }
}

pub(super) fn begin(conn: &mut Conn, statement: &str) -> Result<(), StorageError> {
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
            // The answer is the job's error; a connection that cannot roll back is dropped before its next use.
            let _ = AnsiTransactionManager::rollback_transaction(conn);
            Err(error)
        }
    }
}
