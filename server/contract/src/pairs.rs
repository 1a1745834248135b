//! Flags of the form `key=value,key=value`, such as `--line`, `--charge`, `--need` and `--operation`.

mod change;

use crate::text::nearest;
pub use change::{changed_fields, parse_change};
use clap::{
    Arg, ArgAction, Command,
    error::{ContextKind, ContextValue},
};
use serde::Serialize;
use serde_json::Value;
use std::{error::Error as _, fmt, num::ParseIntError};

/// The pairs of one flag, in the order typed. Keys are taken one by one; any left over are unknown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pairs {
    text: String,
    pairs: Vec<(String, String)>,
    /// What is wrong with the others.
    slips: Vec<String>,
    /// Known keys that an unknown one was probably meant for.
    meant: Vec<String>,
    /// Keys without a value.
    empty: Vec<String>,
}

/// Why a list of pairs was refused: all that is wrong with it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PairsError {
    slips: Vec<String>,
    flags: Vec<Arg>,
}

impl PairsError {
    /// Any other fault in a list of pairs.
    pub fn new(message: impl Into<String>) -> Self {
        vec![message.into()].into()
    }

    /// The same, of pairs that these flags could read.
    #[must_use]
    pub fn of_flags(self, flags: Vec<Arg>) -> Self {
        Self { flags, ..self }
    }

    /// Each fault by itself.
    #[must_use]
    pub fn slips(&self) -> &[String] {
        &self.slips
    }

    /// The flags that the pairs are read by; each is a key.
    #[must_use]
    pub fn flags(&self) -> &[Arg] {
        &self.flags
    }
}

impl From<Vec<String>> for PairsError {
    fn from(slips: Vec<String>) -> Self {
        let flags = Vec::new();
        Self { slips, flags }
    }
}

impl fmt::Display for PairsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.slips.join("; "))
    }
}

impl std::error::Error for PairsError {}

impl Pairs {
    /// Reads `key=value,key=value`; what is wrong with a pair is kept until the pairs are read. A comma begins a new pair only where a known key and `=` follow, so that
    /// values may hold commas (`note=soft, heavy`) and decimal commas; double quotes hold anything.
    #[must_use]
    pub fn parse(text: &str, known: &[String]) -> Self {
        let mut read = Self {
            text: text.to_owned(),
            pairs: Vec::new(),
            slips: Vec::new(),
            meant: Vec::new(),
            empty: Vec::new(),
        };
        match split(text) {
            Ok(parts)
                if parts.len() == 1
                    && text.matches(';').count() > 0
                    && text.matches('=').count() > 1 =>
            {
                let slip = "pairs are set apart by commas, not by semicolons";
                read.slips.push(slip.to_owned());
            }
            Ok(parts) => parts.iter().for_each(|part| read.add(part, known)),
            Err(slip) => read.slips.push(slip),
        }
        let mut pairs = std::mem::take(&mut read.pairs);
        for (key, value) in &mut pairs {
            *value = unquoted(value).trim().to_owned();
            if value.is_empty() {
                read.empty.push(key.clone());
            }
        }
        pairs.retain(|(_, value)| !value.is_empty());
        if pairs.is_empty() && read.slips.is_empty() && read.empty.is_empty() {
            read.slips.push(no_pair(text, known));
        }
        read.pairs = pairs;
        read
    }

    /// One part of the text: a pair, or what goes on after the comma of the value before.
    fn add(&mut self, part: &str, known: &[String]) {
        match part
            .split_once('=')
            .map(|(key, value)| (normal(key), value.trim()))
        {
            Some((key, value)) if known.contains(&key) => {
                if self.pairs.iter().any(|(other, _)| *other == key) {
                    self.slips.push(format!("{key} is given twice"));
                } else {
                    self.pairs.push((key, value.to_owned()));
                }
            }
            Some((key, _)) if is_key(&key) => self.unknown(&key, known),
            _ => match self.pairs.last_mut() {
                Some((_, value)) => {
                    value.push(',');
                    value.push_str(part);
                }
                None if self.slips.is_empty() => self.slips.push(no_pair(part, known)),
                None => {}
            },
        }
    }

