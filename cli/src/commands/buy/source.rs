//! Where a purchase comes from: flags, or a file whose lines are named in errors.

use super::{check::check_line, line};
use crate::{
    command_error::CommandError,
    file::TextFile,
    pairs::{Pairs, PairsError, keys},
    sheet::{Fault, Faults},
    slips::refusal,
};
use ellwand_contract::purchases::{Buy, LineInput};
use std::path::Path;
use uuid::Uuid;

/// Where the keys are listed.
const HELP: &str = "nothing was booked; ellwand buy --help lists the keys of a line";

/// Where a purchase comes from.
#[derive(Debug)]
pub(super) enum Source {
    /// In flags, or in answers to questions.
    Flags,
    /// In a TOML file, which mirrors the request.
    Toml(TextFile),
    /// In a CSV file: lines, each with its line in the file.
    Csv(TextFile, Vec<(usize, LineInput)>),
}

/// Reads a file by the ending of its name.
///
/// # Errors
/// Exit 2: another ending, an unreadable file; for CSV the first line that cannot be read.
pub(super) fn read_source(path: &Path) -> Result<Source, CommandError> {
    match path
        .extension()
        .and_then(|ending| ending.to_str())
        .map(str::to_lowercase)
        .as_deref()
    {
        Some("toml") => Ok(Source::Toml(TextFile::read(path)?)),
        Some("csv") => {
            let file = TextFile::read(path)?;
            let lines = csv_lines(&file)?;
            Ok(Source::Csv(file, lines))
        }
        _ => Err(CommandError::usage(format!(
            "{} is neither a .toml nor a .csv file",
            path.display()
        ))),
    }
}

impl Source {
    pub(super) fn none() -> Self {
        Self::Flags
    }

    pub(super) fn is_none(&self) -> bool {
        matches!(self, Self::Flags)
    }

    /// The purchase in the file; empty without one.
    ///
    /// # Errors
    /// Exit 2 with the line.
    pub(super) fn purchase(&self, id: Uuid) -> Result<Buy, CommandError> {
        let lines = match self {
            Self::Flags => Vec::new(),
            Self::Csv(_, lines) => lines.iter().map(|(_, line)| line.clone()).collect(),
            Self::Toml(file) => return Ok(Buy { id, ..file.toml()? }),
        };
        Ok(Buy {
            id,
            supplier: None,
            date: None,
            invoice: None,
            currency: None,
            rate: None,
            home_amount: None,
            note: None,
            lines,
            charges: Vec::new(),
            really: false,
        })
    }

    /// Refuses values that cannot be read, all at once, each with its place.
    pub(super) fn check(&self, faults: &Faults) -> Result<(), CommandError> {
        let placed = |Fault { field, message }: &Fault| match self.place(field) {
            Some((file, line)) => file.fault(line, message).message(),
            None => format!("{}: {message}", spoken(field)),
        };
        let slips: Vec<String> = faults.0.iter().map(placed).collect();
        match slips.is_empty() {
            true => Ok(()),
            false => Err(refusal(&slips, HELP)),
        }
    }

    /// A refusal, with its place if it names a field of the file.
    pub(super) fn locate(&self, error: CommandError) -> CommandError {
        let CommandError::Problem {
            mut problem,
            repeat,
        } = error
        else {
            return error;
        };
        let place = problem.field.as_deref().and_then(|field| self.place(field));
        if matches!(self, Self::Flags)
            && let Some((list, _)) = problem
                .field
                .as_deref()
                .and_then(|field| field.split_once(']'))
        {
            problem.detail = format!(
                "{}: {}",
                spoken(&format!("{list}]")).trim_end_matches(", "),
                problem.detail
            );
        }
        if let Some((file, line)) = place {
            problem.detail = format!("{}, line {line}: {}", file.name, problem.detail);
        }
        CommandError::Problem { problem, repeat }
    }

    fn place(&self, field: &str) -> Option<(&TextFile, usize)> {
        match self {
            Self::Flags => None,
            Self::Toml(file) => file.line_of(field).map(|line| (file, line)),
            Self::Csv(file, lines) => {
                let number = field
                    .strip_prefix("line")?
                    .split(['[', ']', '.'])
                    .find(|part| !part.is_empty())?;
                let (line, _) = lines.get(number.parse::<usize>().ok()?)?;
                Some((file, *line))
            }
        }
    }
}

/// `line[0].full_width` → `line 1, full-width`.
fn spoken(field: &str) -> String {
    let Some((list, rest)) = field.split_once('[') else {
        return field.trim_start_matches("material.").replace('_', "-");
    };
    let Some((number, rest)) = rest.split_once(']') else {
        return field.to_owned();
    };
    let number = number
        .parse::<usize>()
        .map_or(0, |number| number.saturating_add(1));
    let rest = rest
        .trim_start_matches('.')
        .trim_start_matches("material.")
        .replace('_', "-");
    format!("{list} {number}, {rest}")
}

