//! What cannot be read of a command line or a file: all of it at once.

mod example;
mod hint;

use crate::{command_error::CommandError, pairs::PairsError};
use clap::error::{ContextKind, ContextValue, ErrorKind};
use ellwand_contract::pairs::value_message;
use std::{error::Error as _, ffi::OsString};

/// Slips that are looked for after the first one.
const MOST: usize = 20;

/// What is wrong with a command line, in a line each and with what to type: all values that cannot be read, or one word that is
/// not known, missing or too many. Nothing for help, which the command line's own reader shows.
///
/// The command line is read again without each flag whose value was found, until it is read or refused for something else.
pub fn of_command_line(
    first: &clap::Error,
    args: &[OsString],
    parse: impl Fn(&[OsString]) -> Option<clap::Error>,
) -> Option<CommandError> {
    if let Some((slip, hint)) = hint::of_flags(first, args) {
        return Some(refusal(&[slip], &hint));
    }
    let mut slips = slips_of(first, args)?;
    let hint = hint::of_value(first, args);
    let (mut flag, mut value) = place(first)?;
    let mut left = args.to_vec();
    for _ in 0..MOST {
        // Without a word that has no flag the others would be taken for what they are not.
        if !flag.starts_with("--") || !remove(&mut left, &flag, &value) {
            break;
        }
        let Some(next) = parse(&left) else { break };
        let Some((more, (next_flag, next_value))) = slips_of(&next, args).zip(place(&next)) else {
            break;
        };
        slips.extend(more);
        (flag, value) = (next_flag, next_value);
    }
    Some(refusal(&slips, &hint))
}

/// Slips as one refusal, a line each.
pub fn refusal(slips: &[String], hint: &str) -> CommandError {
    CommandError::usage_hint(slips.join("\n"), hint)
}

/// What is wrong with the value: `--due: "30.13.2026" is not a date`; of pairs each by itself.
fn slips_of(error: &clap::Error, all: &[OsString]) -> Option<Vec<String>> {
    if !matches!(
        error.kind(),
        ErrorKind::ValueValidation | ErrorKind::InvalidValue
    ) {
        return None;
    }
    let (flag, value) = place(error)?;
    let flag = numbered(&flag, &value, all);
    let pairs = error
        .source()
        .and_then(|source| source.downcast_ref::<PairsError>());
    let message = value_message(error);
    let slips = pairs.map_or(std::slice::from_ref(&message), PairsError::slips);
    Some(slips.iter().map(|slip| format!("{flag}{slip}")).collect())
}

/// The flag, or the name of a word without one, and what was typed for it.
fn place(error: &clap::Error) -> Option<(String, String)> {
    let text = |kind| match error.get(kind) {
        Some(ContextValue::String(text)) => Some(text.as_str()),
        _ => None,
    };
    let arg = text(ContextKind::InvalidArg)?;
    let flag = arg.split_whitespace().next().unwrap_or(arg);
    let name = flag.trim_matches(['<', '>', '[', ']', '.']);
    Some((name.to_owned(), text(ContextKind::InvalidValue)?.to_owned()))
}

/// What a slip begins with: the flag, with its number where it was given several times, `--need 2: `; nothing for a word without
/// one, which the slip repeats.
fn numbered(flag: &str, value: &str, all: &[OsString]) -> String {
    if !flag.starts_with("--") {
        return String::new();
    }
    let joined = format!("{flag}=");
    let given = all.iter().enumerate().filter_map(|(at, arg)| {
        let arg = arg.to_str()?;
        match arg.strip_prefix(&joined) {
            Some(value) => Some(value),
            None if arg == flag => all.get(at.saturating_add(1))?.to_str(),
            None => None,
        }
    });
    let given: Vec<&str> = given.collect();
    match given.iter().position(|other| *other == value) {
        Some(at) if given.len() > 1 => format!("{flag} {}: ", at.saturating_add(1)),
        _ => format!("{flag}: "),
    }
}

/// Takes a flag with its value off the command line.
fn remove(args: &mut Vec<OsString>, flag: &str, value: &str) -> bool {
    let joined = format!("{flag}={value}");
    if let Some(at) = args.iter().position(|arg| *arg == *joined) {
        args.remove(at);
        return true;
    }
    let pair = args
        .windows(2)
        .position(|two| *two[0] == *flag && *two[1] == *value);
    if let Some(at) = pair {
        args.drain(at..at.saturating_add(2));
    }
    pair.is_some()
}
