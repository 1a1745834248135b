//! Files that people write, TOML with errors that name the file and the line; and files that are written for them.

use crate::{command_error::CommandError, days, slips::refusal};
use ellwand_contract::text::nearest;
use serde::de::DeserializeOwned;
use std::{
    fs::{self, OpenOptions},
    io::{ErrorKind, Write},
    path::Path,
};
use toml::de::{DeTable, DeValue};

/// A file's text and its name for messages.
#[derive(Debug)]
pub struct TextFile {
    /// As it was typed.
    pub name: String,
    /// All of it.
    pub text: String,
}

fn unreadable(path: &Path) -> impl Fn(std::io::Error) -> CommandError {
    move |error| {
        let message = format!("{} cannot be read: {error}", path.display());
        CommandError::usage_hint(message, "check its path: ls shows what is in a folder")
    }
}

/// All of a file that is no text.
///
/// # Errors
/// Exit 2 when it cannot be read.
pub fn bytes(path: &Path) -> Result<Vec<u8>, CommandError> {
    fs::read(path).map_err(unreadable(path))
}

impl TextFile {
    /// Reads a whole file.
    ///
    /// # Errors
    /// Exit 2 when it cannot be read or is not UTF-8.
    pub fn read(path: &Path) -> Result<Self, CommandError> {
        let name = path.display().to_string();
        let text = fs::read_to_string(path).map_err(unreadable(path))?;
        Ok(Self { name, text })
    }

    /// An error at a line, from 1.
    #[must_use]
    pub fn fault(&self, line: usize, message: &str) -> CommandError {
        CommandError::usage(format!("{}, line {line}: {message}", self.name))
    }

    /// The line of a byte position, from 1.
    #[must_use]
    pub fn line_at(&self, position: usize) -> usize {
        self.text
            .bytes()
            .take(position)
            .filter(|byte| *byte == b'\n')
            .count()
            .saturating_add(1)
    }

    /// Reads it as TOML.
    ///
    /// # Errors
    /// Exit 2 with the file and each line that is at fault.
    pub fn toml<T: DeserializeOwned>(&self) -> Result<T, CommandError> {
        whole(self.parse())
    }

    /// Reads it as TOML in which no key is a day, whatever it is called.
    ///
    /// # Errors
    /// As [`Self::toml`].
    pub fn words<T: DeserializeOwned>(&self) -> Result<T, CommandError> {
        whole(self.parsed(self.text.clone(), Vec::new()))
    }

    /// Reads it as TOML; what cannot be read, each with its line, and what is left without those lines.
    pub fn parse<T: DeserializeOwned>(&self) -> (Option<T>, Vec<String>) {
        let (text, wrong) = days::in_file(&self.text);
        let wrong = wrong.into_iter();
        let slips = wrong.map(|(line, slip)| self.fault(line, &slip).message());
        self.parsed(text, slips.collect())
    }

    fn parsed<T: DeserializeOwned>(
        &self,
        mut text: String,
        mut slips: Vec<String>,
    ) -> (Option<T>, Vec<String>) {
        loop {
            let error: toml::de::Error = match toml::from_str(&text) {
                Ok(read) => return (Some(read), slips),
                Err(error) => error,
            };
            let message = error.message().lines().next().unwrap_or_default();
            // What a line that was left out had to say is no slip of its own.
            if !slips.is_empty() && message.starts_with("missing field") {
                return (None, slips);
            }
            let at = error.span().map_or(0, |span| span.start);
            slips.push(self.fault(self.line_at(at), &plain(message)).message());
            if slips.len() >= MOST || !leave_out(&mut text, at) {
                return (None, slips);
            }
        }
    }
}

/// What was read, where nothing was wrong.
fn whole<T>((read, slips): (Option<T>, Vec<String>)) -> Result<T, CommandError> {
    match read.filter(|_| slips.is_empty()) {
        Some(read) => Ok(read),
        None => Err(refusal(
            &slips,
            "mend these lines and run it again; nothing was done",
        )),
    }
}

/// Slips of a file that are looked for.
const MOST: usize = 20;

/// Blanks the line of a key and its value at a place; false where there is none.
fn leave_out(text: &mut String, at: usize) -> bool {
    let begin = text
        .get(..at)
        .and_then(|before| before.rfind('\n'))
        .map_or(0, |end| end.saturating_add(1));
    let rest = text.get(begin..).unwrap_or_default();
    let end = begin.saturating_add(rest.find('\n').unwrap_or(rest.len()));
    let line = text.get(begin..end).unwrap_or_default();
    if !line.contains('=') || line.trim_start().starts_with('[') {
        return false;
    }
    let blank = " ".repeat(line.len());
    text.replace_range(begin..end, &blank);
    true
}

