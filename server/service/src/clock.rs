//! Where the time comes from.

use chrono::{DateTime, Utc};

/// The system's clock, or a fixed one for tests and the demo.
#[derive(Debug, Clone, Copy)]
pub struct Clock(Option<DateTime<Utc>>);

impl Clock {
    /// The system's.
    #[must_use]
    pub const fn system() -> Self {
        Self(None)
    }

    /// Stands still.
    #[must_use]
    pub const fn fixed(now: DateTime<Utc>) -> Self {
        Self(Some(now))
    }

    /// Now, whole milliseconds.
    #[must_use]
    #[expect(clippy::disallowed_methods, reason = "this is the one place that asks the system's clock")]
    pub fn now(self) -> DateTime<Utc> {
        let now = self.0.unwrap_or_else(Utc::now);
        DateTime::from_timestamp_millis(now.timestamp_millis()).unwrap_or(now)
    }
}
