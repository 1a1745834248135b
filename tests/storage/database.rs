//! A book of its own for each case, in a file or in a schema.

use diesel::{QueryableByName, RunQueryDsl, sql_types::Text};
use ellwand_storage::{Db, OpenOptions, StorageError, Tx};
use std::{path::PathBuf, sync::OnceLock, time::Duration};
use tempfile::TempDir;

/// A migrated book that knows a few people; it goes when it is dropped.
pub struct TestDatabase {
    pub db: Db,
    pub url: String,
    place: Place,
}

enum Place {
    Folder(TempDir),
    #[cfg(feature = "postgresql")]
    Schema(crate::own_schema::Schema),
}

#[derive(QueryableByName)]
struct Row {
    #[diesel(sql_type = Text)]
    text: String,
}

/// An own book to write without a pool or a deadline in the way.
pub fn options(create: bool) -> OpenOptions {
    OpenOptions {
        create,
        busy: Duration::from_secs(20),
        ..OpenOptions::default()
    }
}

/// A migrated file to copy, made once.
fn template() -> &'static [u8] {
    static BYTES: OnceLock<Vec<u8>> = OnceLock::new();
    BYTES.get_or_init(|| {
        let folder = TempDir::new().unwrap();
        let path = folder.path().join("book.sqlite3");
        let db = Db::open(&format!("sqlite://{}", path.display()), &options(true)).unwrap();
        db.write(Box::new(crate::draft::people)).unwrap();
        drop(db);
        std::fs::read(path).unwrap()
    })
}

impl TestDatabase {
    /// A book in a file.
    pub fn sqlite() -> Self {
        let folder = TempDir::new().unwrap();
        let path = folder.path().join("book.sqlite3");
        std::fs::write(&path, template()).unwrap();
        let url = format!("sqlite://{}", path.display());
        Self {
            db: Db::open(&url, &options(false)).unwrap(),
            url,
            place: Place::Folder(folder),
        }
    }

    /// A book in a schema of the server that tests may use.
    #[cfg(feature = "postgresql")]
    pub fn postgresql() -> Self {
        let schema = crate::own_schema::Schema::new();
        let url = schema.url.clone();
        let db = Db::open(&url, &options(true)).unwrap();
        db.write(Box::new(crate::draft::people)).unwrap();
        Self {
            db,
            url,
            place: Place::Schema(schema),
        }
    }

    pub fn is_sqlite(&self) -> bool {
        matches!(self.place, Place::Folder(_))
    }

    /// The file of a book that is in one.
    pub fn path(&self) -> Option<PathBuf> {
        match &self.place {
            Place::Folder(folder) => Some(folder.path().join("book.sqlite3")),
            #[cfg(feature = "postgresql")]
            Place::Schema(_) => None,
        }
    }

    /// Another handle, as another process would have.
    pub fn another(&self, busy: Duration) -> Db {
        Db::open(
            &self.url,
            &OpenOptions {
                busy,
                ..options(false)
            },
        )
        .unwrap()
    }

