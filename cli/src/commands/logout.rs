//! `ellwand logout`: forget a server's token.

use crate::{
    command_error::CommandError,
    config::{Target, server_target},
    context::Context,
    signed_in::SignedIn,
};

/// Forget a server's token on this machine
///
/// The token itself stays good until an owner revokes it.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand logout")]
pub struct Args {
    /// URL of the server; without it the one that is asked now
    #[arg(value_name = "URL")]
    url: Option<String>,
}

/// Forgets it.
///
/// # Errors
/// Exit 2 when there is nothing to forget.
pub fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let mut kept = SignedIn::read(context.environment())?;
    let url = match &args.url {
        Some(text) => match server_target(text)? {
            Target::Server(url) => Some(url),
            Target::File { .. } | Target::Database(_) => None,
        },
        None => kept.current.clone(),
    };
    let known = url.filter(|url| kept.tokens.remove(url).is_some());
    let Some(url) = known else {
        return Err(CommandError::usage_hint(
            "there is no sign-in there to forget",
            "ellwand login URL signs in",
        ));
    };
    if kept.current.as_ref() == Some(&url) {
        kept.current = None;
    }
    let gone = kept.current.is_none();
    kept.write(context.environment())?;
    context.ui.status(format!("Signed out of {url}."));
    if gone {
        context.ui.hint("commands use the book on this machine now, unless a server is named");
    }
    Ok(())
}
