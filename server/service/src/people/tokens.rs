//! Tokens: who may use the book.

use crate::desk::{
    Desk,
    context::Context,
    counter,
    failure::{Done, Failure, invalid, not_found},
    perform::Perform,
    person::{self, OWNER},
};
use chrono::{DateTime, NaiveDateTime, Utc};
use ellwand_contract::{
    Problem, ProblemType,
    people::{CreateToken, GetSelf, ListTokens, RevokeToken, Signed, Token, Tokens},
};
use ellwand_domain::{
    code::TokenCode,
    person::is_same,
    setting::{Grant, Role},
};
use ellwand_storage::{Person, Token as Row, Tx};

/// Digits of a SHA-256.
const HASH: usize = 64;

impl Perform for GetSelf {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Signed, Failure> {
        let caller = desk.context.caller;
        Ok(Signed {
            person: caller.name.clone(),
            role: caller.role,
            grants: caller.grants.clone(),
            token: caller.token,
        })
    }
}

impl Perform for CreateToken {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Token, Failure> {
        self.check_grants(desk.context)?;
        let person = self.person(desk)?;
        let hash = self.hash.to_lowercase();
        if hash.len() != HASH || !hash.bytes().all(|byte| byte.is_ascii_hexdigit()) {
            return Err(invalid(
                "hash",
                "the hash of a token is the 64 hexadecimal digits of its SHA-256",
            ));
        }
        if let Some((known, _)) = desk.tx.token_of_hash(&hash)? {
            let detail = format!(
                "a token with this hash already exists: {}",
                TokenCode::new(known.id)
            );
            return Err(Problem::new(ProblemType::AlreadyExists, detail)
                .field("hash")
                .into());
        }
        let mut grants = self.grants.clone();
        grants.sort_unstable();
        grants.dedup();
        let row = Row {
            id: desk.tx.next_numbers(counter::TOKEN, 1)?,
            person_id: person.id,
            role: self.role,
            hash,
            made_at: desk.context.now.naive_utc(),
            made_by: desk.context.caller.name.clone(),
            revoked_at: None,
            revoked_by: None,
        };
        desk.tx.insert_token(&row, &grants)?;
        view(desk, row, person)
    }
}

fn owners_only(detail: String) -> Failure {
    Problem::new(ProblemType::NotAllowed, detail)
        .hint("ask an owner for it: ellwand-server token create")
        .into()
}

trait Let {
    fn check_grants(&self, context: &Context<'_>) -> Done<()>;
    fn person(&self, desk: &mut Desk<'_>) -> Done<Person>;
}

impl Let for CreateToken {
    /// Whose the token is. Nobody but an owner lets someone in under the name of an owner, whose bookings theirs would be
    /// taken for; and a name that opens the book already is another person's, unless it is said that it is not.
    fn person(&self, desk: &mut Desk<'_>) -> Done<Person> {
        let known = person::find(desk, "person", &self.person)?;
        let id = known.as_ref().map(|known| known.id);
        let tokens = desk.tx.tokens()?;
        let theirs = || {
            tokens
                .iter()
                .filter(|(_, whose)| Some(whose.id) == id)
                .map(|(row, _)| row)
        };
        let owners = is_same(&self.person, OWNER)
            || id == Some(Person::OWNER)
            || theirs().any(|row| row.role == Role::Owner);
        if owners && desk.context.caller.role != Role::Owner {
            return Err(Problem::from(invalid(
                "person",
                format!("{} is an owner's name", self.person),
            ))
            .hint("choose another name, or ask an owner: ellwand-server token create")
            .into());
        }
        if let (Some(known), Some(first), false) = (&known, theirs().next(), self.same_person) {
            let code = TokenCode::new(first.id);
            let detail = format!(
                "{code} is a token of {}: another one would book, and take back, as the same person",
                known.name
            );
            return Err(Problem::new(ProblemType::AlreadyExists, detail)
                .field("person")
                .hint("if it is that person, confirm with --same-person; else choose another name")
                .into());
        }
        let paid = self.role != Role::Owner;
        known.map_or_else(
            || {
                person::find_or_make(
                    &mut desk.tx,
                    "person",
                    &self.person,
                    paid,
                    desk.context.made(),
                )
            },
            Ok,
        )
    }

    /// Nobody gives out what they have not, and nothing is granted that would have no effect.
    fn check_grants(&self, context: &Context<'_>) -> Done<()> {
        let (role, caller) = (self.role, context.caller);
        if role == Role::Owner && caller.role != Role::Owner {
            return Err(owners_only(format!(
                "{} is a {}: only an owner makes owners",
                caller.name, caller.role
            )));
        }
        for grant in &self.grants {
            let idle = match role {
                Role::Owner => Some("an owner may do everything".to_owned()),
                Role::Maker if *grant == Grant::Prices => Some("a maker sees prices".to_owned()),
                Role::Viewer if matches!(grant, Grant::WriteOffs | Grant::Settings) => {
                    Some(format!("a viewer can only read; {grant} is for writing"))
                }
                Role::Apprentice => Some(format!(
                    "an apprentice has no grants, and {grant} is one; a maker may have it"
                )),
                Role::Maker | Role::Viewer => None,
            };
            if let Some(why) = idle {
                return Err(Problem::from(invalid("grants", why))
                    .hint(format!("leave {grant} out"))
                    .into());
            }
            caller.needs(*grant)?;
        }
        Ok(())
    }
}

impl Perform for RevokeToken {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Token, Failure> {
        let missing = || {
            not_found(
                format!("token {}", self.token),
                "see ellwand-server token list",
            )
        };
        let (row, _) = desk.tx.token(self.token.get())?.ok_or_else(missing)?;
        if row.role == Role::Owner && desk.context.caller.role != Role::Owner {
            let detail = format!(
                "{} is an owner's, which only an owner can revoke",
                self.token
            );
            return Err(owners_only(detail));
        }
        let good_owner = |row: &Row| row.role == Role::Owner && row.revoked_at.is_none();
        // Whoever has the book itself can give out another, and takes a stolen one back at once.
        let over_http = desk.context.caller.token.is_some();
        if over_http
            && good_owner(&row)
            && desk
                .tx
                .tokens()?
                .iter()
                .filter(|(row, _)| good_owner(row))
                .count()
                == 1
        {
            let detail = format!(
                "{} is the last owner's token; without it nobody could make another",
                self.token
            );
            return Err(Problem::new(ProblemType::WrongState, detail)
                .hint("make another first: ellwand-server token create NAME --role owner")
                .into());
        }
        desk.tx.revoke_token(
            row.id,
            desk.context.now.naive_utc(),
            &desk.context.caller.name,
        )?;
        let (row, person) = desk.tx.token(row.id)?.ok_or_else(missing)?;
        view(desk, row, person)
    }
}

impl Perform for ListTokens {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Tokens, Failure> {
        let mut tokens = Vec::new();
        for (row, person) in desk.tx.tokens()? {
            tokens.push(view(desk, row, person)?);
        }
        Ok(Tokens { tokens })
    }
}

fn view(tx: &mut Tx<'_>, row: Row, person: Person) -> Done<Token> {
    let at = |at: NaiveDateTime| DateTime::<Utc>::from_naive_utc_and_offset(at, Utc);
    Ok(Token {
        token: TokenCode::new(row.id),
        person: person.name,
        role: row.role,
        grants: tx.token_grants(row.id)?,
        made_at: at(row.made_at),
        made_by: row.made_by,
        revoked_at: row.revoked_at.map(at),
        revoked_by: row.revoked_by,
    })
}
