//! Backups and moves by command.

use crate::program::{assert_refused, run, url};
use ellwand_contract::{bookings::ListBookings, purchases::Buy};
use ellwand_service::{Book, Caller, Clock, Options};
use serde_json::json;
use std::{fs, path::Path, process::Output};
use tempfile::TempDir;
use uuid::Uuid;

fn open(folder: &Path) -> Book {
    Book::open(
        &url(folder),
        Options {
            clock: Clock::system(),
            create: true,
        },
    )
    .unwrap()
}

fn buy(book: &Book) {
    let request = json!({"id": Uuid::now_v7(),
        "line": [{"material": {"kind": "trim", "name": "button"}, "paid": "3", "price": "1"}]});
    let act: Buy = serde_json::from_value(request).unwrap();
    book.call(&Caller::owner("test"), &act).unwrap();
}

fn bookings(folder: &Path) -> usize {
    open(folder)
        .call(&Caller::owner("test"), &ListBookings::default())
        .unwrap()
        .answer
        .bookings
        .len()
}

/// Bookings that a copy of the main file alone holds, opened in a folder where nothing else of it lies.
fn bookings_alone(folder: &Path, name: &str) -> usize {
    let elsewhere = TempDir::new().unwrap();
    fs::copy(folder.join(name), elsewhere.path().join("book.sqlite3")).unwrap();
    bookings(elsewhere.path())
}

#[track_caller]
fn done(output: &Output, words: &str) {
    let report = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(0), "{report}");
    assert!(report.contains(words), "{report}");
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

/// A backup is written while the book is open, never replaces anything, and is put in its place elsewhere.
#[test]
fn a_backup_is_made_while_people_work_and_put_in_its_place() {
    let (here, there) = (TempDir::new().unwrap(), TempDir::new().unwrap());
    let book = open(here.path());
    buy(&book);
    let file = there.path().join("monday.backup");
    let backup = || {
        run(
            here.path(),
            &[
                "backup",
                file.to_str().unwrap(),
                "--database",
                &url(here.path()),
            ],
        )
    };
    // What a run that was killed has left.
    fs::write(there.path().join("monday.backup.part"), "half").unwrap();
    done(&backup(), "read back and proved");
    assert_eq!(
        names(there.path()),
        ["monday.backup"],
        "and nothing else beside it"
    );
    buy(&book);
    assert_refused(&backup(), 1, "a backup never replaces anything");
    let restore = |file: &str| {
        run(
            there.path(),
            &["restore", file, "--database", &url(there.path())],
        )
    };
    assert_refused(
        &restore("tuesday.backup"),
        2,
        "there is no backup at tuesday.backup",
    );
    // Cut short to nothing, as by a full disk.
    fs::write(there.path().join("empty.backup"), "").unwrap();
    assert_refused(
        &restore("empty.backup"),
        2,
        "empty.backup: the file is empty",
    );
    fs::write(there.path().join("broken.backup"), "not a book").unwrap();
    let broken = restore("broken.backup");
    assert_refused(
        &broken,
        2,
        "broken.backup: the file is damaged or not a book",
    );
    done(&restore("monday.backup"), "Restored the book");
    assert_eq!(bookings_alone(there.path(), "monday.backup"), 1);
    assert_eq!(bookings_alone(there.path(), "book.sqlite3"), 1);
    assert_eq!((bookings(there.path()), bookings(here.path())), (1, 2));
    assert_refused(&restore("monday.backup"), 1, "not empty");
    assert!(
        !names(there.path())
            .iter()
            .any(|name| name.contains("restoring")),
        "{:?}",
        names(there.path())
    );
}

/// A backup of an older program is brought up to date as it is put in its place, and stays as it is itself.
#[test]
fn a_backup_of_an_older_program_is_restored() {
    use diesel::{Connection, SqliteConnection, connection::SimpleConnection};
    let (here, there) = (TempDir::new().unwrap(), TempDir::new().unwrap());
    buy(&open(here.path()));
    let path = here.path().join("book.sqlite3");
    let mut file = SqliteConnection::establish(path.to_str().unwrap()).unwrap();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../migrations/sqlite");
    let mut migrations: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    migrations.sort();
    let known = migrations.len();
    let newest = migrations.pop().unwrap();
    let back = fs::read_to_string(newest.join("down.sql")).unwrap();
    file.immediate_transaction(|file| file.batch_execute(&back))
        .unwrap();
    for statement in [
        "DELETE FROM __diesel_schema_migrations \
         WHERE version = (SELECT MAX(version) FROM __diesel_schema_migrations)",
        &format!("PRAGMA user_version = {}", known - 1),
        "PRAGMA journal_mode = DELETE",
    ] {
        file.batch_execute(statement).unwrap();
    }
    drop(file);
    let bytes = fs::read(&path).unwrap();
    done(
        &run(
            there.path(),
            &[
                "restore",
                path.to_str().unwrap(),
                "--database",
                &url(there.path()),
            ],
        ),
        "Restored",
    );
    assert_eq!(bookings(there.path()), 1);
    assert_eq!(fs::read(&path).unwrap(), bytes);
}

