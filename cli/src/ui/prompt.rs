//! Questions on a terminal.

use crate::command_error::CommandError;
use inquire::{
    Confirm, InquireError, Password, PasswordDisplayMode, Select, Text, validator::Validation,
};
use std::fmt::Display;

/// What to do with a request that was not answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unanswered {
    /// Send it again.
    Send,
    /// Ask again at the next run.
    Later,
    /// Forget it.
    Forget,
}

impl Display for Unanswered {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Send => "send it again (it is booked only once)",
            Self::Later => "leave it for later",
            Self::Forget => "forget it",
        })
    }
}

fn failed(error: InquireError) -> CommandError {
    match error {
        InquireError::OperationCanceled | InquireError::OperationInterrupted => {
            CommandError::Interrupted
        }
        InquireError::IO(error) => CommandError::Output(error),
        other => CommandError::usage(format!("the question cannot be asked: {other}")),
    }
}

/// Asks yes or no; no is the default.
pub fn confirm(question: &str) -> Result<bool, CommandError> {
    Confirm::new(question)
        .with_default(false)
        .prompt()
        .map_err(failed)
}

/// Asks for a secret; nothing of it is shown.
pub fn secret(question: &str) -> Result<String, CommandError> {
    Password::new(question)
        .with_display_mode(PasswordDisplayMode::Hidden)
        .without_confirmation()
        .prompt()
        .map_err(failed)
}

/// Asks what to do with a request that was not answered.
pub fn unanswered() -> Result<Unanswered, CommandError> {
    choose(
        "What should happen to it?",
        vec![Unanswered::Send, Unanswered::Later, Unanswered::Forget],
    )
}

/// Asks for one of a list.
pub fn choose<T: Display>(question: &str, options: Vec<T>) -> Result<T, CommandError> {
    Select::new(question, options).prompt().map_err(failed)
}

/// Asks for a text until `check` accepts it; its error is shown beside the question.
pub fn text<E: Display>(
    question: &str,
    help: &str,
    check: impl Fn(&str) -> Result<(), E> + Clone + 'static,
) -> Result<String, CommandError> {
    let validator = move |answer: &str| {
        Ok(check(answer).map_or_else(
            |error| Validation::Invalid(error.to_string().into()),
            |()| Validation::Valid,
        ))
    };
    let answer = Text::new(question)
        .with_help_message(help)
        .with_validator(validator)
        .prompt()
        .map_err(failed)?;
    Ok(answer.trim().to_owned())
}

/// Asks for a text that may be left empty.
pub fn optional<E: Display>(
    question: &str,
    help: &str,
    check: impl Fn(&str) -> Result<(), E> + Clone + 'static,
) -> Result<Option<String>, CommandError> {
    let check = move |answer: &str| {
        if answer.trim().is_empty() {
            Ok(())
        } else {
            check(answer.trim())
        }
    };
    let answer = text(question, help, check)?;
    Ok(Some(answer).filter(|answer| !answer.is_empty()))
}
