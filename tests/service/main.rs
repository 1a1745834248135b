//! The service on a book, in a file or on PostgreSQL (`TEST_ON=postgresql`): random histories, tampered books, several handles on one book.
#![expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]

mod against_oracle;
mod book;
mod cloth_laws;
mod days;
mod estimates;
mod handles;
mod histories;
mod large_shelf;
mod moving;
mod oracle;
#[path = "../support/own_schema.rs"]
mod own_schema;
mod pairs;
#[path = "../support/place.rs"]
mod place;
mod predicted;
mod promises;
mod repeats;
mod sets;
mod statements;
mod tampering;
mod undone;
