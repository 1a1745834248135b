//! `ellwand help`: what spans several commands, topic by topic, and the help of each command.

use crate::{
    arguments::Cli,
    command_error::CommandError,
    context::Context,
    ui::{Table, left, paragraph},
};
use clap::CommandFactory;

/// Topics: name, what it is about, text. A line that begins with two spaces stays as it is.
const TOPICS: &[(&str, &str, &str)] = &[(
    "thread",
    "how counts are read, how a reel is weighed, what several reels at once are",
    include_str!("thread.txt"),
)];

/// Explain a topic, or a command
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand help
  ellwand help thread
  ellwand help lot weigh")]
pub struct Args {
    /// A topic, or a command; without it, the list of topics
    #[arg(value_name = "TOPIC")]
    topic: Vec<String>,
}

/// Shows it.
///
/// # Errors
/// Exit 2 for what is neither a topic nor a command.
pub fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    if args.topic.is_empty() {
        let mut table = Table::new([left("topic"), left("about")]);
        for (name, about, _) in TOPICS {
            table.row([*name, *about]);
        }
        context.ui.table(&table);
        context.ui.hint("ellwand --help lists the commands, ellwand help lot weigh explains one");
        return Ok(());
    }
    let asked = args.topic.join(" ");
    if let Some((_, _, text)) = TOPICS.iter().find(|(name, ..)| name.eq_ignore_ascii_case(asked.trim())) {
        for line in text.lines() {
            if line.starts_with("  ") || line.is_empty() {
                context.ui.line(line);
            } else {
                paragraph::show(context.ui, 0, line);
            }
        }
        return Ok(());
    }
    let mut command = Cli::command();
    if let Some(width) = context.environment().width {
        command = command.term_width(usize::from(width));
    }
    command.build();
    let mut found = &mut command;
    for word in &args.topic {
        match found.find_subcommand_mut(word) {
            Some(inner) => found = inner,
            None => {
                let topics: Vec<&str> = TOPICS.iter().map(|(name, ..)| *name).collect();
                return Err(CommandError::usage_hint(
                    format!("\"{asked}\" is neither a topic nor a command"),
                    format!("the topics are {}; ellwand --help lists the commands", topics.join(", ")),
                ));
            }
        }
    }
    let help = found.render_long_help().to_string();
    context.ui.line(help.trim_end());
    Ok(())
}
