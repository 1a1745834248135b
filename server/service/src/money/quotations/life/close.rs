//! Closing a quotation that comes to nothing, and cancelling one that was accepted.

use crate::money::quotations::{ask, cash, promised, refused, row, show, supplement};
use crate::{
    desk::{
        Desk, Entry,
        failure::{Done, Failure, invalid, not_before, wrong_state},
        perform::Perform,
    },
    garments::need::load_head,
};
use chrono::NaiveDate;
use ellwand_contract::quotations::{CloseQuotation, Quotation as View};
use ellwand_domain::{
    code::{GarmentCode, ReservationCode},
    pricing::Cancelled,
    setting::{BookingKind, GarmentState, QuotationState},
};
use ellwand_storage::{Quotation, Subject, Tx};

impl Perform for CloseQuotation {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        let (code, mut quotation) = (self.quotation, row(desk, self.quotation)?);
        let (before, trace) = (
            quotation.state,
            promised::trace(&quotation, &promised::Ends::new())?,
        );
        let state = ends(self, desk, &quotation)?;
        let is_cancelled = state == QuotationState::Cancelled;
        let verb = if is_cancelled { "Cancelled" } else { "Closed" };
        supplement::check_free(desk, &quotation)?;
        quotation.state = state;
        quotation.keep.clone_from(&self.keep);
        let uncovered = match is_cancelled {
            // Terms that cannot be read or keep more than all are refused here.
            true => settled(desk, &quotation)?.uncovered.minor,
            false => 0,
        };
        desk.tx.update_quotation(&quotation)?;
        let day = day_of(desk, self, &quotation)?;
        let booking = desk.next_booking()?;
        let released = match before {
            QuotationState::Open => promised::release(desk, booking, quotation.id)?,
            _ => Vec::new(),
        };
        let mut entry = Entry::new(BookingKind::Dropped, day, format!("{verb} {code}."));
        entry
            .subjects
            .push((Subject::Garment, quotation.garment_id));
        entry.traces.push(trace);
        desk.book(booking, entry)?;
        let mut view = show::view(desk, code, quotation.accepted, Some(booking))?;
        if !released.is_empty() {
            let codes = released
                .iter()
                .map(|id| ReservationCode::new(*id).to_string());
            let codes = codes.collect::<Vec<_>>().join(", ");
            view.notes
                .push(format!("what was promised with it is released: {codes}"));
        }
        if uncovered > 0 {
            let kept = self.keep.as_deref().unwrap_or_default();
            let uncovered = desk.context.currency.money(uncovered);
            view.notes.push(format!(
                "{kept} is {uncovered} more than was paid; it is not asked for"
            ));
        }
        if is_cancelled {
            view.notes.push(format!(
                "what is promised and cut stays with {} until that is cancelled as well",
                view.garment
            ));
        }
        Ok(view)
    }
}

/// The day of the closing: not before the newest version was made, one was accepted, or a payment came.
fn day_of(desk: &mut Desk<'_>, request: &CloseQuotation, quotation: &Quotation) -> Done<NaiveDate> {
    let day = desk.context.day(request.date)?;
    let versions = desk.tx.quotation_versions(quotation.id)?;
    let made = versions.iter().map(|version| version.on_date).max();
    let accepted = match quotation.accepted_in {
        Some(booking) => desk.tx.booking(booking)?.map(|booking| booking.on_date),
        None => None,
    };
    let paid = desk.tx.payments(quotation.id)?.into_iter();
    let last = paid.map(|payment| payment.on_date).max();
    let last = last.max(accepted).max(made);
    let code = request.quotation;
    not_before(day, last, |last| {
        format!("{code} cannot be closed on {day}: it was made, accepted or paid on {last}")
    })
}

/// What a quotation becomes: closed while it is open, cancelled once it was accepted.
fn ends(request: &CloseQuotation, tx: &mut Tx<'_>, quotation: &Quotation) -> Done<QuotationState> {
    let code = request.quotation;
    match quotation.state {
        QuotationState::Open if request.keep.is_some() => {
            let detail = format!("{code} was never accepted, so there are no payments to keep");
            Err(invalid("keep", detail))
        }
        QuotationState::Open => Ok(QuotationState::Closed),
        QuotationState::Accepted => {
            let garment = GarmentCode::new(quotation.garment_id);
            if load_head(tx, garment)?.state == GarmentState::Delivered {
                let hint = format!(
                    "log the refund with ellwand quote pay {code} -20.00, or take the delivery back first"
                );
                let detail = format!("{garment} is delivered, so {code} is done");
                return Err(wrong_state(detail, &hint)
                    .naming("garment", garment)
                    .naming("quotation", code));
            }
            Ok(QuotationState::Cancelled)
        }
        before @ (QuotationState::Closed | QuotationState::Cancelled) => Err(wrong_state(
            format!("{code} is already {before}"),
            &format!("see ellwand quote show {code}"),
        )
        .naming("quotation", code)
        .naming("state", before)),
    }
}

/// What becomes of the payments of a cancelled quotation, by the terms that it was cancelled with.
pub(in crate::money::quotations) fn settled(
    tx: &mut Tx<'_>,
    quotation: &Quotation,
) -> Done<Cancelled> {
    let agreed = show::agreed(tx, quotation)?;
    let currency = agreed.basis.currency;
    let keep = match &quotation.keep {
        Some(text) => ask::terms("keep", currency, text)?,
        None => Vec::new(),
    };
    let rows = tx.payments(quotation.id)?;
    let paid = currency.money(cash::sums(&rows).received);
    let schedule = agreed.basis.schedule()?;
    schedule.cancelled(&[paid], &keep).map_err(refused("keep"))
}
