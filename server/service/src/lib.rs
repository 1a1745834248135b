//! What Ellwand does: one function per act, request in, answer or problem out.
//!
//! [`Book::call`] is the only door: it runs a read on one snapshot, and a write in the one write
//! transaction together with its request's record, so that a repeated request gets its first answer.

mod desk;
mod garments;
mod ledger;
mod making;
mod money;
mod people;
mod promises;
mod purchases;
mod shelf;
mod workshop;

pub use desk::address::Password;
pub use desk::book::{Book, Options, snapshot};
pub use desk::caller::Caller;
pub use desk::clock::Clock;
pub use desk::perform::Perform;
pub use ellwand_contract::people::Secret;
pub use ellwand_storage::{TableContent, Written, is_in_the_clear};
