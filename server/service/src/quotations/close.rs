//! Closing a quotation that comes to nothing, and cancelling one that was accepted.

use super::{ask, cash, promised, refused, row, show, supplement};
use crate::{
    context::{Context, Entry},
    failure::{Done, Failure, invalid, wrong_state},
    garments::need::load_head,
    perform::Perform,
};
use ellwand_contract::quotations::{CloseQuotation, Quotation as View};
use ellwand_domain::{
    code::{GarmentCode, ReservationCode},
    pricing::Cancelled,
    quantity::Money,
    setting::{BookingKind, GarmentState, QuotationState},
};
use ellwand_storage::{Quotation, Subject, Tx, Word};

impl Perform for CloseQuotation {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<View, Failure> {
        let (code, mut quotation) = (self.quotation, row(tx, self.quotation)?);
        let (before, trace) = (
            quotation.state.0,
            promised::trace(&quotation, &promised::Ends::new())?,
        );
        let (state, verb) = match before {
            QuotationState::Open if self.keep.is_some() => {
                let detail = format!("{code} was never accepted, so that nothing is kept of it");
                return Err(invalid("keep", detail));
            }
            QuotationState::Open => (QuotationState::Closed, "Closed"),
            QuotationState::Accepted => {
                let garment = GarmentCode::new(quotation.garment_id);
                if load_head(tx, garment)?.state.0 == GarmentState::Delivered {
                    let hint = format!(
                        "log what goes back with ellwand quote pay {code} -20.00, or take the delivery back first"
                    );
                    return Err(wrong_state(
                        format!("{garment} is delivered, so {code} is done"),
                        &hint,
                    ));
                }
                (QuotationState::Cancelled, "Cancelled")
            }
            QuotationState::Closed | QuotationState::Cancelled => {
                return Err(wrong_state(
                    format!("{code} is {before} already"),
                    "nothing is left to do",
                ));
            }
        };
        supplement::check_free(tx, &quotation)?;
        let mut uncovered = Money {
            minor: 0,
            currency: context.currency,
        };
        quotation.state = Word(state);
        quotation.keep.clone_from(&self.keep);
        if state == QuotationState::Cancelled {
            // Terms that cannot be read or keep more than all are refused here.
            uncovered = settled(tx, &quotation)?.uncovered;
        }
        tx.update_quotation(&quotation)?;
        let booking = context.next_booking(tx)?;
        let released = match before {
            QuotationState::Open => promised::release(tx, context, booking, quotation.id)?,
            _ => Vec::new(),
        };
        let mut entry = Entry::new(
            BookingKind::Dropped,
            context.today,
            format!("{verb} {code}."),
        );
        entry
            .subjects
            .push((Subject::Garment, quotation.garment_id));
        entry.traces.push(trace);
        context.book(tx, booking, entry)?;
        let mut view = show::view(tx, context, code, quotation.accepted, Some(booking))?;
        if !released.is_empty() {
            let codes: Vec<String> = released
                .iter()
                .map(|id| ReservationCode::new(*id).to_string())
                .collect();
            view.notes.push(format!(
                "what was promised with it is given back: {}",
                codes.join(", ")
            ));
        }
        if state == QuotationState::Cancelled {
            if uncovered.minor > 0 {
                let kept = self.keep.as_deref().unwrap_or_default();
                view.notes.push(format!(
                    "{kept} is {uncovered} more than was paid; nothing asks for it"
                ));
            }
            view.notes.push(format!(
                "what is promised and cut stays with {} until that is cancelled, too",
                view.garment
            ));
        }
        Ok(view)
    }
}

/// What becomes of the payments of a cancelled quotation, by the terms that it was cancelled with.
pub(super) fn settled(tx: &mut Tx<'_>, quotation: &Quotation) -> Done<Cancelled> {
    let agreed = show::agreed(tx, quotation)?;
    let currency = agreed.basis.currency;
    let keep = match &quotation.keep {
        Some(text) => ask::terms("keep", currency, text)?,
        None => Vec::new(),
    };
    let rows = tx.payments(quotation.id)?;
    let paid = Money {
        minor: cash::sums(&rows).received,
        currency,
    };
    let paid_for = agreed.basis.paid_for()?;
    agreed
        .basis
        .schedule()?
        .cancelled(&[paid], &keep, &paid_for)
        .map_err(refused("keep"))
}
