//! Examples of a command's help, for whoever has mistyped it.

use clap::{Arg, Command, CommandFactory};
use ellwand_domain::code::kind_of;
use std::ffi::OsString;

/// Columns of an example that still fits its line.
const FITS: usize = 80 - "hint: for example ".len();

/// How a flag is used: an example, or where it is explained.
pub(super) fn of_flag(command: &Command, flag: &str, args: &[OsString]) -> String {
    let help = || {
        let named = |arg: &&Arg| arg.get_long() == flag.strip_prefix("--");
        let values = command
            .get_arguments()
            .find(named)
            .and_then(Arg::get_value_names);
        let pairs = ["PAIRS", "KEY=VALUE,…"];
        let has_keys =
            values.is_some_and(|names| names.iter().any(|name| pairs.contains(&name.as_str())));
        let what = if has_keys {
            "lists the keys of"
        } else {
            "explains"
        };
        format!("ellwand{} --help {what} {flag}", path(args))
    };
    example(command, Some(flag), args).unwrap_or_else(help)
}

/// How the command is typed in full: the first example of its help that has the flag, or the first of all for a word without
/// one. Only what stands in one line.
pub(super) fn example(command: &Command, flag: Option<&str>, args: &[OsString]) -> Option<String> {
    let help = command.get_after_help()?.to_string();
    let mut lines = help.lines().map(str::trim).filter(|line| {
        line.starts_with("ellwand ") && !line.ends_with('\\') && line.chars().count() <= FITS
    });
    let uses = |line: &&str| match flag {
        Some(flag) => line.split([' ', '=']).any(|word| word == flag),
        None => true,
    };
    let line = with_codes(lines.find(uses)?, args);
    Some(format!("for example {line}"))
}

/// The example with the codes that were typed in place of its own.
fn with_codes(example: &str, args: &[OsString]) -> String {
    let typed = |word: &str| {
        let kind = kind_of(word)?;
        let mut args = args.iter().filter_map(|arg| arg.to_str());
        args.find(|arg| kind_of(arg) == Some(kind))
    };
    let words = example.split(' ').map(|word| typed(word).unwrap_or(word));
    words.collect::<Vec<_>>().join(" ")
}

/// Where all flags of the command of a command line are explained.
pub(super) fn help(args: &[OsString]) -> String {
    format!("see ellwand{} --help", path(args))
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

/// The command of a command line; each on the way to it is passed.
pub(super) fn in_command(args: &[OsString], mut pass: impl FnMut(&Command)) -> Command {
    let mut command: Command = crate::Cli::command();
    command.build();
    let mut before = "";
    for word in args.iter().skip(1).filter_map(|arg| arg.to_str()) {
        let takes = |flag: &str| {
            let named = |arg: &&Arg| arg.get_long() == flag.strip_prefix("--");
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
