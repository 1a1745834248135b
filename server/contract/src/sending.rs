//! How a request is sent, apart from its content.

use chrono::{DateTime, Utc};

/// Header of a repeat: `true`.
pub const REPEAT: &str = "ellwand-repeat";
/// Header with the time by the sender's clock, RFC 3339.
pub const SENT_AT: &str = "ellwand-sent-at";
/// Header that confirms the clock of the book: `confirmed`.
pub const CLOCK: &str = "ellwand-clock";
/// Value of [`CLOCK`].
pub const CONFIRMED: &str = "confirmed";

/// How a request is sent; not recorded with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Sending {
    /// An earlier sending of this request got no answer and may still be under way. A refusal is final then: the earlier
    /// sending gets it too.
    pub repeat: bool,
    /// The time by the sender's clock.
    pub at: Option<DateTime<Utc>>,
    /// The sender confirms the book's clock after a question about it.
    pub clock_confirmed: bool,
}
