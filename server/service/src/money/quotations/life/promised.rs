//! Promises that are made with a quotation: open, they end with its last day; accepted, they stay; closed, they go.

use crate::{
    desk::{Desk, failure::Done, trace::Traced},
    garments::need::load_garment,
    promises::{
        self,
        candidates::{self, Answered},
        reservations::{Promised, check_open, promise_all},
    },
};
use chrono::NaiveDate;
use ellwand_contract::{Problem, ProblemType, garments::Pick, reservations::Reserve};
use ellwand_domain::{
    code::{GarmentCode, ReservationCode},
    setting::{Facet, ReservationState},
};
use ellwand_storage::{Quotation, Reservation, Tx};
use std::collections::BTreeMap;
use uuid::Uuid;

/// The last day that a promise had before an act gave it another one.
pub(crate) type Ends = Vec<(i64, Option<NaiveDate>)>;

/// The trace of an act that wrote over what had become of a quotation, and over the last days of its promises.
pub(super) fn trace(before: &Quotation, ends: &Ends) -> Done<Traced> {
    Traced::wrote(Facet::Quotation, before.id, &(before, ends))
}

/// Promises the best pieces to every open need of a quotation's garment, until a day; refused as a whole where one cannot be
/// served. `otherwise`: what to do instead.
pub(in crate::money::quotations) fn reserve(
    desk: &mut Desk<'_>,
    booking: i64,
    request: Uuid,
    quotation: &Quotation,
    until: Option<NaiveDate>,
    otherwise: &str,
) -> Done<Promised> {
    let code = GarmentCode::new(quotation.garment_id);
    check_until(desk.context.today, until, otherwise)?;
    let (garment, needs) = load_garment(desk, code)?;
    check_open(&garment)?;
    let all: Vec<_> = needs.iter().collect();
    let found = candidates::for_needs(desk, &garment, &all)?;
    check_served(&found, code, otherwise)?;
    let mut notes: Vec<String> = found
        .iter()
        .filter_map(|need| need.together.clone())
        .collect();
    notes.dedup();
    let picks: Vec<Pick> = found.into_iter().flat_map(|need| need.view.picks).collect();
    let request = Reserve {
        id: request,
        garment: code,
        picks,
        until,
        date: None,
    };
    let mut made = promise_all(
        desk,
        booking,
        &request,
        &garment,
        &needs,
        Some(quotation.id),
    )?;
    made.notes
        .extend(promises::settled_notes(desk, &made.bound)?);
    made.notes.splice(0..0, notes);
    Ok(made)
}

/// Refuses a last day that has passed.
fn check_until(today: NaiveDate, until: Option<NaiveDate>, otherwise: &str) -> Done<()> {
    let Some(until) = until.filter(|until| *until < today) else {
        return Ok(());
    };
    let detail = format!("the promises would end on {until}; today is {today}");
    Err(Problem::new(ProblemType::InvalidDate, detail)
        .field("valid_until")
        .hint(format!("choose a later last day, or {otherwise}"))
        .with("day", until.to_string())
        .with("earliest", today.to_string())
        .into())
}

/// Refuses needs that nothing serves, or of which something must be decided first.
fn check_served(found: &[Answered], code: GarmentCode, otherwise: &str) -> Done<()> {
    let without = found
        .iter()
        .map(|need| &need.view)
        .filter(|need| need.units_open > 0 && need.picks.is_empty());
    let without: Vec<&str> = without.map(|need| need.role.as_str()).collect();
    if !without.is_empty() {
        let detail = format!(
            "nothing on the shelf serves the {} of {code}",
            without.join(", ")
        );
        let hint = format!("see ellwand candidates for why, or {otherwise}");
        return Err(Problem::new(ProblemType::DoesNotServe, detail)
            .field("reserve")
            .hint(hint)
            .with("needs", without)
            .into());
    }
    if let Some(need) = found.iter().find(|need| need.view.undecided.is_some()) {
        let (detail, hint) = (&need.view.undecided, &need.view.advice);
        let detail = detail.clone().unwrap_or_default();
        return Err(Problem::new(ProblemType::Unknown, detail)
            .field("reserve")
            .hint(format!(
                "{}, or {otherwise}",
                hint.as_deref().unwrap_or_default()
            ))
            .into());
    }
    Ok(())
}

/// Active promises of a quotation, those whose day has passed apart.
fn active(desk: &mut Desk<'_>, quotation: i64) -> Done<(Vec<Reservation>, Vec<Reservation>)> {
    let mut rows = desk.tx.reservations_of_quotation(quotation)?;
    rows.retain(|row| row.state == ReservationState::Active);
    Ok(rows
        .into_iter()
        .partition(|row| row.until.is_none_or(|day| day >= desk.context.today)))
}

/// Gives the promises of a quotation another last day, or none; those whose day has passed end. What they had before, and
/// remarks.
pub(in crate::money::quotations) fn lasting(
    desk: &mut Desk<'_>,
    booking: i64,
    quotation: i64,
    until: Option<NaiveDate>,
) -> Done<(Ends, Vec<String>)> {
    let (standing, overdue) = active(desk, quotation)?;
    let mut notes = Vec::new();
    for (row, _) in promises::release_all(desk, booking, overdue, ReservationState::Expired, None)?
    {
        let (code, why) = (
            ReservationCode::new(row.id),
            row.ended_because.unwrap_or_default(),
        );
        notes.push(format!("{code} is not kept: {why}"));
    }
    let mut ends = Ends::new();
    for mut row in standing.into_iter().filter(|row| row.until != until) {
        ends.push((row.id, row.until));
        row.until = until;
        desk.tx.update_reservation(&row)?;
    }
    Ok((ends, notes))
}

/// Gives back what is promised with a quotation; those that an undo makes again.
pub(crate) fn release(desk: &mut Desk<'_>, booking: i64, quotation: i64) -> Done<Vec<i64>> {
    let (standing, overdue) = active(desk, quotation)?;
    let released = standing.iter().map(|row| row.id).collect();
    let all = standing.into_iter().chain(overdue).collect();
    let because = Some("its quotation was closed".to_owned());
    promises::release_all(desk, booking, all, ReservationState::Released, because)?;
    Ok(released)
}

/// Promises that were made with a quotation; of one that was made again, the last.
pub(in crate::money::quotations) fn promises_of(tx: &mut Tx<'_>, quotation: i64) -> Done<Vec<i64>> {
    let rows = tx.reservations_of_quotation(quotation)?;
    // Rows come in the order they were made.
    let last: BTreeMap<i64, i64> = rows.iter().map(|row| (row.line(), row.id)).collect();
    Ok(rows
        .into_iter()
        .map(|row| row.id)
        .filter(|id| last.values().any(|last| last == id))
        .collect())
}
