//! Who may use the book.

use super::Conn;
use crate::error::StorageError;
use crate::records::Token;
use crate::schema::tokens;
use chrono::NaiveDateTime;
use diesel::prelude::*;

pub fn tokens(conn: &mut Conn) -> Result<Vec<Token>, StorageError> {
    Ok(tokens::table.order(tokens::id).select(Token::as_select()).load(conn)?)
}

pub fn token(conn: &mut Conn, id: i64) -> Result<Option<Token>, StorageError> {
    Ok(tokens::table.find(id).select(Token::as_select()).first(conn).optional()?)
}

pub fn token_of_hash(conn: &mut Conn, hash: &str) -> Result<Option<Token>, StorageError> {
    Ok(tokens::table.filter(tokens::hash.eq(hash)).select(Token::as_select()).first(conn).optional()?)
}

pub fn insert_token(conn: &mut Conn, token: &Token) -> Result<(), StorageError> {
    diesel::insert_into(tokens::table).values(token).execute(conn)?;
    Ok(())
}

/// Takes a token back unless it was before.
pub fn revoke_token(conn: &mut Conn, id: i64, at: NaiveDateTime, by: &str) -> Result<(), StorageError> {
    diesel::update(tokens::table.filter(tokens::id.eq(id)).filter(tokens::revoked_at.is_null()))
        .set((tokens::revoked_at.eq(at), tokens::revoked_by.eq(by)))
        .execute(conn)?;
    Ok(())
}
