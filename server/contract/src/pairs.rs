//! Flags of the form `key=value,key=value`, such as `--line`, `--charge`, `--need` and `--operation`.

use clap::{
    Arg, ArgAction, Command,
    error::{ContextKind, ContextValue, ErrorKind},
};
use serde::Serialize;
use serde_json::Value;
use std::{error::Error as _, fmt};

/// The pairs of one flag, in the order typed. Keys are taken one by one; any left over are unknown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pairs {
    text: String,
    pairs: Vec<(String, String)>,
}

/// Why a list of pairs was refused.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PairsError(String);

impl PairsError {
    /// Any other fault in a list of pairs.
    pub fn new(message: impl Into<String>) -> Self {
        Self(message.into())
    }
}

impl fmt::Display for PairsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for PairsError {}

impl Pairs {
    /// Reads `key=value,key=value`. A comma begins a new pair only where a known key and `=` follow, so that
    /// values may hold commas (`note=soft, heavy`) and decimal commas; double quotes hold anything.
    ///
    /// # Errors
    /// A part without `=`, an unknown key, a key given twice, an empty value, a quote that is not closed.
    pub fn parse(text: &str, known: &[String]) -> Result<Self, PairsError> {
        let mut pairs: Vec<(String, String)> = Vec::new();
        for part in split(text)? {
            match part
                .split_once('=')
                .map(|(key, value)| (normal(key), value.trim()))
            {
                Some((key, value)) if known.contains(&key) => {
                    if pairs.iter().any(|(other, _)| *other == key) {
                        return Err(PairsError(format!("{key} is given twice in \"{text}\"")));
                    }
                    pairs.push((key, value.to_owned()));
                }
                Some((key, _)) if is_key(&key) => return Err(unknown(&key, known)),
                _ => match pairs.last_mut() {
                    Some((_, value)) => {
                        value.push(',');
                        value.push_str(&part);
                    }
                    None => return Err(no_pair(&part, known)),
                },
            }
        }
        for (key, value) in &mut pairs {
            *value = unquoted(value).trim().to_owned();
            if value.is_empty() {
                return Err(PairsError(format!("{key} has no value in \"{text}\"")));
            }
        }
        if pairs.is_empty() {
            Err(no_pair(text, known))
        } else {
            Ok(Self {
                text: text.to_owned(),
                pairs,
            })
        }
    }

    /// Pairs that were read elsewhere, such as a line of a CSV file; empty values are left out.
    ///
    /// # Errors
    /// An unknown key or a key given twice.
    pub fn from_columns<'a>(
        columns: impl IntoIterator<Item = (&'a str, &'a str)>,
        known: &[String],
    ) -> Result<Self, PairsError> {
        let mut pairs: Vec<(String, String)> = Vec::new();
        for (key, value) in columns {
            let key = normal(key);
            if !known.contains(&key) {
                return Err(unknown(&key, known));
            }
            if pairs.iter().any(|(other, _)| *other == key) {
                return Err(PairsError(format!("the column {key} appears twice")));
            }
            if !value.trim().is_empty() {
                pairs.push((key, value.trim().to_owned()));
            }
        }
        Ok(Self {
            text: String::new(),
            pairs,
        })
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
    /// A pair that is missing or cannot be read, with its key.
    pub fn read<A: clap::Args>(mut self) -> Result<A, PairsError> {
        let command = command::<A>();
        let mut words = Vec::new();
        for arg in command.get_arguments() {
            if let Some((key, value)) = arg.get_long().and_then(|key| Some((key, self.take(key)?)))
            {
                words.extend(flag(arg, key, &value)?);
            }
        }
        let read = command.try_get_matches_from(words);
        read.and_then(|found| A::from_arg_matches(&found))
            .map_err(|error| match fault(&error) {
                Fault::Missing { key, example } => missing(&self.text, &key, &example),
                Fault::Value { key, message } => PairsError(format!("{key}: {message}")),
            })
    }
}

/// Reads `key=value,key=value` by the flags of `A`.
pub fn parse_args<A: clap::Args>(text: &str) -> Result<A, PairsError> {
    Pairs::parse(text, &keys::<A>())?.read()
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
/// # Errors
/// The first field that cannot be read, and what is wrong with it.
pub fn check<A: clap::Args>(part: &impl Serialize) -> Result<(), (String, String)> {
    let fields = crate::json::tree(part).unwrap_or_default();
    for arg in command::<A>().get_arguments() {
        if let Some(text) = fields.get(arg.get_id().as_str()).and_then(Value::as_str) {
            reads(arg, text).map_err(|message| (arg.get_id().to_string(), message))?;
        }
    }
    Ok(())
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
    let alone = Command::new("pair").no_binary_name(true);
    let flag = format!("--{}={text}", arg.get_long().unwrap_or_default());
    let read = alone
        .arg(arg.clone().required(false))
        .try_get_matches_from([flag]);
    match read.as_ref().map_err(fault) {
        Err(Fault::Value { message, .. }) => Err(message),
        _ => Ok(()),
    }
}

fn command<A: clap::Args>() -> Command {
    A::augment_args(Command::new("pairs").no_binary_name(true))
}

/// A pair as it would stand on the command line.
fn flag(arg: &Arg, key: &str, value: &str) -> Result<Vec<String>, PairsError> {
    let yes_or_no = || match value.to_lowercase().as_str() {
        "yes" | "true" => Ok(true),
        "no" | "false" => Ok(false),
        other => Err(PairsError(format!(
            "{key}: \"{other}\" is neither yes nor no"
        ))),
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

/// Why pairs could not be read.
enum Fault {
    /// One must be there.
    Missing { key: String, example: String },
    /// One cannot be read.
    Value { key: String, message: String },
}

fn fault(error: &clap::Error) -> Fault {
    let flag = match error.get(ContextKind::InvalidArg) {
        Some(ContextValue::String(flag)) => flag.as_str(),
        Some(ContextValue::Strings(flags)) => flags.first().map_or("", String::as_str),
        _ => "",
    };
    let (key, example) = flag
        .trim_start_matches("--")
        .split_once(' ')
        .unwrap_or((flag, ""));
    let key = key.to_owned();
    if error.kind() == ErrorKind::MissingRequiredArgument {
        let example = example.trim_matches(['<', '>']).to_owned();
        return Fault::Missing { key, example };
    }
    let message = error
        .source()
        .map_or_else(|| error.to_string(), ToString::to_string);
    Fault::Value { key, message }
}

fn missing(text: &str, key: &str, example: &str) -> PairsError {
    PairsError(match text {
        "" => format!("{key} is missing, for example {example}"),
        text => format!("\"{text}\" has no {key}, for example {key}={example}"),
    })
}

/// Splits at commas outside double quotes.
fn split(text: &str) -> Result<Vec<String>, PairsError> {
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
        Err(PairsError(format!("a quote is not closed in \"{text}\"")))
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

fn unknown(key: &str, known: &[String]) -> PairsError {
    PairsError(format!(
        "\"{key}\" is not a key here; the keys are {}",
        known.join(", ")
    ))
}

fn no_pair(part: &str, known: &[String]) -> PairsError {
    PairsError(format!(
        "\"{}\" is not key=value; the keys are {}",
        part.trim(),
        known.join(", ")
    ))
}

#[cfg(test)]
mod tests;
