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

/// Makes a book in a file one of the program before the newest migration.
fn take_newest_migration_back(path: &Path) {
    use diesel::{Connection, SqliteConnection, connection::SimpleConnection};
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
}

/// A backup of an older program is brought up to date as it is put in its place, and stays as it is itself.
#[test]
fn a_backup_of_an_older_program_is_restored() {
    let (here, there) = (TempDir::new().unwrap(), TempDir::new().unwrap());
    buy(&open(here.path()));
    let path = here.path().join("book.sqlite3");
    take_newest_migration_back(&path);
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

/// A night's backup is named after its instant; the oldest of a folder go once there are more than are kept, others stay.
#[test]
fn nightly_backups_keep_the_newest_of_their_folder() {
    let (here, there) = (TempDir::new().unwrap(), TempDir::new().unwrap());
    buy(&open(here.path()));
    let folder = there.path().join("nights");
    fs::create_dir(&folder).unwrap();
    let others = [
        "before-upgrade-2026-01-01T020000Z.backup",
        "ellwand-list.backup",
        "monday.backup",
    ];
    let old = [
        "ellwand-2026-01-01T020000Z.backup",
        "ellwand-2026-01-02T020000Z.backup",
        "ellwand-2026-01-03T020000Z.backup",
    ];
    for name in others.iter().chain(&old) {
        fs::write(folder.join(name), name).unwrap();
    }
    let into = |more: &[&str]| {
        let database = url(here.path());
        let line = [
            &[
                "backup",
                "--into",
                folder.to_str().unwrap(),
                "--database",
                &database,
            ][..],
            more,
        ];
        run(here.path(), &line.concat())
    };
    let quiet = into(&["--keep", "2", "--quiet"]);
    done(&quiet, "");
    assert!(quiet.stdout.is_empty() && quiet.stderr.is_empty());
    let mut left = names(&folder);
    left.retain(|name| !others.contains(&name.as_str()));
    assert_eq!((left.len(), left[0].as_str()), (2, old[2]), "{left:?}");
    assert_eq!(bookings_alone(&folder, &left[1]), 1);
    assert_eq!(names(&folder).len(), 5, "what is not a night's stays");
    // Without a book nothing is written and nothing removed, and a quiet run speaks.
    let database = url(there.path());
    let folder_name = folder.to_str().unwrap();
    let failed = [
        "backup",
        "--into",
        folder_name,
        "--keep",
        "1",
        "--quiet",
        "--database",
        &database,
    ];
    assert_refused(&run(here.path(), &failed), 2, "there is no book");
    assert_eq!(names(&folder).len(), 5);
    let both = run(
        here.path(),
        &[
            "backup",
            "x.backup",
            "--into",
            folder_name,
            "--database",
            &database,
        ],
    );
    assert_refused(&both, 2, "cannot be used with");
    assert_refused(&run(here.path(), &["backup", "--keep", "0"]), 2, "0");
}

/// Before an older book is brought up to date it is kept as it was; a new one and one that is up to date need no copy.
#[test]
fn an_upgrade_keeps_the_book_as_it_was() {
    let here = TempDir::new().unwrap();
    let kept = here.path().join("kept");
    let database = url(here.path());
    let migrate = || {
        run(
            here.path(),
            &[
                "migrate",
                "--backup-into",
                kept.to_str().unwrap(),
                "--database",
                &database,
            ],
        )
    };
    done(&migrate(), "is up to date");
    buy(&open(here.path()));
    done(&migrate(), "is up to date");
    assert!(!kept.exists());
    take_newest_migration_back(&here.path().join("book.sqlite3"));
    done(&migrate(), "Kept the book as it was in ");
    let files = names(&kept);
    assert_eq!(files.len(), 1);
    assert!(files[0].starts_with("before-upgrade-"), "{files:?}");
    assert_eq!(bookings(here.path()), 1);
    let there = TempDir::new().unwrap();
    done(
        &run(
            there.path(),
            &[
                "restore",
                kept.join(&files[0]).to_str().unwrap(),
                "--database",
                &url(there.path()),
            ],
        ),
        "Restored",
    );
    assert_eq!(bookings(there.path()), 1);
}
