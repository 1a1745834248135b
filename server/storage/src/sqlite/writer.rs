//! The one connection that writes. Whoever waits for it while another job runs shares that job's commit.
//!
//! Each job runs on its caller's own thread, one after another on the same connection. A job that ends while others wait
//! leaves the transaction open for the next one, which runs in a savepoint of it; the last one, or the
//! [`MOST`]th, commits, and only then does any of them answer. Nobody waits for company: a job alone commits at once.
//! When the database fails, a job panics or the commit fails, the connection is dropped, nothing is kept, and each of the
//! group runs again by itself.

use super::{Conn, book::begin, readers::is_idle};
use crate::db::Written;
use crate::error::StorageError;
use crate::job::{Failed, Job, Stop};
use crate::turnstile::Turnstile;
use diesel::connection::{AnsiTransactionManager, SimpleConnection, TransactionManager};
use std::{
    sync::{
        Arc, Condvar, Mutex, MutexGuard, PoisonError,
        atomic::{AtomicU64, AtomicUsize, Ordering},
    },
    time::{Duration, Instant},
};

/// Jobs that share a commit at most.
const MOST: usize = 64;

type Connect<'a> = &'a dyn Fn() -> Result<Conn, StorageError>;

/// The writing connection and whose turn it is.
pub(super) struct Writer {
    way: Way,
    /// Threads that wait for their turn.
    waiting: AtomicUsize,
    turn: Mutex<Turn>,
    jobs: AtomicU64,
    commits: AtomicU64,
}

/// How the transaction is got, against other processes.
struct Way {
    turnstile: Turnstile,
    busy: Duration,
}

/// Between two tries for the transaction. SQLite's own pauses grow to 100 ms, and the next in turn would find it free for long.
const TRY_AGAIN: Duration = Duration::from_millis(1);

impl Way {
    /// Begins a transaction that writes; the others let the one who waits for it go first.
    fn begin(&self, conn: &mut Conn) -> Result<(), StorageError> {
        let until = Instant::now() + self.busy;
        let mut next = self.turnstile.pass(self.busy);
        let mut waits = next.is_some();
        loop {
            match begin(conn, "BEGIN IMMEDIATE") {
                Err(StorageError::Busy(_)) if Instant::now() < until => {
                    if !std::mem::replace(&mut waits, true) {
                        next = self.turnstile.wait(self.busy);
                    }
                    std::thread::sleep(TRY_AGAIN);
                }
                done => {
                    drop(next);
                    return done;
                }
            }
        }
    }
}

/// What the thread whose turn it is finds.
#[derive(Default)]
struct Turn {
    conn: Option<Conn>,
    /// The group whose transaction is open.
    open: Option<Open>,
    /// Nothing is written any more.
    closed: bool,
}

struct Open {
    group: Arc<Group>,
    jobs: usize,
    /// Those of them that were not refused.
    accepted: u64,
}

/// Jobs in one transaction, and what became of it.
#[derive(Default)]
struct Group {
    kept: Mutex<Option<bool>>,
    answered: Condvar,
}

impl Group {
    fn tell(&self, kept: bool) {
        *self.kept.lock().unwrap_or_else(PoisonError::into_inner) = Some(kept);
        self.answered.notify_all();
    }

    /// Waits for the commit; true when all of it was kept.
    fn is_kept(&self) -> bool {
        let kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let kept = self
            .answered
            .wait_while(kept, |kept| kept.is_none())
            .unwrap_or_else(PoisonError::into_inner);
        kept.unwrap_or(false)
    }
}

/// How a turn ended.
enum Ended {
    Answered(Result<(), Stop>),
    /// The group of this job fell: it has to run by itself.
    Fallen,
}

impl Turn {
    /// Drops the connection with its transaction, and tells the group that nothing was kept.
    fn fall(&mut self) {
        self.conn = None;
        if let Some(open) = self.open.take() {
            open.group.tell(false);
        }
    }

    /// Commits what is open.
    fn commit(&mut self) -> Result<(), StorageError> {
        let Some(open) = &self.open else {
            return Ok(());
        };
        let group = Arc::clone(&open.group);
        let done = match &mut self.conn {
            Some(conn) => {
                AnsiTransactionManager::commit_transaction(conn).map_err(StorageError::from)
            }
            None => Err(StorageError::Unreachable(GONE.to_owned())),
        };
        if done.is_ok() {
            self.open = None;
            group.tell(true);
        } else {
            self.fall();
        }
        done
    }

    /// Opens a transaction, or a savepoint in the one that is open; true for the former.
    fn begin(&mut self, connect: Connect<'_>, way: &Way) -> Result<bool, StorageError> {
        let first = self.open.is_none();
        if first {
            // A connection whose transaction outlived its job is not used again.
            self.conn.take_if(|conn| !is_idle(conn));
        }
        let conn = match &mut self.conn {
            Some(conn) => conn,
            _ if self.closed => return Err(super::book::closed()),
            none => {
                let mut conn = connect()?;
                // It is asked again by `Way::begin`.
                conn.batch_execute("PRAGMA busy_timeout = 0")?;
                none.insert(conn)
            }
        };
        if first {
            way.begin(conn)?;
            self.open = Some(Open {
                group: Arc::default(),
                jobs: 0,
                accepted: 0,
            });
        } else {
            AnsiTransactionManager::begin_transaction(conn)?;
        }
        Ok(first)
    }

