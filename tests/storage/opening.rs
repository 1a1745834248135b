//! Opening: what is a book, what is not, and what is said about it.

use crate::database::{TestDatabase, options};
use diesel::connection::{Connection, SimpleConnection};
use ellwand_storage::{Db, MIGRATIONS_KNOWN, OpenOptions, StorageError};
use std::{fs, path::Path, time::Duration};
use tempfile::TempDir;

fn open(path: &Path, create: bool) -> Result<Db, StorageError> {
    Db::open(
        &format!("sqlite://{}", path.display()),
        &OpenOptions {
            busy: Duration::from_millis(300),
            ..options(create)
        },
    )
}

/// The error of an opening that must fail.
#[track_caller]
fn refusal(path: &Path, create: bool) -> StorageError {
    open(path, create).err().expect("this must not be opened")
}

fn listing(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn a_book_that_is_not_there_is_refused_and_not_made() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("deep/book.sqlite3");
    let error = refusal(&path, false);
    assert!(
        matches!(&error, StorageError::Absent(place) if place.ends_with("deep/book.sqlite3")),
        "{error:?}"
    );
    assert_eq!(
        listing(folder.path()),
        [""; 0],
        "neither the file, nor its folder, nor a lock"
    );
    drop(open(&path, true).unwrap());
    drop(open(&path, false).unwrap());
}

/// A book holds prices and names: whoever is not of its owner's group reads nothing of it.
#[cfg(unix)]
#[test]
fn a_new_book_is_closed_to_strangers() {
    use std::os::unix::fs::PermissionsExt;
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("book.sqlite3");
    let db = open(&path, true).unwrap();
    let number: Result<i64, StorageError> = db.write(Box::new(|tx| tx.next_numbers("lot", 1)));
    assert_eq!(number.unwrap(), 1);
    for name in [
        "book.sqlite3",
        "book.sqlite3-wal",
        "book.sqlite3-shm",
        "book.sqlite3.lock",
    ] {
        let mode = fs::metadata(folder.path().join(name))
            .unwrap()
            .permissions()
            .mode();
        assert_eq!(mode & 0o007, 0, "{name}: {mode:o}");
    }
}

#[test]
fn an_address_needs_its_scheme() {
    for address in [
        "book.sqlite3",
        "/home/book.sqlite3",
        "",
        "sqlite:/book",
        "sqlite://",
        "sqlite:///books/",
        "mysql://host/book",
    ] {
        for create in [false, true] {
            let error = Db::open(address, &options(create)).err();
            assert!(
                matches!(&error, Some(StorageError::Address(text)) if text == address),
                "{address}: {error:?}"
            );
        }
    }
}

/// Names that mean something to SQLite are names of files here.
#[test]
fn a_file_may_have_any_name() {
    let folder = TempDir::new().unwrap();
    for name in [
        ":memory:",
        "file:book?mode=memory",
        "half 50%.sqlite3",
        "a#b?c.sqlite3",
        "%41",
        "Bücher",
        "it's",
    ] {
        let path = folder.path().join(name);
        let db = open(&path, true).unwrap();
        let first: Result<i64, StorageError> = db.write(Box::new(|tx| tx.next_numbers("lot", 1)));
        assert_eq!(first.unwrap(), 1, "{name}");
        drop(db);
        assert!(path.is_file(), "{name} in {:?}", listing(folder.path()));
        let second: Result<i64, StorageError> = open(&path, false)
            .unwrap()
            .write(Box::new(|tx| tx.next_numbers("lot", 1)));
        assert_eq!(second.unwrap(), 2, "{name}");
    }
    assert!(!folder.path().join("A").exists());
}

#[test]
fn what_is_no_book_is_left_as_it_is() {
    let folder = TempDir::new().unwrap();
    let text = folder.path().join("notes.txt");
    fs::write(&text, "3 m of navy wool, 60 euros\n".repeat(200)).unwrap();
    let other = folder.path().join("other.sqlite3");
    let mut conn = diesel::SqliteConnection::establish(other.to_str().unwrap()).unwrap();
    conn.batch_execute("CREATE TABLE lots (id INTEGER PRIMARY KEY); INSERT INTO lots VALUES (1);")
        .unwrap();
    drop(conn);
    let marked = folder.path().join("marked.sqlite3");
    let mut conn = diesel::SqliteConnection::establish(marked.to_str().unwrap()).unwrap();
    conn.batch_execute("PRAGMA application_id = 7; PRAGMA user_version = 3;")
        .unwrap();
    drop(conn);
    for path in [&text, &other, &marked] {
        let before = fs::read(path).unwrap();
        for create in [false, true] {
            let error = refusal(path, create);
            assert!(
                matches!(error, StorageError::Damaged(_)),
                "{}: {error:?}",
                path.display()
            );
        }
        assert_eq!(fs::read(path).unwrap(), before, "{}", path.display());
    }
}

