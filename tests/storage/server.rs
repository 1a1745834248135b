//! What only PostgreSQL has: a server that is away, connections that it closes.

use crate::database::{TestDatabase, options, texts};
use crate::own_schema::{Row, Schema, server};
use diesel::RunQueryDsl;
use ellwand_storage::{Db, OpenOptions, StorageError};
use std::{
    net::TcpListener,
    sync::atomic::{AtomicUsize, Ordering},
    time::{Duration, Instant},
};

fn hasty(create: bool) -> OpenOptions {
    OpenOptions {
        busy: Duration::from_millis(500),
        ..options(create)
    }
}

/// The error of an opening that must fail in time.
#[track_caller]
fn refusal(url: &str) -> StorageError {
    let begun = Instant::now();
    let error = Db::open(url, &hasty(false)).err().unwrap();
    assert!(
        begun.elapsed() < Duration::from_secs(5),
        "{:?}",
        begun.elapsed()
    );
    error
}

#[test]
fn a_server_that_is_away_is_given_up_at_the_deadline() {
    // A port that was free a moment ago.
    let port = TcpListener::bind("127.0.0.1:0")
        .unwrap()
        .local_addr()
        .unwrap()
        .port();
    let error = refusal(&format!("postgres://ellwand@127.0.0.1:{port}/book"));
    assert!(matches!(error, StorageError::Unreachable(_)), "{error:?}");
}

#[test]
fn a_server_that_never_answers_is_given_up_at_the_deadline() {
    let silent = TcpListener::bind("127.0.0.1:0").unwrap();
    let port = silent.local_addr().unwrap().port();
    let error = refusal(&format!("postgres://ellwand@127.0.0.1:{port}/book"));
    assert!(matches!(error, StorageError::Unreachable(_)), "{error:?}");
}

#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn a_database_that_is_not_there_is_reported() {
    let server = server().unwrap();
    let error = refusal(&server.replace("ellwand_tests", "ellwand_absent"));
    assert!(
        matches!(&error, StorageError::Unreachable(text) if text.contains("ellwand_absent")),
        "{error:?}"
    );
}

#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn an_empty_schema_is_not_filled_unasked() {
    let schema = Schema::new();
    let error = Db::open(&schema.url, &options(false)).err();
    assert!(
        matches!(error, Some(StorageError::Older { found: 0, .. })),
        "{error:?}"
    );
    let query = "SELECT relname::text AS text FROM pg_class WHERE relnamespace = current_schema()::regnamespace";
    let found: Vec<Row> = diesel::sql_query(query)
        .load(&mut schema.connect())
        .unwrap();
    assert_eq!(found.len(), 0);
}

/// Closes every connection of the pool; the next jobs find new ones.
#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn connections_that_the_server_closed_are_replaced() {
    let book = TestDatabase::postgresql();
    let number =
        |tx: &mut ellwand_storage::Tx<'_>| texts(tx, "SELECT pg_backend_pid()::text AS text");
    for round in 1..=3 {
        let backend = book.get(number).remove(0);
        book.outside(&format!("SELECT pg_terminate_backend({backend})"));
        assert_eq!(book.put(|tx| tx.next_numbers("lot", 1)), round);
    }
}

/// A connection that goes in the middle of a job: nothing of it is kept, and it runs again on another one.
#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn a_job_whose_connection_goes_runs_again() {
    let book = TestDatabase::postgresql();
    let mut runs = 0;
    let number = book.put(|tx| {
        runs += 1;
        let number = tx.next_numbers("lot", 1)?;
        if runs == 1 {
            let backend = texts(tx, "SELECT pg_backend_pid()::text AS text")?.remove(0);
            book.outside(&format!("SELECT pg_terminate_backend({backend})"));
        }
        tx.next_numbers("supplier", 1)?;
        Ok(number)
    });
    assert_eq!(
        (runs, number),
        (2, 1),
        "run again, and the first run left nothing"
    );
}

/// Where every connection goes it is reported as what it is, at the deadline.
#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn connections_that_go_without_end_are_reported_at_the_deadline() {
    let book = TestDatabase::postgresql();
    let db = book.another(Duration::from_millis(300));
    let begun = Instant::now();
    let done = db.write(Box::new(|tx| {
        let backend = texts(tx, "SELECT pg_backend_pid()::text AS text")?.remove(0);
        book.outside(&format!("SELECT pg_terminate_backend({backend})"));
        tx.next_numbers("lot", 1)
    }));
    assert!(
        matches!(done, Err(StorageError::Unreachable(_))),
        "{done:?}"
    );
    assert!(
        begun.elapsed() < Duration::from_secs(5),
        "{:?}",
        begun.elapsed()
    );
    assert_eq!(book.put(|tx| tx.next_numbers("lot", 1)), 1);
}

/// Writers that cannot see each other's rows: one of the two is run again and sees them then.
#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn conflicts_are_run_again_until_they_succeed() {
    let book = TestDatabase::postgresql();
    let mut runs = 0;
    let seen = book.put(|tx| {
        runs += 1;
        let seen = tx.suppliers()?.len();
        if runs == 1 {
            // Someone who does not queue writes what this job has read, and reads what it is about to write.
            book.outside(
                "BEGIN ISOLATION LEVEL SERIALIZABLE; SELECT * FROM customers; \
                 INSERT INTO suppliers (id, name, note) VALUES (1, 'meanwhile', ''); COMMIT",
            );
        }
        tx.save_customer(&crate::draft::customer(1, "Bo"))?;
        Ok(seen)
    });
    assert_eq!(
        (runs, seen),
        (2, 1),
        "run again, with the other's row in sight"
    );
}

