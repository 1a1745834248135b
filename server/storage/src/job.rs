//! Jobs as the transactions see them: what a job answers waits outside, so that the code of transactions is compiled once
//! and not once an answer.

use crate::db::JobError;
use crate::error::StorageError;
use crate::tx::Tx;

/// A job on a connection; its answer waits in an [`Answer`].
pub(crate) type Job<'a, C> = &'a mut dyn FnMut(&mut C) -> Result<(), Failed>;

/// A job on a transaction of either kind of database.
pub(crate) type TxJob<'a> = &'a mut dyn FnMut(&mut Tx<'_>) -> Result<(), Failed>;

/// What a job failed with, as far as its transaction has to know.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Failed {
    /// By a refusal of its own, or a row that the database refused.
    Refused,
    /// It lost against another transaction.
    Conflict,
    /// Its connection went.
    Lost,
    /// The database failed otherwise: nothing can be said of the transaction any more.
    Engine,
}

impl Failed {
    fn from_error(error: &impl JobError) -> Self {
        match error.storage() {
            None | Some(StorageError::Constraint(_)) => Self::Refused,
            Some(StorageError::Conflict) => Self::Conflict,
            Some(StorageError::Unreachable(_)) => Self::Lost,
            Some(_) => Self::Engine,
        }
    }
}

/// Why a transaction ended without being kept.
#[derive(Debug)]
pub(crate) enum Stop {
    /// The job failed; its own error says why.
    Job(Failed),
    /// The transaction itself did.
    Storage(StorageError),
}

impl From<StorageError> for Stop {
    fn from(error: StorageError) -> Self {
        Self::Storage(error)
    }
}

/// The answer of a job while its transaction ends.
pub(crate) struct Answer<T, E>(Option<Result<T, E>>);

impl<T, E: From<StorageError> + JobError> Answer<T, E> {
    /// Runs a transaction whose job keeps its answer here, and says how it ended.
    pub(crate) fn run(run: impl FnOnce(&mut Self) -> Result<(), Stop>) -> Result<T, E> {
        let mut answer = Self(None);
        match (run(&mut answer), answer.0) {
            (Err(Stop::Storage(error)), _) => Err(error.into()),
            (_, Some(answer)) => answer,
            (_, None) => Err(StorageError::Unreachable("the job did not run".to_owned()).into()),
        }
    }

    /// Keeps what the job came to; a later attempt replaces it.
    pub(crate) fn keep(&mut self, answer: Result<T, E>) -> Result<(), Failed> {
        let ended = match &answer {
            Ok(_) => Ok(()),
            Err(error) => Err(Failed::from_error(error)),
        };
        self.0 = Some(answer);
        ended
    }
}