    fn unknown(&mut self, key: &str, known: &[String]) {
        let near = nearest(key, known);
        self.slips.push(match near {
            Some(near) => format!("\"{key}\" is not a key here; did you mean {near}?"),
            None if known.len() <= FEW => {
                format!(
                    "\"{key}\" is not a key here; the keys are {}",
                    known.join(", ")
                )
            }
            None => format!("\"{key}\" is not a key here"),
        });
        self.meant.extend(near.cloned());
    }

    /// The pairs, where nothing is wrong with them.
    ///
    /// # Errors
    /// A part without `=`, an unknown key, a key given twice, an empty value, a quote that is not closed.
    pub fn sound(mut self) -> Result<Self, PairsError> {
        self.refuse_empty();
        if self.slips.is_empty() {
            Ok(self)
        } else {
            Err(self.slips.into())
        }
    }

    /// Keys without a value are slips.
    fn refuse_empty(&mut self) {
        let empty = self.empty.drain(..);
        self.slips
            .extend(empty.map(|key| format!("{key} has no value")));
    }

    /// Pairs that were read elsewhere, such as a line of a CSV file; empty values are left out.
    ///
    /// # Errors
    /// An unknown key or a key given twice.
    pub fn from_columns<'a>(
        columns: impl IntoIterator<Item = (&'a str, &'a str)>,
        known: &[String],
    ) -> Result<Self, PairsError> {
        let mut read = Self {
            text: String::new(),
            pairs: Vec::new(),
            slips: Vec::new(),
            meant: Vec::new(),
            empty: Vec::new(),
        };
        let mut seen: Vec<String> = Vec::new();
        for (key, value) in columns {
            let key = normal(key);
            if !known.contains(&key) {
                read.unknown(&key, known);
            } else if seen.contains(&key) {
                read.slips.push(format!("the column {key} appears twice"));
            } else if !value.trim().is_empty() {
                read.pairs.push((key.clone(), value.trim().to_owned()));
            }
            seen.push(key);
        }
        read.sound()
    }

    /// Takes a value out.
    pub fn take(&mut self, key: &str) -> Option<String> {
        let place = self.pairs.iter().position(|(other, _)| other == key)?;
        Some(self.pairs.remove(place).1)
    }

    /// Reads the pairs by the flags of `A`: what may be typed as `--key value` is typed as `key=value`, a list with strokes
    /// between its entries.
    ///
    /// # Errors
    /// All that is wrong with the pairs: those of [`Self::sound`], those that are missing or cannot be read, each with its key.
    pub fn read<A: clap::Args>(mut self) -> Result<A, PairsError> {
        self.refuse_empty();
        self.read_with(|_| None)
    }

    /// Reads the pairs; `instead` is what a required key without a value is read from, where it may be missing.
    fn read_with<A: clap::Args>(
        mut self,
        instead: impl Fn(&Arg) -> Option<String>,
    ) -> Result<A, PairsError> {
        let command = command::<A>();
        let (mut words, mut slips) = (Vec::new(), std::mem::take(&mut self.slips));
        for arg in command.get_arguments() {
            let Some(key) = arg.get_long() else { continue };
            let given = self.take(key);
            let filled = || instead(arg).filter(|_| arg.is_required_set());
            let Some(value) = given.or_else(filled) else {
                if arg.is_required_set() && !self.meant.iter().any(|meant| meant == key) {
                    let example = arg.get_value_names().and_then(<[_]>::first);
                    slips.push(missing(&self.text, key, example.map_or("", |name| name)));
                }
                continue;
            };
            let read = flag(arg, key, &value).and_then(|typed| {
                typed.iter().try_for_each(|word| reads_as(arg, word))?;
                Ok(typed)
            });
            match read {
                Ok(typed) => words.extend(typed),
                Err(message) => slips.push(format!("{key}: {message}")),
            }
        }
        if !slips.is_empty() {
            let flags = command.get_arguments().cloned().collect();
            return Err(PairsError { slips, flags });
        }
        let read = command.try_get_matches_from(words);
        read.and_then(|found| A::from_arg_matches(&found))
            .map_err(|error| {
                let Fault { key, message } = fault(&error);
                PairsError::new(format!("{key}: {message}"))
            })
    }
}

