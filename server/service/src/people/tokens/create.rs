//! A token that lets a person in.

use super::{CREATE, book, owners_only, view};
use crate::desk::{
    Desk,
    context::Context,
    counter,
    failure::{Done, Failure, invalid},
    perform::Perform,
    person::{self, OWNER},
};
use chrono::NaiveDate;
use ellwand_contract::{
    Problem, ProblemType,
    people::{CreateToken, Token, may},
    text::{LINE, clean_text},
};
use ellwand_domain::{
    code::TokenCode,
    person::is_same,
    setting::{BookingKind, Grant, Role},
};
use ellwand_storage::{Person, Token as Row, Tx};

/// Digits of a SHA-256.
const HASH: usize = 64;

impl Perform for CreateToken {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Token, Failure> {
        self.check_grants(desk.context)?;
        let person = self.person(desk)?;
        let hash = self.new_hash(desk)?;
        let until = self.last_day(desk.context)?;
        let label = clean_text("label", "label", LINE, self.label.as_ref())?;
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
            label,
            made_on: desk.context.today,
            valid_until: until,
            used_on: None,
        };
        desk.tx.insert_token(&row, &grants)?;
        let (token, may) = (TokenCode::new(row.id), may(row.role, &grants));
        let summary = format!("Let {} in with {token}, as {may}.", person.name);
        book(desk, BookingKind::LetIn, summary, [row.id])?;
        view(desk, row, person)
    }
}

trait Let {
    fn new_hash(&self, tx: &mut Tx<'_>) -> Done<String>;
    fn last_day(&self, context: &Context<'_>) -> Done<Option<NaiveDate>>;
    fn check_grants(&self, context: &Context<'_>) -> Done<()>;
    fn person(&self, desk: &mut Desk<'_>) -> Done<Person>;
}

impl Let for CreateToken {
    fn new_hash(&self, tx: &mut Tx<'_>) -> Done<String> {
        let hash = self.hash.to_lowercase();
        if hash.len() != HASH || !hash.bytes().all(|byte| byte.is_ascii_hexdigit()) {
            return Err(invalid(
                "hash",
                "the hash of a token is the 64 hexadecimal digits of its SHA-256",
            ));
        }
        let Some((known, _)) = tx.token_of_hash(&hash)? else {
            return Ok(hash);
        };
        let code = TokenCode::new(known.id);
        let detail = format!("a token with this hash already exists: {code}");
        Err(Problem::new(ProblemType::AlreadyExists, detail)
            .field("hash")
            .into())
    }

    fn last_day(&self, context: &Context<'_>) -> Done<Option<NaiveDate>> {
        let Some(last) = self.until.filter(|last| *last < context.today) else {
            return Ok(self.until);
        };
        let detail = format!("{last} is over: today is {}", context.today);
        Err(Problem::new(ProblemType::InvalidDate, detail)
            .field("until")
            .hint("choose today or a later last day with --until, or leave it out")
            .into())
    }

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
            .hint(format!("choose another name, or ask an owner: {CREATE}"))
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
        let (paid, made) = (self.role != Role::Owner, desk.context.made());
        match known {
            Some(known) => Ok(known),
            None => person::find_or_make(&mut desk.tx, "person", &self.person, paid, made),
        }
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
