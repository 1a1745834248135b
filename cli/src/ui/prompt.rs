//! Questions on a terminal.

use crate::command_error::CommandError;
use ellwand_domain::setting::Kind;
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

/// A kind of material as it is offered.
struct Offered(Option<Kind>, &'static str);

impl Display for Offered {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.1)
    }
}

/// Asks for a kind of material; for what none of them seems to be, how it is taken decides.
pub fn kind(question: &str) -> Result<Kind, CommandError> {
    let kinds = vec![
        Offered(Some(Kind::Cloth), "cloth"),
        Offered(Some(Kind::Lining), "lining"),
        Offered(Some(Kind::Interlining), "interlining"),
        Offered(Some(Kind::Thread), "thread"),
        Offered(Some(Kind::Trim), "trim: buttons, zips, tape, elastic …"),
        Offered(None, "none of these"),
    ];
    if let Some(kind) = choose(question, kinds)?.0 {
        return Ok(kind);
    }
    let ways = vec![
        Offered(
            Some(Kind::Cloth),
            "cut from a width, as cloth is: leather, net, lace",
        ),
        Offered(
            Some(Kind::Interlining),
            "laid between the layers, as interlining is: wadding, felt",
        ),
        Offered(
            Some(Kind::Thread),
            "wound on a reel, as thread is: cord, yarn",
        ),
        Offered(
            Some(Kind::Trim),
            "taken by count or by length, as a trim is: pads, labels, boning",
        ),
    ];
    let way = choose("How is it taken from the shelf?", ways)?;
    Ok(way.0.unwrap_or(Kind::Trim))
}

/// Answers as the key=value pairs of a flag.
#[must_use]
pub fn pairs(answers: &[(&str, String)]) -> String {
    let pair = |(key, value): &(&str, String)| match value.contains(',') && value.contains('=') {
        true => format!("{key}=\"{value}\""),
        false => format!("{key}={value}"),
    };
    let pairs: Vec<String> = answers.iter().map(pair).collect();
    pairs.join(",")
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
