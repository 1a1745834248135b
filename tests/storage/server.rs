//! What only PostgreSQL has: the tests' schemas, a server that is away, connections that it closes.

use crate::database::{TestDatabase, options, texts};
use diesel::{
    QueryableByName, RunQueryDsl,
    connection::{Connection, SimpleConnection},
    sql_types::Text,
};
use diesel_async::{AsyncPgConnection, async_connection_wrapper::AsyncConnectionWrapper};
use ellwand_storage::{Db, OpenOptions, StorageError};
use std::{
    net::TcpListener,
    sync::{
        Once,
        atomic::{AtomicU32, Ordering},
    },
    time::{Duration, Instant, SystemTime},
};

pub type Plain = AsyncConnectionWrapper<AsyncPgConnection>;

/// Leftovers of runs that were killed are swept after an hour: another run may be under way.
const STALE: u64 = 3_600;
const PREFIX: &str = "ellwand_storage_";

#[derive(QueryableByName)]
struct Row {
    #[diesel(sql_type = Text)]
    text: String,
}

/// A schema of its own on the server; it goes when it is dropped.
pub struct Schema {
    pub url: String,
    pub name: String,
    server: String,
}

#[expect(clippy::disallowed_methods, reason = "the one setting of the tests")]
fn server() -> Option<String> {
    std::env::var("TEST_DATABASE_URL").ok().filter(|url| !url.is_empty())
}

impl Schema {
    /// An empty schema, where there is a server; otherwise says once that this half was left out.
    pub fn new() -> Option<Self> {
        static SAID: Once = Once::new();
        static SWEPT: Once = Once::new();
        static NUMBER: AtomicU32 = AtomicU32::new(0);
        let Some(server) = server() else {
            SAID.call_once(|| crate::mounts::left_out("PostgreSQL, for want of TEST_DATABASE_URL"));
            return None;
        };
        SWEPT.call_once(|| sweep(&server));
        let now = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).unwrap().as_secs();
        let number = NUMBER.fetch_add(1, Ordering::Relaxed);
        let name = format!("{PREFIX}{now}_{}_{number}", std::process::id());
        Plain::establish(&server).unwrap().batch_execute(&format!("CREATE SCHEMA {name}")).unwrap();
        let joint = if server.contains('?') { '&' } else { '?' };
        Some(Self { url: format!("{server}{joint}options=-csearch_path%3D{name}"), name, server })
    }

    /// A connection of its own into the schema.
    pub fn connect(&self) -> Plain {
        Plain::establish(&self.url).unwrap()
    }
}

impl Drop for Schema {
    fn drop(&mut self) {
        let sql = format!("SET lock_timeout = '10s'; DROP SCHEMA {} CASCADE", self.name);
        let dropped = Plain::establish(&self.server).map(|mut conn| conn.batch_execute(&sql));
        if !std::thread::panicking() {
            dropped.unwrap().unwrap();
        }
    }
}

fn sweep(server: &str) {
    let mut conn = Plain::establish(server).unwrap();
    let now = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).unwrap().as_secs();
    let query =
        format!("SELECT nspname::text AS text FROM pg_namespace WHERE starts_with(nspname, '{PREFIX}')");
    let schemas: Vec<Row> = diesel::sql_query(query).load(&mut conn).unwrap();
    for Row { text } in schemas {
        let made = text[PREFIX.len()..].split('_').next().and_then(|digits| digits.parse::<u64>().ok());
        if made.is_none_or(|made| made + STALE < now) {
            // Another run may sweep at the same time.
            let _ = conn.batch_execute(&format!("DROP SCHEMA IF EXISTS {text} CASCADE"));
        }
    }
}

fn hasty(create: bool) -> OpenOptions {
    OpenOptions { busy: Duration::from_millis(500), ..options(create) }
}

