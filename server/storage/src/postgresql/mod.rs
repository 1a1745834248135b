//! The queries on PostgreSQL.

/// A connection: the synchronous face of a pure-Rust driver.
pub type Conn = diesel_async::async_connection_wrapper::AsyncConnectionWrapper<
    diesel_async::AsyncPgConnection,
    runtime::Own,
>;

#[path = "../queries/mod.rs"]
#[expect(
    clippy::duplicate_mod,
    reason = "one text of queries, one mount per dialect"
)]
pub mod queries;

mod book;
mod open;
mod runtime;
mod way;

pub(crate) use book::PostgresqlBook;
pub use way::is_in_the_clear;
