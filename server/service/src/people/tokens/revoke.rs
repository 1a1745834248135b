//! Tokens that no longer open the book.

use super::{CREATE, book, is_good_owners, known, owners_only, view, views};
use crate::desk::{
    Desk,
    failure::{Done, wrong_state},
    perform::Perform,
    person,
};
use ellwand_contract::people::{RevokeToken, RevokeTokens, Token, Tokens};
use ellwand_domain::{
    code::TokenCode,
    setting::{BookingKind, Role},
};
use ellwand_storage::{Person, Token as Row};

impl Perform for RevokeToken {
    fn perform(&self, desk: &mut Desk<'_>) -> Done<Token> {
        let (row, person) = known(desk, self.token)?;
        revocable(desk, std::slice::from_ref(&row))?;
        if row.revoked_at.is_none() {
            revoke(desk, &[row], &person)?;
        }
        let (row, person) = known(desk, self.token)?;
        view(desk, row, person)
    }
}

impl Perform for RevokeTokens {
    fn perform(&self, desk: &mut Desk<'_>) -> Done<Tokens> {
        let person = person::find_by_name(desk, "person", &self.person)?;
        let theirs = |(row, whose): (Row, Person)| (whose.id == person.id).then_some(row);
        let mut rows: Vec<Row> = desk.tx.tokens()?.into_iter().filter_map(theirs).collect();
        rows.retain(|row| row.revoked_at.is_none());
        if rows.is_empty() {
            let detail = format!("{} has no token that could be revoked", person.name);
            return Err(wrong_state(detail, "see ellwand token list"));
        }
        revocable(desk, &rows)?;
        revoke(desk, &rows, &person)?;
        let mut all = desk.tx.tokens()?;
        all.retain(|(row, _)| rows.iter().any(|revoked| revoked.id == row.id));
        views(desk, all)
    }
}

/// Refuses what only owners may, and what would leave no owner a token.
fn revocable(desk: &mut Desk<'_>, rows: &[Row]) -> Done<()> {
    let (caller, today) = (desk.context.caller, desk.context.today);
    let codes = |rows: &[Row]| {
        let codes: Vec<String> = rows
            .iter()
            .map(|row| TokenCode::new(row.id).to_string())
            .collect();
        codes.join(", ")
    };
    if caller.role != Role::Owner && rows.iter().any(|row| row.role == Role::Owner) {
        let detail = format!(
            "{} is an owner's, which only an owner can revoke",
            codes(rows)
        );
        return Err(owners_only(detail));
    }
    // Whoever has the book itself can give out another, and takes a stolen one back at once.
    let over_http = caller.token.is_some();
    let mut good = desk.tx.tokens()?;
    good.retain(|(row, _)| is_good_owners(row, today));
    let stays = |(good, _): &(Row, Person)| !rows.iter().any(|row| row.id == good.id);
    if over_http && !good.is_empty() && !good.iter().any(stays) {
        return Err(wrong_state(
            format!(
                "{} is the last owner's token; without it nobody could make another",
                codes(rows)
            ),
            &format!("make another first: {CREATE} NAME --role owner"),
        ));
    }
    Ok(())
}

fn revoke(desk: &mut Desk<'_>, rows: &[Row], person: &Person) -> Done<()> {
    let (now, by) = (desk.context.now.naive_utc(), &desk.context.caller.name);
    let mut codes = Vec::new();
    for row in rows {
        desk.tx.revoke_token(row.id, now, by)?;
        codes.push(TokenCode::new(row.id).to_string());
    }
    let summary = format!("Revoked {} of {}.", codes.join(", "), person.name);
    book(
        desk,
        BookingKind::Revoked,
        summary,
        rows.iter().map(|row| row.id),
    )
}

/// Refuses to take back that someone was let in, where the caller may not revoke the token.
pub(crate) fn may_revoke(desk: &mut Desk<'_>, token: i64) -> Done<()> {
    let (row, _) = known(desk, TokenCode::new(token))?;
    revocable(desk, &[row])
}

/// Takes back that someone was let in; returns what is to be said of it.
pub(crate) fn take_away(desk: &mut Desk<'_>, token: i64) -> Done<String> {
    let (now, by) = (desk.context.now.naive_utc(), &desk.context.caller.name);
    desk.tx.revoke_token(token, now, by)?;
    let token = TokenCode::new(token);
    Ok(format!("{token} is revoked: it never opens the book again"))
}