/// The error of an opening that must fail in time.
#[track_caller]
fn refusal(url: &str) -> StorageError {
    let begun = Instant::now();
    let error = Db::open(url, &hasty(false)).err().unwrap();
    assert!(begun.elapsed() < Duration::from_secs(5), "{:?}", begun.elapsed());
    error
}

#[test]
fn a_server_that_is_away_is_given_up_at_the_deadline() {
    // A port that was free a moment ago.
    let port = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().port();
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

#[test]
fn a_database_that_is_not_there_is_told() {
    let Some(server) = server() else { return drop(Schema::new()) };
    let error = refusal(&server.replace("ellwand_tests", "ellwand_absent"));
    assert!(
        matches!(&error, StorageError::Unreachable(text) if text.contains("ellwand_absent")),
        "{error:?}"
    );
}

#[test]
fn an_empty_schema_is_not_filled_unasked() {
    let Some(schema) = Schema::new() else { return };
    let error = Db::open(&schema.url, &options(false)).err();
    assert!(matches!(error, Some(StorageError::Older { found: 0, .. })), "{error:?}");
    let query =
        "SELECT relname::text AS text FROM pg_class WHERE relnamespace = current_schema()::regnamespace";
    let found: Vec<Row> = diesel::sql_query(query).load(&mut schema.connect()).unwrap();
    assert_eq!(found.len(), 0);
}

/// Closes every connection of the pool; the next jobs find new ones.
#[test]
fn connections_that_the_server_closed_are_replaced() {
    let Some(book) = TestDatabase::postgresql() else { return };
    let number = |tx: &mut ellwand_storage::Tx<'_>| texts(tx, "SELECT pg_backend_pid()::text AS text");
    for round in 1..=3 {
        let backend = book.get(number).remove(0);
        book.outside(&format!("SELECT pg_terminate_backend({backend})"));
        assert_eq!(book.put(|tx| tx.next_numbers("lot", 1)), round);
    }
}

/// A connection that goes in the middle of a job: nothing is kept, and it is told as what it is.
#[test]
fn a_server_that_goes_in_the_middle_keeps_nothing() {
    let Some(book) = TestDatabase::postgresql() else { return };
    let done = book.write(|tx| {
        tx.next_numbers("lot", 1)?;
        let backend = texts(tx, "SELECT pg_backend_pid()::text AS text")?.remove(0);
        book.outside(&format!("SELECT pg_terminate_backend({backend})"));
        tx.next_numbers("lot", 1)
    });
    assert!(matches!(done, Err(StorageError::Unreachable(_))), "{done:?}");
    assert_eq!(book.put(|tx| tx.next_numbers("lot", 1)), 1);
}

/// Writers that cannot see each other's rows: one of the two is run again and sees them then.
#[test]
fn conflicts_are_run_again_until_they_succeed() {
    let Some(book) = TestDatabase::postgresql() else { return };
    let other = book.another(Duration::from_secs(5));
    let mut runs = 0;
    let seen = book.put(|tx| {
        runs += 1;
        let seen = tx.suppliers()?.len();
        if runs == 1 {
            // Another process writes what this job has read, and reads what it is about to write.
            other.write(Box::new(|tx| {
                tx.customers()?;
                tx.save_supplier(&crate::draft::supplier(1, "meanwhile"))
            }))?;
        }
        tx.save_customer(&crate::draft::customer(1, "Bo"))?;
        Ok(seen)
    });
    assert_eq!((runs, seen), (2, 1), "run again, with the other's row in sight");
}

#[test]
fn conflicts_without_end_are_busy_at_the_deadline() {
    let Some(book) = TestDatabase::postgresql() else { return };
    let db = book.another(Duration::from_millis(300));
    let begun = Instant::now();
    let done: Result<(), StorageError> = db.write(Box::new(|_| Err(StorageError::Conflict)));
    assert!(matches!(done, Err(StorageError::Busy(_))), "{done:?}");
    assert!(begun.elapsed() >= Duration::from_millis(300) && begun.elapsed() < Duration::from_secs(5));
}
