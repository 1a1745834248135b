//! The lock file beside a SQLite book: held shared by everyone who has it open, alone to migrate it.

use crate::error::StorageError;
use std::{
    fs::{File, OpenOptions, TryLockError},
    io::{Read, Seek, Write},
    path::{Path, PathBuf},
};

/// A lock on `BOOK.lock`; given back when dropped.
pub(crate) struct BookLock {
    /// Absent where the folder takes no new files: then the book is read-only anyway.
    _file: Option<File>,
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
        Err(error) => Err(StorageError::Unreachable(format!("{}: {error}", path.display()))),
    }
}

fn holder(file: &mut File) -> String {
    let mut text = String::new();
    let read = file.rewind().and_then(|()| file.read_to_string(&mut text));
    if read.is_ok() && !text.trim().is_empty() { text.trim().to_owned() } else { "an unnamed process".to_owned() }
}

impl BookLock {
    /// Together with others.
    pub(crate) fn shared(book: &Path) -> Result<Self, StorageError> {
        let Some(mut file) = open(book)? else { return Ok(Self { _file: None }) };
        match file.try_lock_shared() {
            Ok(()) => Ok(Self { _file: Some(file) }),
            Err(TryLockError::WouldBlock) => Err(StorageError::InUse(holder(&mut file))),
            Err(TryLockError::Error(error)) => Err(StorageError::Unreachable(error.to_string())),
        }
    }

    /// Alone; the file names the holder meanwhile.
    pub(crate) fn alone(book: &Path) -> Result<Self, StorageError> {
        let Some(mut file) = open(book)? else { return Err(StorageError::ReadOnly) };
        match file.try_lock() {
            Ok(()) => {
                let named = file
                    .set_len(0)
                    .and_then(|()| file.rewind())
                    .and_then(|()| write!(file, "process {} (migrating)", std::process::id()));
                named.map_err(|error| StorageError::Unreachable(error.to_string()))?;
                Ok(Self { _file: Some(file) })
            }
            Err(TryLockError::WouldBlock) => Err(StorageError::InUse(holder(&mut file))),
            Err(TryLockError::Error(error)) => Err(StorageError::Unreachable(error.to_string())),
        }
    }
}
