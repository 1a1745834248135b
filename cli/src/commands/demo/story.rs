//! The story of the demo, as `seeds/demo.toml` tells it.

use crate::command_error::CommandError;
use chrono::{DateTime, Utc};
use serde::Deserialize;

/// Files that the story's commands read, by name.
pub const FILES: &[(&str, &str)] = &[
    (
        "purchase-abroad.toml",
        include_str!("../../../../seeds/purchase-abroad.toml"),
    ),
    (
        "purchase-haberdashery.csv",
        include_str!("../../../../seeds/purchase-haberdashery.csv"),
    ),
    (
        "plan-jacket.toml",
        include_str!("../../../../seeds/plan-jacket.toml"),
    ),
    (
        "plan-aprons.toml",
        include_str!("../../../../seeds/plan-aprons.toml"),
    ),
];

/// The story.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Story {
    /// What the workshop is.
    pub opening: String,
    /// Its commands in order.
    #[serde(rename = "step")]
    pub steps: Vec<Step>,
}

/// A command of the story.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Step {
    /// Title of the chapter that begins with it.
    #[serde(default)]
    pub title: String,
    /// What happens, in a sentence or two.
    #[serde(default)]
    pub say: String,
    /// The command without the program's name.
    pub command: String,
    /// How it ends; a refusal is part of the story.
    #[serde(default)]
    pub expect_exit: u8,
    /// The clock from this step on.
    #[serde(default)]
    pub now: Option<DateTime<Utc>>,
}

impl Story {
    /// Reads it.
    ///
    /// # Errors
    /// A story that cannot be read, a fault of the program.
    pub fn read() -> Result<Self, CommandError> {
        toml::from_str(include_str!("../../../../seeds/demo.toml")).map_err(|error| {
            CommandError::usage(format!("seeds/demo.toml cannot be read: {error}"))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::arguments::Cli;
    use clap::Parser;

    #[test]
    fn every_command_of_the_story_can_be_read() {
        for step in Story::read().expect("the story").steps {
            let words = super::super::words::split(&step.command).expect("closed quotes");
            let parsed = Cli::try_parse_from(std::iter::once("ellwand".to_owned()).chain(words));
            assert!(
                parsed.is_ok(),
                "{}: {}",
                step.command,
                parsed.expect_err("an error")
            );
        }
    }

    #[test]
    fn the_clock_of_the_story_never_runs_backwards() {
        let story = Story::read().expect("the story");
        assert!(story.steps.iter().filter_map(|step| step.now).is_sorted());
        assert!(story.steps.first().is_some_and(|first| first.now.is_some()));
    }
}
