//! Problems as RFC 9457 describes them: a stable type, the numbers as fields, a hint.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use serde_with::skip_serializing_none;

macro_rules! problem_types {
    ($($(#[$doc:meta])* $variant:ident = $slug:literal, $status:literal, $exit:literal, $title:literal;)*) => {
        /// Every kind of problem; clients match on its slug, never on prose.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
        #[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
        pub enum ProblemType {
            $($(#[$doc])* #[serde(rename = $slug)] $variant,)*
        }

        impl ProblemType {
            /// All of them, in the order of the README.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)*];

            /// The slug that stands in `type`.
            #[must_use]
            pub const fn slug(self) -> &'static str {
                match self { $(Self::$variant => $slug,)* }
            }

            /// HTTP status.
            #[must_use]
            pub const fn status(self) -> u16 {
                match self { $(Self::$variant => $status,)* }
            }

            /// Exit status of the CLI.
            #[must_use]
            pub const fn exit(self) -> u8 {
                match self { $(Self::$variant => $exit,)* }
            }

            /// Short title, the same for every occurrence.
            #[must_use]
            pub const fn title(self) -> &'static str {
                match self { $(Self::$variant => $title,)* }
            }
        }
    };
}

problem_types! {
    /// A request that cannot be read: not JSON, an unknown or missing field.
    InvalidRequest = "invalid-request", 422, 1, "The request cannot be read";
    /// A quantity, amount, rate, date or name that cannot be read or is out of range.
    InvalidValue = "invalid-value", 422, 1, "A value is not accepted";
    /// No record of that code or name.
    NotFound = "not-found", 404, 1, "No such record";
    /// A promise or a use of more than is free.
    ExceedsAvailable = "exceeds-available", 409, 1, "Not enough is free";
    /// A use of more than is there at all.
    ExceedsOnHand = "exceeds-on-hand", 409, 1, "Not enough on hand";
    /// The piece does not suit the need: too narrow, another owner, wrong kind …
    DoesNotServe = "does-not-serve", 409, 1, "The piece cannot serve the need";
    /// A figure that is needed is not known.
    Unknown = "unknown-figure", 409, 1, "A figure is not known";
    /// A length crosses a flaw.
    CrossesFlaw = "crosses-flaw", 409, 1, "A flaw is in the way";
    /// The record is in a state that does not allow this.
    WrongState = "wrong-state", 409, 1, "The record's state does not allow it";
    /// Later acts depend on the booking.
    CannotUndo = "cannot-undo", 409, 1, "Later bookings depend on it";
    /// A date that the book does not accept.
    InvalidDate = "invalid-date", 422, 1, "The date is not accepted";
    /// Plausible only if the user confirms it.
    NeedsConfirmation = "needs-confirmation", 409, 1, "Unusual and not confirmed";
    /// The book's clock is behind the last booking, or far from the client's, and nobody has confirmed it.
    ClockInDoubt = "clock-in-doubt", 409, 1, "The clock is in doubt";
    /// The request id was used with other content.
    ExistsWithDifferent = "exists-with-different", 409, 1, "The request id was used with other content";
    /// The record has changed since the version that the change was based on.
    ChangedMeanwhile = "changed-meanwhile", 412, 1, "It has changed in the meantime";
    /// The day is in books that are closed.
    BooksClosed = "books-closed", 409, 1, "The books are closed";
    /// A record of that name exists.
    AlreadyExists = "already-exists", 409, 1, "It already exists";
    /// No token, or one that is not known or was revoked.
    NotSignedIn = "not-signed-in", 401, 4, "Not signed in";
    /// The caller's role and grants do not allow it.
    NotAllowed = "not-allowed", 403, 4, "Not allowed";
    /// More requests, or more failed sign-ins, than are accepted in a minute.
    TooMany = "too-many-requests", 429, 3, "Too many requests";
    /// The request's body took too long to arrive.
    TooSlow = "too-slow", 408, 3, "The request arrived too slowly";
    /// The request is larger than accepted.
    TooLarge = "too-large", 413, 1, "The request is too large";
    /// A page size, cursor or filter that is not accepted.
    InvalidQuery = "invalid-query", 400, 1, "The query is not accepted";
    /// No such route, or not with this method.
    NoRoute = "no-such-route", 404, 2, "No such route";
    /// The database is locked, read-only, full or gone.
    Unavailable = "unavailable", 503, 3, "The book cannot be reached";
    /// The database was written by a newer program.
    NewerSchema = "newer-schema", 503, 2, "The book is newer than the program";
    /// The database is damaged or not one of ours.
    NotABook = "not-a-book", 503, 2, "The file is not a book";
    /// A fault of the program.
    Internal = "internal", 500, 3, "The server failed";
}

/// Field of an unavailable book with the fault of its own disk: `disk-full`, `read-only`.
pub const BECAUSE: &str = "because";

/// [`BECAUSE`] of a book that an older program wrote.
pub const OLDER_SCHEMA: &str = "older-schema";

/// Field of a problem that is several at once.
const ERRORS: &str = "errors";

/// One of several refusals.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OneError {
    /// What was requested and what is true.
    pub detail: String,
    /// Field of the request that is at fault.
    pub field: Option<String>,
    /// What to do.
    pub hint: Option<String>,
}

/// A refusal or failure, as it travels and as it is shown.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Problem {
    /// Stable slug.
    #[serde(rename = "type")]
    pub kind: ProblemType,
    /// The title of the type.
    pub title: String,
    /// HTTP status.
    pub status: u16,
    /// What was requested and what is true.
    pub detail: String,
    /// What to do.
    pub hint: Option<String>,
    /// Field of the request that is at fault.
    pub field: Option<String>,
    /// Id of the request in the server's log.
    pub instance: Option<String>,
    /// The numbers and codes of the case, by name, in base units.
    ///
    /// - What was asked for: `wanted`; what is true: `usable`, `free`, `longest_free`, `on_hand`, `open` (still to be promised), `left`
    ///   (still to be cut), `missing` (to a whole set), `was`, `found`, `paid`.
    /// - What would be accepted: `least`, `most`; of days `earliest`, `latest`, where `day` is the one that was given.
    /// - Of several refusals: `errors`, each with its `detail`, `field` and `hint`.
    /// - Records, by their codes: `booking`, `garment`, `piece`, `lot`, `purchase`, `quotation`, `reservation`, `customer`, with
    ///   their `state`; lists of them: `held_by`, `garments`.
    ///
    /// Quantities of a piece or need are micrometres, or numbers where it is counted; other figures name their unit: `_um`,
    /// `_minutes`, `_ppm`, `_millionths`, `_s`, `_bytes`. Days are ISO 8601.
    #[serde(flatten)]
    #[cfg_attr(feature = "openapi", schema(value_type = Object))]
    pub numbers: Map<String, Value>,
}

