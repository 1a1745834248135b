//! What can go wrong below the service.

use diesel::result::{DatabaseErrorKind, Error as Diesel};

/// A failure of the database, by what the caller can do about it.
#[derive(Debug, thiserror::Error)]
pub enum StorageError {
    /// Another process holds the database for longer than the deadline.
    #[error("the database is busy: {0}")]
    Busy(String),
    /// The file or server cannot be reached or opened.
    #[error("the database cannot be opened: {0}")]
    Unreachable(String),
    /// The database takes no writes.
    #[error("the database is read-only")]
    ReadOnly,
    /// No room on the disk.
    #[error("the disk is full")]
    Full,
    /// Not a database, or damaged.
    #[error("the file is damaged or not a book: {0}")]
    Damaged(String),
    /// Written by a newer program.
    #[error("the book has schema {found}, but the program knows {known}")]
    Newer {
        /// Schema of the book.
        found: i64,
        /// Schema of the program.
        known: i64,
    },
    /// Not yet migrated.
    #[error("the book has schema {found}, but the program needs {known}")]
    Older {
        /// Schema of the book.
        found: i64,
        /// Schema of the program.
        known: i64,
    },
    /// No such file, and creating one was not requested.
    #[error("there is no book at {0}")]
    Absent(String),
    /// Another process uses the book, and this act needs it alone.
    #[error("another program is using the book: {0}")]
    InUse(String),
    /// The lock file beside a book cannot be opened, and nothing is opened without it.
    #[error("the lock on the book cannot be taken: {0}")]
    NoLock(String),
    /// A book that was to be filled holds something already.
    #[error("the book is not empty: {0}")]
    NotEmpty(String),
    /// A constraint of the schema refused a row: a fault of the program.
    #[error("a rule of the database was broken: {0}")]
    Constraint(String),
    /// A transaction lost against another and may be run again.
    #[error("another transaction came first")]
    Conflict,
    /// A URL that names no known database.
    #[error(
        "\"{0}\" is not the address of a book; write sqlite:///path/to/file or postgres://host/name"
    )]
    Address(String),
    /// A way of encrypting the connection that is not to be had.
    #[error("the connection cannot be encrypted as requested: {0}")]
    Encryption(String),
    /// Anything else.
    #[error(transparent)]
    Other(Box<dyn std::error::Error + Send + Sync>),
}

impl StorageError {
    /// The failure that a database reports by its message alone.
    fn from_message(text: &str) -> Option<Self> {
        let lower = text.to_lowercase();
        let says = |words: &[&str]| words.iter().any(|word| lower.contains(word));
        if says(&["deadlock detected", "could not serialize"]) {
            return Some(Self::Conflict);
        }
        if says(&["locked", "busy", "lock timeout"]) {
            return Some(Self::Busy(text.to_owned()));
        }
        if says(&["readonly", "read-only"]) {
            return Some(Self::ReadOnly);
        }
        if says(&["disk is full", "no space"]) {
            return Some(Self::Full);
        }
        if says(&["malformed", "not a database"]) {
            return Some(Self::Damaged(text.to_owned()));
        }
        if says(&[
            "unable to open",
            "disk i/o",
            "terminating connection",
            "connection closed",
            "communicating",
        ]) {
            return Some(Self::Unreachable(text.to_owned()));
        }
        // SQLite gives the errors of triggers no kind.
        if says(&[
            "never changed",
            "never deleted",
            "exactly once",
            "stays in its line",
            "a later taking rests on it",
            "keeps the name",
        ]) {
            return Some(Self::Constraint(text.to_owned()));
        }
        None
    }

    /// A failure while migrating; the runner gives no more than its text.
    pub(crate) fn migrating(error: Box<dyn std::error::Error + Send + Sync>) -> Self {
        Self::from_message(&error.to_string()).unwrap_or(Self::Other(error))
    }
}

impl From<Diesel> for StorageError {
    fn from(error: Diesel) -> Self {
        if let Diesel::RollbackErrorOnCommit { commit_error, .. } = error {
            return Self::from(*commit_error);
        }
        if let Diesel::DatabaseError(kind, information) = &error {
            let text = information.message().to_owned();
            return match kind {
                DatabaseErrorKind::SerializationFailure => Self::Conflict,
                DatabaseErrorKind::ReadOnlyTransaction => Self::ReadOnly,
                DatabaseErrorKind::ClosedConnection => Self::Unreachable(text),
                DatabaseErrorKind::UniqueViolation
                | DatabaseErrorKind::ForeignKeyViolation
                | DatabaseErrorKind::NotNullViolation
                | DatabaseErrorKind::CheckViolation => Self::Constraint(text),
                _ => Self::from_message(&text).unwrap_or_else(|| Self::Other(Box::new(error))),
            };
        }
        Self::Other(Box::new(error))
    }
}

impl From<ellwand_domain::ledger::LedgerError> for StorageError {
    fn from(error: ellwand_domain::ledger::LedgerError) -> Self {
        Self::Damaged(format!("a stored piece breaks a rule: {error}"))
    }
}

impl From<ellwand_domain::quantity::QuantityError> for StorageError {
    fn from(error: ellwand_domain::quantity::QuantityError) -> Self {
        Self::Damaged(format!("a stored quantity is out of range: {error}"))
    }
}
