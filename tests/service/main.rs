//! The service on a SQLite file: random histories, tampered books, several handles on one book.
#![expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]

mod book;
mod handles;
mod histories;
mod tampering;
mod undone;