/// Reads `key=value,key=value` by the flags of `A`.
pub fn parse_args<A: clap::Args>(text: &str) -> Result<A, PairsError> {
    Pairs::parse(text, &keys::<A>()).read()
}

/// The keys that the flags of `A` read.
#[must_use]
pub fn keys<A: clap::Args>() -> Vec<String> {
    let command = command::<A>();
    let keys = command.get_arguments().filter_map(Arg::get_long);
    keys.map(str::to_owned).collect()
}

/// Reads the texts of what came from a file by the flags of `A`, so that a slip is found before anything is sent.
///
/// Fields that cannot be read, and what is wrong with each.
#[must_use]
pub fn check<A: clap::Args>(part: &impl Serialize) -> Vec<(String, String)> {
    let fields = crate::json::tree(part).unwrap_or_default();
    let command = command::<A>();
    let slip = |arg: &Arg| {
        let id = arg.get_id().as_str();
        let text = fields.get(id).and_then(Value::as_str)?;
        let message = reads(arg, text).err()?;
        Some((id.to_owned(), message))
    };
    command.get_arguments().filter_map(slip).collect()
}

/// A part of a request as key=value pairs.
#[must_use]
pub fn write<A: clap::Args>(part: &impl Serialize) -> String {
    let fields = crate::json::tree(part).unwrap_or_default();
    let pair = |arg: &Arg| {
        let (key, field) = (arg.get_long()?, arg.get_id().as_str());
        let value = match fields.get(field).or_else(|| fields.get(key))? {
            Value::String(text) if text.contains(',') => format!("\"{text}\""),
            Value::String(text) => text.clone(),
            // Of a change: cleared.
            Value::Null => String::new(),
            Value::Number(number) => number.to_string(),
            Value::Bool(true) => "yes".to_owned(),
            _ => return None,
        };
        Some(format!("{key}={value}"))
    };
    let command = command::<A>();
    let pairs: Vec<String> = command.get_arguments().filter_map(pair).collect();
    pairs.join(",")
}

/// Reads a text as the flag of this key in `A` does.
///
/// # Errors
/// What is wrong with it.
pub fn check_one<A: clap::Args>(key: &str, text: &str) -> Result<(), String> {
    let command = command::<A>();
    let arg = command
        .get_arguments()
        .find(|arg| arg.get_long() == Some(key));
    arg.map_or(Ok(()), |arg| reads(arg, text))
}

fn reads(arg: &Arg, text: &str) -> Result<(), String> {
    let word = format!("--{}={text}", arg.get_long().unwrap_or_default());
    reads_as(arg, &word)
}

/// Reads a word of the command line as this flag alone.
fn reads_as(arg: &Arg, word: &str) -> Result<(), String> {
    let alone = Command::new("pair").no_binary_name(true);
    let read = alone
        .arg(arg.clone().required(false))
        .try_get_matches_from([word]);
    read.map(|_| ()).map_err(|error| fault(&error).message)
}

fn command<A: clap::Args>() -> Command {
    A::augment_args(Command::new("pairs").no_binary_name(true))
}

/// A pair as it would stand on the command line.
fn flag(arg: &Arg, key: &str, value: &str) -> Result<Vec<String>, String> {
    let yes_or_no = || match value.to_lowercase().as_str() {
        "yes" | "true" => Ok(true),
        "no" | "false" => Ok(false),
        other => Err(format!("\"{other}\" is neither yes nor no")),
    };
    let is_bool = arg
        .get_possible_values()
        .iter()
        .any(|value| value.matches("true", false));
    Ok(match arg.get_action() {
        ArgAction::SetTrue => yes_or_no()?
            .then(|| format!("--{key}"))
            .into_iter()
            .collect(),
        ArgAction::Append => {
            let entries = value.split(if arg.get_value_delimiter().is_some() {
                '\n'
            } else {
                '/'
            });
            entries
                .map(|entry| format!("--{key}={}", entry.trim()))
                .collect()
        }
        _ if is_bool => vec![format!("--{key}={}", yes_or_no()?)],
        _ => vec![format!("--{key}={value}")],
    })
}