impl Problem {
    /// A problem of this type with what was requested and what is true.
    #[must_use]
    pub fn new(kind: ProblemType, detail: impl Into<String>) -> Self {
        Self {
            kind,
            title: kind.title().to_owned(),
            status: kind.status(),
            detail: detail.into(),
            hint: None,
            field: None,
            instance: None,
            numbers: Map::new(),
        }
    }

    /// Several refusals as one: the first that nobody can confirm, with the details of all, a line each. Nothing where there is
    /// none.
    #[must_use]
    pub fn gathered(problems: Vec<Self>) -> Option<Self> {
        let errors: Vec<OneError> = problems.iter().flat_map(Self::errors).collect();
        let details: Vec<&str> = errors.iter().map(|error| error.detail.as_str()).collect();
        let detail = details.join("\n");
        let is_doubt = |problem: &Self| problem.kind == ProblemType::NeedsConfirmation;
        let head = problems.iter().position(|problem| !is_doubt(problem));
        let first = problems.into_iter().nth(head.unwrap_or(0))?;
        if errors.len() < 2 {
            return Some(first);
        }
        let all = crate::json::tree(&errors).unwrap_or_default();
        Some(Self { detail, ..first }.with(ERRORS, all))
    }

    /// Each refusal by itself.
    #[must_use]
    pub fn errors(&self) -> Vec<OneError> {
        let all = self.numbers.get(ERRORS).cloned();
        let all = all.and_then(|all| serde_json::from_value(all).ok());
        all.unwrap_or_else(|| {
            vec![OneError {
                detail: self.detail.clone(),
                field: self.field.clone(),
                hint: self.hint.clone(),
            }]
        })
    }

    /// Adds what to do.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// Names the request's field.
    #[must_use]
    pub fn field(mut self, field: impl Into<String>) -> Self {
        self.field = Some(field.into());
        self
    }

    /// Adds a number of the case.
    #[must_use]
    pub fn with(mut self, name: &str, value: impl Into<Value>) -> Self {
        self.numbers.insert(name.to_owned(), value.into());
        self
    }
}

impl std::fmt::Display for Problem {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.detail)
    }
}

impl std::error::Error for Problem {}
