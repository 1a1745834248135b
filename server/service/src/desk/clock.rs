//! Where the time comes from.

use crate::desk::failure::Done;
use chrono::{DateTime, SecondsFormat, TimeDelta, Utc};
use ellwand_contract::{Problem, ProblemType, Sending};

/// How far the clock may stand before the last booking: as far as the clocks of two servers on one book may differ.
const BEHIND_LAST: TimeDelta = TimeDelta::hours(1);
/// How far the clock may stand from that of whoever asks.
const FROM_SENDER: TimeDelta = TimeDelta::days(1);

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
    #[expect(
        clippy::disallowed_methods,
        reason = "this is the one place that asks the system's clock"
    )]
    pub fn now(self) -> DateTime<Utc> {
        let now = self.0.unwrap_or_else(Utc::now);
        DateTime::from_timestamp_millis(now.timestamp_millis()).unwrap_or(now)
    }
}

/// Asks about a clock that nothing is booked by in silence: one that stands before the last booking, or far from the sender's.
pub(crate) fn is_plausible(
    now: DateTime<Utc>,
    last: Option<DateTime<Utc>>,
    sending: Sending,
) -> Done<()> {
    if sending.clock_confirmed {
        return Ok(());
    }
    let minute = |time: DateTime<Utc>| time.format("%Y-%m-%d %H:%M UTC").to_string();
    let exact = |time: DateTime<Utc>| time.to_rfc3339_opts(SecondsFormat::Secs, true);
    let doubt = |detail: String, name: &str, other: DateTime<Utc>| {
        Err(Problem::new(ProblemType::ClockInDoubt, detail)
            .hint("set the clock right, or confirm with --yes")
            .with("clock", exact(now))
            .with(name, exact(other))
            .into())
    };
    if let Some(last) = last.filter(|last| *last - now > BEHIND_LAST) {
        let detail = format!(
            "the book's clock says {}, but the last booking was made at {}",
            minute(now),
            minute(last)
        );
        return doubt(detail, "last_booking", last);
    }
    if let Some(at) = sending.at.filter(|at| (now - *at).abs() > FROM_SENDER) {
        let detail = format!(
            "the book's clock says {}, but yours says {}",
            minute(now),
            minute(at)
        );
        return doubt(detail, "sent_at", at);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(minutes: i64) -> DateTime<Utc> {
        DateTime::UNIX_EPOCH + TimeDelta::minutes(20_000_000 + minutes)
    }

    #[test]
    fn an_hour_before_the_last_booking_is_accepted_and_a_minute_more_is_asked_about() {
        let plain = Sending::default();
        assert!(is_plausible(at(0), None, plain).is_ok());
        assert!(is_plausible(at(0), Some(at(60)), plain).is_ok());
        assert!(is_plausible(at(0), Some(at(61)), plain).is_err());
        assert!(
            is_plausible(
                at(0),
                Some(at(61)),
                Sending {
                    clock_confirmed: true,
                    ..plain
                }
            )
            .is_ok()
        );
    }

    #[test]
    fn a_day_from_the_senders_clock_is_accepted_and_a_minute_more_is_asked_about() {
        let sent = |minutes| Sending {
            at: Some(at(minutes)),
            ..Sending::default()
        };
        for (minutes, accepted) in [
            (0, true),
            (1_440, true),
            (-1_440, true),
            (1_441, false),
            (-1_441, false),
        ] {
            assert_eq!(
                is_plausible(at(0), None, sent(minutes)).is_ok(),
                accepted,
                "{minutes}"
            );
        }
    }
}
