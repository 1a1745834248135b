//! The terminal: results on stdout, everything else on stderr.

pub mod booking;
pub mod cost_sheet;
mod csv;
pub mod offer;
pub mod offers;
pub mod outcome;
pub mod paragraph;
pub mod piece;
pub mod promise;
pub mod prompt;
pub mod quotation;
pub mod reservation;
pub mod sale;
pub mod seams;
pub mod sheet;
mod shown;
mod table;
pub mod time;

pub use shown::Shown;
pub use table::{Align, Table, headed, left, right};

use crate::{command_error::CommandError, environment::Environment};
use ellwand_contract::{
    json,
    text::{is_unseen, shown},
};
use serde::Serialize;
use std::{
    borrow::Cow,
    io::{self, Write},
};

/// Width when neither the terminal nor `COLUMNS` gives one.
const WIDTH: u16 = 100;

/// Writes results and messages.
pub struct Ui<'w> {
    out: &'w mut dyn Write,
    err: &'w mut dyn Write,
    width: u16,
    style_out: bool,
    style_err: bool,
    output_is_terminal: bool,
    /// Messages are on a terminal, where lines end with a word.
    messages_are_read: bool,
    json: bool,
    failure: Option<io::Error>,
}

impl<'w> Ui<'w> {
    /// A terminal of this environment.
    pub fn new(environment: &Environment, out: &'w mut dyn Write, err: &'w mut dyn Write) -> Self {
        Self {
            out,
            err,
            width: environment.width.unwrap_or(WIDTH).max(40),
            style_out: environment.output_is_terminal && !environment.no_color,
            style_err: environment.messages_are_terminal && !environment.no_color,
            output_is_terminal: environment.output_is_terminal,
            messages_are_read: environment.messages_are_terminal,
            json: false,
            failure: None,
        }
    }

    pub(crate) fn set_json(&mut self, json: bool) {
        self.json = json;
    }

    /// Columns that a line may take.
    #[must_use]
    pub fn width(&self) -> u16 {
        self.width
    }

    /// A line of the result.
    pub fn line(&mut self, text: impl AsRef<str>) {
        let text = shown(text.as_ref());
        self.print(&format!("{text}\n"));
    }

    /// A heading over a part of the result.
    pub fn heading(&mut self, text: impl AsRef<str>) {
        for line in paragraph::wrap(text.as_ref(), 0, usize::from(self.width)) {
            self.command(line);
        }
    }

    /// A command of the result, as it is typed.
    pub fn command(&mut self, text: impl AsRef<str>) {
        let text = bold(&shown(text.as_ref()), self.style_out);
        self.print(&format!("{text}\n"));
    }

    /// Starts the result again: on a terminal at its top, else under what came before.
    pub fn next_page(&mut self) {
        match self.output_is_terminal {
            true => self.print("\u{1b}[2J\u{1b}[3J\u{1b}[H"),
            false => self.blank(),
        }
    }

    /// An empty line in the result.
    pub fn blank(&mut self) {
        self.print("\n");
    }

    /// A text of the result, as it stands.
    pub fn text(&mut self, text: &str) {
        self.print(text);
    }

    /// A table of the result.
    pub fn table(&mut self, table: &Table) {
        let text = table.render(self.width, self.style_out);
        self.print(&text);
    }

    /// The answer as JSON.
    ///
    /// # Errors
    /// An answer that JSON cannot hold, a fault of the program.
    pub fn json(&mut self, answer: &impl Serialize) -> Result<(), CommandError> {
        let text = json::write_lines(answer).map_err(|error| CommandError::Output(error.into()))?;
        let text = escaped(&text);
        self.print(&format!("{text}\n"));
        Ok(())
    }

    /// The rows of an answer, for a spreadsheet.
    ///
    /// # Errors
    /// As [`Self::json`].
    pub fn csv(&mut self, answer: &impl Serialize) -> Result<(), CommandError> {
        let tree = json::tree(answer).map_err(|error| CommandError::Output(error.into()))?;
        let rows = csv::write(&tree).map_err(CommandError::Output)?;
        self.print(&String::from_utf8_lossy(&rows));
        Ok(())
    }

