//! The command line of Ellwand: cloth, trims and costing for independent garment makers.
//!
//! [`run`] takes a command line, what was read of the environment and two writers, so that tests and the demo
//! run commands in process.

pub mod arguments;
pub mod client;
pub mod command_error;
pub mod commands;
pub mod config;
pub mod context;
pub mod environment;
pub mod fault;
pub mod file;
pub mod global;
pub mod page;
pub mod pairs;
pub mod pending;
pub mod sheet;
pub mod signed_in;
pub mod typed;
pub mod ui;

pub use environment::Environment;

use arguments::Cli;
use clap::{CommandFactory, FromArgMatches};
use command_error::CommandError;
use context::Context;
use std::{ffi::OsString, io::Write};
use ui::Ui;

/// Runs one command line and returns its exit code.
pub fn run(
    args: impl IntoIterator<Item = OsString>,
    environment: &Environment,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> u8 {
    let args: Vec<OsString> = args.into_iter().collect();
    let mut ui = Ui::new(environment, out, err);
    let cli = match parse(&args, environment) {
        Ok(cli) => cli,
        Err(error) => return ui.usage(&error),
    };
    ui.set_json(cli.global.json);
    let result = Context::new(&cli.global, environment, &args, &mut ui)
        .and_then(|mut context| cli.command.run(&mut context));
    finish(result, &mut ui)
}

fn parse(args: &[OsString], environment: &Environment) -> Result<Cli, clap::Error> {
    let mut command = Cli::command();
    if let Some(width) = environment.width {
        command = command.term_width(usize::from(width));
    }
    Cli::from_arg_matches(&command.try_get_matches_from(args)?)
}

fn finish(result: Result<(), CommandError>, ui: &mut Ui<'_>) -> u8 {
    let result = result.and_then(|()| ui.written());
    if let Err(error) = &result {
        ui.error(error);
    }
    result.map_or_else(|error| error.exit_code(), |()| 0)
}
