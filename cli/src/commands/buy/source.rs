//! Where a purchase comes from: flags, or a file whose lines are named in errors.

use super::{check::check_line, line};
use crate::{
    command_error::CommandError,
    file::TextFile,
    pairs::{Pairs, PairsError, keys},
    sheet::{Fault, Faults},
    slips::refusal,
};
use ellwand_contract::{
    Problem,
    purchases::{Buy, LineInput},
};
use sha2::{Digest, Sha256};
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
    /// In a CSV file: lines, each with its line in the file, and what cannot be read of the others.
    Csv(TextFile, Vec<(usize, LineInput)>, Vec<String>),
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
            let (lines, slips) = csv_lines(&file)?;
            Ok(Source::Csv(file, lines, slips))
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
            Self::Csv(_, lines, _) => lines.iter().map(|(_, line)| line.clone()).collect(),
            Self::Toml(file) => {
                let file_sha256 = Some(sha256(file));
                let read = file.toml()?;
                return Ok(Buy {
                    id,
                    file_sha256,
                    ..read
                });
            }
        };
        let file_sha256 = match self {
            Self::Csv(file, ..) => Some(sha256(file)),
            _ => None,
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
            opening: false,
            check: false,
            file_sha256,
            lines,
            charges: Vec::new(),
            really: false,
        })
    }

    /// Refuses a file of which not every line can be read.
    pub(super) fn sound(&self) -> Result<(), CommandError> {
        match self {
            Self::Csv(_, _, slips) if !slips.is_empty() => Err(refused(slips)),
            _ => Ok(()),
        }
    }

    /// Refuses values that cannot be read, all at once, each with its place.
    pub(super) fn check(&self, faults: &Faults) -> Result<(), CommandError> {
        let slips: Vec<String> = faults
            .0
            .iter()
            .map(|fault| self.slip_with_place(fault))
            .collect();
        match slips.is_empty() {
            true => Ok(()),
            false => Err(refused(&slips)),
        }
    }

    /// All that cannot be read: of the file, and of its values.
    pub(super) fn slips(&self, faults: &Faults) -> Vec<String> {
        let of_file = match self {
            Self::Csv(_, _, slips) => slips.as_slice(),
            _ => &[],
        };
        let of_values = faults.0.iter().map(|fault| self.slip_with_place(fault));
        of_file.iter().cloned().chain(of_values).collect()
    }

    fn slip_with_place(&self, Fault { field, message }: &Fault) -> String {
        match self.place(field) {
            Some((file, line)) => file.fault(line, message).message(),
            None => format!("{}: {message}", spoken(field)),
        }
    }

    /// Leaves lines out of which a value cannot be read, so that the others are asked of the book; the places of those.
    pub(super) fn leave_out(act: &mut Buy) -> Vec<usize> {
        let lines = std::mem::take(&mut act.lines).into_iter().enumerate();
        let sound = lines.filter(|(_, line)| check_line(line, None).0.is_empty());
        let (kept, lines) = sound.unzip();
        act.lines = lines;
        kept
    }

    /// The refusals of the book, each with its place.
    ///
    /// # Errors
    /// What is no refusal.
    pub(super) fn slips_of_refusal(
        &self,
        error: CommandError,
        kept: &[usize],
    ) -> Result<Vec<String>, CommandError> {
        let CommandError::Problem { problem, .. } = &error else {
            return Err(error);
        };
        if problem.kind.exit() != 1 {
            return Err(error);
        }
        Ok(self.slips_of(problem, kept))
    }

    /// In the order of the file.
    pub(super) fn sort_by_line(&self, slips: &mut [String]) {
        let line = |slip: &String| {
            let rest = slip.split_once(", line ").map(|(_, rest)| rest);
            let number = rest.and_then(|rest| rest.split(':').next());
            number
                .and_then(|number| number.parse::<usize>().ok())
                .unwrap_or(0)
        };
        slips.sort_by_key(line);
    }

    /// `kept`: places of the lines that were sent, where not all of them were.
    fn slips_of(&self, problem: &Problem, kept: &[usize]) -> Vec<String> {
        let own = |field: String| -> String {
            let Some((number, rest)) = field
                .strip_prefix("line[")
                .and_then(|rest| rest.split_once(']'))
            else {
                return field;
            };
            let place = number.parse::<usize>().ok().and_then(|sent| kept.get(sent));
            place.map_or(field.clone(), |place| format!("line[{place}]{rest}"))
        };
        let one = |field: Option<String>, detail: String, hint: Option<String>| {
            let hint = hint.map_or_else(String::new, |hint| format!("; {hint}"));
            let (field, message) = (own(field.unwrap_or_default()), format!("{detail}{hint}"));
            match field.is_empty() {
                true => message,
                false => self.slip_with_place(&Fault { field, message }),
            }
        };
        let slips = problem.errors().into_iter();
        slips
            .map(|slip| one(slip.field, slip.detail, slip.hint))
            .collect()
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
        if problem.errors().len() > 1 {
            let slips = self.slips_of(&problem, &[]);
            problem.detail = slips.join("\n");
            problem.hint = Some("nothing was booked".to_owned());
            return CommandError::Problem { problem, repeat };
        }
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
            Self::Csv(file, lines, _) => {
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

/// Slips as one refusal.
pub(super) fn refused(slips: &[String]) -> CommandError {
    refusal(slips, HELP)
}

/// What a file is known by when it is logged again.
fn sha256(file: &TextFile) -> String {
    Sha256::digest(file.text.as_bytes())
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

/// Lines of a file, each with its line, and what cannot be read of the others.
type Lines = (Vec<(usize, LineInput)>, Vec<String>);

fn csv_lines(file: &TextFile) -> Result<Lines, CommandError> {
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
                if faults.is_empty() {
                    lines.push((number, line));
                }
                slips.extend(faults.iter().map(place));
            }
            Err(error) => slips.extend(placed(file, number, &error)),
        }
    }
    if lines.is_empty() && slips.is_empty() {
        return Err(CommandError::usage_hint(
            format!("{} has no lines below its header", file.name),
            "the header names the keys of --line: material,kind,paid,price …",
        ));
    }
    Ok((lines, slips))
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
        let (lines, slips) = csv_lines(&file).map_err(|error| error.message())?;
        match slips.is_empty() {
            true => Ok(lines),
            false => Err(slips.join("\n")),
        }
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