    fn run(&mut self, job: Job<'_, Conn>) -> Result<(), Stop> {
        match &mut self.conn {
            Some(conn) => job(conn).map_err(Stop::Job),
            None => Err(StorageError::Unreachable(GONE.to_owned()).into()),
        }
    }

    /// Ends a savepoint: what was done in it stays in the transaction, or goes.
    fn leave(&mut self, stays: bool) -> Result<(), StorageError> {
        let Some(conn) = &mut self.conn else {
            return Err(StorageError::Unreachable(GONE.to_owned()));
        };
        if stays {
            AnsiTransactionManager::commit_transaction(conn)?;
        } else {
            AnsiTransactionManager::rollback_transaction(conn)?;
        }
        Ok(())
    }

    /// Takes back a transaction that nobody else has a part in.
    fn take_back(&mut self) {
        let done = self.leave(false);
        if done.is_err() {
            self.conn = None;
        }
        self.open = None;
    }
}

/// Where a connection should be and is not.
const GONE: &str = "the connection is gone";

/// Sees to it that a panic in a job takes its group along: nothing of it may be committed by the next one.
struct Careful<'a> {
    turn: MutexGuard<'a, Turn>,
    running: bool,
}

impl Drop for Careful<'_> {
    fn drop(&mut self) {
        if self.running {
            self.turn.fall();
        }
    }
}

impl Writer {
    pub(super) fn new(turnstile: Turnstile, busy: Duration) -> Self {
        Self {
            way: Way { turnstile, busy },
            waiting: AtomicUsize::new(0),
            turn: Mutex::default(),
            jobs: AtomicU64::new(0),
            commits: AtomicU64::new(0),
        }
    }

    /// Runs a job; what it did is durable, or nothing of it is there, when this returns.
    pub(super) fn write(&self, job: Job<'_, Conn>, connect: Connect<'_>) -> Result<(), Stop> {
        match self.turn(job, connect, false) {
            Ended::Answered(answer) => answer,
            Ended::Fallen => match self.turn(job, connect, true) {
                Ended::Answered(answer) => answer,
                Ended::Fallen => {
                    Err(StorageError::Busy("the transaction was lost twice".to_owned()).into())
                }
            },
        }
    }

    /// Commits what is open and closes the connection; nothing is written from then on.
    pub(super) fn close(&self) {
        let mut mine = self.my_turn();
        // Each of those before gets its own result.
        let _ = self.commit(&mut mine.turn);
        mine.turn.conn = None;
        mine.turn.closed = true;
    }

    pub(super) fn written(&self) -> Written {
        Written {
            jobs: self.jobs.load(Ordering::Relaxed),
            commits: self.commits.load(Ordering::Relaxed),
        }
    }

    /// Commits what is open.
    fn commit(&self, turn: &mut Turn) -> Result<(), StorageError> {
        let accepted = turn.open.as_ref().map(|open| open.accepted);
        turn.commit()?;
        if let Some(accepted) = accepted {
            self.commits.fetch_add(1, Ordering::Relaxed);
            self.jobs.fetch_add(accepted, Ordering::Relaxed);
        }
        Ok(())
    }

    fn my_turn(&self) -> Careful<'_> {
        self.waiting.fetch_add(1, Ordering::SeqCst);
        let turn = self.turn.lock().unwrap_or_else(PoisonError::into_inner);
        self.waiting.fetch_sub(1, Ordering::SeqCst);
        Careful {
            turn,
            running: false,
        }
    }

    fn turn(&self, job: Job<'_, Conn>, connect: Connect<'_>, alone: bool) -> Ended {
        let mut mine = self.my_turn();
        if alone {
            // Those before tell their own fate; this job begins a transaction of its own.
            let _ = self.commit(&mut mine.turn);
        }
        let first = match mine.turn.begin(connect, &self.way) {
            Ok(first) => first,
            Err(error) => {
                let others = mine.turn.open.is_some();
                mine.turn.fall();
                return if others {
                    Ended::Fallen
                } else {
                    Ended::Answered(Err(error.into()))
                };
            }
        };
        mine.running = true;
        let answer = mine.turn.run(job);
        mine.running = false;
        if first && answer.is_err() {
            mine.turn.take_back();
            return Ended::Answered(answer);
        }
        let broken = !matches!(answer, Ok(()) | Err(Stop::Job(Failed::Refused)));
        if broken || (!first && mine.turn.leave(answer.is_ok()).is_err()) {
            mine.turn.fall();
            return Ended::Fallen;
        }
        self.leave(mine, answer, alone)
    }

    /// Leaves the transaction to whoever waits, or commits it; answers after the commit.
    fn leave(&self, mut mine: Careful<'_>, answer: Result<(), Stop>, alone: bool) -> Ended {
        let Some(open) = &mut mine.turn.open else {
            return Ended::Fallen;
        };
        open.jobs += 1;
        open.accepted += u64::from(answer.is_ok());
        let jobs = open.jobs;
        if self.waiting.load(Ordering::SeqCst) > 0 && jobs < MOST && !alone {
            let group = Arc::clone(&open.group);
            drop(mine);
            return if group.is_kept() {
                Ended::Answered(answer)
            } else {
                Ended::Fallen
            };
        }
        match self.commit(&mut mine.turn) {
            Ok(()) => Ended::Answered(answer),
            Err(error) if jobs == 1 => Ended::Answered(Err(error.into())),
            Err(_) => Ended::Fallen,
        }
    }
}
