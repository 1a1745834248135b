//! `ellwand token revoke`.

use crate::{
    command_error::CommandError,
    context::Context,
    verb::{Run, Verb},
};
use ellwand_contract::people::{RevokeToken, RevokeTokens, Token, Tokens};
use ellwand_domain::code::TokenCode;
use uuid::Uuid;

/// Revoke a token, or all tokens of a person: from the next request on they open nothing
///
/// No undo takes it back.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand token revoke T3
  ellwand token revoke --person anna")]
pub struct Args {
    /// Token code, such as T3, as ellwand token list shows it
    #[arg(
        value_name = "TOKEN",
        required_unless_present = "person",
        conflicts_with = "person"
    )]
    token: Option<TokenCode>,
    /// All tokens of this person
    #[arg(long, value_name = "NAME")]
    person: Option<String>,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let id = Uuid::nil();
        match (self.token, self.person) {
            (Some(token), _) => RevokeToken { id, token }.run(context),
            (None, person) => {
                let person = person.unwrap_or_default();
                RevokeTokens { id, person }.run(context)
            }
        }
    }
}

impl Verb for RevokeToken {
    fn show(&self, answer: Token, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        say(&answer, context);
        Ok(())
    }
}

impl Verb for RevokeTokens {
    fn show(&self, answer: Tokens, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        answer.tokens.iter().for_each(|token| say(token, context));
        Ok(())
    }
}

fn say(token: &Token, context: &mut Context<'_, '_>) {
    let (code, whose) = (token.token, &token.person);
    context
        .ui
        .status(format!("{code} of {whose} no longer opens anything."));
}