    /// What was done, as a sentence in the past tense.
    pub fn status(&mut self, sentence: impl AsRef<str>) {
        self.write_labelled("", sentence.as_ref());
    }

    /// What to do next.
    pub fn hint(&mut self, text: impl AsRef<str>) {
        self.write_labelled("hint: ", text.as_ref());
    }

    /// Something to know that stops nothing.
    pub fn warning(&mut self, text: impl AsRef<str>) {
        self.write_labelled("warning: ", text.as_ref());
    }

    /// Remarks that an answer carries.
    pub fn notes(&mut self, notes: &[String]) {
        const LABEL: &str = "note: ";
        let width = usize::from(self.width()).saturating_sub(LABEL.len());
        for note in notes {
            self.write_wrapped(LABEL, "      ", &paragraph::wrap(note, 0, width));
        }
    }

    /// Lines under a label; those after the first stand under its text.
    fn write_wrapped(&mut self, label: &str, under: &str, lines: &[String]) {
        for (number, line) in lines.iter().enumerate() {
            self.write_labelled(if number == 0 { label } else { under }, line);
        }
    }

    /// Why a command ended without its result: `error: …`, then `hint: …`; as a problem with `--json`.
    pub fn error(&mut self, error: &CommandError) {
        if matches!(error, CommandError::Output(cause) if cause.kind() == io::ErrorKind::BrokenPipe)
        {
            return;
        }
        if self.json {
            let text = json::write_lines(&error.problem()).unwrap_or_else(|_| error.message());
            return self.write_labelled("", &escaped(&text));
        }
        const LABEL: &str = "error: ";
        let width = usize::from(self.width).saturating_sub(LABEL.len());
        let message = error.message();
        let lines = message
            .lines()
            .flat_map(|line| match self.messages_are_read {
                true => paragraph::wrap(line, 0, width),
                false => vec![line.to_owned()],
            });
        let lines: Vec<String> = lines.collect();
        self.write_wrapped(LABEL, "       ", &lines);
        for hint in error.hints() {
            self.hint(hint);
        }
    }

    /// Output of the command line's own reader: help on stdout (0), errors on stderr (2).
    pub(crate) fn usage(&mut self, error: &clap::Error) -> u8 {
        let styled = if error.use_stderr() {
            self.style_err
        } else {
            self.style_out
        };
        let text = if styled {
            error.render().ansi().to_string()
        } else {
            error.render().to_string()
        };
        if error.use_stderr() {
            // There is nowhere left to report to when stderr is closed.
            let _ = self.err.write_all(text.as_bytes());
            return 2;
        }
        self.print(&text);
        0
    }

    /// The first failure of writing the result.
    ///
    /// # Errors
    /// [`CommandError::Output`].
    pub fn written(&mut self) -> Result<(), CommandError> {
        let flushed = self.out.flush();
        self.failure
            .take()
            .map_or(flushed, Err)
            .map_err(CommandError::Output)
    }

    fn print(&mut self, text: &str) {
        if self.failure.is_none() {
            self.failure = self.out.write_all(text.as_bytes()).err();
        }
    }

    fn write_labelled(&mut self, label: &str, text: &str) {
        let label = bold(label, self.style_err && !label.is_empty());
        // There is nowhere left to report to when stderr is closed.
        let _ = writeln!(self.err, "{label}{}", shown(text));
    }
}

/// JSON whose texts hold nothing that a terminal would obey: it stands there escaped, which JSON reads as the same.
fn escaped(json: &str) -> Cow<'_, str> {
    let obeyed = |letter: char| is_unseen(letter) && letter != '\n';
    if !json.contains(obeyed) {
        return Cow::Borrowed(json);
    }
    let escape = |letter: char| {
        if obeyed(letter) {
            format!("\\u{:04x}", u32::from(letter))
        } else {
            letter.to_string()
        }
    };
    Cow::Owned(json.chars().map(escape).collect())
}

fn bold(text: &str, styled: bool) -> String {
    if styled {
        format!("\u{1b}[1m{text}\u{1b}[0m")
    } else {
        text.to_owned()
    }
}
