//! Logging payments; nothing is collected.

use super::{refused, row, show};
use crate::{
    context::{Context, Entry},
    detail::Detail,
    failure::{Failure, invalid, wrong_state},
    perform::Perform,
};
use ellwand_contract::quotations::{LogPayment, Quotation as View};
use ellwand_domain::{
    quantity::Money,
    setting::{BookingKind, QuotationState},
};
use ellwand_storage::{Payment, Subject, Tx};

impl Perform for LogPayment {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<View, Failure> {
        let (code, quotation) = (self.quotation, row(tx, self.quotation)?);
        // What goes back after a cancellation is logged, too.
        let agreed = matches!(quotation.state.0, QuotationState::Accepted | QuotationState::Cancelled);
        let Some(accepted) = quotation.accepted.filter(|_| agreed) else {
            let detail = format!("{code} is {}, so nothing is to be paid on it", quotation.state.0);
            return Err(wrong_state(detail, "accept it first"));
        };
        let agreed = show::frozen(tx, &quotation, accepted)?;
        let currency = agreed.basis.currency;
        let money = Money::parse_signed(&self.amount, Some(currency));
        let money = money.map_err(|error| invalid("amount", error.to_string()))?;
        if money.minor == 0 {
            return Err(invalid("amount", "nothing was paid"));
        }
        let day = context.day(self.date)?;
        let mut all = show::payments(tx, &quotation, currency)?;
        all.push(money);
        agreed.basis.schedule()?.standing(0, &all).map_err(refused("amount"))?;
        let booking = context.next_booking(tx)?;
        tx.insert_payment(&Payment {
            booking_id: booking,
            quotation_id: quotation.id,
            minor: money.minor,
            on_date: day,
            note: self.note.clone(),
            undone: false,
            cash: false,
            rounding_minor: 0,
        })?;
        let what = if money.minor < 0 { "a payment back" } else { "a payment" };
        let mut entry = Entry::new(BookingKind::Paid, day, format!("Logged {what} on {code}."));
        entry.subjects.push((Subject::Garment, quotation.garment_id));
        entry.detail = Detail::Paid { quotation: quotation.id };
        context.book(tx, booking, entry)?;
        show::view(tx, context, code, Some(accepted), Some(booking))
    }
}
