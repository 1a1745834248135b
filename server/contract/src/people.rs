//! Who works and signs in: people, and the tokens that let them in, each with its role and grants.

use crate::{access::conceals, act::act, workshop::PayRate};
use chrono::{DateTime, Utc};
use ellwand_domain::{
    code::TokenCode,
    setting::{Grant, Role},
};
use serde::{Deserialize, Serialize};
use uuid::Uuid;

/// Prefix of every token, so that it is recognised wherever it turns up.
pub const TOKEN_PREFIX: &str = "ellwand_";
/// Hexadecimal digits after it: 32 random bytes.
pub const TOKEN_DIGITS: usize = 64;

/// True for a text that has the form of a token.
#[must_use]
pub fn is_token(text: &str) -> bool {
    text.strip_prefix(TOKEN_PREFIX).is_some_and(|digits| {
        digits.len() == TOKEN_DIGITS
            && digits
                .bytes()
                .all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'))
    })
}

/// A person with what they may do, for people: `anna, maker with pay-rates`.
#[must_use]
pub fn described(person: &str, role: Role, grants: &[Grant]) -> String {
    let words: Vec<&str> = grants.iter().map(|grant| grant.word()).collect();
    let with = if words.is_empty() {
        String::new()
    } else {
        format!(" with {}", words.join(", "))
    };
    format!("{person}, {role}{with}")
}

/// Show who is signed in, and what they may do.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetSelf {}
act!(read GetSelf => Signed, "get_self", "/v1/self", "Returns who is signed in, and what they may do.");

/// Who is signed in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Signed {
    /// Name that stands on every booking.
    pub person: String,
    /// Role.
    pub role: Role,
    /// What is granted beside the role.
    pub grants: Vec<Grant>,
    /// The token; null where the server needs none.
    pub token: Option<TokenCode>,
}

/// Lets a person in. The client makes the secret and never sends it: the book keeps only its hash.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CreateToken {
    /// Request id.
    pub id: Uuid,
    /// Name that will stand on their bookings.
    pub person: String,
    /// Role.
    pub role: Role,
    /// What is granted beside the role.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub grants: Vec<Grant>,
    /// SHA-256 of the whole token, 64 hexadecimal digits.
    pub hash: String,
    /// True for another token of a person who has one; without it their name is refused.
    #[serde(default, skip_serializing_if = "is_false")]
    pub same_person: bool,
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde asks for a reference"
)]
fn is_false(flag: &bool) -> bool {
    !*flag
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

/// Lists all tokens, in the order they were issued.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ListTokens {}
act!(read ListTokens => Tokens, "list_tokens", "/v1/tokens", "Lists all tokens, revoked ones included.", needs SeePeople);

/// All tokens.
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
    /// When it was issued.
    pub made_at: DateTime<Utc>,
    /// Person who issued it.
    pub made_by: String,
    /// When it was revoked.
    pub revoked_at: Option<DateTime<Utc>>,
    /// Person who revoked it.
    pub revoked_by: Option<String>,
}

/// List all people by name.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct ListPeople {}
act!(read ListPeople => People, "list_people", "/v1/people", "Lists the people of the workshop by name."; conceals);

/// Show a person: own or paid, and what an hour costs.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetPerson {
    /// Their name; capitals make no difference.
    #[cfg_attr(feature = "clap", arg(value_name = "NAME"))]
    pub person: String,
}
act!(read GetPerson => Person, "get_person", "/v1/people/{person}", "Returns a person of the workshop."; conceals);

/// Add a person, or set whether someone's hours are own or paid.
///
/// It applies to all their hours, past ones included.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct SetPerson {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Their name.
    #[cfg_attr(feature = "clap", arg(value_name = "NAME"))]
    pub person: String,
    /// Wages: they count in the stock value of garments.
    #[cfg_attr(feature = "clap", arg(long))]
    pub paid: bool,
    /// Allow it to change the cost of finished garments.
    #[serde(default, skip_serializing_if = "is_false")]
    #[cfg_attr(feature = "clap", arg(long))]
    pub really: bool,
}
act!(post SetPerson => Person, "set_person", "/v1/people", "Names a person, or marks one as own or paid.", needs PayRates; conceals);

/// All people.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct People {
    /// By name.
    pub people: Vec<Person>,
}
conceals!(People, parts { people });

/// Someone who works or signs in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Person {
    /// Name.
    pub person: String,
    /// True when their hours are wages.
    pub paid: bool,
    /// When they were first named.
    pub made_at: DateTime<Utc>,
    /// Person who named them.
    pub made_by: String,
    /// What their hours cost, newest first. Own hours without a rate use the owner's, else the year's figures.
    pub pay_rates: Vec<PayRate>,
    /// False where rates are hidden.
    pub rates_shown: bool,
}
conceals!(
    Person,
    pay_rates {
        pay_rates,
        rates_shown
    }
);
