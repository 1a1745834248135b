//! Where a test keeps its book: a file, or with `TEST_ON=postgresql` a schema of its own on the server of
//! `TEST_DATABASE_URL`. The same list of tests runs on both.
#![allow(dead_code, reason = "each test program uses its part")]

use crate::own_schema::{Plain, Schema, aside};
use diesel::{Connection, SqliteConnection, connection::SimpleConnection};
use tempfile::TempDir;

/// A place for one book; it goes when it is dropped.
pub struct Place {
    /// Its address.
    pub url: String,
    folder: TempDir,
    schema: Option<Schema>,
}

#[expect(clippy::disallowed_methods, reason = "a setting of the tests")]
fn on_postgresql() -> bool {
    std::env::var("TEST_ON").is_ok_and(|on| on == "postgresql")
}

impl Place {
    /// On the database that is to be tested.
    pub fn new() -> Self {
        if on_postgresql() {
            Self::postgresql()
        } else {
            Self::sqlite()
        }
    }

    /// In a file.
    pub fn sqlite() -> Self {
        let folder = TempDir::new().unwrap();
        let url = format!("sqlite://{}", folder.path().join("book.sqlite3").display());
        Self {
            url,
            folder,
            schema: None,
        }
    }

    /// In a schema of the server that tests may use.
    pub fn postgresql() -> Self {
        let schema = Schema::new();
        Self {
            url: schema.url.clone(),
            folder: TempDir::new().unwrap(),
            schema: Some(schema),
        }
    }

    /// The path of a file beside the book.
    pub fn file(&self, name: &str) -> std::path::PathBuf {
        self.folder.path().join(name)
    }

    /// Runs statements that no act makes.
    pub fn sql(&self, statements: &str) {
        match &self.schema {
            Some(schema) => {
                aside(|| {
                    Plain::establish(&schema.url)
                        .unwrap()
                        .batch_execute(statements)
                })
                .unwrap();
            }
            None => {
                let mut file =
                    SqliteConnection::establish(self.file("book.sqlite3").to_str().unwrap())
                        .unwrap();
                file.batch_execute(&format!("PRAGMA busy_timeout = 5000; {statements}"))
                    .unwrap();
            }
        }
    }
}
