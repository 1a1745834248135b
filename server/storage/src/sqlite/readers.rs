//! Connections that read: the first one by itself, others from a pool.

use super::{Conn, book::settle};
use crate::{db::OpenOptions, error::StorageError};
use diesel::{
    connection::{AnsiTransactionManager, SimpleConnection, TransactionManager},
    r2d2::{ConnectionManager, CustomizeConnection, Pool, PooledConnection},
};
use std::{
    ops::{Deref, DerefMut},
    sync::{Mutex, OnceLock, PoisonError},
    time::Duration,
};

/// Connections that refuse to write.
///
/// The first one is kept by itself, and the pool, with its threads, made only when a second one is wanted at the same
/// time: a command that asks once opens its file once.
pub(super) struct Readers {
    first: Mutex<Option<Conn>>,
    pool: OnceLock<Pool<ConnectionManager<Conn>>>,
    uri: String,
    options: OpenOptions,
}

#[derive(Debug)]
struct Settings {
    busy: Duration,
}

impl CustomizeConnection<Conn, diesel::r2d2::Error> for Settings {
    fn on_acquire(&self, conn: &mut Conn) -> Result<(), diesel::r2d2::Error> {
        settle(conn, self.busy).and_then(|()| only_read(conn)).map_err(diesel::r2d2::Error::QueryError)
    }
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

/// A connection in use: the first one, which goes home when it is dropped, or one of the pool.
pub(super) enum Lent<'a> {
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
            && is_idle(&mut conn)
        {
            *home.lock().unwrap_or_else(PoisonError::into_inner) = Some(conn);
        }
    }
}

impl Readers {
    pub(super) fn new(uri: String, options: OpenOptions) -> Self {
        Self { first: Mutex::new(None), pool: OnceLock::new(), uri, options }
    }

    /// A connection to read with; `spare` is used before another one is made.
    pub(super) fn lend(&self, spare: &Mutex<Option<Conn>>) -> Result<Lent<'_>, StorageError> {
        let take = |home: &Mutex<Option<Conn>>| home.lock().unwrap_or_else(PoisonError::into_inner).take();
        if let Some(conn) = take(&self.first) {
            return Ok(Lent::First { conn: Some(conn), home: &self.first });
        }
        // One reader at most: then the pool has it, which waits for it.
        if self.options.connections > 1
            && let Some(mut conn) = take(spare)
        {
            only_read(&mut conn)?;
            return Ok(Lent::First { conn: Some(conn), home: &self.first });
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
}
