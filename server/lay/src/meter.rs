//! How much of the budget is used up.

use std::{
    sync::atomic::{AtomicBool, Ordering},
    time::Instant,
};

/// The end of a search, by whatever comes first.
pub(crate) struct Meter<'a> {
    pub(crate) positions: u64,
    pub(crate) until: Option<Instant>,
    pub(crate) cancel: &'a AtomicBool,
    /// End of the current phase; positions.
    pub(crate) phase: u64,
}

impl Meter<'_> {
    /// True once the phase or the whole search is over.
    pub(crate) fn is_over(&self, positions: u64) -> bool {
        positions >= self.phase || self.is_finished(positions)
    }

    /// True once the whole search is over.
    pub(crate) fn is_finished(&self, positions: u64) -> bool {
        positions >= self.positions
            || self.cancel.load(Ordering::Relaxed)
            || self.until.is_some_and(|until| Instant::now() >= until)
    }
}