#[test]
fn a_folder_is_no_book() {
    let folder = TempDir::new().unwrap();
    for create in [false, true] {
        let error = refusal(folder.path(), create);
        assert!(matches!(error, StorageError::Unreachable(_)), "{error:?}");
    }
}

#[test]
fn a_folder_that_takes_no_files_is_named() {
    if !Path::new("/proc/self").exists() {
        crate::mounts::left_out("a folder that takes no files: there is no /proc");
        return;
    }
    let error = refusal(Path::new("/proc/ellwand/book.sqlite3"), true);
    assert!(
        matches!(&error, StorageError::Unreachable(text) if text.contains("/proc/ellwand")),
        "{error:?}"
    );
}

/// Cut off at several places, and overwritten in the middle: refused when it is opened or when it is read.
#[test]
fn a_damaged_book_is_reported_as_damaged() {
    let whole = TestDatabase::sqlite();
    crate::sample::stock(&whole);
    let path = whole.path().unwrap();
    whole.outside("PRAGMA wal_checkpoint(TRUNCATE)");
    let bytes = fs::read(&path).unwrap();
    let folder = TempDir::new().unwrap();
    let damaged = folder.path().join("damaged.sqlite3");
    let read = |what: &str| {
        let error = match open(&damaged, false) {
            Err(error) => error,
            Ok(db) => db
                .read(|tx| tx.audit_pieces(0, 10).and(tx.pieces_of_lot(1)))
                .expect_err(what),
        };
        assert!(
            matches!(error, StorageError::Damaged(_)),
            "{what}: {error:?}"
        );
    };
    for length in [50, 600, 4_096, bytes.len() / 2, bytes.len() - 4_096] {
        fs::write(&damaged, &bytes[..length]).unwrap();
        read(&format!("cut off after {length} bytes"));
    }
    let mut garbled = bytes.clone();
    garbled[4_096..].fill(0xa5);
    fs::write(&damaged, &garbled).unwrap();
    read("garbled");
}

#[test]
fn a_book_that_another_program_migrates_names_it() {
    let book = TestDatabase::sqlite();
    let path = book.path().unwrap();
    let url = book.url.clone();
    let copy = path.with_file_name("copy.sqlite3");
    fs::copy(&path, &copy).unwrap();
    let lock_path = path.with_file_name("copy.sqlite3.lock");
    let own = std::process::id();
    fs::write(&lock_path, format!("process {own} (migrating)")).unwrap();
    let lock = fs::File::options()
        .read(true)
        .write(true)
        .open(&lock_path)
        .unwrap();
    lock.lock().unwrap();
    for create in [false, true] {
        let error = refusal(&copy, create);
        let named = format!("process {own} (migrating)");
        assert!(
            matches!(&error, StorageError::InUse(holder) if *holder == named),
            "{error:?}"
        );
    }
    drop(lock);
    drop(open(&copy, false).unwrap());
    drop(Db::open(&url, &options(false)).unwrap());
}

/// Migrating needs the book alone; whoever has it open is named, and not one that migrated it long ago.
#[test]
fn an_open_book_is_not_migrated() {
    let book = TestDatabase::sqlite();
    let path = book.path().unwrap();
    fs::write(
        path.with_file_name("book.sqlite3.lock"),
        "process 999999999 (migrating)",
    )
    .unwrap();
    book.outside(&format!("PRAGMA user_version = {}", MIGRATIONS_KNOWN - 1));
    let error = refusal(&path, true);
    let StorageError::InUse(holder) = &error else {
        panic!("{error:?}")
    };
    if cfg!(target_os = "linux") {
        assert_eq!(*holder, format!("process {}", std::process::id()));
    }
    drop(book.db.clone());
}

/// The lock file names nobody once the migration is over.
#[test]
fn a_migration_leaves_no_name() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("book.sqlite3");
    let db = open(&path, true).unwrap();
    assert_eq!(
        fs::read_to_string(folder.path().join("book.sqlite3.lock")).unwrap(),
        ""
    );
    drop(db);
}

