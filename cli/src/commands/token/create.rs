//! `ellwand token create`: the secret is made here, and the book gets its hash alone.

use crate::{
    command_error::CommandError,
    context::Context,
    fault::Ended,
    verb::{Run, Verb},
};
use ellwand_contract::people::{CreateToken, Secret, Token, described};
use serde::Serialize;
use std::{
    fs,
    path::{Path, PathBuf},
};

/// Create a token for a person, and show it this once
///
/// They sign in with it: ellwand login URL --token-file FILE.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand token create anna --role maker --grant pay-rates
  ellwand token create anna --same-person --label tablet --until 2027-01-31
  ellwand token create cleo --role viewer --to-file cleo.token")]
pub struct Args {
    #[command(flatten)]
    act: CreateToken,
    /// Write the token into this new file, readable by you alone, instead of showing it
    #[arg(long, value_name = "FILE")]
    to_file: Option<PathBuf>,
}

/// What is made, with the secret where no file has it.
#[derive(Serialize)]
struct Made<'a> {
    #[serde(flatten)]
    token: &'a Token,
    #[serde(skip_serializing_if = "Option::is_none")]
    secret: Option<&'a str>,
}

impl Run for Args {
    fn run(mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        // A repeat gets the first answer; its secret is not made twice.
        if let Some(sent) = context.sent_before::<CreateToken>()? {
            return sent.run(context);
        }
        let secret = Secret::make().map_err(CommandError::usage)?;
        self.act.id = context.new_id();
        self.act.hash = secret.hash();
        let (token, file) = (self.created(&secret, context)?, self.to_file.as_deref());
        let shown = file.is_none().then(|| secret.expose());
        let made = Made {
            token: &token,
            secret: shown,
        };
        if context.json(&made)? {
            return Ok(());
        }
        let end = match file {
            Some(file) => format!("It is in {}, which you alone can read.", file.display()),
            None => "It is shown only now; the book keeps its hash:".to_owned(),
        };
        context.ui.status(format!("{} {end}", sentence(&token)));
        shown.into_iter().for_each(|secret| context.ui.line(secret));
        Ok(())
    }
}

impl Args {
    /// Has the token created. Its secret is in the file before the book knows it, so that a lost answer loses no secret.
    fn created(
        &self,
        secret: &Secret,
        context: &mut Context<'_, '_>,
    ) -> Result<Token, CommandError> {
        let file = self.to_file.as_deref();
        if let Some(file) = file {
            let written = secret.write_new(file);
            written.map_err(|error| unwritten(file, &error))?;
        }
        context.call(&self.act).inspect_err(|error| {
            match (error.ended(), file) {
                (Ended::Lost, Some(_)) => {}
                (Ended::Lost, None) => {
                    let ui = &mut *context.ui;
                    ui.warning("if the request was booked, this is its token:");
                    ui.line(secret.expose());
                }
                (_, Some(file)) => drop(fs::remove_file(file)),
                (_, None) => {}
            };
        })
    }
}

impl Verb for CreateToken {
    fn show(&self, answer: Token, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        context.ui.status(sentence(&answer));
        let code = answer.token;
        context.ui.hint(format!(
            "if its secret is lost: ellwand token revoke {code}, and create another"
        ));
        Ok(())
    }
}

fn sentence(token: &Token) -> String {
    let whose = described(&token.person, token.role, &token.grants);
    let until = token
        .until
        .map_or_else(String::new, |day| format!(", until {day}"));
    format!("{} for {whose}{until}.", token.token)
}

fn unwritten(file: &Path, error: &std::io::Error) -> CommandError {
    CommandError::usage_hint(
        format!("{} cannot be written: {error}", file.display()),
        "name a new file; no file is overwritten with a token",
    )
}
