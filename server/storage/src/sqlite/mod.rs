//! The queries on SQLite.

/// A connection.
pub type Conn = diesel::SqliteConnection;

#[path = "../queries/mod.rs"]
pub mod queries;

mod book;
mod open;
mod readers;
mod writer;

pub(crate) use book::SqliteBook;
pub(crate) use open::path_of;
