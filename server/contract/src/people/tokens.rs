//! Tokens, each with its role and grants.

use super::is_false;
use crate::act::act;
use chrono::{DateTime, NaiveDate, Utc};
use ellwand_domain::{
    code::TokenCode,
    setting::{Grant, Role},
};
use serde::{Deserialize, Serialize};
use uuid::Uuid;

/// What a role with its grants is called: `maker with pay-rates`.
#[must_use]
pub fn may(role: Role, grants: &[Grant]) -> String {
    let words: Vec<&str> = grants.iter().map(|grant| grant.word()).collect();
    match words.is_empty() {
        true => role.to_string(),
        false => format!("{role} with {}", words.join(", ")),
    }
}

/// A person with what they may do, for people: `anna, maker with pay-rates`.
#[must_use]
pub fn described(person: &str, role: Role, grants: &[Grant]) -> String {
    format!("{person}, {}", may(role, grants))
}

/// Lets a person in. The client makes the secret and never sends it: the book keeps only its hash.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct CreateToken {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Name that will stand on their bookings, such as anna.
    #[cfg_attr(feature = "clap", arg(value_name = "NAME"))]
    pub person: String,
    /// Owner (everything), maker (daily work, with prices), apprentice (daily work without prices) or viewer (reading, without prices).
    #[cfg_attr(
        feature = "clap",
        arg(long, value_name = "ROLE", default_value = "maker")
    )]
    pub role: Role,
    /// Grant in addition to the role: prices, pay-rates, write-offs, settings, books or people; may be repeated.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long = "grant", value_name = "GRANT"))]
    pub grants: Vec<Grant>,
    /// SHA-256 of the whole token, 64 hexadecimal digits.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub hash: String,
    /// What it is for, such as a device: shown in the list of tokens.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub label: Option<String>,
    /// Last day on which it opens the book; without one it has no end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = crate::typed::date))]
    pub until: Option<NaiveDate>,
    /// Create another token for a person who already has one; without it their name is refused.
    #[serde(default, skip_serializing_if = "is_false")]
    #[cfg_attr(feature = "clap", arg(long))]
    pub same_person: bool,
}
act!(post CreateToken => Token, "create_token", "/v1/tokens", "Lets a person in with a token of this hash.", needs People);

/// Revokes a token: from now on it opens nothing.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct RevokeToken {
    /// Request id.
    pub id: Uuid,
    /// Token code, such as T2.
    pub token: TokenCode,
}
act!(post RevokeToken => Token, "revoke_token", "/v1/tokens/{token}/revoke", "Revokes a token.", needs People);

/// Revokes all tokens of a person.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct RevokeTokens {
    /// Request id.
    pub id: Uuid,
    /// Whose tokens.
    pub person: String,
}
act!(post RevokeTokens => Tokens, "revoke_tokens", "/v1/tokens/revoke", "Revokes all tokens of a person.", needs People);

/// List all tokens, revoked ones included, in the order they were made; never their secrets
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct ListTokens {}
act!(read ListTokens => Tokens, "list_tokens", "/v1/tokens", "Lists all tokens, revoked ones included.", needs SeePeople);

/// Tokens.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Tokens {
    /// Oldest first.
    pub tokens: Vec<Token>,
}

/// A token; never its secret.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Token {
    /// Code.
    pub token: TokenCode,
    /// Person it lets in.
    pub person: String,
    /// Role.
    pub role: Role,
    /// What is granted beside the role.
    pub grants: Vec<Grant>,
    /// What it is for.
    pub label: Option<String>,
    /// When it was issued.
    pub made_at: DateTime<Utc>,
    /// Person who issued it.
    pub made_by: String,
    /// Last day on which it opened the book.
    pub used_on: Option<NaiveDate>,
    /// Last day on which it can.
    pub until: Option<NaiveDate>,
    /// When it was revoked.
    pub revoked_at: Option<DateTime<Utc>>,
    /// Person who revoked it.
    pub revoked_by: Option<String>,
}
