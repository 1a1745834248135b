//! Who may use the book.

use super::Conn;
use crate::error::StorageError;
use crate::records::{Person, Token};
use crate::schema::{people, token_grants, tokens};
use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;
use ellwand_domain::setting::Grant;

pub fn people(conn: &mut Conn) -> Result<Vec<Person>, StorageError> {
    Ok(people::table
        .order(people::id)
        .select(Person::as_select())
        .load(conn)?)
}

pub fn person(conn: &mut Conn, id: i64) -> Result<Option<Person>, StorageError> {
    Ok(people::table
        .find(id)
        .select(Person::as_select())
        .first(conn)
        .optional()?)
}

/// The person whose name is this, or looks like it.
pub fn person_alike(
    conn: &mut Conn,
    name: &str,
    skeleton: &str,
) -> Result<Option<Person>, StorageError> {
    let alike = people::skeleton.eq(skeleton).or(people::name.eq(name));
    Ok(people::table
        .filter(alike)
        .order(people::id)
        .select(Person::as_select())
        .first(conn)
        .optional()?)
}

pub fn insert_person(conn: &mut Conn, person: &Person) -> Result<(), StorageError> {
    diesel::insert_into(people::table)
        .values(person)
        .execute(conn)?;
    Ok(())
}

/// Says whether a person's hours are wages.
pub fn mark_person(conn: &mut Conn, id: i64, paid: bool) -> Result<(), StorageError> {
    let rows = diesel::update(people::table.find(id))
        .set(people::paid.eq(paid))
        .execute(conn)?;
    super::changed(rows, "person", id)
}

pub fn tokens(conn: &mut Conn) -> Result<Vec<(Token, Person)>, StorageError> {
    let all = tokens::table.inner_join(people::table).order(tokens::id);
    Ok(all
        .select((Token::as_select(), Person::as_select()))
        .load(conn)?)
}

pub fn token(conn: &mut Conn, id: i64) -> Result<Option<(Token, Person)>, StorageError> {
    let one = tokens::table
        .inner_join(people::table)
        .filter(tokens::id.eq(id));
    Ok(one
        .select((Token::as_select(), Person::as_select()))
        .first(conn)
        .optional()?)
}

pub fn token_of_hash(conn: &mut Conn, hash: &str) -> Result<Option<(Token, Person)>, StorageError> {
    let one = tokens::table
        .inner_join(people::table)
        .filter(tokens::hash.eq(hash));
    Ok(one
        .select((Token::as_select(), Person::as_select()))
        .first(conn)
        .optional()?)
}

/// Writes a token with what it allows beyond its role.
pub fn insert_token(conn: &mut Conn, token: &Token, grants: &[Grant]) -> Result<(), StorageError> {
    diesel::insert_into(tokens::table)
        .values(token)
        .execute(conn)?;
    for grant in grants {
        let row = (
            token_grants::token_id.eq(token.id),
            token_grants::word.eq(*grant),
        );
        diesel::insert_into(token_grants::table)
            .values(row)
            .execute(conn)?;
    }
    Ok(())
}

/// What a token allows beyond its role, in the order of the list of grants.
pub fn token_grants(conn: &mut Conn, token: i64) -> Result<Vec<Grant>, StorageError> {
    let mut grants: Vec<Grant> = token_grants::table
        .filter(token_grants::token_id.eq(token))
        .select(token_grants::word)
        .load(conn)?;
    grants.sort_unstable();
    Ok(grants)
}

/// Takes a token back unless it was before.
pub fn revoke_token(
    conn: &mut Conn,
    id: i64,
    at: NaiveDateTime,
    by: &str,
) -> Result<(), StorageError> {
    diesel::update(
        tokens::table
            .filter(tokens::id.eq(id))
            .filter(tokens::revoked_at.is_null()),
    )
    .set((tokens::revoked_at.eq(at), tokens::revoked_by.eq(by)))
    .execute(conn)?;
    Ok(())
}

/// Notes the day on which a token opened the book; an earlier one than is known changes nothing.
pub fn use_token(conn: &mut Conn, id: i64, day: NaiveDate) -> Result<(), StorageError> {
    let earlier = tokens::used_on.is_null().or(tokens::used_on.lt(day));
    diesel::update(tokens::table.find(id).filter(earlier))
        .set(tokens::used_on.eq(day))
        .execute(conn)?;
    Ok(())
}
