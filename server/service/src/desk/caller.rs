//! Who asks, and what they may do.

use crate::desk::{
    context,
    failure::{Done, Failure},
};
use chrono::{DateTime, NaiveDate, Utc};
use ellwand_contract::{
    Act, Problem, ProblemType, access,
    access::{Access, Sees},
};
use ellwand_domain::{
    code::TokenCode,
    setting::{Grant, Role},
};
use ellwand_storage::Tx;

/// Who asks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caller {
    /// Name that stands on every booking.
    pub name: String,
    /// Role.
    pub role: Role,
    /// What is granted beside it.
    pub grants: Vec<Grant>,
    /// The token that was shown; none where none is asked for.
    pub token: Option<TokenCode>,
    /// Their row, where it has been read.
    pub(crate) person: Option<i64>,
    /// The last day on which the token is known to have opened the book.
    pub(crate) used_on: Option<NaiveDate>,
}

impl Caller {
    /// Someone who may do everything: whoever has the book itself.
    #[must_use]
    pub fn owner(name: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            role: Role::Owner,
            grants: Vec::new(),
            token: None,
            person: None,
            used_on: None,
        }
    }

    /// The token, where it opens the book for the first time on a day.
    pub(crate) fn first_use(&self, day: NaiveDate) -> Option<i64> {
        let known = self.used_on.is_some_and(|used| used >= day);
        self.token.filter(|_| !known).map(TokenCode::get)
    }

    /// True when the role or a grant gives it.
    pub(crate) fn has(&self, grant: Grant) -> bool {
        access::has(self.role, &self.grants, grant)
    }

    pub(crate) fn sees(&self) -> Sees {
        Sees::of(self.role, &self.grants)
    }

    /// Refuses an act that the role and its grants do not allow.
    pub(crate) fn may<A: Act>(&self) -> Done<()> {
        self.may_do(A::ACCESS)
    }

    /// The same for what needs this access.
    pub(crate) fn may_do(&self, access: Access) -> Done<()> {
        if access.allows(self.role, &self.grants) {
            return Ok(());
        }
        let needed = if self.role == Role::Viewer && !access.reads() {
            None
        } else {
            access.grant()
        };
        Err(self.refusal(needed))
    }

    /// Refuses what needs a grant that the caller has not.
    pub(crate) fn needs(&self, grant: Grant) -> Done<()> {
        if self.has(grant) {
            Ok(())
        } else {
            Err(self.refusal(Some(grant)))
        }
    }

    fn refusal(&self, needed: Option<Grant>) -> Failure {
        let (name, role) = (&self.name, self.role);
        let (detail, hint) = match needed {
            _ if role == Role::Apprentice => (
                format!(
                    "{name} is an apprentice, and this is a maker's work: it has to do with prices or plans"
                ),
                "ask a maker to do it, or an owner for a maker's token",
            ),
            Some(grant) => (
                format!("{name} is a {role}, and this needs the grant {grant}"),
                "ask an owner for a token with that grant",
            ),
            None => (
                format!("{name} is a {role}, who can only read"),
                "ask an owner for a maker's token",
            ),
        };
        Problem::new(ProblemType::NotAllowed, detail)
            .hint(hint)
            .into()
    }
}

/// Someone known, or whoever holds a token.
pub(crate) enum Who<'a> {
    Known(&'a Caller),
    /// Hash of the token.
    Holder(String),
}

impl Who<'_> {
    /// Looks the caller up; a token that was revoked, or whose last day is over, opens nothing.
    pub(crate) fn is(&self, tx: &mut Tx<'_>, now: DateTime<Utc>) -> Done<Caller> {
        let hash = match self {
            Self::Known(caller) => return Ok((*caller).clone()),
            Self::Holder(hash) => hash,
        };
        let refused = |detail: String| -> Failure {
            let problem = Problem::new(ProblemType::NotSignedIn, detail);
            problem.hint(HINT).into()
        };
        let Some((row, person)) = tx.token_of_hash(hash)? else {
            return Err(refused("the token is not known here".to_owned()));
        };
        let code = TokenCode::new(row.id);
        if row.revoked_at.is_some() {
            return Err(refused(format!("the token {code} was revoked")));
        }
        if let Some(last) = row.valid_until
            && context::today(tx, now)? > last
        {
            let detail = format!("the token {code} expired: {last} was its last day");
            return Err(refused(detail));
        }
        Ok(Caller {
            name: person.name,
            role: row.role,
            grants: tx.token_grants(row.id)?,
            token: Some(code),
            person: Some(person.id),
            used_on: row.used_on,
        })
    }
}

/// What to do without a token that opens the book.
const HINT: &str =
    "an owner, or whoever has the grant people, can make another: ellwand token create";
