//! An open book in a SQLite file: one writer at a time, beside it readers.

use super::{
    Conn,
    open::{connect, has_log, move_log},
    readers::Readers,
    writer::Writer,
};
use crate::db::{OpenOptions, Written};
use crate::error::StorageError;
use crate::job::{Job, Stop};
use crate::lock::BookLock;
use crate::turnstile::Turnstile;
use diesel::connection::{AnsiTransactionManager, SimpleConnection, TransactionManager};
use std::{
    path::{Path, PathBuf},
    sync::{Arc, Mutex, PoisonError},
    time::Duration,
};

/// A book in a SQLite file: one connection that writes, others that read. Clones share them; with the last one they are
/// closed, and the file alone holds everything.
///
/// The connection that opened the book becomes the writer's or the first reader's, whichever comes first.
#[derive(Clone)]
pub(crate) struct SqliteBook(Arc<Opened>);

struct Opened {
    spare: Mutex<Option<Conn>>,
    writer: Writer,
    readers: Readers,
    /// The file itself: gone, nothing may be written to what its connections still hold.
    path: PathBuf,
    uri: String,
    busy: Duration,
    /// Held as long as the book is open.
    lock: Mutex<Option<BookLock>>,
}

impl Drop for Opened {
    fn drop(&mut self) {
        // Nothing that was answered is lost when it fails: the next opener reads it from beside the file.
        let _ = self.close();
    }
}

/// Message for a request that comes too late.
pub(super) fn closed() -> StorageError {
    StorageError::Unreachable("the book is closed".to_owned())
}

/// Settings of every connection before it is used.
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
        Ok(Self(Arc::new(Opened {
            spare: Mutex::new(Some(first)),
            writer: Writer::new(Turnstile::beside(&path), options.busy),
            readers: Readers::new(uri.clone(), options.clone()),
            path,
            uri,
            busy: options.busy,
            lock: Mutex::new(Some(lock)),
        })))
    }

    /// Runs a job in the one write transaction; those who wait for it share its commit.
    pub(crate) fn write(&self, job: Job<'_, Conn>) -> Result<(), Stop> {
        self.0.is_there()?;
        self.0
            .writer
            .write(job, &|| self.0.spare().map_or_else(|| self.0.connect(), Ok))
    }

    /// Jobs that were written and the commits they took.
    pub(crate) fn written(&self) -> Written {
        self.0.writer.written()
    }

    /// Runs a job on one snapshot of the book; writes in it are refused.
    pub(crate) fn read(&self, job: Job<'_, Conn>) -> Result<(), Stop> {
        self.0.is_there()?;
        let mut conn = self.0.readers.lend(&self.0.spare)?;
        begin(&mut conn, "BEGIN")?;
        finish(&mut conn, job)
    }

    /// Whether there is room on the file's disk, and it takes writes.
    pub(crate) fn takes_writes(&self) -> Result<(), StorageError> {
        self.0.is_there()?;
        super::disk::takes_writes(&self.0.path)
    }

    /// Ends all work on the book, for every clone: what was booked is in the file itself then, unless others have it open.
    pub(crate) fn close(&self) -> Result<(), StorageError> {
        self.0.close()
    }
}

impl Opened {
    fn is_there(&self) -> Result<(), StorageError> {
        if self.path.exists() {
            return Ok(());
        }
        Err(StorageError::Unreachable(format!(
            "{} is gone",
            self.path.display()
        )))
    }

    fn spare(&self) -> Option<Conn> {
        self.spare
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .take()
    }

    fn connect(&self) -> Result<Conn, StorageError> {
        let mut conn = connect(&self.uri, self.busy)?;
        settle(&mut conn, self.busy)?;
        Ok(conn)
    }

    fn close(&self) -> Result<(), StorageError> {
        let Some(lock) = self
            .lock
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .take()
        else {
            return Ok(());
        };
        self.writer.close();
        self.readers.close();
        drop(self.spare());
        // The last connection has moved the log into the file, but where two that ended at once each took the other for
        // one that stays. Whoever gets the lock alone is the last.
        if !has_log(&self.path) {
            return Ok(());
        }
        let was_alone = lock.is_alone();
        match lock.into_alone() {
            Some(alone) => {
                let moved = self.connect().and_then(|mut conn| move_log(&mut conn));
                drop(alone);
                moved
            }
            None if was_alone => Err(StorageError::InUse("its log is still in use".to_owned())),
            None => Ok(()),
        }
    }
}

pub(super) fn begin(conn: &mut Conn, statement: &str) -> Result<(), StorageError> {
    Ok(AnsiTransactionManager::begin_transaction_sql(
        conn, statement,
    )?)
}

fn finish(conn: &mut Conn, job: Job<'_, Conn>) -> Result<(), Stop> {
    match job(conn) {
        Ok(()) => {
            AnsiTransactionManager::commit_transaction(conn).map_err(StorageError::from)?;
            Ok(())
        }
        Err(failed) => {
            // The answer is the job's error; a connection that cannot roll back is dropped before its next use.
            let _ = AnsiTransactionManager::rollback_transaction(conn);
            Err(Stop::Job(failed))
        }
    }
}