fn csv_lines(file: &TextFile) -> Result<Vec<(usize, LineInput)>, CommandError> {
    let header = file.text.lines().next().unwrap_or_default();
    // Spreadsheets of lands with a decimal comma write semicolons.
    let delimiter = if header.contains(';') && !header.contains(',') {
        b';'
    } else {
        b','
    };
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(delimiter)
        .trim(csv::Trim::All)
        .from_reader(file.text.as_bytes());
    let names = reader
        .headers()
        .map_err(|error| csv_fault(file, &error))?
        .clone();
    let keys = keys::<LineInput>();
    let header = Pairs::from_columns(names.iter().map(|name| (name, "")), &keys);
    if let Err(error) = header {
        return Err(refusal(&placed(file, 1, &error), HELP));
    }
    let (mut lines, mut slips) = (Vec::new(), Vec::new());
    for record in reader.records() {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                slips.push(csv_fault(file, &error).message());
                break;
            }
        };
        let number = line_of(file, record.position());
        if record.iter().all(str::is_empty) {
            continue;
        }
        let columns = names.iter().zip(record.iter()).map(known_or_not);
        let pairs = Pairs::from_columns(columns, &keys);
        match pairs.and_then(line::from_pairs) {
            Ok(line) => {
                let faults = check_line(&line, None).0;
                let place = |fault: &Fault| {
                    let key = spoken(&fault.field);
                    file.fault(number, &format!("{key}: {}", fault.message))
                        .message()
                };
                slips.extend(faults.iter().map(place));
                lines.push((number, line));
            }
            Err(error) => slips.extend(placed(file, number, &error)),
        }
    }
    if !slips.is_empty() {
        return Err(refusal(&slips, HELP));
    }
    if lines.is_empty() {
        return Err(CommandError::usage_hint(
            format!("{} has no lines below its header", file.name),
            "the header names the keys of --line: material,kind,paid,price …",
        ));
    }
    Ok(lines)
}

/// A price that is left empty in its column is not known.
fn known_or_not<'a>((key, value): (&'a str, &'a str)) -> (&'a str, &'a str) {
    match key.eq_ignore_ascii_case("price") && value.is_empty() {
        true => (key, "unknown"),
        false => (key, value),
    }
}

/// Slips of a line of the file.
fn placed(file: &TextFile, line: usize, error: &PairsError) -> Vec<String> {
    let slips = error.slips().iter();
    slips.map(|slip| file.fault(line, slip).message()).collect()
}

/// The line of a record. The reader's own count stands before the empty lines that it skips.
fn line_of(file: &TextFile, place: Option<&csv::Position>) -> usize {
    let start = place.map_or(0, |place| {
        usize::try_from(place.byte()).unwrap_or(usize::MAX)
    });
    let rest = file.text.get(start..).unwrap_or_default();
    let skipped = rest
        .len()
        .saturating_sub(rest.trim_start_matches(['\r', '\n']).len());
    file.line_at(start.saturating_add(skipped))
}

fn csv_fault(file: &TextFile, error: &csv::Error) -> CommandError {
    let line = line_of(file, error.position());
    match error.kind() {
        csv::ErrorKind::UnequalLengths {
            expected_len, len, ..
        } => file.fault(
            line,
            &format!("it has {len} values, but the header has {expected_len}"),
        ),
        _ => file.fault(line, &error.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(text: &str) -> Result<Vec<(usize, LineInput)>, String> {
        let file = TextFile {
            name: "lines.csv".to_owned(),
            text: text.to_owned(),
        };
        csv_lines(&file).map_err(|error| error.message())
    }

    #[test]
    fn a_row_is_a_line_with_its_place_in_the_file() {
        let read = lines(
            "material,kind,paid,price,size\nhorn buttons,trim,12,9.60,18L\n\n\"tape, black\",trim,5m,4.00,\n",
        );
        let read = read.expect("two lines");
        let found: Vec<_> = read
            .iter()
            .map(|(line, input)| (*line, input.material.name.clone().unwrap_or_default()))
            .collect();
        assert_eq!(
            found,
            [
                (2, "horn buttons".to_owned()),
                (4, "tape, black".to_owned())
            ]
        );
        assert_eq!(read[1].1.material.sheet.size, None);
    }

    #[test]
    fn semicolons_with_decimal_commas_are_read() {
        let read = lines("material;price\nwool;88,00\n").expect("one line");
        assert_eq!(read[0].1.price.as_deref(), Some("88,00"));
    }

    #[test]
    fn an_error_names_its_line() {
        assert_eq!(
            lines("material,price\nwool,1\nlinen\n").expect_err("short"),
            "lines.csv, line 3: it has 1 values, but the header has 2"
        );
        let unknown = lines("material,price\nwool,1\nlinen,\n").expect("no price");
        assert_eq!(unknown[1].1.price.as_deref(), Some("unknown"));
        assert_eq!(
            lines("material,paid\nwool,1m\n").expect_err("no column"),
            "lines.csv, line 2: price is missing, for example 88.00, price=0 for a gift or price=unknown"
        );
        assert!(
            lines("stuff,price\nwool,1\n")
                .expect_err("unknown")
                .starts_with("lines.csv, line 1: \"stuff\" is not a key here")
        );
        assert!(
            lines("material,price\n")
                .expect_err("empty")
                .contains("no lines below its header")
        );
    }

    #[test]
    fn a_field_is_spoken_as_people_count() {
        assert_eq!(spoken("line[0].material.full_width"), "line 1, full-width");
        assert_eq!(spoken("home_amount"), "home-amount");
    }
}
