//! The commands end to end. Every line runs in process and over HTTP, and the answers must be the same.
#![expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]

#[path = "../support/books.rs"]
mod books;
mod buy;
mod candidates;
#[path = "../support/certificate.rs"]
mod certificate;
mod clock;
mod completion;
mod cost;
mod csv;
mod customer;
mod cut;
mod details;
mod every_command;
mod files;
mod garment;
mod help;
mod hints;
mod lay;
mod login;
mod lost_answers;
mod lot;
mod operation;
#[path = "../support/own_schema.rs"]
mod own_schema;
mod pattern;
mod person;
#[path = "../support/place.rs"]
mod place;
mod promises;
mod quote;
mod readme;
mod refusals;
mod reserve;
mod seam;
mod second_month;
mod shared_file;
mod shelf;
mod slips;
#[path = "../support/stories/mod.rs"]
mod stories;
mod thread_count;
mod token;
mod trims;
mod undo;
mod version;
mod wash;
mod watch;
mod widths;
mod workshop;

use books::Workshop;
