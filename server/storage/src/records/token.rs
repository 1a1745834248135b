//! Rows of tokens.
#![expect(missing_docs, reason = "the columns are described in the migrations")]

use crate::schema::tokens;
use crate::word::{Word, Words};
use chrono::NaiveDateTime;
use diesel::prelude::*;
use ellwand_domain::setting::{Grant, Role};

/// One person's way in; never the secret itself.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = tokens)]
pub struct Token {
    pub id: i64,
    pub person: String,
    pub role: Word<Role>,
    pub grants: Words<Grant>,
    pub hash: String,
    pub made_at: NaiveDateTime,
    pub made_by: String,
    pub revoked_at: Option<NaiveDateTime>,
    pub revoked_by: Option<String>,
}
