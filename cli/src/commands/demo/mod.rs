//! `ellwand demo`: the main job on the invented workshop of `seeds/`.

mod screen;
mod story;
mod words;

use crate::{Environment, command_error::CommandError, context::Context, verb::Run};
use ellwand_contract::{Problem, ProblemType, text::counted};
use serde::Serialize;
use std::{cell::RefCell, ffi::OsString, fs, path::Path};
use story::{FILES, Step, Story};
use tempfile::TempDir;

/// Show the main job, from purchase to cost, on an invented workshop
///
/// Runs the commands one after the other on a throw-away book and shows each with its output. Nothing of your own
/// book is read or changed, and the throw-away one is deleted at the end.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  ellwand demo")]
pub struct Args {}

/// A step as it went, for `--json`.
#[derive(Debug, Serialize)]
struct Shown<'s> {
    title: &'s str,
    command: &'s str,
    exit: u8,
    output: String,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if !cfg!(feature = "embedded") {
            return Err(CommandError::usage(
                "this program was built without a local book, so there is no demo",
            ));
        }
        let story = Story::read()?;
        let folder = TempDir::with_prefix("ellwand-demo-").map_err(CommandError::Output)?;
        for (name, text) in FILES {
            fs::write(folder.path().join(name), text).map_err(CommandError::Output)?;
        }
        let mut environment = environment(context.environment(), folder.path());
        let units = context
            .typed_units()
            .map(|units| ["--units".to_owned(), units.to_string()]);
        if !context.is_json() {
            screen::opening(context.ui, &story);
        }
        let mut done = Vec::new();
        for step in &story.steps {
            if let Some(now) = step.now {
                environment.now = Some(Ok(now));
            }
            let line = arguments(step, folder.path())?
                .into_iter()
                .chain(units.iter().flatten().cloned());
            let (exit, output) = perform(line, &environment);
            if !context.is_json() {
                screen::step(context.ui, step, &output);
            }
            if exit != step.expect_exit {
                return Err(strayed(step, exit, &output));
            }
            done.push(Shown {
                title: &step.title,
                command: &step.command,
                exit,
                output,
            });
        }
        if context.json(&done)? {
            return Ok(());
        }
        context.ui.status(format!(
            "Ran {} on a throw-away book, now deleted.",
            counted(story.steps.len(), "command")
        ));
        context
            .ui
            .hint("start your own with ellwand buy; see ellwand --help");
        Ok(())
    }
}

/// The environment of the demo's commands: a book in its own folder, no questions, nothing of the user's.
fn environment(outer: &Environment, folder: &Path) -> Environment {
    let own = || Some(folder.to_owned());
    Environment {
        data_dir: own(),
        config_dir: own(),
        state_dir: own(),
        database: Some(folder.join("book.sqlite3").display().to_string()),
        width: outer.width,
        no_color: outer.no_color,
        output_is_terminal: outer.output_is_terminal,
        messages_are_terminal: outer.output_is_terminal,
        ..Environment::default()
    }
}

/// The words of a step's command; names of seed files become their paths.
fn arguments(step: &Step, folder: &Path) -> Result<Vec<String>, CommandError> {
    let words = words::split(&step.command).map_err(|error| fault(step, &error))?;
    let placed = words
        .into_iter()
        .map(|word| match FILES.iter().any(|(name, _)| *name == word) {
            true => folder.join(&word).display().to_string(),
            false => word,
        });
    Ok(std::iter::once("ellwand".to_owned())
        .chain(placed)
        .collect())
}

/// Writes both streams to one place, in the order of the writing.
struct Joined<'b>(&'b RefCell<Vec<u8>>);

impl std::io::Write for Joined<'_> {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        self.0.borrow_mut().write(bytes)
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

fn perform(args: impl Iterator<Item = String>, environment: &Environment) -> (u8, String) {
    let buffer = RefCell::new(Vec::new());
    let exit = crate::run(
        args.map(OsString::from),
        environment,
        &mut Joined(&buffer),
        &mut Joined(&buffer),
    );
    (
        exit,
        String::from_utf8_lossy(&buffer.into_inner()).into_owned(),
    )
}

fn strayed(step: &Step, exit: u8, output: &str) -> CommandError {
    let expected = step.expect_exit;
    let last = output
        .lines()
        .rev()
        .find(|line| line.starts_with("error: "))
        .unwrap_or_default();
    fault(
        step,
        &format!("it ended with exit code {exit}, not {expected} {last}"),
    )
}

fn fault(step: &Step, message: &str) -> CommandError {
    let detail = format!(
        "the demo stopped at \"{}\": {}",
        step.command.trim(),
        message.trim()
    );
    Problem::new(ProblemType::WrongState, detail).into()
}