#[test]
fn a_book_is_moved_when_nobody_else_has_it_open() {
    let (here, there) = (TempDir::new().unwrap(), TempDir::new().unwrap());
    let book = open(here.path());
    buy(&book);
    let go = || {
        run(
            here.path(),
            &[
                "move",
                "--from",
                &url(here.path()),
                "--to",
                &url(there.path()),
            ],
        )
    };
    assert_refused(&go(), 3, &format!("process {}", std::process::id()));
    assert!(!there.path().join("book.sqlite3").exists());
    drop(book);
    let moved = go();
    done(&moved, "Moved the book");
    let listed = String::from_utf8_lossy(&moved.stdout);
    assert!(
        listed
            .lines()
            .any(|line| line.starts_with("movements ") && line.contains(" 2 rows")),
        "{listed}"
    );
    assert_eq!(bookings_alone(there.path(), "book.sqlite3"), 1);
    assert_eq!((bookings(there.path()), bookings(here.path())), (1, 1));
    assert_refused(&go(), 1, "not empty");
}

#[test]
fn a_book_that_is_not_in_order_is_not_moved() {
    use diesel::{Connection, SqliteConnection, connection::SimpleConnection};
    let (here, there) = (TempDir::new().unwrap(), TempDir::new().unwrap());
    buy(&open(here.path()));
    let mut file =
        SqliteConnection::establish(here.path().join("book.sqlite3").to_str().unwrap()).unwrap();
    file.batch_execute("UPDATE layers SET value = value + 1")
        .unwrap();
    drop(file);
    let output = run(
        here.path(),
        &[
            "move",
            "--from",
            &url(here.path()),
            "--to",
            &url(there.path()),
        ],
    );
    assert_refused(&output, 1, "not in order: 2 findings");
}

/// What servers that were killed have left: the rows are in the log beside the file, and are read with it.
#[test]
fn a_backup_with_its_rows_in_the_log_is_restored_whole() {
    let (here, left, there) = (
        TempDir::new().unwrap(),
        TempDir::new().unwrap(),
        TempDir::new().unwrap(),
    );
    let book = open(here.path());
    buy(&book);
    for name in ["book.sqlite3", "book.sqlite3-wal"] {
        fs::copy(here.path().join(name), left.path().join(name)).unwrap();
    }
    let log = left.path().join("book.sqlite3-wal");
    let before = (
        fs::read(left.path().join("book.sqlite3")).unwrap(),
        fs::read(&log).unwrap(),
    );
    assert!(!before.1.is_empty());
    let source = left.path().join("book.sqlite3");
    let restored = run(
        there.path(),
        &[
            "restore",
            source.to_str().unwrap(),
            "--database",
            &url(there.path()),
        ],
    );
    done(&restored, "Restored the book");
    assert_eq!(
        (fs::read(&source).unwrap(), fs::read(&log).unwrap()),
        before,
        "it stays as it was"
    );
    assert_eq!(bookings_alone(there.path(), "book.sqlite3"), 1);
    // Without its file the log alone is no backup.
    fs::write(&source, "").unwrap();
    let empty = TempDir::new().unwrap();
    let refused = run(
        empty.path(),
        &[
            "restore",
            source.to_str().unwrap(),
            "--database",
            &url(empty.path()),
        ],
    );
    assert_refused(&refused, 2, "book.sqlite3-wal beside it has the bookings");
    assert_eq!(fs::read(&log).unwrap(), before.1);
    assert_eq!(names(empty.path()), [""; 0]);
}

/// From a server's database into a file: the file is whole in itself.
#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn a_book_that_is_moved_from_postgresql_is_whole_in_its_one_file() {
    let served = crate::place::Place::postgresql();
    let there = TempDir::new().unwrap();
    let book = Book::open(
        &served.url,
        Options {
            clock: Clock::system(),
            create: true,
        },
    )
    .unwrap();
    buy(&book);
    drop(book);
    done(
        &run(
            there.path(),
            &["move", "--from", &served.url, "--to", &url(there.path())],
        ),
        "Moved the book",
    );
    assert_eq!(names(there.path()), ["book.sqlite3", "book.sqlite3.lock"]);
    assert_eq!(bookings_alone(there.path(), "book.sqlite3"), 1);
}
