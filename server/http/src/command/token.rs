//! Tokens by command, for whoever has the book itself: the way in when nobody has one yet.

use super::{CommandError, open};
use crate::config::{Config, TokenCommand};
use ellwand_contract::people::{
    CreateToken, ListTokens, RevokeToken, RevokeTokens, Secret, Token, described, is_token,
};
use ellwand_domain::{code::TokenCode, setting::Role};
use ellwand_service::{Book, Caller};
use std::{
    fs,
    io::{self, IsTerminal, Write},
    path::Path,
};
use uuid::Uuid;

/// Who is recorded for what is done here, and person of the first token: whoever has the book is its owner.
const OWNER: &str = "owner";

/// Runs `token …`.
pub(super) fn run(config: &Config, command: &TokenCommand) -> Result<u8, CommandError> {
    let book = open(config, false)?;
    match command {
        TokenCommand::Create { token, to_file } => {
            let secret = Secret::make().map_err(CommandError::Random)?;
            let token = CreateToken {
                id: Uuid::now_v7(),
                hash: secret.hash(),
                ..token.clone()
            };
            let made = match to_file {
                Some(file) => create_in(&book, &token, (file, &secret))?,
                None => create(&book, &token)?,
            };
            let whose = described(&made.person, made.role, &made.grants);
            let mut err = io::stderr();
            write!(err, "{} for {whose}. ", made.token)?;
            if let Some(file) = to_file {
                writeln!(
                    err,
                    "It is in {}, which you alone can read.",
                    file.display()
                )?;
            } else {
                writeln!(err, "It is shown only now; the book keeps its hash:")?;
                writeln!(io::stdout(), "{}", secret.expose())?;
            }
        }
        TokenCommand::List { json } => list(&book, *json)?,
        TokenCommand::Revoke { token, person } => {
            for token in revoke(&book, *token, person.as_deref())? {
                let (code, whose) = (token.token, token.person);
                writeln!(io::stderr(), "{code} of {whose} no longer opens anything.")?;
            }
        }
    }
    Ok(0)
}

fn revoke(
    book: &Book,
    token: Option<TokenCode>,
    person: Option<&str>,
) -> Result<Vec<Token>, CommandError> {
    let (id, owner) = (Uuid::now_v7(), Caller::owner(OWNER));
    Ok(match (token, person) {
        (Some(token), _) => vec![book.call(&owner, &RevokeToken { id, token })?.answer],
        (None, person) => {
            let person = person.unwrap_or_default().to_owned();
            book.call(&owner, &RevokeTokens { id, person })?
                .answer
                .tokens
        }
    })
}

/// Makes an owner's token for a book that has none, and shows it once: on a terminal the token itself, else the file that
/// keeps it. What a service writes is kept in journals that others read.
pub(super) fn first(book: &Book, config: &Config) -> Result<(), CommandError> {
    if !book
        .call(&Caller::owner(OWNER), &ListTokens {})?
        .answer
        .tokens
        .is_empty()
    {
        return Ok(());
    }
    let secret = Secret::make().map_err(CommandError::Random)?;
    if io::stderr().is_terminal() {
        let token = create(book, &owners(&secret))?;
        writeln!(
            io::stderr(),
            "This book had no tokens. Here is the owner's, {}, shown only now:\n{}\n\
             Sign in with `ellwand login URL`; give the others theirs with `ellwand token create`.",
            token.token,
            secret.expose()
        )?;
        return Ok(());
    }
    let file = config.token_file()?;
    // One that an earlier start left opens nothing, since the book has no tokens.
    if fs::read_to_string(&file).is_ok_and(|text| is_token(text.trim())) {
        fs::remove_file(&file)?;
    }
    let token = create_in(book, &owners(&secret), (&file, &secret))?;
    let place = file.display();
    writeln!(
        io::stderr(),
        "This book had no tokens. The owner's, {}, is in {place}, which its owner alone can read.\n\
         Sign in with `ellwand login URL --token-file {place}`, then delete the file; \
         give the others theirs with `ellwand token create`.",
        token.token
    )?;
    Ok(())
}

/// The first token of a book.
fn owners(secret: &Secret) -> CreateToken {
    CreateToken {
        id: Uuid::now_v7(),
        person: OWNER.to_owned(),
        role: Role::Owner,
        grants: Vec::new(),
        hash: secret.hash(),
        label: None,
        until: None,
        same_person: false,
    }
}

/// Creates a token that is in a file before the book knows it: one that nobody has would keep everyone out.
fn create_in(
    book: &Book,
    token: &CreateToken,
    (file, secret): (&Path, &Secret),
) -> Result<Token, CommandError> {
    secret
        .write_new(file)
        .map_err(|cause| CommandError::TokenFile {
            file: file.to_owned(),
            cause,
        })?;
    let made = create(book, token);
    if made.is_err() {
        fs::remove_file(file)?;
    }
    made
}

fn create(book: &Book, token: &CreateToken) -> Result<Token, CommandError> {
    Ok(book.call(&Caller::owner(OWNER), token)?.answer)
}

fn list(book: &Book, json: bool) -> Result<(), CommandError> {
    let tokens = book.call(&Caller::owner(OWNER), &ListTokens {})?.answer;
    let mut out = io::stdout().lock();
    if json {
        let text = serde_json::to_string_pretty(&tokens).map_err(io::Error::other)?;
        writeln!(out, "{text}")?;
        return Ok(());
    }
    if tokens.tokens.is_empty() {
        writeln!(
            io::stderr(),
            "There are no tokens; make one with ellwand token create NAME."
        )?;
    }
    for token in &tokens.tokens {
        let whose = described(&token.person, token.role, &token.grants);
        let label = token.label.as_ref();
        let label = label.map_or_else(String::new, |label| format!(" ({label})"));
        writeln!(out, "{:<5} {whose}{label}", token.token)?;
        writeln!(out, "{:<5} {}", "", story(token))?;
    }
    Ok(())
}

/// What became of a token.
fn story(token: &Token) -> String {
    let mut story = format!("made {} by {}", token.made_at.date_naive(), token.made_by);
    if let Some(day) = token.used_on {
        story += &format!(", last used {day}");
    }
    match (token.revoked_at, &token.revoked_by, token.until) {
        (Some(at), Some(by), _) => story += &format!(", revoked {} by {by}", at.date_naive()),
        (_, _, Some(last)) => story += &format!(", until {last}"),
        _ => {}
    }
    story
}
