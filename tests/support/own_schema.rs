//! A schema of its own for each book that a test keeps on PostgreSQL; the server is named by `TEST_DATABASE_URL`.
#![allow(dead_code, reason = "each test program uses its part")]

use diesel::{
    QueryableByName, RunQueryDsl,
    connection::{Connection, SimpleConnection},
    sql_types::Text,
};
use diesel_async::{AsyncPgConnection, async_connection_wrapper::AsyncConnectionWrapper};
use std::{
    sync::{
        Once,
        atomic::{AtomicU32, Ordering},
    },
    time::SystemTime,
};

pub type Plain = AsyncConnectionWrapper<AsyncPgConnection>;

/// Leftovers of runs that were killed are swept after an hour: another run may be under way.
const STALE: u64 = 3_600;
const PREFIX: &str = "ellwand_tests_";

#[derive(QueryableByName)]
pub struct Row {
    #[diesel(sql_type = Text)]
    pub text: String,
}

/// Runs something on a thread of its own: connections to PostgreSQL bring a runtime along, which may not begin, wait or end
/// inside another one.
pub fn aside<T: Send>(work: impl FnOnce() -> T + Send) -> T {
    std::thread::scope(|scope| scope.spawn(work).join())
        .unwrap_or_else(|panic| std::panic::resume_unwind(panic))
}

/// A schema of its own on the server; it goes when it is dropped.
pub struct Schema {
    pub url: String,
    pub name: String,
    server: String,
}

/// The server that tests may make schemas on.
#[expect(clippy::disallowed_methods, reason = "the one setting of the tests")]
pub fn server() -> Option<String> {
    std::env::var("TEST_DATABASE_URL")
        .ok()
        .filter(|url| !url.is_empty())
}

impl Schema {
    /// An empty schema. Tests that need one are marked, so that they are ignored without a server.
    pub fn new() -> Self {
        static SWEPT: Once = Once::new();
        static NUMBER: AtomicU32 = AtomicU32::new(0);
        let server = server().expect("TEST_DATABASE_URL names no server");
        SWEPT.call_once(|| aside(|| sweep(&server)));
        let now = SystemTime::now()
            .duration_since(SystemTime::UNIX_EPOCH)
            .unwrap()
            .as_secs();
        let number = NUMBER.fetch_add(1, Ordering::Relaxed);
        let name = format!("{PREFIX}{now}_{}_{number}", std::process::id());
        aside(|| {
            Plain::establish(&server)
                .unwrap()
                .batch_execute(&format!("CREATE SCHEMA {name}"))
        })
        .unwrap();
        let joint = if server.contains('?') { '&' } else { '?' };
        Self {
            url: format!("{server}{joint}options=-csearch_path%3D{name}"),
            name,
            server,
        }
    }

    /// A connection of its own into the schema.
    pub fn connect(&self) -> Plain {
        Plain::establish(&self.url).unwrap()
    }
}

impl Drop for Schema {
    fn drop(&mut self) {
        let sql = format!(
            "SET lock_timeout = '10s'; DROP SCHEMA {} CASCADE",
            self.name
        );
        let dropped =
            aside(|| Plain::establish(&self.server).map(|mut conn| conn.batch_execute(&sql)));
        if !std::thread::panicking() {
            dropped.unwrap().unwrap();
        }
    }
}

fn sweep(server: &str) {
    let mut conn = Plain::establish(server).unwrap();
    let now = SystemTime::now()
        .duration_since(SystemTime::UNIX_EPOCH)
        .unwrap()
        .as_secs();
    let query = format!(
        "SELECT nspname::text AS text FROM pg_namespace WHERE starts_with(nspname, '{PREFIX}')"
    );
    let schemas: Vec<Row> = diesel::sql_query(query).load(&mut conn).unwrap();
    for Row { text } in schemas {
        let made = text[PREFIX.len()..]
            .split('_')
            .next()
            .and_then(|digits| digits.parse::<u64>().ok());
        if made.is_none_or(|made| made + STALE < now) {
            // Another run may sweep at the same time.
            let _ = conn.batch_execute(&format!("DROP SCHEMA IF EXISTS {text} CASCADE"));
        }
    }
}
