//! The disk that a book lies on.

use crate::error::StorageError;
use std::path::Path;

/// Below this many bytes a disk counts as full: a booking takes some pages of 4 096 bytes, and the log as many again.
const LEAST: u64 = 1024 * 1024;

/// Whether there is room for bookings to come.
#[cfg(unix)]
pub(super) fn takes_writes(path: &Path) -> Result<(), StorageError> {
    use rustix::fs::{StatVfsMountFlags, statvfs};
    let disk = statvfs(path)
        .map_err(|error| StorageError::Unreachable(format!("{}: {error}", path.display())))?;
    if disk.f_flag.contains(StatVfsMountFlags::RDONLY) {
        return Err(StorageError::ReadOnly);
    }
    if disk.f_bavail.saturating_mul(disk.f_frsize) < LEAST {
        Err(StorageError::Full)
    } else {
        Ok(())
    }
}

#[cfg(not(unix))]
pub(super) fn takes_writes(_: &Path) -> Result<(), StorageError> {
    Ok(())
}
