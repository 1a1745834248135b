//! `ellwand logout`: forget a server's token.

use crate::{
    command_error::CommandError,
    config::{Target, server_target},
    context::Context,
    signed_in::SignedIn,
    verb::Run,
};

/// Forget a server's token on this machine
///
/// The token itself stays valid until an owner revokes it. Until you sign in again or name a book, no book is used; with
/// --own-book it is the one on this machine.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand logout
  ellwand logout --own-book")]
pub struct Args {
    /// URL of the server [default: the current one]
    #[arg(value_name = "URL")]
    url: Option<String>,
    /// Use the book on this machine from now on, unless another is named
    #[arg(long)]
    own_book: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let mut kept = SignedIn::read(context.environment())?;
        let url = match &self.url {
            Some(text) => match server_target(text)? {
                Target::Server(url) => Some(url),
                Target::File { .. } | Target::Database(_) | Target::Unsaid(_) => None,
            },
            None => kept.current.clone(),
        };
        let known = url.filter(|url| kept.tokens.remove(url).is_some());
        if known.is_none() && !(self.own_book && self.url.is_none()) {
            return Err(CommandError::usage_hint(
                "you are not signed in there",
                "ellwand login URL signs in",
            ));
        }
        if known.is_some() && kept.current == known {
            kept.current = None;
        }
        if self.own_book {
            (kept.current, kept.last) = (None, None);
        }
        let gone = kept.current.is_none();
        kept.write(context.environment())?;
        if let Some(url) = known {
            context.ui.status(format!("Signed out of {url}."));
        }
        if self.own_book {
            context
                .ui
                .status("Using the book on this machine from now on, unless another is named.");
        } else if gone {
            context
                .ui
                .hint("no book is in use now; ellwand logout --own-book switches to the one on this machine");
        }
        Ok(())
    }
}
