//! `ellwand login`: sign in at a server, and ask it from now on.

use crate::{
    command_error::CommandError,
    config::{Config, Target, Token, server_target},
    context::Context,
    file::TextFile,
    signed_in::SignedIn,
    ui::prompt,
    verb::Run,
};
use ellwand_contract::people::{GetSelf, described, is_token};
use std::{io::Read, path::PathBuf};

/// Sign in to a server, and use it from now on
///
/// Asks for the token, or reads it from a file, and keeps it in servers.toml in the configuration folder, readable by you
/// alone. A server or database named on the command line, in the environment or in config.toml takes precedence.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand login https://workshop.example
  ellwand login http://127.0.0.1:8417 --token-file token.txt")]
pub struct Args {
    /// URL of the server
    #[arg(value_name = "URL")]
    url: String,
    /// Read the token from this file; - is standard input
    #[arg(long, value_name = "FILE")]
    token_file: Option<PathBuf>,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let target = server_target(&self.url)?;
        let Target::Server(url) = &target else {
            return Err(CommandError::usage(format!(
                "\"{}\" is not the URL of a server",
                self.url
            )));
        };
        let token = token(&self, context)?;
        let config = Config {
            target: target.clone(),
            token: Some(Token(token.clone())),
            ..context.config().clone()
        };
        let signed = context.ask_once(&config, &GetSelf {})?;
        if signed.token.is_none() {
            context
                .ui
                .warning("this server needs no token; it answers without one");
        }
        let mut kept = SignedIn::read(context.environment())?;
        kept.tokens.insert(url.clone(), token);
        kept.current = Some(url.clone());
        kept.last = Some(url.clone());
        let path = kept.write(context.environment())?;
        if context.json(&signed)? {
            return Ok(());
        }
        context
            .ui
            .line(described(&signed.person, signed.role, &signed.grants));
        context.ui.status(format!(
            "Signed in to {url}; the token is kept in {}.",
            path.display()
        ));
        Ok(())
    }
}

fn token(args: &Args, context: &Context<'_, '_>) -> Result<String, CommandError> {
    let text = match (&args.token_file, &context.environment().token) {
        (Some(path), _) if path.as_os_str() == "-" => {
            let mut text = String::new();
            std::io::stdin()
                .read_to_string(&mut text)
                .map_err(CommandError::Output)?;
            text
        }
        (Some(path), _) => TextFile::read(path)?.text,
        (None, Some(token)) => token.clone(),
        (None, None) if context.may_ask() => prompt::secret("Token")?,
        (None, None) => {
            return Err(CommandError::usage_hint(
                "there is no token, and no terminal to ask for it",
                "give it with --token-file FILE, or in ELLWAND_TOKEN",
            ));
        }
    };
    let text = text.trim();
    if !is_token(text) {
        return Err(CommandError::usage_hint(
            "this is not a token of an Ellwand server",
            "copy all of it: ellwand_ and 64 digits",
        ));
    }
    Ok(text.to_owned())
}
