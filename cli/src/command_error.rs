//! Failures of commands and their exit codes.

use crate::fault::{Ended, Fault};
use ellwand_contract::{Problem, ProblemType, json, text::counted};
use serde::Serialize;
use serde_json::Value;
use std::io;

/// Failure of a command.
#[derive(Debug)]
pub enum CommandError {
    /// The book refused or failed; with the command that repeats the request where that is safe and useful.
    Problem {
        /// Its answer.
        problem: Box<Problem>,
        /// The command that repeats it.
        repeat: Option<String>,
    },
    /// The command line, a file or the configuration is at fault.
    Usage {
        /// What was requested and what is true.
        message: String,
        /// What to do.
        hint: Option<String>,
    },
    /// No answer came.
    Unreachable {
        /// What happened.
        message: String,
        /// What to do.
        hint: Option<String>,
        /// The command that repeats the request.
        repeat: Option<String>,
        /// False when the server was not reached, so that nothing can have been booked.
        sent: bool,
    },
    /// The server does not know who asks, or does not allow it.
    NotAllowed {
        /// Its answer.
        message: String,
    },
    /// The audit found errors and has printed them.
    Findings(usize),
    /// The user declined; nothing was booked.
    Declined,
    /// Interrupted at a question.
    Interrupted,
    /// The result could not be written.
    Output(io::Error),
}

impl CommandError {
    /// A fault of the command line, a file or the configuration.
    pub fn usage(message: impl Into<String>) -> Self {
        Self::Usage {
            message: message.into(),
            hint: None,
        }
    }

    /// The same with what to do.
    pub fn usage_hint(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::Usage {
            message: message.into(),
            hint: Some(hint.into()),
        }
    }

    /// Refuses a change that changes nothing: every field but these is empty.
    ///
    /// # Errors
    /// Exit 2, naming the help that lists the fields.
    pub fn unless_changed(
        act: &impl Serialize,
        beside: &[&str],
        see: &str,
    ) -> Result<(), CommandError> {
        let request = json::tree(act).unwrap_or_default();
        let says =
            |value: &Value| !value.is_null() && value.as_object().is_none_or(|of| !of.is_empty());
        let mut fields = request.as_object().into_iter().flatten();
        if fields.any(|(name, value)| !beside.contains(&name.as_str()) && says(value)) {
            return Ok(());
        }
        Err(Self::usage_hint("nothing to change was given", see))
    }

    /// The exit code: 0 done, 1 refused, 2 command line, 3 unreachable or failed, 4 not allowed, 130 interrupted.
    #[must_use]
    pub fn exit_code(&self) -> u8 {
        match self {
            Self::Problem { problem, .. } => problem.kind.exit(),
            Self::Findings(_) | Self::Declined => 1,
            Self::Usage { .. } => 2,
            Self::Unreachable { .. } => 3,
            Self::NotAllowed { .. } => 4,
            Self::Interrupted => 130,
            // A reader that has seen enough is no failure.
            Self::Output(error) if error.kind() == io::ErrorKind::BrokenPipe => 0,
            Self::Output(_) => 3,
        }
    }

    /// True when the book has answered, so that the request need not be kept.
    #[must_use]
    pub fn is_answer(&self) -> bool {
        self.ended() == Ended::Answered
    }

    /// How the sending of the request ended.
    #[must_use]
    pub fn ended(&self) -> Ended {
        match self {
            Self::Problem { problem, .. }
                if matches!(
                    problem.kind,
                    ProblemType::NotSignedIn
                        | ProblemType::NotAllowed
                        | ProblemType::TooMany
                        | ProblemType::ClockInDoubt
                ) =>
            {
                Ended::TurnedAway
            }
            Self::Problem { problem, .. } if problem.kind.exit() == 3 => Ended::Lost,
            Self::Unreachable { sent: false, .. } => Ended::TurnedAway,
            Self::Unreachable { .. } => Ended::Lost,
            _ => Ended::Answered,
        }
    }

    /// Adds the command that repeats the request, where the request may not have been booked.
    #[must_use]
    pub fn repeat_with(mut self, command: String) -> Self {
        let unanswered = !self.is_answer();
        if let Self::Problem { repeat, .. } | Self::Unreachable { repeat, .. } = &mut self
            && unanswered
        {
            *repeat = Some(command);
        }
        self
    }

    /// The message for people: what was requested and what is true; empty when nothing is left to report.
    #[must_use]
    pub fn message(&self) -> String {
        match self {
            Self::Problem { problem, .. } => match &problem.instance {
                Some(instance) if problem.kind.exit() == 3 => {
                    format!("{} (request {instance})", problem.detail)
                }
                _ => problem.detail.clone(),
            },
            Self::Usage { message, .. }
            | Self::Unreachable { message, .. }
            | Self::NotAllowed { message } => message.clone(),
            Self::Findings(count) => {
                format!("the book is not in order: {}", counted(*count, "finding"))
            }
            Self::Declined => "nothing was booked".to_owned(),
            Self::Interrupted => "interrupted, nothing was booked".to_owned(),
            Self::Output(error) => format!("the result could not be written: {error}"),
        }
    }

    /// What to do, line by line.
    #[must_use]
    pub fn hints(&self) -> Vec<String> {
        let (hint, repeat) = match self {
            Self::Problem { problem, repeat } => (problem.hint.clone(), repeat.clone()),
            Self::Unreachable { hint, repeat, .. } => (hint.clone(), repeat.clone()),
            Self::Usage { hint, .. } => (hint.clone(), None),
            _ => (None, None),
        };
        let repeat = repeat.map(|command| format!("safe to repeat: {command}"));
        hint.into_iter().chain(repeat).collect()
    }

    /// The same in the form of the API, for `--json`.
    #[must_use]
    pub fn problem(&self) -> Problem {
        let kind = match self {
            Self::Problem { problem, .. } => return (**problem).clone(),
            Self::Usage { .. } | Self::NotAllowed { .. } => ProblemType::InvalidRequest,
            Self::Findings(_) | Self::Declined | Self::Interrupted => ProblemType::WrongState,
            Self::Unreachable { .. } => ProblemType::Unavailable,
            Self::Output(_) => ProblemType::Internal,
        };
        let problem = Problem::new(kind, self.message());
        match self.hints().join("; ") {
            hints if hints.is_empty() => problem,
            hints => problem.hint(hints),
        }
    }
}

impl From<Problem> for CommandError {
    fn from(problem: Problem) -> Self {
        Self::Problem {
            problem: Box::new(problem),
            repeat: None,
        }
    }
}

impl From<Box<Problem>> for CommandError {
    fn from(problem: Box<Problem>) -> Self {
        Self::Problem {
            problem,
            repeat: None,
        }
    }
}

impl From<Fault> for CommandError {
    fn from(fault: Fault) -> Self {
        match fault {
            Fault::Problem(problem) => (*problem).into(),
            Fault::NotAllowed(message) => Self::NotAllowed { message },
            Fault::NoAnswer { message, hint } => Self::Unreachable {
                message,
                hint,
                repeat: None,
                sent: true,
            },
            Fault::NotSent { message, hint } => Self::Unreachable {
                message,
                hint,
                repeat: None,
                sent: false,
            },
            Fault::Usage { message, hint } => Self::Usage {
                message,
                hint: Some(hint),
            },
        }
    }
}
