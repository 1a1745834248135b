//! Backups: one by name, or one of each night in a folder that keeps the newest; and the one before an upgrade.

use super::{
    CommandError,
    moving::{beside, options, prove_file, remove, tell, url},
    open,
};
use crate::config::{BackupArguments, Config};
use ellwand_contract::{
    Problem, ProblemType,
    problem::{BECAUSE, OLDER_SCHEMA},
};
use ellwand_service::{Book, Clock, TableContent, snapshot};
use std::{
    fs::{self, File},
    io::{self, Write},
    num::NonZeroUsize,
    path::{Path, PathBuf},
};

/// Begin of the names of backups in a folder; their instants sort as texts.
const NIGHTLY: &str = "ellwand-";
/// Begin of the name of what a book was before an upgrade; these are never removed.
const UPGRADE: &str = "before-upgrade-";
const ENDING: &str = ".backup";
/// An instant as it stands in a name, in UTC.
const STAMP: &str = "%Y-%m-%dT%H%M%SZ";

/// Runs `backup`.
pub(super) fn run(config: &Config, arguments: &BackupArguments) -> Result<u8, CommandError> {
    // Before a folder is made: a mistyped address leaves nothing behind.
    let source = open(config, false)?;
    let file = match (&arguments.file, &arguments.into) {
        (Some(file), _) => file.clone(),
        (None, Some(folder)) => named(folder, NIGHTLY)?,
        (None, None) => return Err(placeless().into()),
    };
    let copied = write(&source, &file)?;
    let removed = match (&arguments.into, arguments.keep) {
        (Some(folder), Some(keep)) => keep_newest(folder, keep)?,
        _ => 0,
    };
    if arguments.quiet {
        return Ok(0);
    }
    tell(
        &copied,
        &format!("Backed the book up to {}", file.display()),
    )?;
    if removed > 0 {
        writeln!(io::stderr(), "Removed the oldest {removed} of the folder.")?;
    }
    Ok(0)
}

/// Copies the book as it is now into a new file, and proves it.
fn write(source: &Book, file: &Path) -> Result<Vec<TableContent>, CommandError> {
    if file.exists() {
        return Err(there_is(file).into());
    }
    let part = beside(file, ".part");
    remove(&part)?;
    let target = Book::open_alone(&url(&part)?, options(true))?;
    let copied = source.copy_into(&target)?;
    target.close()?;
    prove_file(&part, &copied, "the backup")?;
    name(&part, file)?;
    Ok(copied)
}

/// Gives a finished copy its name, for good.
fn name(part: &Path, file: &Path) -> Result<(), CommandError> {
    File::open(part)?.sync_all()?;
    // Another file of this name may have come meanwhile: a link is refused then, where a renaming would replace it.
    if fs::hard_link(part, file).is_err() {
        if file.exists() {
            return Err(there_is(file).into());
        }
        fs::rename(part, file)?;
    }
    remove(part)?;
    if let Some(folder) = file
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty())
    {
        File::open(folder)?.sync_all()?;
    }
    Ok(())
}

/// A new name in a folder, which is made, for its owner alone, if it is not there.
fn named(folder: &Path, begin: &str) -> io::Result<PathBuf> {
    let mut builder = fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.create(folder)?;
    Ok(folder.join(format!(
        "{begin}{}{ENDING}",
        Clock::system().now().format(STAMP)
    )))
}

/// Removes the oldest nightly backups of a folder beyond `keep`, and returns how many. Other files are left alone.
fn keep_newest(folder: &Path, keep: NonZeroUsize) -> io::Result<usize> {
    let mut ours = Vec::new();
    for entry in fs::read_dir(folder)? {
        let name = entry?.file_name();
        if name.to_str().is_some_and(is_nightly) {
            ours.push(name);
        }
    }
    ours.sort();
    let surplus = ours.len().saturating_sub(keep.get());
    for name in ours.iter().take(surplus) {
        fs::remove_file(folder.join(name))?;
    }
    Ok(surplus)
}

fn is_nightly(name: &str) -> bool {
    name.strip_prefix(NIGHTLY)
        .and_then(|rest| rest.strip_suffix(ENDING))
        .is_some_and(|stamp| chrono::NaiveDateTime::parse_from_str(stamp, STAMP).is_ok())
}

/// Copies a book of an older program as it is, before it is brought up to date; what is new or up to date needs none.
pub(super) fn before_upgrade(config: &Config, folder: &Path) -> Result<(), CommandError> {
    let place = config.database()?;
    match Book::open(place.expose(), options(false)) {
        Err(problem)
            if problem
                .numbers
                .get(BECAUSE)
                .is_some_and(|cause| cause == OLDER_SCHEMA) => {}
        // Whatever else is the matter, migrating says it.
        Ok(_) | Err(_) => return Ok(()),
    }
    let Some(book) = place.expose().strip_prefix("sqlite://") else {
        let text = format!(
            "the book at {place} is of an older program, and --backup-into copies books in files only"
        );
        return Err(Problem::new(ProblemType::WrongState, text)
            .hint("back it up with pg_dump --format=custom, then run ellwand-server migrate without --backup-into")
            .into());
    };
    let file = named(folder, UPGRADE)?;
    let part = beside(&file, ".part");
    remove(&part)?;
    snapshot(Path::new(book), &part)?;
    name(&part, &file)?;
    writeln!(
        io::stderr(),
        "Kept the book as it was in {}.",
        file.display()
    )?;
    Ok(())
}

fn there_is(file: &Path) -> Problem {
    let detail = format!(
        "{} already exists, and a backup never replaces anything",
        file.display()
    );
    Problem::new(ProblemType::AlreadyExists, detail).hint("name another file")
}

/// The command line asks for one of both already.
fn placeless() -> Problem {
    Problem::new(
        ProblemType::InvalidRequest,
        "a backup needs a file or a folder",
    )
    .hint("ellwand-server backup monday.backup, or backup --into FOLDER")
}
