//! An open book on PostgreSQL: a pool, SERIALIZABLE writes that are run again when they lost.

use super::{Conn, open, way::Way};
use crate::db::{OpenOptions, Written};
use crate::error::StorageError;
use crate::job::{Answer, Failed, Job, Stop};
use diesel::{
    ConnectionError,
    connection::SimpleConnection,
    r2d2::{ManageConnection, Pool, PooledConnection, R2D2Connection},
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
    pool: Arc<Connections>,
    deadline: Duration,
    /// Jobs that were kept; each takes a commit of its own.
    jobs: Arc<AtomicU64>,
}

/// The pool. Each connection brings a runtime along, which may not end inside another one: the last owner may be a server's
/// own thread, so that they end on a thread of theirs.
struct Connections(Option<Pool<Patient>>);

impl Drop for Connections {
    fn drop(&mut self) {
        let pool = self.0.take();
        // Without a thread they end here, as far as they can.
        let _ = std::thread::Builder::new()
            .spawn(move || drop(pool))
            .map(std::thread::JoinHandle::join);
    }
}

/// Makes connections, and goes on trying for a while: the pool by itself waits longer and longer between two tries, and
/// would still be waiting when a server that was away is back.
struct Patient {
    way: Way,
    deadline: Duration,
}

/// Between two tries to connect.
const TRY_AGAIN: Duration = Duration::from_millis(50);

/// False for what waiting does not mend: the server is there and says no, or is not the one that it should be.
fn heals(error: &ConnectionError) -> bool {
    let text = error.to_string();
    let for_good = [
        "does not exist",
        "authentication failed",
        "pg_hba.conf",
        "certificate",
    ];
    !for_good.iter().any(|words| text.contains(words))
}

impl ManageConnection for Patient {
    type Connection = Conn;
    type Error = diesel::r2d2::Error;

    fn connect(&self) -> Result<Conn, Self::Error> {
        let begun = Instant::now();
        loop {
            match self.way.connect() {
                Err(error) if heals(&error) && begun.elapsed() + TRY_AGAIN < self.deadline => {
                    std::thread::sleep(TRY_AGAIN);
                }
                done => return done.map_err(Self::Error::ConnectionError),
            }
        }
    }

    fn is_valid(&self, conn: &mut Conn) -> Result<(), Self::Error> {
        conn.ping().map_err(Self::Error::QueryError)
    }

    fn has_broken(&self, conn: &mut Conn) -> bool {
        std::thread::panicking() || conn.is_broken()
    }
}

/// First pause before a job runs again; it doubles up to [`LONGEST_PAUSE`].
const FIRST_PAUSE: Duration = Duration::from_millis(2);
const LONGEST_PAUSE: Duration = Duration::from_millis(100);

/// The way from one attempt to the next, within a deadline.
struct Attempts {
    begun: Instant,
    deadline: Duration,
    pause: Duration,
}

impl Attempts {
    fn new(deadline: Duration) -> Self {
        Self {
            begun: Instant::now(),
            deadline,
            pause: FIRST_PAUSE,
        }
    }

    /// Pauses before the next attempt; false when there is no time for one.
    fn again(&mut self) -> bool {
        if self.begun.elapsed() + self.pause >= self.deadline {
            return false;
        }
        // Up to as much again, from the clock's low digits, so that two losers do not meet again.
        let span = u64::try_from(self.pause.as_nanos())
            .unwrap_or(u64::MAX)
            .max(1);
        let jitter =
            u64::from(self.begun.elapsed().subsec_nanos()).wrapping_mul(0x9e37_79b9) % span;
        std::thread::sleep(self.pause + Duration::from_nanos(jitter));
        self.pause = (self.pause * 2).min(LONGEST_PAUSE);
        true
    }
}

impl PostgresqlBook {
    /// Opens, and with `create` migrates, the book of a `postgres://` address.
    pub(crate) fn open(url: &str, options: &OpenOptions) -> Result<Self, StorageError> {
        let pool = Pool::builder()
            .max_size(options.connections)
            .min_idle(Some(0))
            .connection_timeout(options.busy)
            .test_on_check_out(true)
            .build_unchecked(Patient {
                way: Way::parse(url)?,
                deadline: options.busy,
            });
        let book = Self {
            pool: Arc::new(Connections(Some(pool))),
            deadline: options.busy,
            jobs: Arc::default(),
        };
        open::bring_up(&mut *book.connection()?, options)?;
        Ok(book)
    }