/// Writers of two processes take turns, each from before it reads: none runs in vain.
#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn writers_queue_and_do_not_lose() {
    let book = TestDatabase::postgresql();
    let other = book.another(Duration::from_secs(20));
    let runs = AtomicUsize::new(0);
    let count = |tx: &mut ellwand_storage::Tx<'_>| {
        runs.fetch_add(1, Ordering::SeqCst);
        tx.suppliers()?;
        // Long enough for another to have read meanwhile, if it could.
        std::thread::sleep(Duration::from_millis(5));
        tx.next_numbers("lot", 1)
    };
    std::thread::scope(|scope| {
        for turn in 0..8 {
            let (db, count) = (
                if turn % 2 == 0 {
                    book.another(Duration::from_secs(20))
                } else {
                    other.clone()
                },
                &count,
            );
            scope.spawn(move || {
                for _ in 0..5 {
                    let done: Result<i64, StorageError> = db.write(Box::new(count));
                    done.unwrap();
                }
            });
        }
    });
    assert_eq!(runs.into_inner(), 40, "one run each");
    assert_eq!(book.put(|tx| tx.next_numbers("lot", 1)), 41);
}

#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn conflicts_without_end_are_busy_at_the_deadline() {
    let book = TestDatabase::postgresql();
    let db = book.another(Duration::from_millis(300));
    let begun = Instant::now();
    let done: Result<(), StorageError> = db.write(Box::new(|_| Err(StorageError::Conflict)));
    assert!(matches!(done, Err(StorageError::Busy(_))), "{done:?}");
    assert!(
        begun.elapsed() >= Duration::from_millis(150) && begun.elapsed() < Duration::from_secs(5)
    );
}

/// What `connect_timeout` asks for needs a clock, which the connection brings along (libpq's parameter; PostgreSQL
/// documentation, 34.1.2).
#[test]
fn an_address_may_say_how_long_connecting_may_take() {
    let silent = TcpListener::bind("127.0.0.1:0").unwrap();
    let port = silent.local_addr().unwrap().port();
    let error = refusal(&format!(
        "postgres://ellwand@127.0.0.1:{port}/book?connect_timeout=1"
    ));
    assert!(matches!(error, StorageError::Unreachable(_)), "{error:?}");
}

/// The same of a server that answers.
#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn a_server_that_answers_in_its_time_is_used() {
    let schema = Schema::new();
    let db = Db::open(&format!("{}&connect_timeout=5", schema.url), &options(true)).unwrap();
    let first: Result<i64, StorageError> = db.write(Box::new(|tx| tx.next_numbers("lot", 1)));
    assert_eq!(first.unwrap(), 1);
}

/// A book that a newer program brought up to date while this one has it open takes nothing more from this one.
#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn a_schema_that_becomes_newer_ends_all_work() {
    let book = TestDatabase::postgresql();
    assert_eq!(book.put(|tx| tx.next_numbers("lot", 1)), 1);
    book.outside("INSERT INTO __diesel_schema_migrations (version) VALUES ('20991231235959')");
    let known = ellwand_storage::MIGRATIONS_KNOWN;
    let newer = |error: &StorageError| matches!(error, StorageError::Newer { found, known: of } if (*found, *of) == (known + 1, known));
    let written = book.write(|tx| tx.next_numbers("lot", 1)).unwrap_err();
    assert!(newer(&written), "{written:?}");
    let read: Result<_, StorageError> = book.db.read(|tx| tx.suppliers());
    assert!(newer(read.as_ref().unwrap_err()), "{read:?}");
    book.outside("DELETE FROM __diesel_schema_migrations WHERE version = '20991231235959'");
    assert_eq!(
        book.put(|tx| tx.next_numbers("lot", 1)),
        2,
        "nothing was booked meanwhile"
    );
}

/// Migrating waits for a writer that began before it: none goes on in a schema that changes under it.
#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn migrating_queues_with_the_writers() {
    use diesel::connection::SimpleConnection;
    let book = TestDatabase::postgresql();
    crate::migrations::step(&book, false);
    let done: Result<i64, StorageError> = book.write(|tx| tx.next_numbers("lot", 1));
    assert!(matches!(done, Err(StorageError::Older { .. })), "{done:?}");
    let schema = book.schema();
    let mut writer = schema.connect();
    writer
        .batch_execute("BEGIN; LOCK TABLE workshops IN SHARE UPDATE EXCLUSIVE MODE")
        .unwrap();
    let error = Db::open(&schema.url, &hasty(true)).err();
    assert!(matches!(error, Some(StorageError::Busy(_))), "{error:?}");
    writer.batch_execute("COMMIT").unwrap();
    drop(Db::open(&schema.url, &hasty(true)).unwrap());
    assert_eq!(book.put(|tx| tx.next_numbers("lot", 1)), 1);
}
