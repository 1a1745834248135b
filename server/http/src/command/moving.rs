//! Whole books: moving one to another database, putting a backup in its place, and how a copy is proved.

use super::CommandError;
use crate::config::{Config, DatabaseUrl};
use ellwand_contract::{Problem, ProblemType, audit::RunAudit, text::counted};
use ellwand_service::{Book, Caller, Clock, Options, TableContent, snapshot};
use std::{
    fs,
    io::{self, Write},
    path::{Path, PathBuf},
};

/// Runs `move`.
pub(super) fn book(from: &DatabaseUrl, to: &DatabaseUrl) -> Result<u8, CommandError> {
    from.check()?;
    to.check()?;
    let source = Book::open_alone(from.expose(), options(false))?;
    prove(&source, &format!("the book at {from}"))?;
    let target = Book::open_alone(to.expose(), options(true))?;
    let copied = source.copy_into(&target)?;
    settle(&target, to, &copied, &format!("the copy at {to}"))?;
    tell(&copied, &format!("Moved the book to {to}"))?;
    writeln!(
        io::stderr(),
        "The old book at {from} is unchanged: point everyone to the new one, then put it away."
    )?;
    Ok(0)
}

/// Runs `restore`.
pub(super) fn restore(config: &Config, file: &Path) -> Result<u8, CommandError> {
    let place = config.database()?;
    // A backup of an older program is brought up to date in a copy: it stays as it is itself.
    let copy = beside(file, ".restoring");
    remove(&copy)?;
    if !file.exists() {
        let problem = Problem::new(
            ProblemType::NotABook,
            format!("there is no backup at {}", file.display()),
        );
        return Err(problem.hint("check the path").into());
    }
    let restored = snapshot(file, &copy)
        .map_err(|problem| with_file_name(file, problem).into())
        .and_then(|()| restored(file, &copy, place));
    remove(&copy)?;
    tell(&restored?, &format!("Restored the book at {place}"))?;
    Ok(0)
}

fn restored(
    file: &Path,
    copy: &Path,
    place: &DatabaseUrl,
) -> Result<Vec<TableContent>, CommandError> {
    let named = |problem| with_file_name(file, problem);
    // As it is; only one of an older program is brought up to date, and what holds nothing is no backup.
    let source = match Book::open_alone(&url(copy)?, options(false)) {
        Err(problem) if problem.kind == ProblemType::Unavailable => {
            Book::open_alone(&url(copy)?, options(true)).map_err(named)?
        }
        opened => opened.map_err(named)?,
    };
    prove(&source, "the backup")?;
    // All of it can be read, before anything is made at the new place.
    let _ = source.content().map_err(named)?;
    let target = Book::open_alone(place.expose(), options(true))?;
    let copied = source.copy_into(&target)?;
    settle(&target, place, &copied, "the restored book")?;
    Ok(copied)
}

fn with_file_name(file: &Path, mut problem: Problem) -> Problem {
    problem.detail = format!("{}: {}", file.display(), problem.detail);
    problem
}

/// Closes a book that was filled, and proves it: one in a file by a copy of that file alone.
fn settle(
    target: &Book,
    place: &DatabaseUrl,
    copied: &[TableContent],
    what: &str,
) -> Result<(), CommandError> {
    match place.expose().strip_prefix("sqlite://") {
        None => prove(target, what),
        Some(path) => {
            target.close()?;
            prove_file(Path::new(path), copied, what)
        }
    }
}

/// Proves that a file holds all of a book in itself: a copy of it is opened in a folder where nothing else of it lies.
pub(super) fn prove_file(
    file: &Path,
    copied: &[TableContent],
    what: &str,
) -> Result<(), CommandError> {
    let folder = beside(file, ".proof");
    remove_folder(&folder)?;
    fs::create_dir(&folder)?;
    let copy = folder.join("book.sqlite3");
    let proved = prove_copy(file, &copy, copied, what);
    remove_folder(&folder)?;
    proved
}

fn prove_copy(
    file: &Path,
    copy: &Path,
    copied: &[TableContent],
    what: &str,
) -> Result<(), CommandError> {
    fs::copy(file, copy)?;
    let wrong = |cause: &str| {
        Problem::new(
            ProblemType::NotABook,
            format!("{what} does not match what was written to it{cause}"),
        )
        .hint("try another disk")
    };
    let written = Book::open_alone(&url(copy)?, options(false))
        .map_err(|problem| wrong(&format!(": {}", problem.detail)))?;
    if written.content()? != copied {
        return Err(wrong("").into());
    }
    prove(&written, what)
}

fn remove_folder(folder: &Path) -> io::Result<()> {
    match fs::remove_dir_all(folder) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
        _ => Ok(()),
    }
}

pub(super) fn options(create: bool) -> Options {
    Options {
        clock: Clock::system(),
        create,
    }
}

/// Refuses a book whose rules do not hold.
fn prove(book: &Book, what: &str) -> Result<(), CommandError> {
    let findings = book
        .call(&Caller::owner("audit"), &RunAudit {})?
        .answer
        .findings;
    let Some(first) = findings.first() else {
        return Ok(());
    };
    let detail = format!(
        "{what} is not in order: {}, the first: {}",
        counted(findings.len(), "finding"),
        first.detail
    );
    Err(Problem::new(ProblemType::WrongState, detail)
        .hint("see all of them with ellwand-server audit")
        .into())
}

pub(super) fn tell(copied: &[TableContent], done: &str) -> io::Result<()> {
    let mut out = io::stdout().lock();
    for content in copied {
        writeln!(
            out,
            "{:<18} {:>10} rows  {}",
            content.table, content.rows, content.hash
        )?;
    }
    let rows: u64 = copied.iter().map(|content| content.rows).sum();
    let (rows, tables) = (counted(rows, "row"), counted(copied.len(), "table"));
    writeln!(
        io::stderr(),
        "{done}: {rows} in {tables}, read back and proved."
    )
}

pub(super) fn url(path: &Path) -> Result<String, CommandError> {
    let path = std::path::absolute(path)?;
    Ok(format!("sqlite://{}", path.display()))
}

/// `book.backup` → `book.backup.part`.
pub(super) fn beside(file: &Path, ending: &str) -> PathBuf {
    let mut name = file.as_os_str().to_owned();
    name.push(ending);
    PathBuf::from(name)
}

/// Removes a file of ours and what SQLite keeps beside it.
pub(super) fn remove(path: &Path) -> io::Result<()> {
    for ending in ["", "-wal", "-shm", ".lock", ".turn"] {
        match fs::remove_file(beside(path, ending)) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
            _ => {}
        }
    }
    Ok(())
}
