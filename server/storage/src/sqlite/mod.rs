//! The queries on SQLite.

/// A connection.
pub type Conn = diesel::SqliteConnection;

#[path = "../queries/mod.rs"]
pub mod queries;

mod book;
mod disk;
mod open;
mod readers;
mod snapshot;
mod writer;

pub(crate) use book::SqliteBook;
pub(crate) use open::path_of;
pub use snapshot::snapshot;
