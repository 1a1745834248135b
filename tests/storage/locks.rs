//! Whose the lock file is, and that nothing is opened without it. What needs another user is run as one, by root; without root
//! the tests say what was left out.
#![cfg(unix)]

use crate::{database::options, mounts::left_out};
use ellwand_storage::{Db, OpenOptions, StorageError};
use std::{
    fs::{self, Permissions},
    os::unix::{
        fs::{MetadataExt, PermissionsExt, chown},
        process::CommandExt,
    },
    path::Path,
    process::Command,
    time::Duration,
};
use tempfile::TempDir;

/// `nobody` of Linux (from memory: 65534 nearly everywhere); any user but root would do.
const NOBODY: u32 = 65_534;

fn open(path: &Path, options: OpenOptions) -> Result<Db, StorageError> {
    let options = OpenOptions {
        busy: Duration::from_millis(300),
        ..options
    };
    Db::open(&format!("sqlite://{}", path.display()), &options)
}

fn alone() -> OpenOptions {
    OpenOptions {
        alone: true,
        ..options(false)
    }
}

fn mode(path: &Path) -> u32 {
    fs::metadata(path).unwrap().mode() & 0o777
}

fn set_mode(path: &Path, mode: u32) {
    fs::set_permissions(path, Permissions::from_mode(mode)).unwrap();
}

/// Whoever can read the lock file can hold it.
#[test]
fn a_lock_is_closed_to_those_to_whom_the_book_is_closed() {
    let folder = TempDir::new().unwrap();
    let (book, lock) = (
        folder.path().join("book.sqlite3"),
        folder.path().join("book.sqlite3.lock"),
    );
    drop(open(&book, options(true)).unwrap());
    assert_eq!(mode(&lock) & 0o007, 0, "{:o}", mode(&lock));
    // Made by an older program, under a generous mask.
    for (of_book, found, expected) in [
        (0o640, 0o644, 0o640),
        (0o600, 0o666, 0o600),
        (0o666, 0o600, 0o644),
    ] {
        set_mode(&book, of_book);
        set_mode(&lock, found);
        drop(open(&book, options(false)).unwrap());
        assert_eq!(mode(&lock), expected, "{expected:o}");
    }
}

#[test]
fn a_lock_that_cannot_be_opened_is_reported_with_its_owner() {
    let folder = TempDir::new().unwrap();
    let (book, lock) = (
        folder.path().join("book.sqlite3"),
        folder.path().join("book.sqlite3.lock"),
    );
    drop(open(&book, options(true)).unwrap());
    if fs::metadata(&book).unwrap().uid() == 0 {
        return left_out("a lock that cannot be opened by its owner: root opens everything");
    }
    set_mode(&lock, 0o000);
    for options in [options(false), options(true), alone()] {
        let error = open(&book, options).err().expect("there is no lock");
        assert!(
            matches!(&error, StorageError::NoLock(text) if text.contains("its mode is 000")),
            "{error:?}"
        );
    }
    set_mode(&lock, 0o400);
    let db = open(&book, options(false)).unwrap();
    let error = open(&book, alone()).err().expect("it is shared");
    assert!(
        matches!(error, StorageError::InUse(_)),
        "a shared lock needs only reading: {error:?}"
    );
    drop(db);
}

/// A folder of another user's, in which this test, as root, may do everything.
fn folder_of_nobody() -> Option<TempDir> {
    let folder = TempDir::new().unwrap();
    let done = chown(folder.path(), Some(NOBODY), Some(NOBODY));
    if let Err(error) = done {
        left_out(&format!("the files of another user: {error}"));
        return None;
    }
    Some(folder)
}

/// Runs one of the ignored tests below as another user, in that user's folder.
fn as_nobody(folder: &Path, test: &str) {
    let mut command = Command::new(std::env::current_exe().unwrap());
    command
        .args(["--exact", test, "--ignored", "--nocapture"])
        .current_dir(folder)
        .uid(NOBODY)
        .gid(NOBODY);
    let output = match command.output() {
        Ok(output) => output,
        Err(error) => return left_out(&format!("{test} as another user: {error}")),
    };
    let report = String::from_utf8_lossy(&output.stdout);
    let complaints = String::from_utf8_lossy(&output.stderr);
    assert!(
        output.status.success() && report.contains("1 passed"),
        "{report}{complaints}"
    );
}

/// A book that root made for a service opens for the service, and both see each other's locks.
#[test]
fn what_root_makes_belongs_to_the_owner_of_the_folder() {
    let Some(folder) = folder_of_nobody() else {
        return;
    };
    let book = folder.path().join("deep/er/book.sqlite3");
    drop(open(&book, options(true)).unwrap());
    for name in [
        "deep",
        "deep/er",
        "deep/er/book.sqlite3",
        "deep/er/book.sqlite3.lock",
    ] {
        let owner = fs::metadata(folder.path().join(name)).unwrap();
        assert_eq!((owner.uid(), owner.gid()), (NOBODY, NOBODY), "{name}");
    }
    as_nobody(book.parent().unwrap(), "locks::inside_a_folder_of_its_own");
    let error = {
        let _held = open(&book, options(false)).unwrap();
        open(&book, alone()).err().expect("it is shared")
    };
    assert!(matches!(error, StorageError::InUse(_)), "{error:?}");
}

#[test]
#[ignore = "run by what_root_makes_belongs_to_the_owner_of_the_folder as another user"]
fn inside_a_folder_of_its_own() {
    let book = std::env::current_dir().unwrap().join("book.sqlite3");
    let db = open(&book, options(false)).unwrap();
    let number: Result<i64, StorageError> = db.write(Box::new(|tx| tx.next_numbers("lot", 1)));
    assert_eq!(number.unwrap(), 1);
    let error = open(&book, alone()).err().expect("it is shared");
    assert!(matches!(error, StorageError::InUse(_)), "{error:?}");
}

/// A lock of root's own, from before: nobody runs without it.
#[test]
fn without_the_lock_nothing_is_opened() {
    let Some(folder) = folder_of_nobody() else {
        return;
    };
    let book = folder.path().join("book.sqlite3");
    drop(open(&book, options(true)).unwrap());
    let lock = folder.path().join("book.sqlite3.lock");
    fs::remove_file(&lock).unwrap();
    fs::write(&lock, "").unwrap();
    set_mode(&lock, 0o600);
    assert_eq!(fs::metadata(&lock).unwrap().uid(), 0);
    as_nobody(folder.path(), "locks::inside_a_folder_with_a_lock_of_root");
}

#[test]
#[ignore = "run by without_the_lock_nothing_is_opened as another user"]
fn inside_a_folder_with_a_lock_of_root() {
    let book = std::env::current_dir().unwrap().join("book.sqlite3");
    for options in [options(false), options(true), alone()] {
        let error = open(&book, options).err().expect("there is no lock");
        let StorageError::NoLock(text) = &error else {
            panic!("{error:?}")
        };
        assert!(
            text.contains("book.sqlite3.lock belongs to root") && text.contains("mode is 600"),
            "{text}"
        );
    }
}
