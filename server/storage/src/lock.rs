//! The lock file beside a SQLite book: held shared by everyone who has it open, alone to migrate it.

use crate::error::StorageError;
use std::{
    fs::{File, OpenOptions, TryLockError},
    io::{Read, Seek, Write},
    path::{Path, PathBuf},
    time::{Duration, Instant},
};

/// Between two tries to get the lock.
const PAUSE: Duration = Duration::from_millis(10);

/// A lock on `BOOK.lock`; given back when dropped.
pub(crate) struct BookLock {
    /// Absent where the folder takes no new files: then the book is read-only anyway.
    file: Option<File>,
    /// Held alone: the file names the holder, until the lock is given back.
    alone: bool,
}

fn lock_path(book: &Path) -> PathBuf {
    let mut name = book.as_os_str().to_owned();
    name.push(".lock");
    PathBuf::from(name)
}

fn open(book: &Path) -> Result<Option<File>, StorageError> {
    let path = lock_path(book);
    match OpenOptions::new().read(true).write(true).create(true).truncate(false).open(&path) {
        Ok(file) => Ok(Some(file)),
        Err(error) if error.kind() == std::io::ErrorKind::PermissionDenied => Ok(None),
        Err(error) if error.kind() == std::io::ErrorKind::ReadOnlyFilesystem => Ok(None),
        Err(error) if error.kind() == std::io::ErrorKind::StorageFull => Err(StorageError::Full),
        Err(error) => Err(StorageError::Unreachable(format!("{}: {error}", path.display()))),
    }
}

/// Tries until the deadline; then says who is in the way.
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
            Err(TryLockError::Error(error)) => return Err(StorageError::Unreachable(error.to_string())),
        }
    }
}

/// Who holds the lock: the processes that the system lists, in the words of the one that wrote its name.
fn holders(file: &mut File) -> String {
    let mut text = String::new();
    let read = file.rewind().and_then(|()| file.read_to_string(&mut text)).is_ok();
    let named = Some(text.trim()).filter(|name| read && !name.is_empty());
    let listed: Vec<String> = listed(file).iter().map(|process| format!("process {process}")).collect();
    // A name that no listed process goes by is left over from a run that was killed.
    let by_name = named
        .filter(|name| listed.is_empty() || listed.iter().any(|one| name.starts_with(&format!("{one} "))));
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
    let Ok(inode) = file.metadata().map(|metadata| metadata.ino().to_string()) else { return Vec::new() };
    let locks = std::fs::read_to_string("/proc/locks").unwrap_or_default();
    let mut processes: Vec<u32> = locks
        .lines()
        .filter_map(|line| match line.split_whitespace().collect::<Vec<_>>()[..] {
            // 1: FLOCK ADVISORY WRITE 708 08:02:12345 0 EOF
            [_, "FLOCK", _, _, process, place, ..] if place.rsplit(':').next() == Some(&inode) => {
                process.parse().ok()
            }
            _ => None,
        })
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
        let Some(mut file) = open(book)? else { return Ok(Self { file: None, alone: false }) };
        wait(&mut file, until, File::try_lock_shared)?;
        Ok(Self { file: Some(file), alone: false })
    }

    /// Alone; the file names the holder meanwhile.
    pub(crate) fn alone(book: &Path, until: Instant) -> Result<Self, StorageError> {
        let Some(mut file) = open(book)? else { return Err(StorageError::ReadOnly) };
        wait(&mut file, until, File::try_lock)?;
        // A name is good to have; the lock holds without it, on a full disk too.
        let _ = file
            .set_len(0)
            .and_then(|()| file.rewind())
            .and_then(|()| write!(file, "process {} (which needs it alone)", std::process::id()));
        Ok(Self { file: Some(file), alone: true })
    }
}

impl Drop for BookLock {
    fn drop(&mut self) {
        if let Some(file) = self.file.as_ref().filter(|_| self.alone) {
            // What stays would name a process that is long gone.
            let _ = file.set_len(0);
        }
    }
}
