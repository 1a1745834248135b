//! Tokens: who may use the book. Who is let in and who no longer is stands in the history.

mod create;
mod revoke;

use crate::desk::{
    Desk, Entry,
    failure::{Done, Failure, not_found},
    perform::Perform,
    trace::Traced,
};
use chrono::{DateTime, NaiveDate, NaiveDateTime, Utc};
use ellwand_contract::{
    Problem, ProblemType,
    people::{GetSelf, ListTokens, Signed, Token, Tokens},
};
use ellwand_domain::{
    code::TokenCode,
    setting::{BookingKind, Facet, Role},
};
use ellwand_storage::{Person, Token as Row, Tx};
pub(crate) use revoke::{may_revoke, take_away};

/// What an owner types to let someone in.
const CREATE: &str = "ellwand token create";

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

impl Perform for ListTokens {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Tokens, Failure> {
        let rows = desk.tx.tokens()?;
        views(desk, rows)
    }
}

fn views(desk: &mut Desk<'_>, rows: Vec<(Row, Person)>) -> Done<Tokens> {
    let views = rows
        .into_iter()
        .map(|(row, person)| view(desk, row, person));
    Ok(Tokens {
        tokens: views.collect::<Done<_>>()?,
    })
}

fn view(tx: &mut Tx<'_>, row: Row, person: Person) -> Done<Token> {
    let at = |at: NaiveDateTime| DateTime::<Utc>::from_naive_utc_and_offset(at, Utc);
    Ok(Token {
        token: TokenCode::new(row.id),
        person: person.name,
        role: row.role,
        grants: tx.token_grants(row.id)?,
        label: row.label,
        used_on: row.used_on,
        until: row.valid_until,
        made_at: at(row.made_at),
        made_by: row.made_by,
        revoked_at: row.revoked_at.map(at),
        revoked_by: row.revoked_by,
    })
}

/// A token of an owner that opens the book on a day.
fn is_good_owners(row: &Row, day: NaiveDate) -> bool {
    let over = row.valid_until.is_some_and(|last| last < day);
    row.role == Role::Owner && row.revoked_at.is_none() && !over
}

fn known(tx: &mut Tx<'_>, token: TokenCode) -> Done<(Row, Person)> {
    let known = tx.token(token.get())?;
    known.ok_or_else(|| not_found(format!("token {token}"), "see ellwand token list"))
}

fn owners_only(detail: String) -> Failure {
    Problem::new(ProblemType::NotAllowed, detail)
        .hint(format!("ask an owner for it: {CREATE}"))
        .into()
}

fn book(
    desk: &mut Desk<'_>,
    kind: BookingKind,
    summary: String,
    tokens: impl IntoIterator<Item = i64>,
) -> Done<()> {
    let mut entry = Entry::new(kind, desk.context.today, summary);
    for token in tokens {
        let wrote = Traced::wrote(Facet::Token, token, &())?;
        entry.traces.push(wrote);
    }
    let booking = desk.next_booking()?;
    desk.book(booking, entry)
}
