//! People: who works, buys and sells here, and who may use the book.

pub(crate) mod erasing;
pub(crate) mod measures;
pub(crate) mod parties;
pub(crate) mod person;
pub(crate) mod tokens;
