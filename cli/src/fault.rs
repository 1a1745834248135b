//! Why a request got no answer, and how its sending ended.

use ellwand_contract::Problem;

/// Why there is no answer.
#[derive(Debug)]
pub enum Fault {
    /// The book refused or failed.
    Problem(Box<Problem>),
    /// The server does not know who asks, or does not allow it.
    NotAllowed(String),
    /// No answer came, or none that can be read.
    NoAnswer {
        /// What happened.
        message: String,
        /// What to do.
        hint: Option<String>,
    },
    /// The server was not reached: nothing was sent.
    NotSent {
        /// What happened.
        message: String,
        /// What to do.
        hint: Option<String>,
    },
    /// The address or the file is at fault.
    Usage {
        /// What is true.
        message: String,
        /// What to do.
        hint: String,
    },
}

impl From<Problem> for Fault {
    fn from(problem: Problem) -> Self {
        Self::Problem(Box::new(problem))
    }
}

/// How the sending of a request ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// With the book's answer.
    Answered,
    /// The server was not reached, or knows no such token, or was used too often: the request did not reach the book.
    TurnedAway,
    /// Without an answer.
    Lost,
}
