//! The queries on SQLite.

/// A connection.
pub type Conn = diesel::SqliteConnection;

#[path = "../queries/mod.rs"]
pub mod queries;

mod open;
pub(crate) use open::{SqliteBook, path_of};