    /// Runs a job that writes.
    pub fn write<T>(
        &self,
        job: impl FnMut(&mut Tx<'_>) -> Result<T, StorageError> + Send,
    ) -> Result<T, StorageError> {
        self.db.write(Box::new(job))
    }

    /// Runs a job that writes and must succeed.
    #[track_caller]
    pub fn put<T>(&self, job: impl FnMut(&mut Tx<'_>) -> Result<T, StorageError> + Send) -> T {
        self.write(job).unwrap()
    }

    /// Runs a job that reads and must succeed.
    #[track_caller]
    pub fn get<T>(&self, job: impl FnMut(&mut Tx<'_>) -> Result<T, StorageError>) -> T {
        self.db.read(job).unwrap()
    }

    /// Runs a statement in a write transaction of its own.
    pub fn run(&self, sql: &str) -> Result<usize, StorageError> {
        self.write(|tx| run(tx, sql))
    }

    /// Rows of a query with one column named `text`.
    #[track_caller]
    pub fn texts(&self, sql: &str) -> Vec<String> {
        self.get(|tx| texts(tx, sql))
    }

    /// The schema of a book that is in one.
    #[cfg(feature = "postgresql")]
    pub fn schema(&self) -> &crate::own_schema::Schema {
        let Place::Schema(schema) = &self.place else {
            panic!("this book is in a file")
        };
        schema
    }

    /// An empty place for another book of the same kind: its address, and what must outlive it.
    pub fn empty(&self) -> (String, Box<dyn std::any::Any>) {
        match &self.place {
            Place::Folder(_) => {
                let folder = TempDir::new().unwrap();
                (
                    format!("sqlite://{}", folder.path().join("new.sqlite3").display()),
                    Box::new(folder),
                )
            }
            #[cfg(feature = "postgresql")]
            Place::Schema(_) => {
                let schema = crate::own_schema::Schema::new();
                (schema.url.clone(), Box::new(schema))
            }
        }
    }

    /// The same book where no handle has it open: a copy of the file, or the schema itself.
    pub fn copy(&self) -> (String, Box<dyn std::any::Any>) {
        match self.path() {
            Some(path) => {
                self.outside("PRAGMA wal_checkpoint(TRUNCATE)");
                let folder = TempDir::new().unwrap();
                let copy = folder.path().join("copy.sqlite3");
                std::fs::copy(path, &copy).unwrap();
                (format!("sqlite://{}", copy.display()), Box::new(folder))
            }
            None => (self.url.clone(), Box::new(())),
        }
    }

    /// Runs statements, several at once and outside of transactions, on a connection of their own.
    #[track_caller]
    pub fn outside(&self, sql: &str) {
        self.elsewhere(&self.url, sql);
    }

    /// Rows of a query with one column named `text`, whatever schema the place has.
    #[track_caller]
    pub fn texts_at(&self, url: &str, sql: &str) -> Vec<String> {
        use diesel::connection::Connection;
        let rows: Vec<Row> = match url.strip_prefix("sqlite://") {
            Some(path) => diesel::sql_query(sql)
                .load(&mut diesel::SqliteConnection::establish(path).unwrap())
                .unwrap(),
            #[cfg(feature = "postgresql")]
            None => diesel::sql_query(sql)
                .load(&mut crate::own_schema::Plain::establish(url).unwrap())
                .unwrap(),
            #[cfg(not(feature = "postgresql"))]
            None => unreachable!("a book is in a file"),
        };
        rows.into_iter().map(|row| row.text).collect()
    }

    /// Runs statements at another address of the same kind.
    #[track_caller]
    pub fn elsewhere(&self, url: &str, sql: &str) {
        use diesel::connection::{Connection, SimpleConnection};
        match url.strip_prefix("sqlite://") {
            Some(path) => {
                let mut conn = diesel::SqliteConnection::establish(path).unwrap();
                conn.batch_execute(&format!("PRAGMA foreign_keys = ON; {sql}"))
                    .unwrap();
            }
            #[cfg(feature = "postgresql")]
            None => crate::own_schema::Plain::establish(url)
                .unwrap()
                .batch_execute(sql)
                .unwrap(),
            #[cfg(not(feature = "postgresql"))]
            None => unreachable!("a book is in a file"),
        }
    }
}

/// Runs a statement that no query of `Tx` has.
pub fn run(tx: &mut Tx<'_>, sql: &str) -> Result<usize, StorageError> {
    Ok(match tx {
        Tx::Sqlite(conn) => diesel::sql_query(sql).execute(*conn)?,
        #[cfg(feature = "postgresql")]
        Tx::Postgresql(conn) => diesel::sql_query(sql).execute(*conn)?,
    })
}

/// Rows of a query with one column named `text`.
pub fn texts(tx: &mut Tx<'_>, sql: &str) -> Result<Vec<String>, StorageError> {
    let rows: Vec<Row> = match tx {
        Tx::Sqlite(conn) => diesel::sql_query(sql).load(*conn)?,
        #[cfg(feature = "postgresql")]
        Tx::Postgresql(conn) => diesel::sql_query(sql).load(*conn)?,
    };
    Ok(rows.into_iter().map(|row| row.text).collect())
}
