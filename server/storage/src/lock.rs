//! The lock file beside a SQLite book: held shared by everyone who has it open, alone to migrate it.
//!
//! No lock, no opening: whoever could not be seen by others would lose what they book meanwhile. A shared lock needs no more
//! than reading the file.

use crate::error::StorageError;
use crate::owner;
use std::{
    fs::{File, OpenOptions, TryLockError},
    io::{ErrorKind, Read, Seek, Write},
    path::{Path, PathBuf},
    time::{Duration, Instant},
};

/// Between two tries to get the lock.
const PAUSE: Duration = Duration::from_millis(10);

/// A lock on `BOOK.lock`; given back when dropped.
pub(crate) struct BookLock {
    file: File,
    /// Held alone: the file names the holder, until the lock is given back.
    alone: bool,
}

fn lock_path(book: &Path) -> PathBuf {
    let mut name = book.as_os_str().to_owned();
    name.push(".lock");
    PathBuf::from(name)
}

fn open(book: &Path) -> Result<File, StorageError> {
    let path = lock_path(book);
    let mut options = OpenOptions::new();
    options.read(true).write(true).create(true).truncate(false);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o640);
    match options.open(&path) {
        Ok(file) => {
            owner::as_the_book(&file, book);
            Ok(file)
        }
        Err(error)
            if matches!(
                error.kind(),
                ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem
            ) =>
        {
            File::open(&path).map_err(|_| StorageError::NoLock(owner::in_the_way(&path)))
        }
        Err(error) if error.kind() == ErrorKind::StorageFull => Err(StorageError::Full),
        Err(error) => Err(StorageError::Unreachable(format!(
            "{}: {error}",
            path.display()
        ))),
    }
}

/// Tries until the deadline; then reports who is in the way.
fn wait(
    file: &mut File,
    until: Instant,
    attempt: impl Fn(&File) -> Result<(), TryLockError>,
) -> Result<(), StorageError> {
    loop {
        match attempt(file) {
            Ok(()) => return Ok(()),
            Err(TryLockError::WouldBlock) if Instant::now() < until => std::thread::sleep(PAUSE),
            Err(TryLockError::WouldBlock) => return Err(StorageError::InUse(holders(file))),
            Err(TryLockError::Error(error)) => {
                return Err(StorageError::Unreachable(error.to_string()));
            }
        }
    }
}

/// Who holds the lock: the processes that the system lists, in the words of the one that wrote its name.
fn holders(file: &mut File) -> String {
    let mut text = String::new();
    let read = file
        .rewind()
        .and_then(|()| file.read_to_string(&mut text))
        .is_ok();
    let named = Some(text.trim()).filter(|name| read && !name.is_empty());
    let listed: Vec<String> = listed(file)
        .iter()
        .map(|process| format!("process {process}"))
        .collect();
    // A name that no listed process goes by is left over from a run that was killed.
    let by_name = named.filter(|name| {
        listed.is_empty()
            || listed
                .iter()
                .any(|one| name.starts_with(&format!("{one} ")))
    });
    match by_name {
        Some(name) => name.to_owned(),
        None if listed.is_empty() => "an unnamed process".to_owned(),
        None => listed.join(", "),
    }
}

/// Processes that hold a lock on a file, as Linux lists them.
#[cfg(target_os = "linux")]
fn listed(file: &File) -> Vec<u32> {
    use std::os::unix::fs::MetadataExt;
    let Ok(inode) = file.metadata().map(|metadata| metadata.ino().to_string()) else {
        return Vec::new();
    };
    let locks = std::fs::read_to_string("/proc/locks").unwrap_or_default();
    let mut processes: Vec<u32> = locks
        .lines()
        .filter_map(
            |line| match line.split_whitespace().collect::<Vec<_>>()[..] {
                // 1: FLOCK ADVISORY WRITE 708 08:02:12345 0 EOF
                [_, "FLOCK", _, _, process, place, ..]
                    if place.rsplit(':').next() == Some(&inode) =>
                {
                    process.parse().ok()
                }
                _ => None,
            },
        )
        .collect();
    processes.sort_unstable();
    processes.dedup();
    processes
}

#[cfg(not(target_os = "linux"))]
fn listed(_: &File) -> Vec<u32> {
    Vec::new()
}

impl BookLock {
    /// Together with others.
    pub(crate) fn shared(book: &Path, until: Instant) -> Result<Self, StorageError> {
        let mut file = open(book)?;
        wait(&mut file, until, File::try_lock_shared)?;
        Ok(Self { file, alone: false })
    }

    /// Alone; the file names the holder meanwhile.
    pub(crate) fn alone(book: &Path, until: Instant) -> Result<Self, StorageError> {
        let mut file = open(book)?;
        wait(&mut file, until, File::try_lock)?;
        Ok(Self { file, alone: true }.named())
    }

    /// The same lock, alone, where nobody else holds it; given back where somebody does.
    pub(crate) fn into_alone(mut self) -> Option<Self> {
        if !self.alone {
            self.file.try_lock().ok()?;
            self.alone = true;
        }
        Some(self.named())
    }

    /// True when nobody else has the book open.
    pub(crate) fn is_alone(&self) -> bool {
        self.alone
    }

    fn named(mut self) -> Self {
        // A name is good to have; the lock holds without it, on a full disk too.
        let _ = self
            .file
            .set_len(0)
            .and_then(|()| self.file.rewind())
            .and_then(|()| {
                write!(
                    self.file,
                    "process {} (which needs it alone)",
                    std::process::id()
                )
            });
        self
    }
}

impl Drop for BookLock {
    fn drop(&mut self) {
        if self.alone {
            // What stays would name a process that is long gone.
            let _ = self.file.set_len(0);
        }
    }
}
