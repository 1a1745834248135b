//! Which quotation rests on which: a supplement on the last one that was accepted before it.

use super::super::{freeze::Frozen, row, show};
use crate::desk::failure::{Done, wrong_state};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, QuotationCode},
    setting::{BookingKind, QuotationState},
};
use ellwand_storage::{Quotation, QuotationVersion, Subject, Tx};

const fn stands(row: &Quotation) -> bool {
    matches!(row.state, QuotationState::Open | QuotationState::Accepted)
}

/// The last accepted quotation of a chain: what is agreed stands in it.
pub(super) fn last_accepted(tx: &mut Tx<'_>, base: i64) -> Done<Quotation> {
    let accepted = |row: &Quotation| row.state == QuotationState::Accepted;
    match tx.supplements(base)?.into_iter().rfind(accepted) {
        Some(last) => Ok(last),
        None => row(tx, QuotationCode::new(base)),
    }
}

/// Refuses a supplement that rests on what is not agreed any more.
pub(crate) fn rests(tx: &mut Tx<'_>, quotation: &Quotation) -> Done<()> {
    let Some(base) = quotation.supplement_to else {
        return Ok(());
    };
    let agreed = show::frozen(tx, quotation, quotation.version)?
        .agreed
        .map(|agreed| agreed.rests_on);
    let last = last_accepted(tx, base)?;
    if last.state == QuotationState::Accepted && agreed == Some(last.id) {
        return Ok(());
    }
    let (code, base) = (QuotationCode::new(quotation.id), QuotationCode::new(base));
    let detail =
        format!("{code} was priced on top of what was agreed with {base}, and that has changed");
    Err(wrong_state(
        detail,
        "close it and supplement what is agreed now",
    ))
}

/// Bookings of a garment that are looked at for a change of its plan.
const LOOKED_AT: i64 = 1_000;

/// Refuses a supplement where the plan was changed again since it was priced: it would be paid for what is not made.
pub(in crate::money::quotations) fn as_planned(
    tx: &mut Tx<'_>,
    quotation: &Quotation,
    version: &QuotationVersion,
) -> Done<()> {
    if quotation.supplement_to.is_none() {
        return Ok(());
    }
    let of = Some((Subject::Garment, quotation.garment_id));
    let newest = tx.bookings(of, i64::MAX, LOOKED_AT)?;
    let mut later = None;
    for booking in newest
        .into_iter()
        .take_while(|booking| booking.id > version.booking_id)
    {
        // What was taken back since then and was planned before it is a change, too.
        let changed = match booking.undoes {
            Some(undone) if undone < version.booking_id => tx.booking(undone)?,
            Some(_) => None,
            None if tx.undone_by(booking.id)?.is_some() => None,
            None => Some(booking.clone()),
        };
        if changed.is_some_and(|changed| changed.kind == BookingKind::Planned) {
            later = Some(booking);
        }
    }
    let Some(later) = later else { return Ok(()) };
    let detail = format!(
        "the plan of {} was changed again in {}, after {} had been priced",
        GarmentCode::new(quotation.garment_id),
        BookingCode::new(later.id),
        QuotationCode::new(quotation.id)
    );
    Err(wrong_state(
        detail,
        "price it again with ellwand quote again, or close it",
    ))
}

/// The newest quotation that stands and rests on this one: a supplement of it, or one after it.
pub(crate) fn resting_on(tx: &mut Tx<'_>, quotation: &Quotation) -> Done<Option<QuotationCode>> {
    let rows = tx.supplements(quotation.supplement_to.unwrap_or(quotation.id))?;
    let later = rows
        .into_iter()
        .rfind(|row| row.id > quotation.id && stands(row));
    Ok(later.map(|row| QuotationCode::new(row.id)))
}

/// Another supplement of the same quotation that is open.
pub(crate) fn open_beside(tx: &mut Tx<'_>, quotation: &Quotation) -> Done<Option<QuotationCode>> {
    let Some(base) = quotation.supplement_to else {
        return Ok(None);
    };
    let open = |row: &Quotation| row.id != quotation.id && row.state == QuotationState::Open;
    Ok(tx
        .supplements(base)?
        .into_iter()
        .find(open)
        .map(|row| QuotationCode::new(row.id)))
}

/// Refuses to end what others rest on.
pub(in crate::money::quotations) fn check_free(tx: &mut Tx<'_>, quotation: &Quotation) -> Done<()> {
    let Some(later) = resting_on(tx, quotation)? else {
        return Ok(());
    };
    let code = QuotationCode::new(quotation.id);
    let hint = format!(
        "close that one first, with what is kept of its payments: ellwand quote close {later}"
    );
    Err(wrong_state(
        format!("{later} supplements what was agreed with {code}"),
        &hint,
    ))
}

/// What was accepted of a quotation and its supplements, oldest first.
pub(in crate::money::quotations) fn accepted(
    tx: &mut Tx<'_>,
    base: i64,
) -> Done<Vec<(Quotation, Frozen)>> {
    let mut rows = vec![row(tx, QuotationCode::new(base))?];
    rows.extend(tx.supplements(base)?);
    rows.retain(|row| row.state == QuotationState::Accepted);
    let mut all = Vec::with_capacity(rows.len());
    for row in rows {
        let agreed = show::agreed(tx, &row)?;
        all.push((row, agreed));
    }
    Ok(all)
}
