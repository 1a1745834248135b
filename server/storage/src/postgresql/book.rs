//! An open book on PostgreSQL: a pool, SERIALIZABLE writes that are run again when they lost.

use super::{Conn, open};
use crate::db::{OpenOptions, Written};
use crate::error::StorageError;
use diesel::{
    connection::SimpleConnection,
    r2d2::{ConnectionManager, Pool, PooledConnection},
};
use std::{
    sync::{
        Arc,
        atomic::{AtomicU64, Ordering},
    },
    time::{Duration, Instant},
};

/// A book on PostgreSQL.
#[derive(Clone)]
pub(crate) struct PostgresqlBook {
    pool: Pool<ConnectionManager<Conn>>,
    deadline: Duration,
    /// Jobs that were kept; each takes a commit of its own.
    jobs: Arc<AtomicU64>,
}

/// How a job failed: by losing against another transaction, or for good.
pub(crate) enum Failure<E> {
    Conflict,
    Other(E),
}

impl PostgresqlBook {
    /// Opens, and with `create` migrates, the book of a `postgres://` address.
    pub(crate) fn open(url: &str, options: &OpenOptions) -> Result<Self, StorageError> {
        let pool = Pool::builder()
            .max_size(options.connections)
            .min_idle(Some(0))
            .connection_timeout(options.busy)
            .test_on_check_out(true)
            .build_unchecked(ConnectionManager::<Conn>::new(url));
        let book = Self { pool, deadline: options.busy, jobs: Arc::default() };
        open::bring_up(&mut *book.connection()?, options)?;
        Ok(book)
    }

    fn connection(&self) -> Result<PooledConnection<ConnectionManager<Conn>>, StorageError> {
        crate::db::check_out(&self.pool)
    }

    /// Runs a job in a SERIALIZABLE transaction, again while it loses against others, within the deadline.
    pub(crate) fn write<T, E: From<StorageError>>(
        &self,
        job: &mut dyn FnMut(&mut Conn) -> Result<T, Failure<E>>,
    ) -> Result<T, E> {
        let begun = Instant::now();
        let mut pause = Duration::from_millis(2);
        // Others' row locks are waited for no longer than others' transactions.
        let lock_timeout = self.deadline.as_millis().max(1);
        let begin = format!("BEGIN ISOLATION LEVEL SERIALIZABLE; SET LOCAL lock_timeout = {lock_timeout}");
        loop {
            let mut conn = self.connection()?;
            match attempt(&mut conn, &begin, job) {
                Err(Failure::Conflict) if begun.elapsed() < self.deadline => {
                    drop(conn);
                    // Jitter from the clock's low digits, so that two losers do not meet again.
                    let jitter = u64::from(begun.elapsed().subsec_nanos() % 1_000);
                    std::thread::sleep(pause + Duration::from_micros(jitter));
                    pause = (pause * 2).min(Duration::from_millis(100));
                }
                Err(Failure::Conflict) => {
                    return Err(StorageError::Busy("conflicts until the deadline".into()).into());
                }
                Err(Failure::Other(error)) => return Err(error),
                Ok(answer) => {
                    self.jobs.fetch_add(1, Ordering::Relaxed);
                    return Ok(answer);
                }
            }
        }
    }

    /// Jobs that were written and the commits they took.
    pub(crate) fn written(&self) -> Written {
        let jobs = self.jobs.load(Ordering::Relaxed);
        Written { jobs, commits: jobs }
    }

    /// Runs a job on one snapshot of the book.
    pub(crate) fn read<T, E: From<StorageError>>(
        &self,
        job: &mut dyn FnMut(&mut Conn) -> Result<T, Failure<E>>,
    ) -> Result<T, E> {
        let mut conn = self.connection()?;
        match attempt(&mut conn, "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY", job) {
            Ok(answer) => Ok(answer),
            Err(Failure::Other(error)) => Err(error),
            Err(Failure::Conflict) => Err(StorageError::Busy("conflict while reading".into()).into()),
        }
    }
}

fn attempt<T, E: From<StorageError>>(
    conn: &mut Conn,
    begin: &str,
    job: &mut dyn FnMut(&mut Conn) -> Result<T, Failure<E>>,
) -> Result<T, Failure<E>> {
    conn.batch_execute(begin).map_err(|error| Failure::Other(StorageError::from(error).into()))?;
    let end = match job(conn) {
        // COMMIT alone ends a failed transaction without a word and keeps nothing; SELECT fails in one.
        Ok(answer) => match conn.batch_execute("SELECT 1; COMMIT").map_err(StorageError::from) {
            Ok(()) => return Ok(answer),
            Err(StorageError::Conflict) => Failure::Conflict,
            Err(error) => Failure::Other(error.into()),
        },
        Err(failure) => failure,
    };
    // The answer is the failure; a connection that cannot roll back is tested at its next check-out.
    let _ = conn.batch_execute("ROLLBACK");
    Err(end)
}
