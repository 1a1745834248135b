//! Connections that read, as many as were allowed at most. No thread of their own keeps them: when the last one is closed the
//! file holds everything.

use super::{Conn, book::settle, open::connect};
use crate::{db::OpenOptions, error::StorageError};
use diesel::connection::{AnsiTransactionManager, SimpleConnection, TransactionManager};
use std::{
    ops::{Deref, DerefMut},
    sync::{Condvar, Mutex, MutexGuard, PoisonError},
    time::Instant,
};

/// Connections that refuse to write. Another one is opened only when all of them are in use: a command that asks once opens
/// its file once.
pub(super) struct Readers {
    shelf: Mutex<Shelf>,
    /// One has come home.
    home: Condvar,
    uri: String,
    options: OpenOptions,
}

/// Those that nobody uses, and how many are in use.
#[derive(Default)]
struct Shelf {
    idle: Vec<Conn>,
    lent: u32,
    closed: bool,
}

/// Set once for a connection's life: changing it expires every statement that the connection has prepared.
fn only_read(conn: &mut Conn) -> diesel::QueryResult<()> {
    conn.batch_execute("PRAGMA query_only = ON;")
}

/// True when no transaction is open; after a panic or a failed rollback one still is.
pub(super) fn is_idle(conn: &mut Conn) -> bool {
    let status = AnsiTransactionManager::transaction_manager_status_mut(conn);
    matches!(status.transaction_depth(), Ok(None))
}

/// A connection in use; it goes home when it is dropped.
pub(super) struct Lent<'a> {
    conn: Option<Conn>,
    home: &'a Readers,
}

const LENT: &str = "a connection is in its place until it goes home";

impl Deref for Lent<'_> {
    type Target = Conn;
    fn deref(&self) -> &Conn {
        self.conn.as_ref().expect(LENT)
    }
}

impl DerefMut for Lent<'_> {
    fn deref_mut(&mut self) -> &mut Conn {
        self.conn.as_mut().expect(LENT)
    }
}

impl Drop for Lent<'_> {
    fn drop(&mut self) {
        let conn = self
            .conn
            .take()
            .and_then(|mut conn| is_idle(&mut conn).then_some(conn));
        self.home.take_back(conn);
    }
}

impl Readers {
    pub(super) fn new(uri: String, options: OpenOptions) -> Self {
        Self {
            shelf: Mutex::default(),
            home: Condvar::new(),
            uri,
            options,
        }
    }

    fn shelf(&self) -> MutexGuard<'_, Shelf> {
        self.shelf.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A connection that comes home, or the place of one that is no longer of use.
    fn take_back(&self, conn: Option<Conn>) {
        let mut shelf = self.shelf();
        shelf.lent = shelf.lent.saturating_sub(1);
        let closed = shelf.closed;
        shelf.idle.extend(conn.filter(|_| !closed));
        self.home.notify_all();
    }

    /// A connection to read with; `spare` is used before another one is made.
    pub(super) fn lend(&self, spare: &Mutex<Option<Conn>>) -> Result<Lent<'_>, StorageError> {
        let until = Instant::now() + self.options.busy;
        let mut shelf = self.shelf();
        loop {
            if shelf.closed {
                return Err(super::book::closed());
            }
            let idle = shelf.idle.pop();
            if idle.is_some() || shelf.lent < self.options.connections.max(1) {
                shelf.lent += 1;
                drop(shelf);
                // From here on its place is given back whatever happens.
                let mut lent = Lent {
                    conn: idle,
                    home: self,
                };
                if lent.conn.is_none() {
                    lent.conn = Some(self.another(spare)?);
                }
                return Ok(lent);
            }
            let left = until.saturating_duration_since(Instant::now());
            if left.is_zero() {
                return Err(StorageError::Busy(format!(
                    "all {} connections are in use",
                    shelf.lent
                )));
            }
            shelf = self
                .home
                .wait_timeout(shelf, left)
                .unwrap_or_else(PoisonError::into_inner)
                .0;
        }
    }

    fn another(&self, spare: &Mutex<Option<Conn>>) -> Result<Conn, StorageError> {
        let spare = spare.lock().unwrap_or_else(PoisonError::into_inner).take();
        let mut conn = match spare {
            Some(conn) => conn,
            None => {
                let mut conn = connect(&self.uri, self.options.busy)?;
                settle(&mut conn, self.options.busy)?;
                conn
            }
        };
        only_read(&mut conn)?;
        Ok(conn)
    }

    /// Closes them all, and those in use when they come home, which is waited for up to the deadline.
    pub(super) fn close(&self) {
        let until = Instant::now() + self.options.busy;
        let mut shelf = self.shelf();
        shelf.closed = true;
        shelf.idle.clear();
        while shelf.lent > 0 {
            let left = until.saturating_duration_since(Instant::now());
            if left.is_zero() {
                return;
            }
            shelf = self
                .home
                .wait_timeout(shelf, left)
                .unwrap_or_else(PoisonError::into_inner)
                .0;
        }
    }
}
