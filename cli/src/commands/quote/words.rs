//! `ellwand quote words`.

use crate::{
    command_error::CommandError,
    context::Context,
    file::TextFile,
    slips::refusal,
    verb::{Run, Verb},
};
use ellwand_contract::{
    words::{Label, SetWords, Words, slips},
    workshop::{GetWorkshop, Workshop},
};
use std::path::PathBuf;
use uuid::Uuid;

/// Print the words of quotations and receipts, or set them from a file, so that they are in your own language
///
/// The file is TOML, a label in each line; a label that is left out has its usual words. Without a file the words are printed
/// as such a file, to begin with. What is printed from now on is in the new words; a version keeps those of its day.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand quote words > words.toml
  ellwand quote words words.toml
  ellwand quote words --forget")]
pub struct Args {
    /// File of labels, such as words.toml
    file: Option<PathBuf>,
    /// Forget all words of your own
    #[arg(long, conflicts_with = "file")]
    forget: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if self.file.is_none() && !self.forget {
            if let Some(answer) = context.answer(&GetWorkshop {})? {
                for line in starter(&answer.words).lines() {
                    context.ui.line(line);
                }
            }
            return Ok(());
        }
        let words = match &self.file {
            Some(path) => words_in(&TextFile::read(path)?)?,
            None => Words::new(),
        };
        let id = Uuid::nil();
        SetWords { id, words }.run(context)
    }
}

/// Reads a file of labels; each slip with its line.
fn words_in(file: &TextFile) -> Result<Words, CommandError> {
    let mut words: Words = file.words()?;
    let line_of = |key: &str| {
        let lines = file.text.lines();
        let at = lines
            .map(|line| line.split('=').next())
            .position(|own| own.is_some_and(|own| own.trim().trim_matches('"') == key));
        at.map_or(1, |at| at.saturating_add(1))
    };
    let mut found = slips(&words);
    found.sort_by_key(|(key, _)| line_of(key));
    let found: Vec<String> = found
        .iter()
        .map(|(key, slip)| file.fault(line_of(key), slip).message())
        .collect();
    if !found.is_empty() {
        return Err(refusal(&found, "nothing was set"));
    }
    // What is as usual is no word of the workshop's own.
    words.retain(|key, word| Label::of_key(key).is_none_or(|label| label.usual() != word));
    Ok(words)
}

/// All labels as a file that sets what is set.
fn starter(own: &Words) -> String {
    let mut text = "# Words of quotations and receipts. Change what stands in quotes, then: ellwand quote words FILE\n\
                    # Keep places such as {version}; they are filled in.\n"
        .to_owned();
    for (about, labels) in Label::GROUPS {
        text.push_str(&format!("\n# {about}\n"));
        for label in *labels {
            let word = own.get(label.key()).map_or(label.usual(), String::as_str);
            let word = toml::Value::from(word);
            text.push_str(&format!("{} = {word}\n", label.key()));
        }
    }
    text
}

impl Verb for SetWords {
    fn show(&self, _: Workshop, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        context.ui.status(match self.words.len() {
            0 => "Sheets have their usual words.".to_owned(),
            count => format!("Set {count} of {} labels of sheets.", Label::ALL.len()),
        });
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(text: &str) -> TextFile {
        TextFile {
            name: "words.toml".to_owned(),
            text: text.to_owned(),
        }
    }

    #[test]
    fn what_is_printed_can_be_read_and_sets_what_was_set() {
        let none = Words::new();
        assert_eq!(words_in(&file(&starter(&none))).expect("a file"), none);
        let own = [("quotation", "Tilbud \"nr.\" {x}"), ("decimal_mark", ",")];
        let own: Words = own
            .map(|(key, word)| (key.to_owned(), word.to_owned()))
            .into();
        assert_eq!(words_in(&file(&starter(&own))).expect("a file"), own);
    }

    #[test]
    fn slips_name_their_lines_all_at_once() {
        let text = "quotation = \"Tilbud\"\nquotatoin = \"Tilbud\"\n\"months\" = \"januar\"\n";
        let message = words_in(&file(text)).expect_err("slips").message();
        for part in [
            "words.toml, line 2: there is no label quotatoin; did you mean quotation?",
            "words.toml, line 3: months",
        ] {
            assert!(message.contains(part), "{message}");
        }
    }
}
