//! Whose turn it is next to write to a SQLite book, among the processes that have it open.
//!
//! SQLite lets whoever asks at the right moment write: a server under load begins its next transaction at once, and a command
//! beside it, which asks again after a pause, finds it taken until it gives up. Whoever waits for the transaction holds
//! `BOOK.turn` meanwhile, and nobody asks for a transaction without having passed there: the next one is the waiter's.
//! It is a courtesy between programs: where the file cannot be had, or is held for too long, it is passed by.

use std::{
    fs::{File, OpenOptions},
    path::Path,
    time::{Duration, Instant},
};

/// Between two looks.
const PAUSE: Duration = Duration::from_millis(1);
/// Longest wait for another process; one that was stopped there may hold it for good.
const PATIENCE: Duration = Duration::from_secs(2);

/// The file beside a book.
pub(crate) struct Turnstile(Option<File>);

/// Held by the one whose turn is next.
pub(crate) struct Next<'a>(&'a File);

impl Drop for Next<'_> {
    fn drop(&mut self) {
        // A lock that cannot be given back ends with the file.
        let _ = self.0.unlock();
    }
}

impl Turnstile {
    pub(crate) fn beside(book: &Path) -> Self {
        let mut name = book.as_os_str().to_owned();
        name.push(".turn");
        let mut making = OpenOptions::new();
        making.read(true).write(true).create(true).truncate(false);
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut making, 0o640);
        // A lock needs no more than reading.
        Self(making.open(&name).or_else(|_| File::open(&name)).ok())
    }

    /// Waits for those who came before, no longer than `patience`.
    pub(crate) fn pass(&self, patience: Duration) -> Option<Next<'_>> {
        let file = self.0.as_ref()?;
        let until = Instant::now() + patience.min(PATIENCE);
        loop {
            match file.try_lock() {
                Ok(()) => return Some(Next(file)),
                Err(std::fs::TryLockError::WouldBlock) if Instant::now() < until => std::thread::sleep(PAUSE),
                Err(_) => return None,
            }
        }
    }
}