    fn connection(&self) -> Result<PooledConnection<Patient>, StorageError> {
        let gone = || StorageError::Unreachable("the book is closed".to_owned());
        crate::db::check_out(self.pool.0.as_ref().ok_or_else(gone)?)
    }

    /// Runs a job in a SERIALIZABLE transaction; again while it loses against others or its connection goes, within the
    /// deadline.
    pub(crate) fn write(&self, job: Job<'_, Conn>) -> Result<(), Stop> {
        // Others' locks are waited for no longer than others' transactions.
        let lock_timeout = self.deadline.as_millis().max(1);
        // Every act counts up the same row, so that of writers side by side all but one would lose. They queue before
        // their snapshot is taken: LOCK TABLE takes none (PostgreSQL documentation, "LOCK"). The mode holds up only itself
        // and the upkeep of the table, and settings need hardly any.
        let begin = format!(
            "BEGIN ISOLATION LEVEL SERIALIZABLE; SET LOCAL lock_timeout = {lock_timeout}; \
             LOCK TABLE workshops IN SHARE UPDATE EXCLUSIVE MODE; {}",
            *open::CHECK
        );
        self.attempts(&begin, job)?;
        self.jobs.fetch_add(1, Ordering::Relaxed);
        Ok(())
    }

    fn attempts(&self, begin: &str, job: Job<'_, Conn>) -> Result<(), Stop> {
        let mut attempts = Attempts::new(self.deadline);
        loop {
            let mut conn = self.connection()?;
            let Err(stop) = attempt(&mut conn, begin, job) else {
                return Ok(());
            };
            drop(conn);
            match stop {
                // A connection that went did so before the commit or, for all that is known, after it.
                Stop::Job(Failed::Conflict | Failed::Lost)
                | Stop::Storage(StorageError::Conflict | StorageError::Unreachable(_))
                    if attempts.again() => {}
                Stop::Job(Failed::Conflict) | Stop::Storage(StorageError::Conflict) => {
                    return Err(StorageError::Busy("conflicts until the deadline".into()).into());
                }
                stop => return Err(stop),
            }
        }
    }

    /// Whether the server takes writes: one that follows another, or was set to read only, does not.
    pub(crate) fn takes_writes(&self) -> Result<(), StorageError> {
        let reads_only =
            Answer::run(|answer| self.read(&mut |conn| answer.keep(open::reads_only(conn))))?;
        if reads_only {
            Err(StorageError::ReadOnly)
        } else {
            Ok(())
        }
    }

    /// Jobs that were written and the commits they took.
    pub(crate) fn written(&self) -> Written {
        let jobs = self.jobs.load(Ordering::Relaxed);
        Written {
            jobs,
            commits: jobs,
        }
    }

    /// Runs a job on one snapshot of the book.
    pub(crate) fn read(&self, job: Job<'_, Conn>) -> Result<(), Stop> {
        self.attempts(
            &format!(
                "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY; {}",
                *open::CHECK
            ),
            job,
        )
    }
}

fn attempt(conn: &mut Conn, begin: &str, job: Job<'_, Conn>) -> Result<(), Stop> {
    if let Err(error) = conn.batch_execute(begin) {
        // It may have begun and lost the wait for others, or found another schema than the one it knows.
        let _ = conn.batch_execute("ROLLBACK");
        return Err(open::cause(conn, error.into()).into());
    }
    let end = match job(conn) {
        // COMMIT alone ends a failed transaction without a word and keeps nothing; SELECT fails in one.
        Ok(()) => match conn.batch_execute("SELECT 1; COMMIT") {
            Ok(()) => return Ok(()),
            Err(error) => Stop::Storage(error.into()),
        },
        Err(failed) => Stop::Job(failed),
    };
    // The answer is the failure; a connection that cannot roll back is tested at its next check-out.
    let _ = conn.batch_execute("ROLLBACK");
    Err(end)
}
