//! The service on a book, in a file or on PostgreSQL (`TEST_ON=postgresql`): random histories, tampered books, several handles on one book.
#![expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]

mod against_oracle;
mod book;
mod candidates;
mod cloth_laws;
mod costs;
mod cuts;
mod dated;
mod days;
mod edits;
mod estimates;
mod fit;
mod former_names;
mod garments;
mod goods;
mod handles;
mod histories;
mod kept_lays;
mod large_shelf;
mod lay;
mod lines;
mod lots;
mod measures;
mod month;
mod moving;
mod only_piece;
mod oracle;
#[path = "../support/own_schema.rs"]
mod own_schema;
mod pairs;
mod people;
#[path = "../support/place.rs"]
mod place;
mod plain_slips;
mod pools;
mod predicted;
mod promises;
mod purchases;
mod quotations;
mod rates;
mod refusals;
mod repeats;
mod seams;
mod sets;
mod shelf_on;
mod statements;
mod stiffness;
#[path = "../support/stories/mod.rs"]
mod stories;
mod tampering;
mod tokens;
mod undo;
mod undone;
mod wash;
mod workshop;

use lines::Workshop;