#[test]
fn a_book_that_is_taken_away_is_not_made_anew() {
    let book = TestDatabase::sqlite();
    let path = book.path().unwrap();
    let db = open(&path, false).unwrap();
    for name in listing(path.parent().unwrap()) {
        fs::remove_file(path.with_file_name(name)).unwrap();
    }
    let done: Result<i64, StorageError> = db.write(Box::new(|tx| tx.next_numbers("lot", 1)));
    assert!(
        matches!(done, Err(StorageError::Unreachable(_))),
        "{done:?}"
    );
    assert!(!path.exists());
}

/// The number that the book gives next, from a copy of its main file alone in another folder.
#[track_caller]
fn next_of_a_copy(path: &Path) -> i64 {
    let folder = TempDir::new().unwrap();
    let copy = folder.path().join("alone.sqlite3");
    fs::copy(path, &copy).unwrap();
    let next: Result<i64, StorageError> = open(&copy, false)
        .unwrap()
        .write(Box::new(|tx| tx.next_numbers("lot", 1)));
    next.unwrap()
}

/// SQLite documentation, "Write-Ahead Logging", 4: the log is moved into the file when the last connection is closed.
#[test]
fn a_book_that_was_closed_is_whole_in_its_one_file() {
    let book = TestDatabase::sqlite();
    let path = book.path().unwrap();
    let TestDatabase { db, .. } = &book;
    db.close().unwrap();
    for round in 1..=10 {
        let db = open(&path, false).unwrap();
        let number: Result<i64, StorageError> = db.write(Box::new(|tx| tx.next_numbers("lot", 1)));
        assert_eq!(number.unwrap(), round);
        // More readers than one, on threads that outlive what they asked.
        std::thread::scope(|scope| {
            for _ in 0..3 {
                scope.spawn(|| db.read(|tx| tx.suppliers()).unwrap());
            }
        });
        let other = db.clone();
        if round % 2 == 0 {
            db.close().unwrap();
            let late: Result<Vec<_>, StorageError> = other.read(|tx| tx.suppliers());
            assert!(
                matches!(late, Err(StorageError::Unreachable(_))),
                "closed for every clone: {late:?}"
            );
        }
        drop((db, other));
        assert_eq!(next_of_a_copy(&path), round + 1);
        assert!(!path.with_file_name("book.sqlite3-wal").exists());
    }
}

/// A new book has its tables in its own file before anything is booked: moved alone it never looks like an empty one.
#[test]
fn a_new_book_has_its_tables_in_its_own_file() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("book.sqlite3");
    let db = open(&path, true).unwrap();
    assert_eq!(next_of_a_copy(&path), 1);
    drop(db);
}

/// What lies in the log would be thrown away by SQLite where the file has no byte, and passed over where it has others.
#[test]
fn a_file_without_tables_beside_a_log_is_not_empty() {
    let folder = TempDir::new().unwrap();
    let (path, log) = (
        folder.path().join("book.sqlite3"),
        folder.path().join("book.sqlite3-wal"),
    );
    let db = open(&path, true).unwrap();
    let number: Result<i64, StorageError> = db.write(Box::new(|tx| tx.next_numbers("lot", 1)));
    assert_eq!(number.unwrap(), 1);
    let booked = fs::read(&log).unwrap();
    assert!(!booked.is_empty());
    drop(db);
    let marked = folder.path().join("marked");
    let mut conn = diesel::SqliteConnection::establish(marked.to_str().unwrap()).unwrap();
    conn.batch_execute("PRAGMA application_id = 1164733559; PRAGMA journal_mode = WAL;")
        .unwrap();
    drop(conn);
    for main in [None, Some(Vec::new()), Some(fs::read(&marked).unwrap())] {
        let _ = fs::remove_file(&path);
        if let Some(bytes) = &main {
            fs::write(&path, bytes).unwrap();
        }
        fs::write(&log, &booked).unwrap();
        for create in [false, true] {
            if main.is_none() && !create {
                continue;
            }
            let error = refusal(&path, create);
            let StorageError::Damaged(text) = &error else {
                panic!("{error:?}")
            };
            assert!(
                text.contains("book.sqlite3-wal beside it has the bookings"),
                "{text}"
            );
        }
        assert_eq!(fs::read(&log).unwrap(), booked, "the log is kept");
    }
}

