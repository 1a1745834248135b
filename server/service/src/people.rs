//! Tokens: who may use the book.

use crate::{
    context::{Context, counter},
    failure::{Done, Failure, invalid, not_found},
    parties::clean_name,
    perform::Perform,
};
use chrono::{DateTime, NaiveDateTime, Utc};
use ellwand_contract::{
    Problem, ProblemType,
    people::{CreateToken, GetSelf, ListTokens, RevokeToken, Signed, Token, Tokens},
};
use ellwand_domain::{
    code::TokenCode,
    setting::{Grant, Role},
};
use ellwand_storage::{Token as Row, Tx, Word, Words};

/// The owner's name unless another is given.
const OWNER: &str = "owner";
/// Digits of a SHA-256.
const HASH: usize = 64;

impl Perform for GetSelf {
    fn perform(&self, _: &mut Tx<'_>, context: &Context<'_>) -> Result<Signed, Failure> {
        let caller = context.caller;
        Ok(Signed {
            person: caller.name.clone(),
            role: caller.role,
            grants: caller.grants.clone(),
            token: caller.token,
        })
    }
}

impl Perform for CreateToken {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<Token, Failure> {
        let person = clean_name("person", &self.person)?;
        self.check_grants(context)?;
        check_person(tx, context, &person)?;
        let hash = self.hash.to_lowercase();
        if hash.len() != HASH || !hash.bytes().all(|byte| byte.is_ascii_hexdigit()) {
            return Err(invalid("hash", "the hash of a token is the 64 hexadecimal digits of its SHA-256"));
        }
        if let Some(known) = tx.token_of_hash(&hash)? {
            let detail = format!("a token of this hash is there: {}", TokenCode::new(known.id));
            return Err(Problem::new(ProblemType::AlreadyExists, detail).field("hash").into());
        }
        let mut grants = self.grants.clone();
        grants.sort_unstable();
        grants.dedup();
        let row = Row {
            id: tx.next_numbers(counter::TOKEN, 1)?,
            person,
            role: Word(self.role),
            grants: Words(grants),
            hash,
            made_at: context.now.naive_utc(),
            made_by: context.caller.name.clone(),
            revoked_at: None,
            revoked_by: None,
        };
        tx.insert_token(&row)?;
        Ok(view(row))
    }
}

fn owners_only(detail: String) -> Failure {
    Problem::new(ProblemType::NotAllowed, detail).hint("ask an owner for it").into()
}

/// Nobody but an owner lets someone in under the name of an owner, whose bookings theirs would be taken for.
fn check_person(tx: &mut Tx<'_>, context: &Context<'_>, person: &str) -> Done<()> {
    let same = |name: &str| name.to_lowercase() == person.to_lowercase();
    if context.caller.role == Role::Owner {
        return Ok(());
    }
    if same(OWNER) || tx.tokens()?.iter().any(|row| row.role.0 == Role::Owner && same(&row.person)) {
        return Err(Problem::from(invalid("person", format!("{person} is an owner's name")))
            .hint("choose another name, or ask an owner for it")
            .into());
    }
    Ok(())
}

trait Grants {
    fn check_grants(&self, context: &Context<'_>) -> Done<()>;
}

impl Grants for CreateToken {
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
                    Some(format!("a viewer only reads, and {grant} is for writing"))
                }
                Role::Maker | Role::Viewer => None,
            };
            if let Some(why) = idle {
                return Err(Problem::from(invalid("grants", why)).hint(format!("leave {grant} out")).into());
            }
            caller.needs(*grant)?;
        }
        Ok(())
    }
}

impl Perform for RevokeToken {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<Token, Failure> {
        let missing = || not_found(format!("token {}", self.token), "see the list of tokens");
        let row = tx.token(self.token.get())?.ok_or_else(missing)?;
        if row.role.0 == Role::Owner && context.caller.role != Role::Owner {
            let detail = format!("{} is an owner's, which only an owner takes back", self.token);
            return Err(owners_only(detail));
        }
        let good_owner = |row: &Row| row.role.0 == Role::Owner && row.revoked_at.is_none();
        // Whoever has the book itself can give out another, and takes a stolen one back at once.
        let over_http = context.caller.token.is_some();
        if over_http && good_owner(&row) && tx.tokens()?.iter().filter(|row| good_owner(row)).count() == 1 {
            let detail =
                format!("{} is the last owner's token, and nobody could give out another", self.token);
            return Err(Problem::new(ProblemType::WrongState, detail)
                .hint("make another first: ellwand-server token create NAME --role owner")
                .into());
        }
        tx.revoke_token(row.id, context.now.naive_utc(), &context.caller.name)?;
        Ok(view(tx.token(row.id)?.ok_or_else(missing)?))
    }
}

impl Perform for ListTokens {
    fn perform(&self, tx: &mut Tx<'_>, _: &Context<'_>) -> Result<Tokens, Failure> {
        Ok(Tokens { tokens: tx.tokens()?.into_iter().map(view).collect() })
    }
}

fn view(row: Row) -> Token {
    let at = |at: NaiveDateTime| DateTime::<Utc>::from_naive_utc_and_offset(at, Utc);
    Token {
        token: TokenCode::new(row.id),
        person: row.person,
        role: row.role.0,
        grants: row.grants.0,
        made_at: at(row.made_at),
        made_by: row.made_by,
        revoked_at: row.revoked_at.map(at),
        revoked_by: row.revoked_by,
    }
}
