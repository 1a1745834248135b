//! Rows of people, tokens.
#![expect(missing_docs, reason = "the columns are described in the migrations")]

use crate::schema::{people, tokens};
use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;
use ellwand_domain::setting::Role;

/// Who works and signs in.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = people)]
pub struct Person {
    pub id: i64,
    pub name: String,
    pub skeleton: String,
    pub paid: bool,
    pub made_at: NaiveDateTime,
    pub made_by: String,
}

impl Person {
    /// The owner, whose rates count for all own hours that have none.
    pub const OWNER: i64 = 1;
}

/// One person's way in; never the secret itself.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = tokens)]
pub struct Token {
    pub id: i64,
    pub person_id: i64,
    pub role: Role,
    pub hash: String,
    pub made_at: NaiveDateTime,
    pub made_by: String,
    pub revoked_at: Option<NaiveDateTime>,
    pub revoked_by: Option<String>,
    pub label: Option<String>,
    pub made_on: NaiveDate,
    pub valid_until: Option<NaiveDate>,
    pub used_on: Option<NaiveDate>,
}
