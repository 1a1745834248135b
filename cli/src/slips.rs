//! What cannot be read of a command line or a file: all of it at once.

use crate::{command_error::CommandError, pairs::PairsError};
use clap::{
    Command, CommandFactory,
    error::{ContextKind, ContextValue, ErrorKind},
};
use ellwand_contract::{pairs::value_message, text::nearest};
use std::{error::Error as _, ffi::OsString};

/// Slips that are looked for after the first one.
const MOST: usize = 20;

/// What is wrong with a command line, in a line each and with what to type: all values that cannot be read, or one word that is
/// not known or missing. Nothing for other faults, which the command line's own reader reports.
///
/// The command line is read again without each flag whose value was found, until it is read or refused for something else.
pub fn of_command_line(
    first: &clap::Error,
    args: &[OsString],
    parse: impl Fn(&[OsString]) -> Option<clap::Error>,
) -> Option<CommandError> {
    let help = || {
        match first.kind() {
            ErrorKind::MissingRequiredArgument => example(args),
            _ => None,
        }
        .unwrap_or_else(|| format!("see ellwand{} --help", path(args)))
    };
    if let Some(slip) = below_zero(first, args).or_else(|| unknown_or_missing(first, args)) {
        return Some(refusal(&[slip], &help()));
    }
    let mut slips = slips_of(first, args)?;
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
    Some(refusal(&slips, &help()))
}

/// An amount that begins with a minus and is taken for a flag.
fn below_zero(error: &clap::Error, args: &[OsString]) -> Option<String> {
    let Some(ContextValue::String(flag)) = error.get(ContextKind::InvalidArg) else {
        return None;
    };
    let number = flag
        .strip_prefix('-')?
        .starts_with(|c: char| c.is_ascii_digit());
    let mut typed = args.iter().filter_map(|arg| arg.to_str());
    let typed = typed.find(|arg| arg.starts_with(flag.as_str()));
    typed
        .filter(|_| number && error.kind() == ErrorKind::UnknownArgument)
        .map(|typed| format!("\"{typed}\" is below zero, which nothing here can be"))
}

/// A word that is not known, or one that is missing.
fn unknown_or_missing(error: &clap::Error, args: &[OsString]) -> Option<String> {
    let text = |kind| match error.get(kind) {
        Some(ContextValue::String(text)) => Some(text.clone()),
        Some(ContextValue::Strings(all)) => Some(all.join(", ")),
        _ => None,
    };
    let or = |near: Option<String>| {
        near.map_or_else(String::new, |near| format!("; did you mean {near}?"))
    };
    Some(match error.kind() {
        ErrorKind::UnknownArgument => {
            let typed = text(ContextKind::InvalidArg)?;
            let flags: Vec<String> = named(args, |command| {
                let flags = command.get_arguments().filter(|arg| !arg.is_hide_set());
                flags
                    .filter_map(|arg| arg.get_long())
                    .map(str::to_owned)
                    .collect()
            });
            let near = nearest(typed.trim_start_matches('-'), &flags);
            let near = or(near.map(|near| format!("--{near}")));
            format!("{typed} is not known here{near}")
        }
        ErrorKind::InvalidSubcommand => {
            let typed = text(ContextKind::InvalidSubcommand)?;
            let commands = named(args, |command| {
                let names = command.get_subcommands().map(Command::get_name);
                names.map(str::to_owned).collect()
            });
            let near = or(nearest(&typed, &commands).cloned());
            format!("\"{typed}\" is not a command here{near}")
        }
        ErrorKind::MissingRequiredArgument => {
            format!("missing: {}", text(ContextKind::InvalidArg)?)
        }
        ErrorKind::InvalidValue if text(ContextKind::InvalidValue)?.is_empty() => {
            format!("{} needs a value", text(ContextKind::InvalidArg)?)
        }
        _ => return None,
    })
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

/// The words that name the command: ` garment plan`.
fn path(args: &[OsString]) -> String {
    let mut path = String::new();
    in_command(args, |command| {
        path.push(' ');
        path.push_str(command.get_name());
    });
    path
}

/// How the command of a command line is typed in full: the first example of its help that stands in one line.
fn example(args: &[OsString]) -> Option<String> {
    let help = in_command(args, |_| {}).get_after_help()?.to_string();
    let mut lines = help.lines().map(str::trim);
    let whole = |line: &&str| line.starts_with("ellwand ") && !line.ends_with('\\');
    lines.find(whole).map(|line| format!("for example {line}"))
}

/// Names that the command of a command line knows.
fn named(args: &[OsString], names: impl Fn(&Command) -> Vec<String>) -> Vec<String> {
    names(&in_command(args, |_| {}))
}

/// The command of a command line; each on the way to it is passed.
fn in_command(args: &[OsString], mut pass: impl FnMut(&Command)) -> Command {
    let mut command: Command = crate::Cli::command();
    command.build();
    let mut before = "";
    for word in args.iter().skip(1).filter_map(|arg| arg.to_str()) {
        let takes = |flag: &str| {
            let named = |arg: &&clap::Arg| arg.get_long() == flag.strip_prefix("--");
            let known = command.get_arguments().find(named);
            known.is_none_or(|arg| arg.get_action().takes_values())
        };
        let is_of_flag = word.starts_with('-')
            || (before.starts_with("--") && !before.contains('=') && takes(before));
        before = word;
        if is_of_flag {
            continue;
        }
        let Some(next) = command.find_subcommand(word).cloned() else {
            break;
        };
        pass(&next);
        command = next;
    }
    command
}
