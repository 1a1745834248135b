//! Whose turn it is next to write to a SQLite book, among the processes that have it open.
//!
//! SQLite lets whoever asks at the right moment write: a server under load begins its next transaction at once, and a command
//! beside it, which asks again after a pause, finds it taken until it gives up. Whoever found it taken holds `BOOK.turn`
//! until it has it, and nobody asks for a transaction while that is held: the next one is the waiter's. The file is there
//! only while someone waits. It is a courtesy between programs: where it cannot be had, or is held for too long, it is
//! passed by.

use crate::owner;
use std::{
    fs::{self, File, OpenOptions, TryLockError},
    path::{Path, PathBuf},
    sync::{Mutex, PoisonError},
    time::{Duration, Instant},
};

/// Between two looks.
const PAUSE: Duration = Duration::from_millis(1);
/// Longest wait for another process.
const PATIENCE: Duration = Duration::from_secs(2);
/// How long the file is passed by after a wait in vain: a process that was stopped there may hold it for good.
const PASSED_BY: Duration = Duration::from_secs(60);

/// The file beside a book.
pub(crate) struct Turnstile {
    book: PathBuf,
    path: PathBuf,
    /// Until when it is passed by.
    passed_by: Mutex<Option<Instant>>,
}

/// Held by the one whose turn is next; the file goes with it.
pub(crate) struct Next<'a> {
    path: &'a Path,
    file: File,
}

impl Drop for Next<'_> {
    fn drop(&mut self) {
        // Another may have taken this one's away and made its own.
        if is_at(&self.file, self.path) {
            let _ = fs::remove_file(self.path);
        }
    }
}

/// True when the open file is the one at the path.
#[cfg(unix)]
fn is_at(file: &File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let place = |metadata: fs::Metadata| (metadata.dev(), metadata.ino());
    match (file.metadata(), fs::metadata(path)) {
        (Ok(own), Ok(there)) => place(own) == place(there),
        _ => false,
    }
}

#[cfg(not(unix))]
fn is_at(_: &File, path: &Path) -> bool {
    path.exists()
}

impl Turnstile {
    pub(crate) fn beside(book: &Path) -> Self {
        let mut name = book.as_os_str().to_owned();
        name.push(".turn");
        Self {
            book: book.to_owned(),
            path: PathBuf::from(name),
            passed_by: Mutex::default(),
        }
    }

    /// Lets those go first who wait, but no longer than `patience`.
    pub(crate) fn pass(&self, patience: Duration) -> Option<Next<'_>> {
        // Without a file nobody waits. A lock needs no more than reading.
        self.lock(File::open(&self.path).ok()?, patience)
    }

    /// Waits to be the next; the others wait from then on.
    pub(crate) fn wait(&self, patience: Duration) -> Option<Next<'_>> {
        let until = Instant::now() + patience;
        loop {
            let next = self.lock(self.make()?, patience)?;
            // The one before took the file away as it went.
            if is_at(&next.file, &self.path) {
                return Some(next);
            }
            if Instant::now() >= until {
                return None;
            }
        }
    }

    fn make(&self) -> Option<File> {
        let mut making = OpenOptions::new();
        making.read(true).write(true).create(true).truncate(false);
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut making, 0o640);
        match making.open(&self.path) {
            Ok(file) => {
                owner::as_the_book(&file, &self.book);
                Some(file)
            }
            Err(_) => File::open(&self.path).ok(),
        }
    }

    fn lock(&self, file: File, patience: Duration) -> Option<Next<'_>> {
        let begun = Instant::now();
        let mut passed_by = self
            .passed_by
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        if passed_by.is_some_and(|until| begun < until) {
            return None;
        }
        loop {
            match file.try_lock() {
                Ok(()) => {
                    return Some(Next {
                        path: &self.path,
                        file,
                    });
                }
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
