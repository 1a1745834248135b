//! How an act fails: refused by a rule, or stopped by the database.

use chrono::NaiveDate;
use ellwand_contract::{
    Problem, ProblemType,
    access::Sees,
    problem::{BECAUSE, OLDER_SCHEMA},
    text::redacted,
};
use ellwand_domain::{code::CodeError, quantity::QuantityError};
use ellwand_storage::{JobError, StorageError};

/// What an act gives back.
pub(crate) type Done<T> = Result<T, Failure>;

/// Refused, or stopped.
#[derive(Debug)]
pub enum Failure {
    /// Refused by a rule of the book.
    Refused(Box<Problem>),
    /// The database.
    Storage(StorageError),
}

impl Failure {
    /// Adds a number or code of the case to a refusal.
    #[must_use]
    pub(crate) fn with(self, name: &str, value: impl Into<serde_json::Value>) -> Self {
        match self {
            Self::Refused(problem) => Self::Refused(Box::new(problem.with(name, value))),
            stopped @ Self::Storage(_) => stopped,
        }
    }

    /// The same without the amounts of money that its reader may not see.
    #[must_use]
    pub(crate) fn concealed(self, sees: Sees) -> Self {
        match self {
            Self::Refused(mut problem) => {
                problem.conceal(sees);
                Self::Refused(problem)
            }
            stopped @ Self::Storage(_) => stopped,
        }
    }

    /// Adds the code of a record that the refusal speaks of.
    #[must_use]
    pub(crate) fn naming(self, name: &str, code: impl std::fmt::Display) -> Self {
        self.with(name, code.to_string())
    }
}

/// Does several things that stand or fall together, and gathers what has to be confirmed of them into one question.
///
/// # Errors
/// The first refusal that nobody can confirm; else all that is in doubt.
pub(crate) fn all_or_none<T>(done: impl IntoIterator<Item = Done<T>>) -> Done<Vec<T>> {
    let (mut all, mut doubts) = (Vec::new(), Vec::new());
    for one in done {
        match one {
            Ok(one) => all.push(one),
            Err(Failure::Refused(doubt)) if doubt.kind == ProblemType::NeedsConfirmation => {
                doubts.push(doubt);
            }
            Err(failure) => return Err(failure),
        }
    }
    let details: Vec<&str> = doubts.iter().map(|doubt| doubt.detail.as_str()).collect();
    let detail = details.join("; ");
    match doubts.into_iter().next() {
        Some(first) => Err(Problem { detail, ..*first }.into()),
        None => Ok(all),
    }
}

/// Refusals of what is refused as a whole, so that all of them are answered at once.
#[derive(Debug, Default)]
pub(crate) struct Refusals(Vec<Problem>);