/// What a reader of the file understands of a wrong type.
fn plain(message: &str) -> String {
    if let Some((field, known)) = message
        .strip_prefix("unknown field `")
        .and_then(|rest| rest.split_once("`, expected "))
    {
        return unknown(field, known);
    }
    let Some((found, expected)) = message
        .strip_prefix("invalid type: ")
        .and_then(|rest| rest.split_once(", expected "))
    else {
        return message.to_owned();
    };
    match expected {
        "a string" => {
            format!("{found} needs quotes: write amounts and texts in quotes, \"88.00\"")
        }
        "struct ShrinkageInput" => {
            format!("{found} is no shrinkage: write {{ length = \"5%\", width = \"2%\" }}")
        }
        "a boolean" => format!("{found} is neither true nor false"),
        "a sequence" => format!("{found} is not a list: write [ … ]"),
        "i64" | "u8" | "u32" | "u64" => {
            format!("{found} is no whole number: write it without quotes")
        }
        _ => format!("{found} does not fit here: a table {{ … }} is expected"),
    }
}

/// `unknown field lenght; did you mean length?`, from the list that the reader gives.
fn unknown(field: &str, expected: &str) -> String {
    let known = expected.split('`').skip(1).step_by(2);
    let known: Vec<String> = known.map(str::to_owned).collect();
    match nearest(field, &known) {
        Some(near) => format!("unknown field {field}; did you mean {near}?"),
        None => format!(
            "unknown field {field}; the fields here are {}",
            known.join(", ")
        ),
    }
}

/// Reads a TOML file, such as a plan or a purchase.
///
/// # Errors
/// Exit 2 with the file and the line.
pub fn read_toml<T: DeserializeOwned>(path: &Path) -> Result<T, CommandError> {
    TextFile::read(path)?.toml()
}

impl TextFile {
    /// The line of a field of the TOML, written as problems name it: `line[0].material.mass`. Where the path leaves
    /// the file (a field that is not there), the line of its last known part.
    #[must_use]
    pub fn line_of(&self, field: &str) -> Option<usize> {
        let table = DeTable::parse(&self.text).ok()?;
        let mut place = None;
        let mut value: Option<&DeValue<'_>> = None;
        for part in field.split(['.', '[', ']']).filter(|part| !part.is_empty()) {
            let next = match value {
                None => table.get_ref().get(part),
                Some(DeValue::Table(inner)) => inner.get(part),
                Some(DeValue::Array(list)) => part
                    .parse::<usize>()
                    .ok()
                    .and_then(|number| list.get(number)),
                Some(_) => None,
            };
            let Some(next) = next else { break };
            place = Some(next.span().start);
            value = Some(next.get_ref());
        }
        place.map(|position| self.line_at(position))
    }
}

/// Writes a new file, or replaces one where that was agreed to.
///
/// # Errors
/// Exit 2: it is there already, or cannot be written.
pub fn write_new(path: &Path, bytes: &[u8], replace: bool) -> Result<(), CommandError> {
    let mut options = OpenOptions::new();
    options.write(true).truncate(true);
    if replace {
        options.create(true)
    } else {
        options.create_new(true)
    };
    let place = path.display();
    let file = options
        .open(path)
        .and_then(|mut file| file.write_all(bytes));
    file.map_err(|error| match error.kind() {
        ErrorKind::AlreadyExists => CommandError::usage_hint(
            format!("{place} is there already"),
            "name another file, or add --yes to replace it",
        ),
        _ => CommandError::usage(format!("{place} cannot be written: {error}")),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde::Deserialize;

    const TEXT: &str = "supplier = \"S\"\n\n[[line]]\npaid = \"4m\"\n\n[[line]]\nmaterial = { mass = \"270\" }\npaid = \"2\"\n";

    fn file(text: &str) -> TextFile {
        TextFile {
            name: "purchase.toml".to_owned(),
            text: text.to_owned(),
        }
    }

    #[test]
    fn a_field_is_found_in_its_line() {
        assert_eq!(file(TEXT).line_of("line[1].material.mass"), Some(7));
        assert_eq!(file(TEXT).line_of("line[1].paid"), Some(8));
        assert_eq!(
            file(TEXT).line_of("line[0].price"),
            Some(3),
            "a missing field: the line of its table"
        );
        assert_eq!(file(TEXT).line_of("nothing"), None);
    }

    #[test]
    fn what_toml_and_serde_refuse_is_reported_with_its_line() {
        #[derive(Debug, Deserialize)]
        #[serde(deny_unknown_fields)]
        struct Only {
            #[expect(dead_code, reason = "only its presence is read")]
            supplier: String,
        }
        let message = |text: &str| file(text).toml::<Only>().expect_err("refused").message();
        assert!(message("supplier = \"S\"\npaid = 3\n").starts_with("purchase.toml, line 2: "));
        assert!(message("supplier = 88.00\n").ends_with("in quotes, \"88.00\""));
        assert!(message("supplier = \"S\"\n\nx = = 3\n").starts_with("purchase.toml, line 3: "));
    }
}
