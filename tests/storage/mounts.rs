//! A full disk and a disk that takes no writes: file systems of the tests' own, in a mount namespace of their own, so
//! that nothing of the machine is touched. Where such a namespace is not to be had, the tests say so.

use crate::database::options;
use crate::sample;
use ellwand_storage::{Db, StorageError};
use std::{
    io::Write,
    path::{Path, PathBuf},
    process::Command,
    time::Duration,
};
use tempfile::TempDir;

/// Says what was not tested, past the capture of tests that pass.
pub fn left_out(what: &str) {
    let _ = writeln!(std::io::stderr(), "left out: {what}");
}

/// Runs one of the ignored tests below, its working folder on a file system of `size` that goes with it.
fn on_own_disk(size: &str, test: &str) {
    let folder = TempDir::new().unwrap();
    let inside = |command: &str, arguments: &[&str]| {
        Command::new("unshare")
            .args(["--mount", "--map-root-user", "sh", "-c"])
            .arg(format!(
                "mount -t tmpfs -o size={size} ellwand \"$0\" && cd \"$0\" && {command}"
            ))
            .arg(folder.path())
            .args(arguments)
            .output()
    };
    match inside("true", &[]) {
        Ok(output) if output.status.success() => {}
        Ok(output) => {
            return left_out(&format!(
                "{test}: {}",
                String::from_utf8_lossy(&output.stderr).trim()
            ));
        }
        Err(error) => return left_out(&format!("{test}: unshare: {error}")),
    }
    let program = std::env::current_exe().unwrap();
    let arguments = [
        program.to_str().unwrap(),
        "--exact",
        test,
        "--ignored",
        "--nocapture",
    ];
    let output = inside("exec \"$@\"", &arguments).unwrap();
    let report = String::from_utf8_lossy(&output.stdout);
    assert!(
        output.status.success() && report.contains("1 passed"),
        "{report}{}",
        String::from_utf8_lossy(&output.stderr)
    );
}

#[test]
fn a_full_disk_leaves_nothing_half_written() {
    on_own_disk("2m", "mounts::inside_a_small_disk");
}

#[test]
fn a_disk_without_room_for_a_book_is_full() {
    on_own_disk("100k", "mounts::inside_a_tiny_disk");
}

#[test]
fn a_disk_that_takes_no_writes_is_reported() {
    on_own_disk("4m", "mounts::inside_a_read_only_disk");
}

/// The working folder, which must be a file system of its own.
fn disk() -> PathBuf {
    let here = std::env::current_dir().unwrap();
    let mounts = std::fs::read_to_string("/proc/self/mounts").unwrap();
    let own = format!("ellwand {} tmpfs", here.display());
    assert!(
        mounts.lines().any(|line| line.starts_with(&own)),
        "only for the tests above: {own}"
    );
    here
}

fn open(path: &Path, create: bool) -> Result<Db, StorageError> {
    let options = ellwand_storage::OpenOptions {
        busy: Duration::from_millis(500),
        ..options(create)
    };
    Db::open(&format!("sqlite://{}", path.display()), &options)
}

#[test]
#[ignore = "run by a_full_disk_leaves_nothing_half_written on a disk of its own"]
fn inside_a_small_disk() {
    let path = disk().join("book.sqlite3");
    let db = open(&path, true).unwrap();
    db.write(Box::new(crate::draft::people)).unwrap();
    db.write(Box::new(sample::write)).unwrap();
    let page = "x".repeat(20_000);
    // Each job writes two suppliers; the disk is full in the middle of one.
    let mut kept = 1;
    let error = loop {
        let id = kept + 1;
        let done: Result<(), StorageError> = db.write(Box::new(|tx| {
            for id in [id, id + 1] {
                let row = ellwand_storage::Supplier {
                    note: page.clone(),
                    ..crate::draft::supplier(id, &id.to_string())
                };
                tx.save_supplier(&row)?;
            }
            Ok(())
        }));
        match done {
            Ok(()) => kept += 2,
            Err(error) => break error,
        }
        assert!(kept < 1_000, "the disk is never full");
    };
    assert!(matches!(error, StorageError::Full), "{error:?}");
    let count = |db: &Db| {
        let rows: Result<Vec<_>, StorageError> = db.read(|tx| tx.suppliers());
        i64::try_from(rows.unwrap().len()).unwrap()
    };
    assert_eq!(count(&db), kept, "all of a job or nothing");
    // Once more, and then with room again.
    let again: Result<i64, StorageError> = db.write(Box::new(|tx| {
        for id in 2_000..2_050 {
            tx.save_supplier(&ellwand_storage::Supplier {
                note: page.clone(),
                ..crate::draft::supplier(id, &id.to_string())
            })?;
        }
        tx.next_numbers("lot", 1)
    }));
    assert!(matches!(again, Err(StorageError::Full)), "{again:?}");
    let grown = Command::new("mount")
        .args(["-o", "remount,size=8m"])
        .arg(disk())
        .status()
        .unwrap();
    assert!(grown.success());
    let first: Result<i64, StorageError> = db.write(Box::new(|tx| tx.next_numbers("lot", 1)));
    assert_eq!(first.unwrap(), 1, "the handle works on");
    assert_eq!(count(&db), kept);
    drop(db);
    assert_eq!(
        count(&open(&path, false).unwrap()),
        kept,
        "and what was acknowledged is there"
    );
}

#[test]
#[ignore = "run by a_disk_without_room_for_a_book_is_full on a disk of its own"]
fn inside_a_tiny_disk() {
    let path = disk().join("book.sqlite3");
    let error = open(&path, true).err();
    assert!(matches!(error, Some(StorageError::Full)), "{error:?}");
    let grown = Command::new("mount")
        .args(["-o", "remount,size=8m"])
        .arg(disk())
        .status()
        .unwrap();
    assert!(grown.success());
    let db = open(&path, true).unwrap();
    db.write(Box::new(crate::draft::people)).unwrap();
    db.write(Box::new(sample::write)).unwrap();
}

#[test]
#[ignore = "run by a_disk_that_takes_no_writes_is_reported on a disk of its own"]
fn inside_a_read_only_disk() {
    let path = disk().join("book.sqlite3");
    let db = open(&path, true).unwrap();
    db.write(Box::new(crate::draft::people)).unwrap();
    db.write(Box::new(sample::write)).unwrap();
    drop(db);
    let remount = |how: &str| {
        let done = Command::new("mount")
            .args(["-o", &format!("remount,{how}")])
            .arg(disk())
            .status()
            .unwrap();
        assert!(done.success(), "{how}");
    };
    remount("ro");
    // SQLite needs a place for its shared memory to read a book with a write-ahead log.
    let error = open(&path, false).err();
    assert!(
        matches!(error, Some(StorageError::Unreachable(_))),
        "{error:?}"
    );
    let error = open(&disk().join("new.sqlite3"), true).err();
    assert!(
        matches!(
            error,
            Some(StorageError::Unreachable(_) | StorageError::ReadOnly)
        ),
        "{error:?}"
    );
    remount("rw");
    let rows: Result<Vec<_>, StorageError> = open(&path, false).unwrap().read(|tx| tx.suppliers());
    assert_eq!(rows.unwrap().len(), 1);
}
