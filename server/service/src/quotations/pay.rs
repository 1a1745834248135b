//! Logging payments; nothing is collected.

use super::{cash, internal, refused, row, show};
use crate::{
    context::{Context, Entry},
    failure::{Done, Failure, invalid, wrong_state},
    perform::Perform,
};
use ellwand_contract::{
    Problem, ProblemType,
    quotations::{LogPayment, Quotation as View},
};
use ellwand_domain::{
    code::QuotationCode,
    pricing::Standing,
    quantity::Money,
    setting::{BookingKind, QuotationState},
};
use ellwand_storage::{Payment, Quotation, Subject, Tx};

impl Perform for LogPayment {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<View, Failure> {
        let (code, quotation) = (self.quotation, row(tx, self.quotation)?);
        // What goes back after a cancellation is logged, too.
        let agreed = matches!(
            quotation.state.0,
            QuotationState::Accepted | QuotationState::Cancelled
        );
        let Some(accepted) = quotation.accepted.filter(|_| agreed) else {
            let detail = format!(
                "{code} is {}, so nothing is to be paid on it",
                quotation.state.0
            );
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
        let schedule = agreed.basis.schedule()?;
        let rounding = match cash::step(agreed.basis.cash_step, currency)? {
            Some(step) if self.cash => cash::rounding(tx, &quotation, &schedule, step, money)?,
            _ => 0,
        };
        // More goes back than came in only by the rounding of cash.
        let rows = tx.payments(quotation.id)?;
        let before = cash::sums(&rows);
        let paid = before.paid.saturating_add(money.minor);
        let settled = before
            .settled
            .saturating_add(money.minor)
            .saturating_add(rounding);
        let left = Money {
            minor: paid.max(settled),
            currency,
        };
        schedule.standing(0, &[left]).map_err(refused("amount"))?;
        let settled = Money {
            minor: settled.max(0),
            currency,
        };
        let standing = schedule.standing(0, &[settled]).map_err(internal)?;
        if money.minor > 0 && standing.over.minor > 0 && !self.really {
            return Err(too_much(tx, &quotation, &standing)?.into());
        }
        let booking = context.next_booking(tx)?;
        tx.insert_payment(&Payment {
            booking_id: booking,
            quotation_id: quotation.id,
            minor: money.minor,
            on_date: day,
            note: self.note.clone(),
            undone: false,
            cash: self.cash,
            rounding_minor: rounding,
        })?;
        let what = match (money.minor < 0, self.cash) {
            (false, false) => "a payment",
            (false, true) => "a payment in cash",
            (true, false) => "a payment back",
            (true, true) => "a payment back in cash",
        };
        let mut entry = Entry::new(BookingKind::Paid, day, format!("Logged {what} on {code}."));
        entry
            .subjects
            .push((Subject::Garment, quotation.garment_id));
        context.book(tx, booking, entry)?;
        show::view(tx, context, code, Some(accepted), Some(booking))
    }
}

/// Refuses a payment beyond the whole.
fn too_much(tx: &mut Tx<'_>, quotation: &Quotation, standing: &Standing) -> Done<Problem> {
    let code = QuotationCode::new(quotation.id);
    let detail = format!(
        "with it {} would be paid on {code}, {} beyond the whole",
        standing.paid, standing.over
    );
    let accepted = |row: &Quotation| row.state.0 == QuotationState::Accepted;
    let supplement = tx.supplements(quotation.id)?.into_iter().find(accepted);
    let hint = match supplement.map(|row| QuotationCode::new(row.id)) {
        Some(other) => format!("log what is for {other} on that; if it is right, confirm with --really"),
        None => {
            "look at what was logged before with ellwand quote show; if it is right, confirm with --really"
                .to_owned()
        }
    };
    let over = standing.over.decimal();
    Ok(Problem::new(ProblemType::NeedsConfirmation, detail)
        .field("amount")
        .hint(hint)
        .with("over", over))
}