impl Refusals {
    /// What was done; nothing where it was refused, which is kept.
    ///
    /// # Errors
    /// The database's.
    pub(crate) fn keep<T>(&mut self, done: Done<T>) -> Done<Option<T>> {
        match done {
            Ok(done) => Ok(Some(done)),
            Err(Failure::Refused(problem)) => {
                self.0.push(*problem);
                Ok(None)
            }
            Err(stopped) => Err(stopped),
        }
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Refuses with all that was kept.
    pub(crate) fn end(self) -> Done<()> {
        match Problem::gathered(self.0) {
            Some(problem) => Err(problem.into()),
            None => Ok(()),
        }
    }
}

impl From<Problem> for Failure {
    fn from(problem: Problem) -> Self {
        Self::Refused(Box::new(problem))
    }
}

impl From<Box<Problem>> for Failure {
    fn from(problem: Box<Problem>) -> Self {
        Self::Refused(problem)
    }
}

impl From<StorageError> for Failure {
    fn from(error: StorageError) -> Self {
        Self::Storage(error)
    }
}

impl From<QuantityError> for Failure {
    fn from(error: QuantityError) -> Self {
        Problem::new(ProblemType::InvalidValue, error.to_string()).into()
    }
}

impl From<CodeError> for Failure {
    fn from(error: CodeError) -> Self {
        Problem::new(ProblemType::InvalidValue, error.to_string()).into()
    }
}

impl JobError for Failure {
    fn storage(&self) -> Option<&StorageError> {
        if let Self::Storage(error) = self {
            Some(error)
        } else {
            None
        }
    }
}

impl From<Failure> for Problem {
    fn from(failure: Failure) -> Self {
        match failure {
            Failure::Refused(problem) => *problem,
            Failure::Storage(error) => storage_problem(&error),
        }
    }
}

/// Tells a failure of the database in the user's words.
pub(crate) fn storage_problem(error: &StorageError) -> Problem {
    let text = error.to_string();
    match error {
        StorageError::Busy(_) | StorageError::Conflict => Problem::new(ProblemType::Unavailable, text)
            .hint("another program is writing to the book; repeat the command, it is safe"),
        StorageError::Unreachable(_) => Problem::new(ProblemType::Unavailable, text)
            .hint("check the address and that the folder can be written to"),
        StorageError::ReadOnly => {
            Problem::new(ProblemType::Unavailable, "the book is read-only, nothing was booked")
                .hint("check who may write to the file and its folder")
                .with(BECAUSE, "read-only")
        }
        StorageError::Full => Problem::new(ProblemType::Unavailable, "the disk is full, nothing was booked")
            .hint("make room and repeat the command, it is safe")
            .with(BECAUSE, "disk-full"),
        StorageError::Damaged(_) => {
            Problem::new(ProblemType::NotABook, text).hint("choose another file, or restore a backup")
        }
        StorageError::Newer { found, known } => Problem::new(ProblemType::NewerSchema, text)
            .hint("use the program that wrote it, or a newer one")
            .with("found", *found)
            .with("known", *known),
        StorageError::Older { found: 0, .. } => {
            Problem::new(ProblemType::NotABook, "the file is empty: it holds no book yet")
                .hint("log a purchase to start one, or choose another file")
        }
        StorageError::Older { .. } => Problem::new(ProblemType::Unavailable, text)
            .hint("bring it up to date with ellwand-server migrate")
            .with(BECAUSE, OLDER_SCHEMA),
        StorageError::Absent(_) => Problem::new(ProblemType::NotABook, text)
            .hint("check the path, or make a new book with ellwand-server migrate"),
        StorageError::InUse(_) => {
            Problem::new(ProblemType::Unavailable, text).hint("wait until it has finished, or stop it")
        }
        StorageError::NoLock(_) => Problem::new(ProblemType::Unavailable, text)
            .hint("run it as the owner of the book, or give the lock file to that user with chown"),
        StorageError::NotEmpty(_) => Problem::new(ProblemType::AlreadyExists, text)
            .hint("choose an empty database, or a file that does not exist yet"),
        StorageError::Address(url) => {
            Problem::new(ProblemType::NotABook, StorageError::Address(redacted(url)).to_string())
        }
        StorageError::Encryption(_) => Problem::new(ProblemType::NotABook, text).hint(
            "write sslmode=verify-full, with sslrootcert=FILE for an authority of your own, or sslmode=disable",
        ),
        StorageError::Constraint(_) | StorageError::Other(_) => Problem::new(ProblemType::Internal, text),
    }
}

/// A value that is not accepted.
pub(crate) fn invalid(field: &str, detail: impl Into<String>) -> Failure {
    Problem::new(ProblemType::InvalidValue, detail)
        .field(field)
        .into()
}

/// No record of this code or name.
pub(crate) fn not_found(what: impl std::fmt::Display, hint: &str) -> Failure {
    Problem::new(ProblemType::NotFound, format!("there is no {what}"))
        .hint(hint)
        .into()
}

/// The record's state does not allow it.
pub(crate) fn wrong_state(detail: impl Into<String>, hint: &str) -> Failure {
    Problem::new(ProblemType::WrongState, detail)
        .hint(hint)
        .into()
}

/// A day, refused before the first one on which something can be booked; `why` says so of that one.
pub(crate) fn not_before(
    day: NaiveDate,
    earliest: Option<NaiveDate>,
    why: impl FnOnce(NaiveDate) -> String,
) -> Done<NaiveDate> {
    match earliest.filter(|earliest| day < *earliest) {
        Some(earliest) => Err(too_early(why(earliest), day, earliest)),
        None => Ok(day),
    }
}

/// A day before the first one on which something can be booked.
pub(crate) fn too_early(detail: String, day: NaiveDate, earliest: NaiveDate) -> Failure {
    Problem::new(ProblemType::InvalidDate, detail)
        .field("date")
        .hint(format!("use {earliest} or a later day"))
        .with("day", day.to_string())
        .with("earliest", earliest.to_string())
        .into()
}

/// Takes all of a list, or tells every refusal at once.
///
/// # Errors
/// The refusals; the database.
pub(crate) fn all_at_once<T>(done: impl IntoIterator<Item = Done<T>>) -> Done<Vec<T>> {
    let (mut all, mut refusals) = (Vec::new(), Refusals::default());
    for one in done {
        all.extend(refusals.keep(one)?);
    }
    refusals.end()?;
    Ok(all)
}