#[test]
fn every_connection_is_durable_and_minds_foreign_keys() {
    let book = TestDatabase::sqlite();
    let asked = |name: &str| format!("SELECT CAST({name} AS TEXT) AS text FROM pragma_{name}");
    // Nested reads: as many connections as the pool has.
    let mut seen = 0;
    nested(&book, options(false).connections, &mut |tx| {
        seen += 1;
        // WAL, FULL (2), on.
        let found = ["journal_mode", "synchronous", "foreign_keys"]
            .map(|name| crate::database::texts(tx, &asked(name)));
        for (found, expected) in found.into_iter().zip(["wal", "2", "1"]) {
            assert_eq!(found.unwrap(), [expected]);
        }
    });
    assert_eq!(seen, options(false).connections);
    // A copy that lost its write-ahead log gets it back.
    book.outside("PRAGMA wal_checkpoint(TRUNCATE)");
    let copy = book.path().unwrap().with_file_name("copy.sqlite3");
    book.outside(&format!("VACUUM INTO '{}'", copy.display()));
    let db = open(&copy, false).unwrap();
    let mode: Result<_, StorageError> =
        db.read(|tx| crate::database::texts(tx, &asked("journal_mode")));
    assert_eq!(mode.unwrap(), ["wal"]);
}

/// `.cargo/config.toml` asks for it; without it a statement with `LIMIT ?` is prepared anew each time it is asked.
#[test]
fn plans_do_not_hang_on_bound_values() {
    let book = TestDatabase::sqlite();
    let asked = "SELECT compile_options AS text FROM pragma_compile_options WHERE compile_options IN ('ENABLE_QPSG', 'STMTJRNL_SPILL=4194304') ORDER BY 1";
    let found: Result<_, StorageError> = book.db.read(|tx| crate::database::texts(tx, asked));
    assert_eq!(found.unwrap(), ["ENABLE_QPSG", "STMTJRNL_SPILL=4194304"]);
}

fn nested(book: &TestDatabase, depth: u32, look: &mut dyn FnMut(&mut ellwand_storage::Tx<'_>)) {
    if depth > 0 {
        book.get(|tx| {
            look(tx);
            nested(book, depth - 1, look);
            Ok(())
        });
    }
}

/// Raises or lowers what the schema says of itself.
fn set_version(book: &TestDatabase, newer: bool) {
    match (book.is_sqlite(), newer) {
        (true, true) => book.outside(&format!("PRAGMA user_version = {}", MIGRATIONS_KNOWN + 1)),
        (true, false) => book.outside(&format!("PRAGMA user_version = {}", MIGRATIONS_KNOWN - 1)),
        (false, true) => book
            .outside("INSERT INTO __diesel_schema_migrations (version) VALUES ('20991231235959')"),
        (false, false) => crate::migrations::step(book, false),
    }
}

pub fn a_newer_schema_is_refused(book: &TestDatabase) {
    set_version(book, true);
    for create in [false, true] {
        let error = Db::open(&book.url, &options(create)).err();
        let (newer, known) = (MIGRATIONS_KNOWN + 1, MIGRATIONS_KNOWN);
        assert!(
            matches!(&error, Some(StorageError::Newer { found, known: k }) if (*found, *k) == (newer, known)),
            "{error:?}"
        );
    }
}

pub fn an_older_schema_is_brought_up_only_when_asked(book: &TestDatabase) {
    if book.is_sqlite() {
        crate::migrations::step(book, false);
    }
    set_version(book, false);
    let (url, place) = book.copy();
    let older = MIGRATIONS_KNOWN - 1;
    let error = Db::open(&url, &options(false)).err();
    assert!(
        matches!(&error, Some(StorageError::Older { found, .. }) if *found == older),
        "{error:?}"
    );
    let db = Db::open(&url, &options(true)).unwrap();
    let garments: Result<Vec<_>, StorageError> = db.read(|tx| tx.garments(None, None, i64::MAX, 1));
    assert_eq!(garments.unwrap(), []);
    drop((db, Db::open(&url, &options(false)).unwrap(), place));
}

pub fn the_schema_of_another_program_is_refused(book: &TestDatabase) {
    let (url, place) = book.empty();
    book.elsewhere(&url, "CREATE TABLE accounts (id BIGINT PRIMARY KEY)");
    for create in [false, true] {
        let error = Db::open(&url, &options(create)).err();
        assert!(matches!(error, Some(StorageError::Damaged(_))), "{error:?}");
    }
    drop(place);
}
