//! Tokens by command, for whoever has the book itself: the way in when nobody has one yet.

use super::{CommandError, open};
use crate::config::{Config, TokenCommand};
use ellwand_contract::people::{CreateToken, ListTokens, RevokeToken, Token, described, is_token};
use ellwand_domain::setting::{Grant, Role};
use ellwand_service::{Book, Caller, Secret};
use std::{
    fs,
    io::{self, IsTerminal, Write},
    path::Path,
};
use uuid::Uuid;

/// Who is recorded for tokens created on the command line.
const BY: &str = "ellwand-server";
/// Person of the first token.
const FIRST: &str = "owner";

/// Runs `token …`.
pub(super) fn run(config: &Config, command: &TokenCommand) -> Result<u8, CommandError> {
    let book = open(config, false)?;
    match command {
        TokenCommand::Create {
            person,
            role,
            grants,
            same_person,
        } => {
            let (token, secret) = create(&book, person, (*role, grants), *same_person)?;
            let whose = described(&token.person, token.role, &token.grants);
            let mut err = io::stderr();
            writeln!(
                err,
                "{} for {whose}. It is shown only now; the book keeps its hash:",
                token.token
            )?;
            writeln!(io::stdout(), "{}", secret.expose())?;
        }
        TokenCommand::List { json } => list(&book, *json)?,
        TokenCommand::Revoke { token } => {
            let revoke = RevokeToken {
                id: Uuid::now_v7(),
                token: *token,
            };
            let token = book.call(&Caller::owner(BY), &revoke)?.answer;
            writeln!(
                io::stderr(),
                "{} of {} no longer opens anything.",
                token.token,
                token.person
            )?;
        }
    }
    Ok(0)
}

/// Makes an owner's token for a book that has none, and shows it once: on a terminal the token itself, else the file that
/// keeps it. What a service writes is kept in journals that others read.
pub(super) fn first(book: &Book, config: &Config) -> Result<(), CommandError> {
    if !book
        .call(&Caller::owner(BY), &ListTokens {})?
        .answer
        .tokens
        .is_empty()
    {
        return Ok(());
    }
    let secret = Secret::make().map_err(CommandError::Random)?;
    if io::stderr().is_terminal() {
        let token = register(book, FIRST, (Role::Owner, &[]), false, &secret)?;
        writeln!(
            io::stderr(),
            "This book had no tokens. Here is the owner's, {}, shown only now:\n{}\n\
             Sign in with `ellwand login URL`; give the others theirs with `ellwand-server token create`.",
            token.token,
            secret.expose()
        )?;
        return Ok(());
    }
    let file = config.token_file()?;
    // In the file before the book knows it: a token that nobody has would keep everyone out.
    keep(&file, &secret).map_err(|cause| CommandError::TokenFile {
        file: file.clone(),
        cause,
    })?;
    let token = match register(book, FIRST, (Role::Owner, &[]), false, &secret) {
        Ok(token) => token,
        Err(error) => {
            fs::remove_file(&file)?;
            return Err(error);
        }
    };
    let place = file.display();
    writeln!(
        io::stderr(),
        "This book had no tokens. The owner's, {}, is in {place}, which its owner alone can read.\n\
         Sign in with `ellwand login URL --token-file {place}`, then delete the file; \
         give the others theirs with `ellwand-server token create`.",
        token.token
    )?;
    Ok(())
}

/// Writes a token into a new file that its owner alone can read. One that an earlier start left opens nothing, since the book
/// has no tokens, and is replaced.
fn keep(file: &Path, secret: &Secret) -> io::Result<()> {
    let left = fs::read_to_string(file).is_ok_and(|text| is_token(text.trim()));
    if left {
        fs::remove_file(file)?;
    }
    let mut options = fs::OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let mut new = options.open(file)?;
    writeln!(new, "{}", secret.expose())?;
    new.sync_all()
}

fn create(
    book: &Book,
    person: &str,
    (role, grants): (Role, &[Grant]),
    same_person: bool,
) -> Result<(Token, Secret), CommandError> {
    let secret = Secret::make().map_err(CommandError::Random)?;
    Ok((
        register(book, person, (role, grants), same_person, &secret)?,
        secret,
    ))
}

fn register(
    book: &Book,
    person: &str,
    (role, grants): (Role, &[Grant]),
    same_person: bool,
    secret: &Secret,
) -> Result<Token, CommandError> {
    let request = CreateToken {
        id: Uuid::now_v7(),
        person: person.to_owned(),
        role,
        grants: grants.to_vec(),
        hash: secret.hash(),
        same_person,
    };
    Ok(book.call(&Caller::owner(BY), &request)?.answer)
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
        writeln!(
            io::stderr(),
            "There are no tokens; make one with ellwand-server token create NAME."
        )?;
    }
    for token in &tokens.tokens {
        let made = format!(
            "made {} by {}",
            token.made_at.format("%Y-%m-%d"),
            token.made_by
        );
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
