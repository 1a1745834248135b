//! Whose turn it is next to write to a SQLite book, among the processes that have it open.
//!
//! SQLite lets whoever asks at the right moment write: a server under load begins its next transaction at once, and a command
//! beside it, which asks again after a pause, finds it taken until it gives up. Whoever waits for the transaction holds
//! `BOOK.turn` meanwhile, and nobody asks for a transaction without having passed there: the next one is the waiter's.
//! It is a courtesy between programs: where the file cannot be had, or is held for too long, it is passed by.

use crate::owner;
use std::{
    fs::{File, OpenOptions, TryLockError},
    path::{Path, PathBuf},
    sync::{Mutex, OnceLock, PoisonError},
    time::{Duration, Instant},
};

/// Between two looks.
const PAUSE: Duration = Duration::from_millis(1);
/// Longest wait for another process.
const PATIENCE: Duration = Duration::from_secs(2);
/// How long the file is passed by after a wait in vain: a process that was stopped there may hold it for good.
const PASSED_BY: Duration = Duration::from_secs(60);

/// The file beside a book; made by the first write.
pub(crate) struct Turnstile {
    /// The book; none where nobody else can have it open.
    book: Option<PathBuf>,
    file: OnceLock<Option<File>>,
    /// Until when it is passed by.
    until: Mutex<Option<Instant>>,
}

/// Held by the one whose turn is next.
pub(crate) struct Next<'a>(&'a File);

impl Drop for Next<'_> {
    fn drop(&mut self) {
        // A lock that cannot be given back ends with the file.
        let _ = self.0.unlock();
    }
}

/// The file, opened or made; a lock needs no more than reading.
fn open(book: &Path) -> Option<File> {
    let mut name = book.as_os_str().to_owned();
    name.push(".turn");
    let mut making = OpenOptions::new();
    making.read(true).write(true).create(true).truncate(false);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut making, 0o640);
    match making.open(&name) {
        Ok(file) => {
            owner::as_the_book(&file, book);
            Some(file)
        }
        Err(_) => File::open(&name).ok(),
    }
}

impl Turnstile {
    /// Of a book that `alone` says nobody else has open.
    pub(crate) fn beside(book: &Path, alone: bool) -> Self {
        let book = (!alone).then(|| book.to_owned());
        Self { book, file: OnceLock::new(), until: Mutex::default() }
    }

    /// Waits for those who came before, no longer than `patience`.
    pub(crate) fn pass(&self, patience: Duration) -> Option<Next<'_>> {
        let book = self.book.as_ref()?;
        let file = self.file.get_or_init(|| open(book)).as_ref()?;
        let begun = Instant::now();
        let mut passed_by = self.until.lock().unwrap_or_else(PoisonError::into_inner);
        if passed_by.is_some_and(|until| begun < until) {
            return None;
        }
        loop {
            match file.try_lock() {
                Ok(()) => return Some(Next(file)),
                Err(TryLockError::WouldBlock) if begun.elapsed() < patience.min(PATIENCE) => {
                    std::thread::sleep(PAUSE);
                }
                Err(_) => {
                    *passed_by = Some(Instant::now() + PASSED_BY);
                    return None;
                }
            }
        }
    }
}
