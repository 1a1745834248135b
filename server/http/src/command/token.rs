//! Tokens by command, for whoever has the book itself: the way in when nobody has one yet.

use super::{CommandError, open};
use crate::config::{Config, TokenCommand};
use ellwand_contract::people::{CreateToken, ListTokens, RevokeToken, Token, described};
use ellwand_domain::setting::{Grant, Role};
use ellwand_service::{Book, Caller, Secret};
use std::io::{self, Write};
use uuid::Uuid;

/// Who gives tokens out by command.
const BY: &str = "ellwand-server";
/// Whose the first token is.
const FIRST: &str = "owner";

/// Runs `token …`.
pub(super) fn run(config: &Config, command: &TokenCommand) -> Result<u8, CommandError> {
    let book = open(config, false)?;
    match command {
        TokenCommand::Create { person, role, grants } => {
            let (token, secret) = create(&book, person, *role, grants)?;
            let whose = described(&token.person, token.role, &token.grants);
            let mut err = io::stderr();
            writeln!(err, "{} for {whose}. It is shown only now; the book keeps its hash:", token.token)?;
            writeln!(io::stdout(), "{}", secret.expose())?;
        }
        TokenCommand::List { json } => list(&book, *json)?,
        TokenCommand::Revoke { token } => {
            let revoke = RevokeToken { id: Uuid::now_v7(), token: *token };
            let token = book.call(&Caller::owner(BY), &revoke)?.answer;
            writeln!(io::stderr(), "{} of {} opens nothing any more.", token.token, token.person)?;
        }
    }
    Ok(0)
}

/// Makes an owner's token for a book that has none, and says so once.
pub(super) fn first(book: &Book) -> Result<(), CommandError> {
    if !book.call(&Caller::owner(BY), &ListTokens {})?.answer.tokens.is_empty() {
        return Ok(());
    }
    let (token, secret) = create(book, FIRST, Role::Owner, &[])?;
    // Not through the log, which may be kept where others read it.
    writeln!(
        io::stderr(),
        "This book had no tokens. Here is the owner's, {}, shown only now:\n{}\n\
         Sign in with `ellwand login URL`; give the others theirs with `ellwand-server token create`.",
        token.token,
        secret.expose()
    )?;
    Ok(())
}

fn create(book: &Book, person: &str, role: Role, grants: &[Grant]) -> Result<(Token, Secret), CommandError> {
    let secret = Secret::make().map_err(CommandError::Random)?;
    let request = CreateToken {
        id: Uuid::now_v7(),
        person: person.to_owned(),
        role,
        grants: grants.to_vec(),
        hash: secret.hash(),
    };
    Ok((book.call(&Caller::owner(BY), &request)?.answer, secret))
}

fn list(book: &Book, json: bool) -> Result<(), CommandError> {
    let tokens = book.call(&Caller::owner(BY), &ListTokens {})?.answer;
    let mut out = io::stdout().lock();
    if json {
        let text = serde_json::to_string_pretty(&tokens).map_err(io::Error::other)?;
        writeln!(out, "{text}")?;
        return Ok(());
    }
    if tokens.tokens.is_empty() {
        writeln!(io::stderr(), "There are no tokens; ellwand-server token create NAME makes one.")?;
    }
    for token in &tokens.tokens {
        let made = format!("made {} by {}", token.made_at.format("%Y-%m-%d"), token.made_by);
        let state = match (&token.revoked_at, &token.revoked_by) {
            (Some(at), Some(by)) => format!("{made}, revoked {} by {by}", at.format("%Y-%m-%d")),
            _ => made,
        };
        writeln!(
            out,
            "{:<5} {:<40} {state}",
            token.token,
            described(&token.person, token.role, &token.grants)
        )?;
    }
    Ok(())
}
