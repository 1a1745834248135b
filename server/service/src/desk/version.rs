//! The version of a record, and what changed since one.

use crate::{desk::failure::Done, desk::person::PeopleNames};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::code::BookingCode;
use ellwand_storage::{Subject, Tx};

/// Bookings that are named of those since.
const NAMED_AT_MOST: usize = 5;

/// The version of a lot or garment: the last booking that touched it.
pub(crate) fn of(tx: &mut Tx<'_>, subject: Subject, id: i64) -> Done<BookingCode> {
    let newest = tx.newest_booking_of(subject, id)?;
    let none = || {
        Problem::new(
            ProblemType::Internal,
            format!("no booking made {subject} {id}"),
        )
    };
    Ok(BookingCode::new(newest.ok_or_else(none)?))
}

/// Refuses a change that was made for another version than the present one, and tells what came since and from whom.
pub(crate) fn check(
    tx: &mut Tx<'_>,
    (subject, id): (Subject, i64),
    what: &dyn std::fmt::Display,
    asked: Option<BookingCode>,
) -> Done<()> {
    let Some(asked) = asked else { return Ok(()) };
    let now = of(tx, subject, id)?;
    if asked == now {
        return Ok(());
    }
    let mut since = tx.bookings(
        Some((subject, id)),
        i64::MAX,
        i64::try_from(NAMED_AT_MOST).unwrap_or(i64::MAX),
    )?;
    since.retain(|booking| booking.id > asked.get());
    let people = PeopleNames::of(tx)?;
    let changes: Vec<String> = since
        .iter()
        .rev()
        .map(|booking| {
            let by = people.name(booking.person_id);
            format!(
                "{} by {by}: {}",
                BookingCode::new(booking.id),
                booking.summary
            )
        })
        .collect();
    let detail = match changes.is_empty() {
        true => format!("{what} has no version {asked}: it is at {now}"),
        false => format!("{what} changed since {asked}. {}", changes.join(" ")),
    };
    Err(changed(detail, now.to_string()))
}

/// The refusal of a change that came too late.
pub(crate) fn changed(detail: String, now: String) -> crate::desk::failure::Failure {
    Problem::new(ProblemType::ChangedMeanwhile, detail)
        .field("if_version")
        .hint(format!(
            "look at it again; then make the change for version {now}"
        ))
        .with("version", now)
        .into()
}
