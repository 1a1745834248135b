//! What Ellwand does: one function per act, request in, answer or problem out.
//!
//! [`Book::call`] is the only door: it runs a read on one snapshot, and a write in the one write
//! transaction together with its request's record, so that a repeated request gets its first answer.

mod audit;
mod book;
mod bookings;
mod caller;
mod candidates;
mod clock;
mod context;
mod costs;
mod cuts;
mod desk;
mod detail;
mod details;
mod doubts;
mod erasing;
mod failure;
mod figures;
mod fit;
mod garments;
mod lots;
mod materials;
mod operations;
mod overhead;
mod page;
mod parties;
mod people;
mod perform;
mod person;
mod pooled;
mod pools;
mod promises;
mod purchases;
mod quotations;
mod rates;
mod repeats;
mod reservations;
mod seams;
mod secret;
mod sheet;
mod shelf;
mod shelved;
mod stiffness;
mod tokens;
mod trace;
mod undo;
mod version;
mod wash;
mod work;
mod workshop;

pub use book::{Book, Options, snapshot};
pub use caller::Caller;
pub use clock::Clock;
pub use ellwand_storage::{TableContent, Written, is_in_the_clear};
pub use perform::Perform;
pub use secret::Secret;
