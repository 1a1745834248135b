//! What to type instead of a command line that cannot be read.

use super::example::{example, help, in_command, of_flag};
use clap::{
    Arg, Command,
    error::{ContextKind, ContextValue, ErrorKind},
};
use ellwand_contract::text::nearest;
use ellwand_domain::code::{CodeError, kind_of};
use std::{error::Error as _, ffi::OsString};

/// A word that is not known, missing or too many, and what to type.
pub(super) fn of_flags(error: &clap::Error, args: &[OsString]) -> Option<(String, String)> {
    let command = in_command(args, |_| {});
    if error.kind() == ErrorKind::ArgumentConflict {
        return several(error);
    }
    if let Some(slip) = below_zero(error, args).or_else(|| missing(error)) {
        let hint = example(&command, None, args);
        return Some((slip, hint.unwrap_or_else(|| help(args))));
    }
    unknown(error, &command, args)
}

/// What to type instead of a value that cannot be read: how the thing of another code is asked for, or how the flag is used.
pub(super) fn of_value(error: &clap::Error, args: &[OsString]) -> String {
    let command = in_command(args, |_| {});
    let source = error.source();
    let of_another = source.and_then(|source| source.downcast_ref::<CodeError>());
    if let Some(hint) = of_another.and_then(|error| of_kind(error, &command)) {
        return hint;
    }
    let flag = text(error, ContextKind::InvalidArg).map(|flag| bare(&flag));
    match flag.filter(|flag| flag.starts_with("--")) {
        Some(flag) => of_flag(&command, &flag, args),
        None => example(&command, None, args).unwrap_or_else(|| help(args)),
    }
}

/// The flag that takes a code of another kind than was asked for, or the command that shows what it names.
fn of_kind(error: &CodeError, command: &Command) -> Option<String> {
    let (kind, code) = (kind_of(&error.text)?, error.text.trim().to_uppercase());
    let (flag, shows) = match kind {
        "a lot" => ("lot", format!("lot show {code}")),
        "a piece" => ("from", format!("lot show {}", code.split('.').next()?)),
        "a garment" => ("garment", format!("garment show {code}")),
        "a quotation" => ("supplement-to", format!("quote show {code}")),
        "a purchase" => ("", format!("buy show {code}")),
        "a customer" => ("for", format!("customer show {code}")),
        "a booking" => ("", format!("history {code}")),
        "a material" => ("", "material list".to_owned()),
        "a supplier" => ("supplier", "supplier list".to_owned()),
        // Nothing shows a promise alone.
        "a promise" => return Some(format!("ellwand release {code} gives it back")),
        _ => return None,
    };
    let mut flags = command.get_arguments().filter_map(Arg::get_long);
    Some(match flags.any(|known| known == flag) {
        true => format!("write --{flag} {code}; ellwand {shows} shows it"),
        false => format!("ellwand {shows} shows it"),
    })
}

/// An amount that begins with a minus and is taken for a flag.
fn below_zero(error: &clap::Error, args: &[OsString]) -> Option<String> {
    let flag = text(error, ContextKind::InvalidArg)?;
    let number = flag
        .strip_prefix('-')?
        .starts_with(|c: char| c.is_ascii_digit());
    let mut typed = args.iter().filter_map(|arg| arg.to_str());
    let typed = typed.find(|arg| arg.starts_with(flag.as_str()));
    typed
        .filter(|_| number && error.kind() == ErrorKind::UnknownArgument)
        .map(|typed| format!("\"{typed}\" is below zero, which nothing here can be"))
}

/// A flag, word or command that is not known, and the one that was probably meant.
fn unknown(error: &clap::Error, command: &Command, args: &[OsString]) -> Option<(String, String)> {
    let or = |near: Option<&String>| {
        near.map_or_else(String::new, |near| format!("; did you mean {near}?"))
    };
    if error.kind() == ErrorKind::InvalidSubcommand {
        let typed = text(error, ContextKind::InvalidSubcommand)?;
        let names = command.get_subcommands().map(Command::get_name);
        let names: Vec<String> = names.map(str::to_owned).collect();
        let near = or(nearest(&typed, &names));
        return Some((
            format!("\"{typed}\" is not a command here{near}"),
            help(args),
        ));
    }
    if error.kind() != ErrorKind::UnknownArgument {
        return None;
    }
    let typed = text(error, ContextKind::InvalidArg)?;
    if !typed.starts_with('-') {
        let hint = example(command, None, args).unwrap_or_else(|| help(args));
        return Some((format!("\"{typed}\" is one word too many here"), hint));
    }
    let flags = command.get_arguments().filter(|arg| !arg.is_hide_set());
    let (general, own): (Vec<&Arg>, Vec<&Arg>) = flags.partition(|arg| arg.is_global_set());
    let near = [own, general].into_iter().find_map(|flags| {
        let flags: Vec<&str> = flags.into_iter().filter_map(Arg::get_long).collect();
        nearest(typed.trim_start_matches('-'), &flags).map(|near| format!("--{near}"))
    });
    let hint = match &near {
        Some(flag) => of_flag(command, flag, args),
        None => help(args),
    };
    Some((
        format!("{typed} is not known here{}", or(near.as_ref())),
        hint,
    ))
}

/// What is missing, or has too much or too little.
fn missing(error: &clap::Error) -> Option<String> {
    let arg = text(error, ContextKind::InvalidArg);
    Some(match error.kind() {
        ErrorKind::MissingRequiredArgument => format!("missing: {}", arg?),
        ErrorKind::MissingSubcommand => "a command is missing".to_owned(),
        ErrorKind::InvalidValue if text(error, ContextKind::InvalidValue)?.is_empty() => {
            format!("{} needs a value", arg?)
        }
        ErrorKind::TooManyValues | ErrorKind::TooFewValues | ErrorKind::WrongNumberOfValues => {
            format!("{} has too many or too few values", arg?)
        }
        ErrorKind::InvalidUtf8 => "a word of it is not text in UTF-8".to_owned(),
        _ => return None,
    })
}

/// What excludes each other, or is given twice, and what to leave out.
fn several(error: &clap::Error) -> Option<(String, String)> {
    let one = text(error, ContextKind::InvalidArg);
    let one = bare(&one.or_else(|| text(error, ContextKind::InvalidSubcommand))?);
    let others: Vec<String> = match error.get(ContextKind::PriorArg) {
        Some(ContextValue::String(other)) => vec![bare(other)],
        Some(ContextValue::Strings(others)) => others.iter().map(|arg| bare(arg)).collect(),
        _ => Vec::new(),
    };
    Some(match others.as_slice() {
        [other] if *other == one => (format!("{one} is given twice"), format!("give {one} once")),
        [] => (
            format!("{one} cannot be used with the others"),
            format!("leave out {one}, or the others"),
        ),
        others => (
            format!("{one} cannot be used with {}", others.join(", ")),
            format!("leave out {one}, or {}", others.join(" and ")),
        ),
    })
}

fn text(error: &clap::Error, kind: ContextKind) -> Option<String> {
    match error.get(kind)? {
        ContextValue::String(text) => Some(text.clone()),
        ContextValue::Strings(all) => Some(all.join(", ")),
        _ => None,
    }
}

/// A flag without what stands for its value, or the name of a word without a flag.
fn bare(arg: &str) -> String {
    let name = arg.split_whitespace().next().unwrap_or(arg);
    name.trim_matches(['<', '>', '[', ']', '.']).to_owned()
}
