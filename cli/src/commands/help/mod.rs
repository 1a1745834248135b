//! `ellwand help`: what spans several commands, topic by topic, and the help of each command.

use crate::{
    arguments::Cli,
    command_error::CommandError,
    context::Context,
    ui::{Table, paragraph},
    verb::Run,
};
use clap::CommandFactory;

/// Source of a topic's text.
enum Text {
    /// In a file of its own; a line that begins with two spaces stays as it is.
    Own(&'static str),
    /// In the help of a command.
    Of(&'static [&'static str]),
}

/// Topics: name, what it is about, text.
const TOPICS: &[(&str, &str, Text)] = &[
    (
        "interlining",
        "parts by the measures of their shell, inside the seams or with the allowance",
        Text::Of(&["garment", "plan"]),
    ),
    (
        "seams",
        "stitches, and how to measure what thread they take",
        Text::Of(&["seam"]),
    ),
    (
        "stiffness",
        "testing strips over an edge at home, step by step",
        Text::Of(&["lot", "stiffness"]),
    ),
    (
        "thread",
        "how counts are read, how a reel is weighed, what several reels at once are",
        Text::Own(include_str!("thread.txt")),
    ),
    (
        "trims",
        "sizes, sets that match, spares, zips, what is kept for repairs",
        Text::Own(include_str!("trims.txt")),
    ),
];

/// The topics' names.
pub(crate) fn topics() -> impl Iterator<Item = &'static str> {
    TOPICS.iter().map(|(name, ..)| *name)
}

/// Explain a topic, or a command
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand help
  ellwand help thread
  ellwand help lot weigh")]
pub struct Args {
    /// Topic or command; without it, the list of topics
    #[arg(value_name = "TOPIC")]
    topic: Vec<String>,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if self.topic.is_empty() {
            let mut table = Table::headed("topic | about");
            for (name, about, _) in TOPICS {
                table.row([*name, *about]);
            }
            context.ui.table(&table);
            context
                .ui
                .hint("ellwand --help lists the commands, ellwand help lot weigh explains one");
            return Ok(());
        }
        let typed = self.topic.join(" ");
        let topic = TOPICS
            .iter()
            .find(|(name, ..)| name.eq_ignore_ascii_case(typed.trim()));
        let command: Vec<&str> = match topic {
            Some((.., Text::Own(text))) => {
                own(context, text);
                return Ok(());
            }
            Some((.., Text::Of(command))) => command.to_vec(),
            None => self.topic.iter().map(String::as_str).collect(),
        };
        let help = of_command(context, &command).ok_or_else(|| {
            let topics: Vec<&str> = topics().collect();
            CommandError::usage_hint(
                format!("\"{typed}\" is neither a topic nor a command"),
                format!(
                    "the topics are {}; ellwand --help lists the commands",
                    topics.join(", ")
                ),
            )
        })?;
        context.ui.line(help.trim_end());
        Ok(())
    }
}

fn own(context: &mut Context<'_, '_>, text: &str) {
    for line in text.lines() {
        if line.starts_with("  ") || line.is_empty() {
            context.ui.line(line);
        } else {
            paragraph::show(context.ui, 0, line);
        }
    }
}

/// The help of a command, by its words; none for what is none.
fn of_command(context: &Context<'_, '_>, words: &[&str]) -> Option<String> {
    let mut command = Cli::command();
    if let Some(width) = context.environment().width {
        command = command.term_width(usize::from(width));
    }
    command.build();
    let found = words
        .iter()
        .try_fold(&mut command, |found, word| found.find_subcommand_mut(word))?;
    Some(found.render_long_help().to_string())
}
