//! Who works and signs in: people, and the tokens that let them in, each with its role and grants.

mod secret;
mod tokens;

pub use secret::{Secret, is_token};
pub use tokens::{
    CreateToken, ListTokens, RevokeToken, RevokeTokens, Token, Tokens, described, may,
};

use crate::{access::conceals, act::act, workshop::PayRate};
use chrono::{DateTime, Utc};
use ellwand_domain::{
    code::TokenCode,
    setting::{Grant, Role},
};
use serde::{Deserialize, Serialize};
use uuid::Uuid;

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

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde asks for a reference"
)]
fn is_false(flag: &bool) -> bool {
    !*flag
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
