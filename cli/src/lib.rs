//! The command line of Ellwand: cloth, trims and costing for independent garment makers.
//!
//! [`run`] takes a command line, what was read of the environment and two writers, so that tests and the demo
//! run commands in process.

pub mod arguments;
pub mod client;
pub mod command_error;
pub mod commands;
pub mod completion;
pub mod config;
pub mod context;
mod days;
pub mod environment;
mod examples;
pub mod fault;
pub mod file;
pub mod global;
pub mod page;
pub mod pending;
pub mod sheet;
pub mod signed_in;
mod slips;
pub mod ui;
pub mod verb;

pub use ellwand_contract::{pairs, typed};
pub use environment::Environment;

use arguments::Cli;
use clap::{CommandFactory, FromArgMatches, error::ErrorKind};
use client::Client;
use command_error::CommandError;
use config::Config;
use context::Context;
use ellwand_contract::{Act, workshop::GetWorkshop};
use ellwand_domain::setting::DateOrder;
use std::{ffi::OsString, io::Write};
use ui::Ui;
use verb::Run;

/// Runs one command line and returns its exit code.
pub fn run(
    args: impl IntoIterator<Item = OsString>,
    environment: &Environment,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> u8 {
    let args = args.into_iter().collect::<Vec<_>>();
    if let Some(shell) = &environment.complete {
        return completion::answer(shell, &args, environment, out);
    }
    let mut args = days::written_out(args, environment.time());
    if days::have_slashes(&args)
        && let Some(order) = date_order(&args, environment)
    {
        args = days::in_order(&args, order);
    }
    let mut ui = Ui::new(environment, out, err);
    let cli = match parse(&args, environment) {
        Ok(cli) => cli,
        Err(error) => {
            let again = |args: &[OsString]| parse(args, environment).err();
            return match slips::of_command_line(&error, &args, again) {
                Some(slips) => {
                    ui.set_json(args.iter().any(|arg| arg == "--json"));
                    finish(Err(slips), &mut ui)
                }
                None => ui.usage(&error),
            };
        }
    };
    ui.set_json(cli.global.json);
    let result = Context::new(&cli.global, environment, &args, &mut ui)
        .and_then(|mut context| cli.command.run(&mut context));
    finish(result, &mut ui)
}

/// The workshop's order of dates with slashes; none where it has chosen none, or no book answers.
fn date_order(args: &[OsString], environment: &Environment) -> Option<DateOrder> {
    // Any order will do to learn which book is meant.
    let orders = DateOrder::ALL.iter();
    let cli = orders
        .map(|order| days::in_order(args, *order))
        .find_map(|args| parse(&args, environment).ok())?;
    let config = Config::load(&cli.global, environment).ok()?;
    let mut client = Client::new(&config, environment).ok()?;
    client.open(GetWorkshop::NAME).ok()?;
    client.call(&GetWorkshop {}).ok()?.answer.date_order
}

/// A command is built only when it is typed: most of a short run would go into the others.
fn parse(args: &[OsString], environment: &Environment) -> Result<Cli, clap::Error> {
    let command = || match environment.width {
        Some(width) => Cli::command().term_width(usize::from(width)),
        None => Cli::command(),
    };
    let matches = command().try_get_matches_from(args).or_else(|error| {
        // Help and faults name the other commands, too.
        if error.kind() == ErrorKind::DisplayVersion {
            return Err(error);
        }
        let mut all = command();
        all.build();
        all.try_get_matches_from(args)
    });
    Cli::from_arg_matches(&matches?)
}

fn finish(result: Result<(), CommandError>, ui: &mut Ui<'_>) -> u8 {
    let result = result.and_then(|()| ui.written());
    if let Err(error) = &result {
        ui.error(error);
    }
    result.map_or_else(|error| error.exit_code(), |()| 0)
}