/// A pair that could not be read.
struct Fault {
    key: String,
    message: String,
}

fn fault(error: &clap::Error) -> Fault {
    let flag = match error.get(ContextKind::InvalidArg) {
        Some(ContextValue::String(flag)) => flag.as_str(),
        Some(ContextValue::Strings(flags)) => flags.first().map_or("", String::as_str),
        _ => "",
    };
    let (key, _) = flag
        .trim_start_matches("--")
        .split_once(' ')
        .unwrap_or((flag, ""));
    Fault {
        key: key.to_owned(),
        message: value_message(error),
    }
}

/// What is wrong with the value that a command line was refused for, without the value's name.
#[must_use]
pub fn value_message(error: &clap::Error) -> String {
    let text = |kind| match error.get(kind) {
        Some(ContextValue::String(text)) => Some(text.clone()),
        _ => None,
    };
    if let Some(source) = error.source() {
        return match (
            source.is::<ParseIntError>(),
            text(ContextKind::InvalidValue),
        ) {
            (true, Some(typed)) => format!("\"{typed}\" is not a whole number, for example 3"),
            _ => or_nearest(&source.to_string()),
        };
    }
    match (
        text(ContextKind::InvalidValue),
        error.get(ContextKind::ValidValue),
    ) {
        (Some(value), Some(ContextValue::Strings(valid))) if !valid.is_empty() => {
            match nearest(&value, valid) {
                Some(near) => format!("\"{value}\" is not accepted; did you mean {near}?"),
                None => format!(
                    "\"{value}\" is not accepted; choose from {}",
                    valid.join(", ")
                ),
            }
        }
        _ => error.to_string(),
    }
}

/// `"linning" is not a kind of material; did you mean lining?`, where one of a list is near; else the list.
fn or_nearest(message: &str) -> String {
    let listed = message.split_once("; choose from ");
    let near = listed.and_then(|(head, list)| {
        let word = head.split('"').nth(1)?.to_lowercase();
        let known: Vec<String> = list.split(", ").map(str::to_owned).collect();
        let near = nearest(&word, &known)?;
        Some(format!("{head}; did you mean {near}?"))
    });
    near.unwrap_or_else(|| message.to_owned())
}

fn missing(text: &str, key: &str, example: &str) -> String {
    match text {
        "" => format!("{key} is missing, for example {example}"),
        _ => format!("{key} is missing, for example {key}={example}"),
    }
}

/// Keys that are listed where none of them is near.
const FEW: usize = 12;
/// Splits at commas outside double quotes.
fn split(text: &str) -> Result<Vec<String>, String> {
    let mut parts = vec![String::new()];
    let mut quoted = false;
    for (place, letter) in text.char_indices() {
        // A quote opens only right behind `=`, so that inches (60") stay inches.
        let opens = !quoted && letter == '"' && text[..place].ends_with('=');
        let closes =
            quoted && letter == '"' && matches!(text[place..].chars().nth(1), None | Some(','));
        if opens || closes {
            quoted = opens;
        }
        match parts.last_mut() {
            _ if letter == ',' && !quoted => parts.push(String::new()),
            Some(part) => part.push(letter),
            None => {}
        }
    }
    if quoted {
        Err(format!("a quote is not closed in \"{text}\""))
    } else {
        Ok(parts)
    }
}

fn normal(key: &str) -> String {
    key.trim().to_lowercase().replace([' ', '_'], "-")
}

fn is_key(key: &str) -> bool {
    !key.is_empty() && key.bytes().all(|b| b.is_ascii_lowercase() || b == b'-')
}

fn unquoted(value: &str) -> &str {
    value
        .strip_prefix('"')
        .and_then(|rest| rest.strip_suffix('"'))
        .unwrap_or(value)
}

fn no_pair(part: &str, known: &[String]) -> String {
    let first = known.first().map_or("key", String::as_str);
    format!("\"{}\" is not key=value, such as {first}=…", part.trim())
}

#[cfg(test)]
mod tests;
